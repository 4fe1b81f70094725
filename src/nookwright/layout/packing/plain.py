"""The search of ``kernels`` without numba: same arguments, same packing, tens of times slower.

It answers before numba is loaded, takes spaces that are more than 64 cells both ways, and is what the tests hold the
kernels against. A space is one big integer here (see ``layout/bits``), so a step is undone by forgetting it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from nookwright.layout.bits import first, places, rectangle, shifts_for
from nookwright.layout.packing.found import Packing, Spot, Walk
from nookwright.layout.packing.moves import BRINGS, MOVES, TURNS, Draws

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nookwright.layout.packing.found import Footprint, Order

_Shape = tuple[tuple[int, ...], int]  # the shifts that find its places, and its cells


class _Step(NamedTuple):
    """A step of a packing: free cells and area out before it, the place taken (-1 for none), the way it lies."""

    free: int
    left: int
    bit: int
    lies: bool


class _Search:
    """One search in one space: the order that it stands at, and its packing."""

    def __init__(self, free: int, step: int, items: Sequence[Footprint], order: Order, state: int) -> None:
        self.items, self.free, self.draws = items, free, Draws(state)
        self.stride = step
        self.shapes: dict[tuple[int, int], _Shape] = {}
        self.ways = [self._ways(item) for item in items]
        self.order = list(order)
        self.steps: list[_Step] = []
        self.left = sum(item.cols * item.rows for item in items)
        self.decode(self.order, 0)

    def _ways(self, item: Footprint) -> tuple[_Shape, _Shape | None]:
        """A footprint as it is asked for, and turned where it may be."""
        turned = self._shape(item.rows, item.cols) if item.may_turn else None
        return self._shape(item.cols, item.rows), turned

    def _shape(self, cols: int, rows: int) -> _Shape:
        """Worked out once for each size."""
        if (cols, rows) not in self.shapes:
            self.shapes[cols, rows] = (shifts_for(cols, rows, self.stride), rectangle(cols, rows, self.stride))
        return self.shapes[cols, rows]

    def decode(self, order: list[tuple[int, bool]], start: int) -> bool:
        """Pack in this order from step ``start`` on; take it over unless more area stays out than before."""
        free, left = self.steps[start][:2] if start < len(self.steps) else (self.free, 0)
        made: list[_Step] = []
        for item, turned in order[start:]:
            bit, lies = self._place(free, item, turned=turned)
            made.append(_Step(free, left, bit, lies))
            if bit < 0:
                left += self.items[item].cols * self.items[item].rows
                if left > self.left:
                    return False
            else:
                shape = self.ways[item][lies]
                free ^= (shape[1] if shape else 0) << bit
        self.order, self.left = order, left
        self.steps[start:] = made
        return True

    def _place(self, free: int, item: int, *, turned: bool) -> tuple[int, bool]:
        """The front-most, then left-most place, and the way it lies there; the other way where it has none."""
        for lies in (turned, not turned):
            shape = self.ways[item][lies]
            if shape and (mask := places(free, shape[0])):
                return first(mask), lies
        return -1, False

    def run(self, tries: int) -> int:
        """Change the order until everything is in or the tries are used up; says how many were made."""
        done = 1
        while len(self.order) > 1 and self.left and done < tries:
            done += 1
            order = self.order.copy()
            self.decode(order, self._change(order))
        return done

    def _change(self, order: list[tuple[int, bool]]) -> int:
        """Change the order in place; says from which step on."""
        drawn, below = self.draws.draw(), self.draws.below
        if drawn < BRINGS:
            out = [step for step, made in enumerate(self.steps) if made.bit < 0]
            one = out[below(len(out))]
            two = below(one + 1)
            order.insert(two, order.pop(one))
            return two
        one = below(len(order))
        item, turned = order[one]
        if drawn < TURNS and self.items[item].may_turn:
            order[one] = (item, not turned)
            return one
        two = below(len(order) - 1)
        two += two >= one
        if drawn < MOVES:
            order.insert(two, order.pop(one))
        else:
            order[one], order[two] = order[two], order[one]
        return min(one, two)

    def spots(self) -> tuple[Spot | None, ...]:
        """Where everything lies, by footprint."""
        found: list[Spot | None] = [None] * len(self.items)
        for (item, _), made in zip(self.order, self.steps, strict=True):
            if made.bit >= 0:
                found[item] = Spot(made.bit % self.stride, made.bit // self.stride, made.lies)
        return tuple(found)


def search(free: int, step: int, items: Sequence[Footprint], order: Order, *, tries: int, state: int) -> Walk:
    """Pack in an order, and change it until everything is in or the tries are used up.

    Args:
        free: mask of the free cells.
        step: its stride.
        items: that are packed.
        order: all of them, once each.
        tries: packings at most; the first counts.
        state: of the generator.
    """
    one = _Search(free, step, items, order, state)
    done = one.run(tries)
    return Walk(Packing(one.spots(), tuple(one.order), done), one.left, one.draws.state)
