"""Gaps between neighbours: whether they still are apart when both are printed at their largest.

Each part grows about its own middle, where its sockets hold it, and by what its printer adds to outsides. Parts that
are meant to touch are passed over: what stands on what, the liner among itself, and what lies lower than a part
stands, such as the tongues of fillers. Lids in their rims are looked at where lids are.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.boxes import pairs_within, tree
from nookwright.checks.in_words import called
from nookwright.checks.room_fit.distances import least_distance
from nookwright.checks.room_fit.furnished import LINER
from nookwright.ground.findings import Against, Finding, Severity
from nookwright.ground.tolerances import GRID, TOUCHING

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping

    from nookwright.checks.boxes import Floats
    from nookwright.checks.room_fit.furnished import Furnished, Stood
    from nookwright.checks.room_fit.moved import Ways
    from nookwright.checks.room_fit.printed import Largest

_NEVER = 1e9  # mm; verdicts are plain numbers


def check_gaps(spaces: tuple[Furnished, ...], largest: Mapping[str, Largest], ways: Ways) -> list[Finding]:
    """Neighbours that would meet at their largest printed size, for each space those that are worst off.

    Args:
        spaces: with what stands in them.
        largest: how large each part may be printed, by its id.
        ways: knows what was found of two parts before.
    """
    found = []
    for space in spaces:
        tight = [
            one
            for pair in neighbours(space, lambda one: largest[one.part.id].growth(longest(one)) / 2)
            for one in _tight(*pair, largest, ways)
        ]
        if tight:
            found.append(_said(space, tight))
    return found


def neighbours(space: Furnished, reach: Callable[[Stood], float]) -> Iterator[tuple[Stood, Stood]]:
    """Pairs of parts that come close, and that are not meant to touch.

    Args:
        space: with what stands in it.
        reach: how far around itself a part counts as close, mm.
    """
    apart = [one for one in space.stood if one.kind not in ("panel", "key") and not one.placement.travel]
    if not apart:
        return
    low, high = (np.array([one.body.box[end] for one in apart]) for end in (0, 1))
    around = np.array([[reach(one)] for one in apart])
    boxes = tree(low - around, high + around)
    pairs = sorted(
        (int(min(pair)), int(max(pair)))
        for left, right in pairs_within(boxes, 0.0)
        for pair in zip(left, right, strict=True)
    )
    for left, right in pairs:
        one, other = apart[left], apart[right]
        if not _meant_to_touch(one, other):
            yield one, other


def longest(one: Stood) -> float:
    """The longer side of a part in plan, mm."""
    return float(max(one.high[:2] - one.low[:2]))


def between(one: Stood, other: Stood) -> int:
    """The axis along which two parts lie beside each other: 0 for x, 1 for y."""
    return int(np.argmax(np.maximum(other.low - one.high, one.low - other.high)[:2]))


def _meant_to_touch(one: Stood, other: Stood) -> bool:
    """Whether the two are made to meet, or are one thing to whoever lifts them."""
    if one.id in other.below or other.id in one.below:
        return True
    kinds = {one.kind, other.kind}
    return kinds <= LINER or kinds == {"fence"}


def _tight(
    one: Stood, other: Stood, largest: Mapping[str, Largest], ways: Ways
) -> Iterator[tuple[float, float, str, str]]:
    """Gap, what it must be at least, and who; nothing where the two stay apart, or share room even as drawn."""
    sizes = largest[one.part.id], largest[other.part.id]
    offset = (sizes[0].outside + sizes[1].outside) / 2
    (apart,) = ways.verdict(f"grown gap {sizes}", one, other, lambda: (_grown_apart(one, other, sizes, offset),))
    if apart < offset - GRID and not ways.collide(one, other):
        needed = grown_by(one, other, sizes)
        gap = min(needed, least_distance(*beside(one, other), needed + GRID))
        first, second = sorted((called(one.placement), called(other.placement)))
        yield gap, needed, first, second


def grown_by(one: Stood, other: Stood, sizes: tuple[Largest, Largest]) -> float:
    """How far two parts grow towards each other at most, mm.

    Args:
        one: a part.
        other: beside it.
        sizes: how large the two may be printed.
    """
    axis = between(one, other)
    lengths = [float(who.high[axis] - who.low[axis]) for who in (one, other)]
    return sum(size.growth(length) for size, length in zip(sizes, lengths, strict=True)) / 2


def _grown_apart(one: Stood, other: Stood, sizes: tuple[Largest, Largest], reach: float) -> float:
    """Distance of the two with their scales at their largest, mm; a large number where it is beyond the reach."""
    grown = [
        _scaled(corners, size.share, who)
        for corners, size, who in zip(beside(one, other), sizes, (one, other), strict=True)
    ]
    return min(_NEVER, least_distance(grown[0], grown[1], reach))


def beside(one: Stood, other: Stood) -> tuple[Floats, Floats]:
    """The triangles of each that reach higher than the other stands: what is lower carries it."""
    return one.above(float(other.low[2]) + TOUCHING), other.above(float(one.low[2]) + TOUCHING)


def _scaled(corners: Floats, share: float, one: Stood) -> Floats:
    """A part that is larger by a share along x and y, about the middle of its box."""
    middle = (one.low + one.high) / 2
    scale = np.array([1 + share, 1 + share, 1.0])
    scaled: Floats = (corners - middle) * scale + middle
    return scaled


def _said(space: Furnished, tight: list[tuple[float, float, str, str]]) -> Finding:
    """One finding for a space: the worst pair, and how many there are."""
    gap, needed, one, other = min(tight, key=lambda each: (each[0] - each[1], each[2], each[3]))
    more = f" So close are {len(tight)} pairs of parts in all." if len(tight) > 1 else ""
    text = (
        f"{one} and {other} stand {gap:.2f} mm apart; printed at their largest they need {needed:.2f} mm not to "
        f"touch.{more}"
    )
    remedy = (
        "Measure the printers with a coupon, so that less must be allowed for, and build again; if it stays, this is a "
        "fault of the tool: please report it with the room file."
    )
    return Finding("gap-too-small", Severity.STOP, space.space.id, text, remedy, Against(gap, needed, "mm"))
