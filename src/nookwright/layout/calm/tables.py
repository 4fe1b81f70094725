"""What each lot would be in a row of some depth and rim: how wide, at what cost. Arrays for the search.

A row asks for a depth and a rim. Of all candidates of a lot, lying as they may, the one that costs least there is
taken: as narrow as it is, grown to the row's depth, raised to its rim. Because a row may be short of width, the same is
worked out at several prices of a cell, up to the narrowest of all.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from nookwright.ground.sources import Fact, Kind
from nookwright.layout.calm.terms import LOW_RIM, MOST_RISES, longest_side, may_grow
from nookwright.module.seat import outer_size

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from nookwright.layout.calm.terms import Terms
    from nookwright.layout.model import Candidate, Grid

NEVER = Fact(10_000, unit="cells", kind=Kind.CHOICE, source="Stands for a width where a lot cannot be: wider than all.")
PRICES = (
    Fact(1.0, unit="1", kind=Kind.CHOICE, source="Times the price of a cell: where there is room."),
    Fact(4.0, unit="1", kind=Kind.CHOICE, source="Times the price of a cell: where it gets narrow."),
    Fact(1000.0, unit="1", kind=Kind.CHOICE, source="Times the price of a cell: the narrowest."),
)


@dataclass(frozen=True)
class Option:
    """One candidate as it would lie, before it grows.

    Attributes:
        candidate: what it is.
        turned: whether it lies turned by 90 degrees in the space.
        wide: cells along the row.
        deep: cells across the row.
    """

    candidate: Candidate
    turned: bool
    wide: int
    deep: int


@dataclass(frozen=True)
class Tables:
    """For each lot, price, rim and depth (0 to rows).

    Attributes:
        options: of each lot.
        rims: the heights that a row may have, mm, ascending.
        wide: width taken, cells; ``NEVER`` where it cannot be.
        cost: without the cells that it takes.
        pick: number of the option.
        least: the least cost of each lot at each rim; infinite where it cannot be.
        span: the lowest and the highest rim that a row of the lot alone would have, as numbers of ``rims``.
    """

    options: tuple[tuple[Option, ...], ...]
    rims: tuple[float, ...]
    wide: NDArray[np.int64]
    cost: NDArray[np.float64]
    pick: NDArray[np.int64]
    least: NDArray[np.float64]
    span: NDArray[np.int64]


def options_of(candidates: Sequence[Candidate], *, swap: bool) -> tuple[Option, ...]:
    """All ways that the candidates of a lot may lie.

    Args:
        candidates: of the lot, those that the space takes.
        swap: whether rows run from front to back instead of from left to right.
    """
    found = []
    for one in candidates:
        for turned in (False, True) if one.may_turn and one.cols != one.rows else (False,):
            wide, deep = (one.rows, one.cols) if turned != swap else (one.cols, one.rows)
            found.append(Option(one, turned, wide, deep))
    return tuple(found)


def tables_of(lots: Sequence[Sequence[Option]], rows: int, grid: Grid, terms: Terms) -> Tables:
    """The tables of some lots.

    Args:
        lots: the options of each.
        rows: the deepest row, cells.
        grid: the space, for the opening that parts must pass.
        terms: prices.
    """
    rims = tuple(sorted({option.candidate.height for options in lots for option in options}))
    shape = (len(lots), len(PRICES), len(rims), rows + 1)
    wide = np.full(shape, int(NEVER), dtype=np.int64)
    cost = np.zeros(shape, dtype=np.float64)
    pick = np.full(shape, -1, dtype=np.int64)
    maker = _Maker(rows, np.array(rims), grid, terms)
    for lot, options in enumerate(lots):
        best = np.full(shape[1:], np.inf)
        for number, option in enumerate(options):
            mine, may = maker.cost(option)
            for level, price in enumerate(PRICES):
                judged = np.where(may, mine + float(price) * maker.taken(option), np.inf)
                better = judged < best[level]
                best[level][better] = judged[better]
                wide[lot, level][better] = option.wide
                cost[lot, level][better] = mine[better]
                pick[lot, level][better] = number
    least = np.where(pick < 0, np.inf, cost).min(axis=(1, 3))
    heights = [[rims.index(option.candidate.height) for option in options] for options in lots]
    span = np.array([[min(mine), max(mine)] for mine in heights], dtype=np.int64)
    return Tables(tuple(tuple(options) for options in lots), rims, wide, cost, pick, least, span)


class _Maker:
    """Works out one option at all depths and rims at once."""

    def __init__(self, rows: int, rims: NDArray[np.float64], grid: Grid, terms: Terms) -> None:
        self.grid, self.terms = grid, terms
        self.depths = np.arange(rows + 1, dtype=np.float64)[None, :]
        self.rims = rims[:, None]
        self.floor_g = {smooth: terms.floor_g(smooth=smooth) for smooth in (False, True)}
        self.sizes = np.array([outer_size(cells, terms.module.pitch) if cells else 0.0 for cells in range(rows + 1)])

    def taken(self, option: Option) -> NDArray[np.float64]:
        """Cost of the cells of the row that the option takes."""
        return self.depths * option.wide * self.terms.cell_cost

    def cost(self, option: Option) -> tuple[NDArray[np.float64], NDArray[Any]]:
        """Cost without the cells, and where it can be at all."""
        one = option.candidate
        base = one.cost - self.terms.cell_cost * one.cols * one.rows
        may = (self.depths >= option.deep) & (self.rims >= one.height)
        if not may_grow(one):
            return np.full(may.shape, base), may
        may &= self.depths <= self._deepest(option)
        low = self.rims > one.height + int(MOST_RISES) * self.terms.module.rise
        height = np.where(low, one.height, self.rims)
        may &= self._passes(option, height)
        return base + self.terms.gram_cost * self._grown_g(option, height) + np.where(low, float(LOW_RIM), 0.0), may

    def _passes(self, option: Option, height: NDArray[np.float64]) -> NDArray[np.bool_]:
        """Whether a part, grown to a depth and a height, passes the opening of the space by its two shorter sides."""
        shape = (height.shape[0], self.sizes.size)
        if self.grid.opening is None:
            return np.ones(shape, dtype=np.bool_)
        narrow, wide = sorted(self.grid.opening)
        across = np.full(shape, outer_size(option.wide, self.terms.module.pitch))
        sides = np.sort(np.stack([across, np.broadcast_to(self.sizes, shape), np.broadcast_to(height, shape)]), axis=0)
        return np.asarray((sides[0] <= narrow) & (sides[1] <= wide))

    def _deepest(self, option: Option) -> int:
        """How deep it may grow."""
        return most_deep(option, option.wide, self.terms)

    def _grown_g(self, option: Option, height: NDArray[np.float64]) -> NDArray[np.float64]:
        """Grams of growing to a depth and a height."""
        one, wall = option.candidate, self.terms.wall_g_mm2()
        smooth = one.way.floor.value == "smooth"
        floor = self.floor_g[smooth] * option.wide * (self.depths - option.deep)
        pitch = self.terms.module.pitch
        around = 2 * (outer_size(option.wide, pitch) + self.sizes[None, :])
        before = 2 * (outer_size(option.wide, pitch) + outer_size(option.deep, pitch)) * one.height
        return floor + wall * (around * height - before)


def most_deep(option: Option, wide: int, terms: Terms) -> int:
    """How deep an option may become at a width, cells.

    Args:
        option: a tray as it lies.
        wide: how wide it will be.
        terms: what prints in one piece.
    """
    return _most(option.deep, wide, terms)


def most_wide(option: Option, deep: int, terms: Terms) -> int:
    """How wide an option may become at a depth, cells; as wide as it is if it may not grow."""
    return _most(option.wide, deep, terms) if may_grow(option.candidate) else option.wide


def _most(side: int, other: int, terms: Terms) -> int:
    """The longest that a side may become beside another: no other tray, and printed in one piece where it was so."""
    most = longest_side(side)
    if terms.largest is None:
        return most
    short, long = sorted(terms.largest)
    if other > long or side > long:
        return side
    limit = long if other <= short else short
    return max(side, min(most, limit))
