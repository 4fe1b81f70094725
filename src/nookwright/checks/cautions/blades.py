"""Blades: whether their edge is covered and their handle can be taken.

That plastic lies beside the whole edge is looked at in the boxes of the parts as written (``held``); so is that enough
of the handle is beyond them, or above, for three fingers.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.cautions.naming import named
from nookwright.checks.cautions.whereabouts import called
from nookwright.checks.cautions.words import caution
from nookwright.checks.held import covered, holders
from nookwright.ground.findings import Against
from nookwright.ground.sources import Fact, Kind
from nookwright.survey.models import Hazard

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.checks.cautions.whereabouts import Whereabouts
    from nookwright.exchange.kit import BodyBeside, Kit, LotPlace
    from nookwright.ground.findings import Finding

FREE_HANDLE = Fact(
    60.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="Three fingers of a hand side by side go round a handle."
)


def about_blades(where: Whereabouts) -> Iterator[Finding]:
    """Blades in plain trays, with a bare edge, with a handle that is shut in; and once the usual caution.

    Args:
        where: the kit in its room.
    """
    bladed = [(lot, places) for lot, places in where.lots() if lot.hazard is Hazard.BLADE and places]
    for lot, places in bladed:
        if any(where.parts[place.part].kind == "tray" for place in places):
            yield caution("blade-in-tray", lot.id, "It has a blade and lies loose in a plain tray.")
        held = [place for place in places if place.held_by]
        if not all(covered(where.kit, place) for place in held):
            yield caution("blade-bare", lot.id, "Its blade lies in a rest that leaves some of its edge free.")
        free = min((_free(where.kit, place, place.beside) for place in held if place.beside), default=FREE_HANDLE)
        if free < FREE_HANDLE:
            text = f"Of its handle {free:.0f} mm are free of the parts that hold it; a hand wants {FREE_HANDLE:g} mm."
            yield caution("blade-handle", lot.id, text, Against(free, float(FREE_HANDLE), "mm"))
    if bladed:
        yield caution("blades", "kit", f"There are blades: {named(called(lot) for lot, _ in bladed)}.")


def _free(kit: Kit, place: LotPlace, handle: BodyBeside) -> float:
    """How much of the length of the handle that is worst off no part lies beside or below at its own height, mm."""
    low, high = holders(kit, place)
    return min((_clear(np.array(at) + handle.offset, handle, low, high) for at in place.at), default=float("inf"))


def _clear(
    middle: np.ndarray[tuple[int], np.dtype[np.float64]],
    handle: BodyBeside,
    low: np.ndarray[tuple[int, int], np.dtype[np.float64]],
    high: np.ndarray[tuple[int, int], np.dtype[np.float64]],
) -> float:
    """Length of one handle, along y, that is clear of the boxes of the parts."""
    half = np.array(handle.size[:2]) / 2
    start, end = float(middle[1] - half[1]), float(middle[1] + half[1])
    beside = (low[:, 0] < middle[0] + half[0]) & (high[:, 0] > middle[0] - half[0])
    at_height = (high[:, 2] > middle[2]) & (low[:, 2] < middle[2] + handle.size[2])
    taken = sorted(zip(low[beside & at_height, 1].tolist(), high[beside & at_height, 1].tolist(), strict=True))
    free = 0.0
    for begin, stop in taken:
        free += max(0.0, min(begin, end) - start)
        start = max(start, stop)
    return free + max(0.0, end - start)
