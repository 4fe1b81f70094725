"""Packing a strip of a fixed width as low as possible, and beds of a fixed size.

Whenever a packing is found, the next must be lower, until the bound is met or the caller stops. The walks are those of
``kernels``, by turns on the skyline of the box (``best_fit``), cell by cell where the box is narrow enough, and on the
skyline of the box on its side: each rule finds packings that the others cannot. Loads numba.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import count as count_up
from typing import TYPE_CHECKING

import numpy as np

from nookwright.ground.sources import Fact, Kind
from nookwright.layout.packing import best_fit, kernels
from nookwright.layout.packing.fitting import Things
from nookwright.layout.packing.found import Footprint, Spot
from nookwright.layout.packing.moves import state_from
from nookwright.layout.packing.orders import first_orders
from nookwright.layout.packing.words import WORD

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from numpy.typing import NDArray

    from nookwright.layout.packing.found import Order

    _Numbers = tuple[NDArray[np.int64], NDArray[np.int64]]  # an order, and the turns

LEG = Fact(
    400,
    unit="tries",
    kind=Kind.MEASURED,
    source="For each footprint, then another rule has its turn: on published strips 200 and 600 do as well.",
)
PORTION = Fact(
    2e6,
    unit="footprints",
    kind=Kind.CHOICE,
    source="Tries times the square of the footprints between two looks at whether to stop: some 10 ms.",
)
LEAST_PORTION = Fact(20, unit="tries", kind=Kind.CHOICE, source="The same for many footprints.")


@dataclass(frozen=True)
class Strip:
    """Footprints in a strip.

    Attributes:
        spots: where each lies; ``col`` runs along the width, ``row`` along the height.
        height: that they take up.
        bound: that no packing is lower than.
        tries: packings made.
    """

    spots: tuple[Spot, ...]
    height: int
    bound: int
    tries: int

    @property
    def proven(self) -> bool:
        """Whether no packing is lower."""
        return self.height == self.bound


class Box:
    """Boxes of one width for the same footprints, and the three rules of placing in them.

    Each rule walks from an order, which it changes in place, and says whether all is in; ``spots`` then tells where.
    """

    def __init__(self, width: int, items: Sequence[Footprint], *, highest: int, seed: int) -> None:
        """Lay out the desks.

        Args:
            width: of the boxes.
            items: that are packed.
            highest: box that is asked for.
            seed: of the search.
        """
        self.width = width
        self.things = Things(*np.array(items, np.int64).reshape(-1, 3).T.copy())
        self.exchanged = Things(self.things.rows, self.things.cols, self.things.may_turn)
        self.desk = best_fit.desk_for(len(items), width, highest)
        self.work = np.zeros((kernels.WORK, len(items) + 1), np.int64)
        self.rng = np.array([state_from(seed)], np.uint64)
        self.spots: tuple[Spot, ...] = ()
        self.tries = 0

    def on_skyline(self, height: int, order: _Numbers, tries: int) -> bool:
        """Best fit on the skyline."""
        left, made = best_fit.search(self.width, height, self.things, *order, self.desk, tries, self.rng)
        self.tries += made
        if not left:
            self.spots = _on_desk(self.desk)
        return not left

    def on_its_side(self, height: int, order: _Numbers, tries: int) -> bool:
        """Best fit on the skyline of the box that lies on its side."""
        left, made = best_fit.search(height, self.width, self.exchanged, *order, self.desk, tries, self.rng)
        self.tries += made
        if not left:
            self.spots = tuple(Spot(y, x, turned) for x, y, turned in _on_desk(self.desk))
        return not left

    def in_cells(self, height: int, order: _Numbers, tries: int) -> bool:
        """Front-most, then left-most, along the side of the box that goes into a word; never where neither does."""
        if min(self.width, height) > WORD:
            return False
        across = self.width > WORD
        wide, deep = (height, self.width) if across else (self.width, height)
        free = np.full(deep, (1 << wide) - 1, np.uint64)
        things = self.exchanged if across else self.things
        left, made = kernels.search(free, *things, *order, self.work, tries, self.rng)
        self.tries += made
        if not left:
            self.spots = self._in_words(order[0], across=across)
        return not left

    def _in_words(self, order: NDArray[np.int64], *, across: bool) -> tuple[Spot, ...]:
        """Where all lies after ``in_cells``."""
        at, lies = self.work[kernels.AT].tolist(), self.work[kernels.LIES].tolist()
        spots = {
            item: Spot(
                *((at[step] >> 6, at[step] & 63) if across else (at[step] & 63, at[step] >> 6)), bool(lies[step])
            )
            for step, item in enumerate(order.tolist())
        }
        return tuple(spots[item] for item in range(len(spots)))

    def top(self) -> int:
        """The height that the last packing takes up."""
        cols, rows = self.things.cols.tolist(), self.things.rows.tolist()
        return max((spot.row + (cols[n] if spot.turned else rows[n]) for n, spot in enumerate(self.spots)), default=0)


def _on_desk(desk: best_fit.Desk) -> tuple[Spot, ...]:
    """Where all lies after a walk on a skyline that left nothing out."""
    steps = desk.work[best_fit.PLACED, :-1]
    marks = desk.marks[desk.work[best_fit.SIDE][steps], steps].tolist()
    return tuple(Spot(mark[best_fit.X], mark[best_fit.Y], bool(mark[best_fit.LIES])) for mark in marks)


def least_height(width: int, items: Sequence[Footprint]) -> int:
    """A height that no packing is lower than: by area, by the highest, by all that are wider than half the strip.

    Args:
        width: of the strip.
        items: that are packed.

    Raises:
        ValueError: something is wider than the strip, both ways.

    >>> least_height(10, [Footprint(6, 4, False), Footprint(7, 3, False), Footprint(2, 5, True)])
    7
    """
    area = sum(item.cols * item.rows for item in items)
    ways = [[(item.cols, item.rows), (item.rows, item.cols)][: 1 + item.may_turn] for item in items]
    fit = [[(wide, tall) for wide, tall in some if wide <= width] for some in ways]
    for item, some in zip(items, fit, strict=True):
        if not some:
            turned = " both ways" if item.may_turn else ""
            raise ValueError(
                f"a footprint of {item.cols} x {item.rows} is wider than the strip of {width}{turned}: "
                "leave it out, or take a wider strip"
            )
    highest = max((min(tall for _, tall in some) for some in fit), default=0)
    alone = sum(min(tall for _, tall in some) for some in fit if all(2 * wide > width for wide, _ in some))
    return max(-(-area // width), highest, alone)


def strips(width: int, items: Sequence[Footprint], *, seed: int) -> Iterator[Strip]:
    """Pack a strip lower and lower; ends at the bound, else goes on for as long as it is asked.

    The same packing comes again while the search finds no lower one: the caller can stop by a count, or by a clock.

    Args:
        width: of the strip.
        items: that are packed.
        seed: of the search.

    Raises:
        ValueError: something is wider than the strip, both ways.

    >>> [strip.height for strip in strips(4, [Footprint(2, 3, False), Footprint(2, 3, False)], seed=1)]
    [3]
    """
    bound = least_height(width, items)
    if not items:
        yield Strip((), 0, 0, 0)
        return
    highest = sum(max(item[:2]) for item in items)
    box = Box(width, items, highest=highest, seed=seed)
    looks = []
    for order in first_orders(items):
        box.on_skyline(highest, _numbers(order), 1)
        looks.append((box.top(), box.spots, order))
    looks.sort(key=lambda look: look[0])
    best = Strip(looks[0][1], looks[0][0], bound, box.tries)
    yield best
    rules = (box.on_skyline, box.in_cells, box.on_its_side)
    for turn in count_up():
        if best.proven:
            return
        begin = _numbers(looks[turn // len(rules) % len(looks)][2])
        for found in _walk(box, rules[turn % len(rules)], begin, best):
            best = found
            yield best


def _walk(box: Box, rule: Callable[[int, _Numbers, int], bool], order: _Numbers, best: Strip) -> Iterator[Strip]:
    """One rule's turn, in portions; it begins anew with each lower packing that it finds."""
    count = order[0].size
    portion = max(int(LEAST_PORTION), int(PORTION) // count**2)
    until = box.tries + int(LEG) * count
    while box.tries < until and not best.proven:
        before = box.tries
        if rule(best.height - 1, order, min(portion, until - box.tries)):
            best, until = Strip(box.spots, box.top(), best.bound, box.tries), box.tries + int(LEG) * count
        elif box.tries == before or count == 1:
            return
        yield replace(best, tries=box.tries)


def _numbers(order: Order) -> _Numbers:
    """An order as the kernels take it."""
    numbers, turned = np.array(order, np.int64).reshape(-1, 2).T.copy()
    return numbers, turned


def pack_strip(width: int, items: Sequence[Footprint], *, tries: int, seed: int) -> Strip:
    """Pack a strip as low as the tries allow; the same arguments give the same packing.

    Args:
        width: of the strip.
        items: that are packed.
        tries: packings, about; the last portion is finished.
        seed: of the search.

    Raises:
        ValueError: something is wider than the strip, both ways.
    """
    for strip in strips(width, items, seed=seed):
        if strip.tries >= tries:
            break
    return strip
