"""Filling a layout: in each space first the tray for odds and ends, then what the person wishes of the rest.

Promise: nothing overlaps, nothing covers a blocked cell, no space carries more than it may, no lot is lost, and the
same layout is filled in the same way. What each space gets is said with its grams, so that it can be refused.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum
from typing import TYPE_CHECKING

from nookwright.layout.filling.bay import bay_of
from nookwright.layout.filling.growth import grow
from nookwright.layout.filling.odds import odds_tray
from nookwright.layout.filling.spare import common_footprints, spare_trays
from nookwright.survey.models import Rest

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from nookwright.layout.filling.means import Means
    from nookwright.layout.model import Grid, Layout, Placed

SMALLEST = (2, 2)


class Filled(StrEnum):
    """What free cells went to."""

    ODDS = "odds and ends"
    GROWN = "grown trays"
    SPARE = "spare trays"
    FENCED = "fences"


@dataclass(frozen=True)
class FillWish:
    """What is wished for the free cells of one space.

    Attributes:
        rest: what becomes of them.
        odds: whether it gets a tray for odds and ends, if it is used.
        used: whether it is used although the layout has nothing in it, by what was put there before.
    """

    rest: Rest = Rest.OPEN
    odds: bool = False
    used: bool = False


@dataclass(frozen=True)
class FillPrice:
    """What filling one space in one way takes.

    Attributes:
        space: its id.
        what: how it was filled.
        parts: how many parts are new, or larger than before.
        cells: how many cells they take of what was free.
        mass_g: plastic that they take, g.
    """

    space: str
    what: Filled
    parts: int
    cells: int
    mass_g: float


@dataclass(frozen=True)
class Filling:
    """A layout that is filled, and the price of it.

    Attributes:
        layout: as it is now.
        prices: of each filling.
        without_bay: ids of the spaces that wished for a bay and are too small for one.
        without_cones: ids of those that wished for one and whose liner holds no fence.
    """

    layout: Layout
    prices: tuple[FillPrice, ...]
    without_bay: tuple[str, ...] = ()
    without_cones: tuple[str, ...] = ()


def fill(
    layout: Layout,
    grids: Sequence[Grid],
    wishes: Mapping[str, FillWish],
    means: Means,
    *,
    smallest: tuple[int, int] = SMALLEST,
) -> Filling:
    """Fill what is left in every space.

    Args:
        layout: what is placed.
        grids: the spaces.
        wishes: by id of the space; a space that is missing stays as it is.
        means: what filling may use.
        smallest: cells of the smallest spare tray.
    """
    work = _Work(layout, means, smallest)
    for grid in grids:
        wish = wishes.get(grid.space)
        if wish and grid.fill:
            work.fill(grid, wish)
    return work.filling()


class _Work:
    """A layout in the making."""

    def __init__(self, layout: Layout, means: Means, smallest: tuple[int, int]) -> None:
        self.layout, self.means = layout, means
        self.common = common_footprints(layout.placed, smallest)
        self.by_space: dict[str, list[Placed]] = {}
        self.prices: list[FillPrice] = []
        self.without_bay: list[str] = []
        self.without_cones: list[str] = []

    def fill(self, grid: Grid, wish: FillWish) -> None:
        """Fill one space."""
        here = list(self.layout.in_space(grid.space))
        if wish.odds and (here or wish.used):
            odds = odds_tray(grid, here, self.layout.placed, self.means)
            here = self._with(grid, Filled.ODDS, here, [odds] if odds else [])
        match wish.rest:
            case Rest.GROW:
                here = self._grown(grid, here)
            case Rest.SPARE:
                spare = spare_trays(grid, here, self.layout.placed, self.common, self.means)
                here = self._with(grid, Filled.SPARE, here, spare)
            case Rest.FENCED:
                here = self._fenced(grid, here, used=bool(here) or wish.used)
        self.by_space[grid.space] = here

    def _with(self, grid: Grid, what: Filled, here: list[Placed], new: Sequence[Placed]) -> list[Placed]:
        """What stands there, and new parts."""
        if new:
            cells = sum(one.cols * one.rows for one in new)
            mass_g = sum(self.means.mass_g(one) for one in new)
            self.prices.append(FillPrice(grid.space, what, len(new), cells, mass_g))
        return [*here, *new]

    def _grown(self, grid: Grid, here: list[Placed]) -> list[Placed]:
        after = grow(grid, here, self.means)
        larger = [(b, a) for b, a in zip(here, after, strict=True) if (b.cols, b.rows) != (a.cols, a.rows)]
        if larger:
            cells = sum(a.cols * a.rows - b.cols * b.rows for b, a in larger)
            mass_g = sum(self.means.mass_g(a) - self.means.mass_g(b) for b, a in larger)
            self.prices.append(FillPrice(grid.space, Filled.GROWN, len(larger), cells, mass_g))
        return after

    def _fenced(self, grid: Grid, here: list[Placed], *, used: bool) -> list[Placed]:
        bay = bay_of(grid, here, self.means) if used else None
        if bay is None:
            (self.without_bay if grid.coned else self.without_cones).extend([grid.space] * used)
            return here
        return self._with(grid, Filled.FENCED, list(bay.parts), bay.fences)

    def filling(self) -> Filling:
        """The result."""
        kept = [one for one in self.layout.placed if one.space not in self.by_space]
        placed = [*kept, *(one for here in self.by_space.values() for one in here)]
        ordered = tuple(sorted(placed, key=lambda one: (one.space, one.row, one.col, one.level)))
        layout = replace(self.layout, placed=ordered)
        return Filling(layout, tuple(self.prices), tuple(self.without_bay), tuple(self.without_cones))
