"""The judgement of ``judging``, quick for many arrangements of one space that differ in a part or two.

What each part says for itself is remembered (``facets``); an arrangement is that put together, by ``or`` and by sums,
in the order in which ``judging`` sums, so that both say the same figure. ``judging`` is the definition; a test holds
both together. Time grows with the parts, not with their pairs. What it does not know: parts that stand on others.
"""

from __future__ import annotations

from functools import lru_cache, reduce
from math import inf
from operator import or_
from typing import TYPE_CHECKING, Any

import numpy as np

from nookwright.layout.calm.calmness import Counts, largest_free
from nookwright.layout.calm.facets import Facets, Listener
from nookwright.layout.calm.terms import CRUMB
from nookwright.layout.wishes import ANOTHER_SIZE, BESIDE_SHARE, HEMMED_IN, OUT_OF_ORDER, SCATTERED, touch

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nookwright.layout.calm.facets import Above, Lean
    from nookwright.layout.calm.judging import Judge
    from nookwright.layout.model import Grid, Placed


class QuickJudge:
    """Judges arrangements of one space."""

    def __init__(self, judge: Judge, grid: Grid) -> None:
        """Get ready.

        Args:
            judge: says what an arrangement costs.
            grid: the space.
        """
        self.judge, self.grid = judge, grid
        self.listener = Listener(judge, grid)
        self.fields, self.free = self.listener.fields, self.listener.free

    def cost(self, placed: Sequence[Placed], *, limit: float = inf) -> float:
        """What ``Judge.cost`` says.

        Args:
            placed: what stands in the space, nothing on anything else.
            limit: beyond it nobody asks how much it is; what is said then is above the limit, but too low.
        """
        if not placed:
            return self.judge.cost(self.grid, placed, limit=limit)
        of = self.listener.of
        all_of: Any = Facets._make(zip(*[of(one) for one in placed], strict=True))  # columns instead of rows
        grown = CRUMB * sum(all_of.more_cells) + self.judge.terms.gram_cost * sum(all_of.more_g)
        own = sum(all_of.cost) + grown
        if own > limit:
            return float(own)
        own += self._restless(all_of)
        return float(own if own > limit else own + self._wished(all_of, placed))

    def _restless(self, all_of: Any) -> float:  # noqa: ANN401 - columns of facets
        """What ``calmness`` counts, read the calmer way."""
        bits = reduce(or_, all_of.bits)
        cols, rows = self.grid.cols, self.grid.rows
        free = self.free & ~bits
        crumbs = free.bit_count() - largest_free(free, cols, rows)
        lines_x, sides_x, lines_y, sides_y = self.fields.parted(bits)
        across, along = (lines_x & ~(1 | 1 << cols)).bit_count(), (lines_y & ~(1 | 1 << rows)).bit_count()
        rims = len(set(all_of.line_rim)) - len(set(all_of.line))
        turned = len(set(all_of.column_rim)) - len(set(all_of.column))
        ways = (
            Counts(sides_x.bit_count(), along, across, rims, crumbs),
            Counts(sides_y.bit_count(), across, along, turned, crumbs),
        )
        return min(one.cost for one in ways)

    def _wished(self, all_of: Any, placed: Sequence[Placed]) -> float:  # noqa: ANN401 - columns of facets
        """What ``wishes`` sums, in its order."""
        weights, higher = self.judge.wishes.weights, _Higher(all_of.top, all_of.bits)
        return sum(
            (
                sum(all_of.handy),
                weights.tall_back * sum(higher.unbacked(one) for one in all_of.leans if one),
                _parted(all_of, placed),
                weights.alike * SCATTERED * self._scattered(all_of),
                OUT_OF_ORDER * _out_of_order(all_of, placed),
                weights.fewer_sizes * ANOTHER_SIZE * max(0, len(set(all_of.size)) - 1),
                weights.one_hand * HEMMED_IN * sum(higher.closed(one) for one in all_of.grips if one),
                weights.heavy_low * sum(all_of.far),
            )
        )

    def _scattered(self, all_of: Any) -> int:  # noqa: ANN401 - columns of facets
        """In how many places more than one the groups stand, summed."""
        groups: dict[str, int] = {}
        for group, bits in zip(all_of.group, all_of.bits, strict=True):
            if group:
                groups[group] = groups.get(group, 0) | bits
        return sum(pieces(bits & self.fields.cells, self.fields.step) - 1 for bits in groups.values())


class _Higher:
    """Which cells of an arrangement are higher than something."""

    def __init__(self, tops: Sequence[float], bits: Sequence[int]) -> None:
        self.tops, self.bits = tops, bits
        self.highest = max(tops)
        self._known: dict[float, int] = {}

    def than(self, height: float) -> int:
        """The bits of all parts that are higher."""
        if height >= self.highest:
            return 0
        if height not in self._known:
            higher = (bits for top, bits in zip(self.tops, self.bits, strict=True) if top > height)
            self._known[height] = reduce(or_, higher, 0)
        return self._known[height]

    def closed(self, above: Above) -> bool:
        """Whether all cells are higher."""
        return not above.cells & ~self.than(above.height)

    def unbacked(self, leans: tuple[Lean, ...]) -> float:
        """What it costs that sides lean on nothing."""
        cost = 0.0
        for above, least, price in leans:
            high = above.walls + (above.cells & self.than(above.height)).bit_count()
            cost += price if high < least else 0.0
        return cost


def _parted(all_of: Any, placed: Sequence[Placed]) -> float:  # noqa: ANN401 - columns of facets
    """Lots that belong together and are not side by side."""
    if not any(all_of.bonds):
        return 0.0
    at = {lot: number for number, lot in enumerate(all_of.lot) if lot is not None}
    costs: dict[tuple[int, int], float] = {}
    for lot, number in at.items():
        for other, cost in all_of.bonds[number]:
            if other in at and other != lot:
                pair = (min(number, at[other]), max(number, at[other]))
                costs[pair] = max(cost, costs.get(pair, 0.0))
    apart = (cost for (one, other), cost in sorted(costs.items()) if not touch(placed[one], placed[other]))
    return BESIDE_SHARE * sum(apart)


def _out_of_order(all_of: Any, placed: Sequence[Placed]) -> int:  # noqa: ANN401 - columns of facets
    """Pairs that lie the other way round than asked for."""
    ranked = [(rank, *_box(placed[number])) for number, rank in enumerate(all_of.rank) if rank >= 0]
    if not ranked:
        return 0
    rank, col, right, row, back = np.array(ranked).T
    behind = row[:, None] >= back[None, :]
    beside = (row[None, :] < back[:, None]) & (col[:, None] >= right[None, :])
    return int(np.count_nonzero((rank[:, None] < rank[None, :]) & (behind | beside)))


def _box(one: Placed) -> tuple[int, int, int, int]:
    return one.col, one.col + one.cols, one.row, one.row + one.rows


@lru_cache(maxsize=4096)
def pieces(cells: int, step: int) -> int:
    """How many pieces some cells make; cells that share a side belong to one.

    Args:
        cells: as a mask, see ``bits``.
        step: bits from one row to the next.

    >>> pieces(0b101, 4), pieces(0b11, 4), pieces(0b10001, 4), pieces(0, 4)
    (2, 1, 1, 0)
    """
    found = 0
    while cells:
        piece, edge = 0, cells & -cells
        while edge:
            piece |= edge
            edge = (edge << 1 | edge >> 1 | edge << step | edge >> step) & cells & ~piece
        cells &= ~piece
        found += 1
    return found
