"""A first nesting in plain Python: a skyline with best fit, over several orders of the boxes.

A skyline is the upper edge of what is already on a bed. The next place is its lowest ledge; there goes the box that
fills that ledge best, or in other runs the first one that fits. A bin is finished when nothing fits any more. (Best
fit on a skyline: Burke, Kendall, Whitwell, Operations Research 52 (2004) 655-671, here for bins and with its own
tie-breaks.)
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, TypeAlias

from nookwright.making.nesting.model import Spot, bins_of

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from nookwright.making.nesting.model import Bin, Box


@dataclass
class _Ledge:
    """A level stretch of the skyline."""

    x: int
    width: int
    y: int


Choice: TypeAlias = "Callable[[_Ledge, list[int], Sequence[Box], Bin], tuple[int, bool] | None]"

_ORDERS: tuple[Callable[[Box], tuple[int, int]], ...] = (
    lambda box: (-box[0] * box[1], -max(box)),
    lambda box: (-max(box), -min(box)),
    lambda box: (-min(box), -max(box)),
    lambda box: (-(box[0] + box[1]), -max(box)),
)


def first_nesting(boxes: Sequence[Box], into: Bin, bound: int) -> tuple[tuple[Spot, ...], int]:
    """All boxes in as few bins as the best of a few orders gives, in their order, and how many orders were tried.

    Args:
        boxes: each fits an empty bin.
        into: the bins.
        bound: nothing better is looked for once this many bins are reached.
    """
    orders = [sorted(range(len(boxes)), key=lambda n: (order(boxes[n]), n)) for order in _ORDERS]
    best: list[Spot] = []
    tries = 0
    for choose in (_widest, _first):
        for order in orders:
            spots = _fill_bins(order, boxes, into, choose)
            tries += 1
            if not best or _badness(spots, boxes) < _badness(best, boxes):
                best = spots
        if bins_of(tuple(best)) <= bound:
            break
    return tuple(sorted(best, key=lambda spot: spot.box)), tries


def _badness(spots: list[Spot], boxes: Sequence[Box]) -> tuple[int, int]:
    """Fewer bins first, then fuller ones (a larger sum of squares of their areas)."""
    bins = bins_of(tuple(spots))
    filled = [0] * bins
    for spot in spots:
        filled[spot.bin] += boxes[spot.box][0] * boxes[spot.box][1]
    return bins, -sum(area * area for area in filled)


def _fill_bins(order: list[int], boxes: Sequence[Box], into: Bin, choose: Choice) -> list[Spot]:
    waiting, spots, number = list(order), [], 0
    while waiting:
        here = [replace(spot, bin=number) for spot in _fill_one(waiting, boxes, into, choose)]
        spots += here
        gone = {spot.box for spot in here}
        waiting = [box for box in waiting if box not in gone]
        number += 1
    return spots


def _fill_one(waiting: list[int], boxes: Sequence[Box], into: Bin, choose: Choice) -> list[Spot]:
    """One bin, filled from the lowest ledge up until nothing fits."""
    skyline, left, spots = [_Ledge(0, into.width, 0)], list(waiting), []
    while left:
        ledge = min(skyline, key=lambda part: (part.y, part.x))
        choice = choose(ledge, left, boxes, into)
        if choice is None:
            if len(skyline) == 1:
                break
            _raise_ledge(skyline, ledge)
            continue
        box, turned = choice
        wide, deep = boxes[box][::-1] if turned else boxes[box]
        spots.append(Spot(box, 0, ledge.x, ledge.y, turned))
        left.remove(box)
        _put(skyline, ledge, wide, ledge.y + deep)
    return spots


def _widest(ledge: _Ledge, left: list[int], boxes: Sequence[Box], into: Bin) -> tuple[int, bool] | None:
    """The box that fills a ledge best, and whether turned: the widest that fits, among equals the first."""
    best: tuple[int, bool] | None = None
    widest = 0
    for box in left:
        for turned, (wide, deep) in into.ways(boxes[box]):
            if widest < wide <= ledge.width and ledge.y + deep <= into.depth:
                best, widest = (box, turned), wide
    return best


def _first(ledge: _Ledge, left: list[int], boxes: Sequence[Box], into: Bin) -> tuple[int, bool] | None:
    """The first box in the order that fits a ledge, and whether turned: as wide as it will go."""
    for box in left:
        choice = _widest(ledge, [box], boxes, into)
        if choice is not None:
            return choice
    return None


def _put(skyline: list[_Ledge], ledge: _Ledge, wide: int, top: int) -> None:
    """Put a box at the left end of a ledge."""
    at = skyline.index(ledge)
    parts = [_Ledge(ledge.x, wide, top)]
    if wide < ledge.width:
        parts.append(_Ledge(ledge.x + wide, ledge.width - wide, ledge.y))
    skyline[at : at + 1] = parts
    _merge(skyline)


def _raise_ledge(skyline: list[_Ledge], ledge: _Ledge) -> None:
    """Give up a ledge that nothing fits: lift it to its lower neighbour."""
    at = skyline.index(ledge)
    ledge.y = min(skyline[n].y for n in (at - 1, at + 1) if 0 <= n < len(skyline))
    _merge(skyline)


def _merge(skyline: list[_Ledge]) -> None:
    at = 0
    while at + 1 < len(skyline):
        if skyline[at].y == skyline[at + 1].y:
            skyline[at].width += skyline[at + 1].width
            del skyline[at + 1]
        else:
            at += 1
