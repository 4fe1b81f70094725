"""Things that lie across several parts: whether they are held, and whether no edge of a blade is free.

Looked at are the boxes of the parts as written, in the axes of the part that a place is counted with. What it does not
know: slots. That a thing is in its slot and in no plastic shows when bodies are compared.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.bodies import matrix_of, moved_by
from nookwright.checks.in_words import OURS, called
from nookwright.ground.findings import Finding, Severity
from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.checks.boxes import Floats
    from nookwright.exchange.kit import Kit, LotPlace

SLIT = Fact(4.0, unit="mm", kind=Kind.MEMORY, source="ISO 13857: through a slot up to 4 wide a fingertip reaches 2 mm.")
SUNK = Fact(
    2.0, unit="mm", kind=Kind.CHOICE, source="A blade lies so deep below the rim beside it: no fingertip runs along it."
)


def tipping_things(kit: Kit) -> Iterator[Finding]:
    """Lots with things whose middle lies beyond the parts that carry them.

    Args:
        kit: the kit, its references sound.
    """
    names = {one.id: called(one) for one in kit.placements}
    for lot in kit.lots:
        for place in lot.places:
            if place.held_by and place.at and not _balanced(kit, place):
                where = names[place.placement]
                text = f"A thing in {where} has its middle beyond the parts that carry it: it tips."
                yield Finding("things-tip", Severity.STOP, lot.id, text, OURS)


def covered(kit: Kit, place: LotPlace) -> bool:
    """Whether blades in several parts have plastic beside them wherever a hand could meet their edge.

    Args:
        kit: the kit, its references sound.
        place: of blades, which lie along y of the part.
    """
    low, high = holders(kit, place)
    half = np.array([place.size[0] / 2, place.size[1] / 2])
    return all(_sunk(np.array(at), half, place.size[2], low, high) for at in place.at)


def _sunk(at: Floats, half: Floats, height: float, low: Floats, high: Floats) -> bool:
    """Whether one blade lies in boxes from end to end, with no gap that a finger goes through."""
    beside = (low[:, 0] <= at[0] - half[0]) & (high[:, 0] >= at[0] + half[0])
    deep = (low[:, 2] <= at[2]) & (high[:, 2] >= at[2] + height + SUNK)
    begin, end = at[1] - half[1], at[1] + half[1]
    for start, stop in sorted(zip(low[beside & deep, 1], high[beside & deep, 1], strict=True)):
        if start > begin + SLIT:
            return False
        begin = max(begin, stop)
    return bool(begin >= end)


def _balanced(kit: Kit, place: LotPlace) -> bool:
    """Whether the middle of every thing lies between the outer faces of what carries it."""
    low, high = holders(kit, place)
    middles = np.array(place.at)[:, :2]
    return bool((middles >= low[:, :2].min(axis=0)).all() and (middles <= high[:, :2].max(axis=0)).all())


def holders(kit: Kit, place: LotPlace) -> tuple[Floats, Floats]:
    """Least and greatest corners of all parts that hold a place, in the axes of its first part.

    Args:
        kit: the kit, its references sound.
        place: of a lot.

    Returns:
        two arrays (n, 3).
    """
    placements = {one.id: one for one in kit.placements}
    sizes = {part.id: part.size for part in kit.parts}
    back = np.linalg.inv(matrix_of(placements[place.placement].space_from_part))
    low, high = [], []
    for name in (place.placement, *place.held_by):
        one = placements[name]
        corners = moved_by(back @ matrix_of(one.space_from_part), np.array([(0.0, 0.0, 0.0), sizes[one.part]]))
        low.append(corners.min(axis=0))
        high.append(corners.max(axis=0))
    return np.array(low), np.array(high)
