"""Boxes into as few bins as the tries allow.

First a few plain orders, in plain Python: where they meet the bound there is nothing to search. Else one bin fewer is
asked for, again and again: a walk changes the order of the boxes and keeps what leaves no more area out (the walks of
``layout.packing.best_fit``, here with several bins beside each other, filled one after the other), by turns with the
bins upright and on their side. The search never looks at a clock; a caller may stop it by one.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import count as count_up
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.making.nesting.bounds import least_bins
from nookwright.making.nesting.model import Bin, Nested, Spot, bins_of
from nookwright.making.nesting.plain import first_nesting

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    import numpy as np
    from numpy.typing import NDArray

    from nookwright.layout.packing.best_fit import Desk
    from nookwright.layout.packing.fitting import Things
    from nookwright.making.nesting.model import Box

LEG = Fact(
    100,
    unit="tries",
    kind=Kind.MEASURED,
    source="For each box, then the walk begins anew with another order: on published instances better than 1000.",
)
PORTION = Fact(1e6, unit="boxes", kind=Kind.CHOICE, source="Tries times the square of the boxes between two looks.")
LEAST_PORTION = Fact(20, unit="tries", kind=Kind.CHOICE, source="The same for many boxes.")
USUAL_TRIES = Fact(
    2e7,
    unit="boxes",
    kind=Kind.MEASURED,
    source="Tries times the square of the boxes: about a second where it is hard.",
)


def nest(boxes: Sequence[Box], width: int, depth: int, *, may_turn: bool = True) -> tuple[Spot, ...]:
    """All boxes in few bins, in their order.

    Args:
        boxes: widths and depths, whole numbers; each fits an empty bin.
        width: of a bin.
        depth: of a bin.
        may_turn: whether boxes may be turned by 90 degrees.

    Raises:
        ValueError: a box fits no empty bin.

    >>> [(spot.bin, spot.x, spot.y) for spot in nest([(6, 4), (4, 6), (10, 4)], 10, 10)]
    [(0, 0, 4), (0, 6, 4), (0, 0, 0)]
    """
    return nested(boxes, Bin(width, depth, may_turn)).spots


def nested(boxes: Sequence[Box], into: Bin, *, tries: int | None = None) -> Nested:
    """All boxes in as few bins as the tries allow; the same arguments give the same nesting.

    Args:
        boxes: widths and depths, whole numbers; each fits an empty bin.
        into: the bins.
        tries: nestings at most, about; as many as take a second where left out.

    Raises:
        ValueError: a box fits no empty bin.
    """
    most = max(int(LEAST_PORTION), int(USUAL_TRIES) // max(1, len(boxes)) ** 2) if tries is None else tries
    for found in nestings(boxes, into, seed=1):
        if found.tries >= most:
            break
    return found


def nestings(boxes: Sequence[Box], into: Bin, *, seed: int) -> Iterator[Nested]:
    """Nestings of fewer and fewer bins; ends at the bound, else goes on for as long as it is asked.

    The same nesting comes again while the search finds no better one: the caller can stop by a count, or by a clock.

    Args:
        boxes: each fits an empty bin.
        into: the bins.
        seed: of the search.

    Raises:
        ValueError: a box fits no empty bin.
    """
    for box in boxes:
        if not into.ways(box):
            raise ValueError(
                f"a box of {box} fits no bin of {into.width} x {into.depth}; allowed: boxes that fit an empty bin"
            )
    bound = least_bins(boxes, into)
    spots, tries = first_nesting(boxes, into, bound)
    best = Nested(spots, bins_of(spots), bound, tries)
    yield best
    if not best.proven:
        yield from _searched(boxes, into, best, seed)


def _searched(boxes: Sequence[Box], into: Bin, best: Nested, seed: int) -> Iterator[Nested]:
    """Walks for one bin fewer, by turns upright and on their side."""
    walks = Walks(boxes, into, most_bins=best.bins, seed=seed)
    for turn in count_up():
        until = walks.tries + int(LEG) * len(boxes)
        order = walks.order(turn // 2)
        while walks.tries < until:
            left = walks.walk(best.bins - 1, order, min(walks.portion, until - walks.tries), on_side=bool(turn % 2))
            best = replace(best, tries=best.tries + walks.made)
            if not left:
                best = replace(best, spots=walks.spots, bins=bins_of(walks.spots))
            yield best
            if best.proven:
                return
            if not left:
                break


class Walks:
    """The kernels' desk for some boxes. Making one loads numba."""

    def __init__(self, boxes: Sequence[Box], into: Bin, *, most_bins: int, seed: int) -> None:
        """Lay out the desk.

        Args:
            boxes: each fits an empty bin.
            into: the bins.
            most_bins: that are ever asked for.
            seed: of the search.
        """
        import numpy as np

        from nookwright.layout.packing.best_fit import desk_for
        from nookwright.layout.packing.fitting import Things
        from nookwright.layout.packing.found import Footprint
        from nookwright.layout.packing.moves import state_from

        self.into = into
        self.items = [Footprint(*box, into.may_turn and box[0] != box[1]) for box in boxes]
        self.upright: Things = Things(*np.array(self.items, np.int64).reshape(-1, 3).T.copy())
        self.on_side: Things = Things(self.upright.rows, self.upright.cols, self.upright.may_turn)
        self.desk: Desk = desk_for(len(boxes), into.width, into.depth, most_bins)
        if into.depth < into.width:
            self.side_desk: Desk = desk_for(len(boxes), into.depth, into.width, most_bins)
        else:
            self.side_desk = self.desk
        self.rng = np.array([state_from(seed)], np.uint64)
        self.portion = max(int(LEAST_PORTION), int(PORTION) // max(1, len(boxes)) ** 2)
        self.spots: tuple[Spot, ...] = ()
        self.tries = self.made = 0

    def order(self, number: int) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
        """One of the orders that are worth a first look, as the kernels take it."""
        import numpy as np

        from nookwright.layout.packing.orders import first_orders

        orders = first_orders(self.items)[:: 1 if self.into.may_turn else 2]
        numbers, turned = np.array(orders[number % len(orders)], np.int64).reshape(-1, 2).T.copy()
        return numbers, turned

    def walk(
        self, bins: int, order: tuple[NDArray[np.int64], NDArray[np.int64]], tries: int, *, on_side: bool = False
    ) -> int:
        """Walk from an order, which changes in place; ``spots`` then tells where all that is in lies.

        Args:
            bins: that may be used.
            order: the numbers of the boxes, and 1 where one is tried turned first.
            tries: nestings at most.
            on_side: whether the bins are filled from the left, not from the front.

        Returns:
            The area that stays out.
        """
        from nookwright.layout.packing import best_fit

        width, depth = (self.into.depth, self.into.width) if on_side else (self.into.width, self.into.depth)
        things, desk = (self.on_side, self.side_desk) if on_side else (self.upright, self.desk)
        left, self.made = best_fit.search(width, depth, things, *order, desk, tries, self.rng, bins)
        self.tries += self.made
        self.spots = _on_desk(desk, width, len(self.items), on_side=on_side)
        return int(left)


def _on_desk(desk: Desk, width: int, count: int, *, on_side: bool) -> tuple[Spot, ...]:
    """Where everything lies that is in a bin."""
    from nookwright.layout.packing import best_fit

    spots = []
    for box, step in enumerate(desk.work[best_fit.PLACED, :count].tolist()):
        if step < count:
            mark = desk.marks[int(desk.work[best_fit.SIDE, step]), step]
            number, x = divmod(int(mark[best_fit.X]), width + 1)
            y = int(mark[best_fit.Y])
            spots.append(Spot(box, number, *((y, x) if on_side else (x, y)), bool(mark[best_fit.LIES])))
    return _numbered(spots)


def _numbered(spots: Sequence[Spot]) -> tuple[Spot, ...]:
    """The spots with their bins numbered without gaps."""
    number = {bin_: at for at, bin_ in enumerate(sorted({spot.bin for spot in spots}))}
    return tuple(replace(spot, bin=number[spot.bin]) for spot in spots)
