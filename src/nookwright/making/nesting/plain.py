"""A first nesting in plain Python: a skyline with best fit, over several orders of the boxes.

A skyline is the upper edge of what is already on a bed. The next place is its lowest ledge; there goes the box that
fills that ledge best, or in other runs the first one that fits. A bin is finished when nothing fits any more. (Best
fit on a skyline: Burke, Kendall, Whitwell, Operations Research 52 (2004) 655-671, here for bins and with its own
tie-breaks.)

Boxes of the same sides stand for each other: only the first of them in the order is looked at, and a look ends at a box
that fills its ledge. Promise: the same spots as when every box is looked at for every ledge.
"""

from __future__ import annotations

from bisect import insort
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple, TypeAlias

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


Choice: TypeAlias = "Callable[[_Ledge, _Waiting, Bin], tuple[int, bool] | None]"

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


def one_bin(boxes: Sequence[Box], into: Bin) -> tuple[Spot, ...] | None:
    """All boxes in one bin, in their order; nothing where none of the same orders gives that.

    Args:
        boxes: each fits an empty bin.
        into: the bin.
    """
    orders = [sorted(range(len(boxes)), key=lambda n: (order(boxes[n]), n)) for order in _ORDERS]
    for choose in (_widest, _first):
        for order in orders:
            spots = _fill_one(_Waiting(order, boxes, into), boxes, into, choose, 0)
            if len(spots) == len(boxes):
                return tuple(sorted(spots, key=lambda spot: spot.box))
    return None


def _badness(spots: list[Spot], boxes: Sequence[Box]) -> tuple[int, int]:
    """Fewer bins first, then fuller ones (a larger sum of squares of their areas)."""
    bins = bins_of(tuple(spots))
    filled = [0] * bins
    for spot in spots:
        filled[spot.bin] += boxes[spot.box][0] * boxes[spot.box][1]
    return bins, -sum(area * area for area in filled)


class _Kind(NamedTuple):
    """Boxes of the same sides that wait; sorts by the first of them.

    Attributes:
        first: place of the first in the order.
        places: of all in the order, the last first.
        ways: whether turned, width and depth.
    """

    first: int
    places: list[int]
    ways: tuple[tuple[bool, int, int], ...]


class _Waiting:
    """Boxes in an order, less those that have been taken."""

    def __init__(self, order: list[int], boxes: Sequence[Box], into: Bin) -> None:
        self.order = order
        places: dict[Box, list[int]] = {}
        for place in range(len(order) - 1, -1, -1):
            places.setdefault(boxes[order[place]], []).append(place)
        self.kinds = sorted(
            _Kind(mine[-1], mine, tuple((turned, *sides) for turned, sides in into.ways(box)))
            for box, mine in places.items()
        )

    def take(self, at: int) -> int:
        """The first box of a kind."""
        kind = self.kinds.pop(at)
        box = self.order[kind.places.pop()]
        if kind.places:
            insort(self.kinds, kind._replace(first=kind.places[-1]))
        return box


def _fill_bins(order: list[int], boxes: Sequence[Box], into: Bin, choose: Choice) -> list[Spot]:
    waiting, spots, number = _Waiting(order, boxes, into), list[Spot](), 0
    while waiting.kinds:
        spots += _fill_one(waiting, boxes, into, choose, number)
        number += 1
    return spots


def _fill_one(waiting: _Waiting, boxes: Sequence[Box], into: Bin, choose: Choice, number: int) -> list[Spot]:
    """One bin, filled from the lowest ledge up until nothing fits."""
    skyline, spots = [_Ledge(0, into.width, 0)], list[Spot]()
    while waiting.kinds:
        ledge = min(skyline, key=lambda part: (part.y, part.x))
        choice = choose(ledge, waiting, into)
        if choice is None:
            if len(skyline) == 1:
                break
            _raise_ledge(skyline, ledge)
            continue
        at, turned = choice
        box = waiting.take(at)
        wide, deep = boxes[box][::-1] if turned else boxes[box]
        spots.append(Spot(box, number, ledge.x, ledge.y, turned))
        _put(skyline, ledge, wide, ledge.y + deep)
    return spots


def _widest(ledge: _Ledge, waiting: _Waiting, into: Bin) -> tuple[int, bool] | None:
    """The kind of box that fills a ledge best, and whether turned: the widest that fits, among equals the first."""
    best: tuple[int, bool] | None = None
    widest, room = 0, into.depth - ledge.y
    for at, kind in enumerate(waiting.kinds):
        for turned, wide, deep in kind.ways:
            if widest < wide <= ledge.width and deep <= room:
                best, widest = (at, turned), wide
        if widest == ledge.width:
            break
    return best


def _first(ledge: _Ledge, waiting: _Waiting, into: Bin) -> tuple[int, bool] | None:
    """The first kind of box in the order that fits a ledge, and whether turned: as wide as it will go."""
    room = into.depth - ledge.y
    for at, kind in enumerate(waiting.kinds):
        fitting = [(wide, not turned) for turned, wide, deep in kind.ways if wide <= ledge.width and deep <= room]
        if fitting:
            return at, not max(fitting)[1]
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
