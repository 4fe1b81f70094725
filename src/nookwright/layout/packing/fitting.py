"""How well footprints fit into a segment of a skyline, and which of those that are left fits best.

Kernels; see ``kernels`` for what that means. A footprint that is as wide as the segment comes first, then one that ends
level with a neighbour: both leave fewer segments, and so fewer gaps that nothing fits.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, NamedTuple

from nookwright.layout.packing.compiled import compiled

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Ints = NDArray[np.int64]

_FILLS: Final = 4  # scores: as wide as the segment ...
_LEVELS: Final = 2  # ... and, for each side, as high as the neighbour there


class Things(NamedTuple):
    """What is packed, as ``int64[n]`` each; ``may_turn`` is 1 for those that may be turned, best 0 for squares."""

    cols: Ints
    rows: Ints
    may_turn: Ints


class Gap(NamedTuple):
    """A segment: its width, how high its neighbours stand above it, and what is above it up to the lid of the box."""

    width: int
    left: int
    right: int
    room: int


@compiled
def sides_of(things: Things, item: int, lies: int) -> tuple[int, int]:
    """Width and height of a footprint as it lies."""
    if lies:
        return things.rows[item], things.cols[item]
    return things.cols[item], things.rows[item]


@compiled
def _score(wide: int, tall: int, gap: Gap) -> int:
    """How well something that fits into a gap fits."""
    levels = _LEVELS * ((tall == gap.left) + (tall == gap.right))
    return _FILLS + levels if wide == gap.width else min(levels, _LEVELS)


@compiled
def best_way(things: Things, item: int, way: int, gap: Gap) -> tuple[int, int]:
    """The better score of the ways a footprint may lie, -1 where none fits, and that way; of equals the one asked."""
    best, lies = -1, 0
    for other in range(1 + things.may_turn[item]):
        lying = (way ^ other) & things.may_turn[item]
        wide, tall = sides_of(things, item, lying)
        if wide <= gap.width and tall <= gap.room:
            score = _score(wide, tall, gap)
            if score > best:
                best, lies = score, lying
    return best, lies


@compiled
def count_sides(sides: Ints, things: Things, item: int, more: int) -> None:
    """Count a footprint among those that are left (1), or out (-1).

    Args:
        sides: ``int64[2, k]``: how many may lie so wide, and stand so tall; k is more than any gap.
        things: what is packed.
        item: its number.
        more: 1 or -1.
    """
    for lying in range(1 + things.may_turn[item]):
        wide, tall = sides_of(things, item, lying)
        if max(wide, tall) < sides.shape[1]:
            sides[0, wide] += more
            sides[1, tall] += more


@compiled
def clear_sides(sides: Ints, things: Things, item: int) -> None:
    """Count nothing of the sides of a footprint."""
    for length in (things.cols[item], things.rows[item]):
        if length < sides.shape[1]:
            sides[0, length] = sides[1, length] = 0


@compiled
def most_score(sides: Ints, gap: Gap) -> int:
    """The best score that the sides of what is left allow; the first that reaches it ends the choice."""
    levels: int = _LEVELS * ((sides[1, gap.left] > 0) + (sides[1, gap.right] > 0))
    return _FILLS + levels if sides[0, gap.width] > 0 else min(levels, _LEVELS)


@compiled
def choose(rest: Ints, ways: Ints, things: Things, gap: Gap, most: int) -> tuple[int, int, int]:
    """What of the rest fits best, of equals the first: its index (-1 for nothing), the way it lies, its score."""
    index, lies, best = -1, 0, -1
    for number in range(rest.size):
        item = rest[number]
        one, two = things.cols[item], things.rows[item]
        fits = (one <= gap.width and two <= gap.room) or (
            things.may_turn[item] and two <= gap.width and one <= gap.room
        )
        if fits:
            score, lying = best_way(things, item, ways[item], gap)
            if score > best:
                index, lies, best = number, lying, score
                if best >= most:
                    break
    return index, lies, best
