"""What the layout tests share: makers of small problems and an independent checker that looks cell by cell."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

import pytest

from nookwright.layout.model import Ask, Candidate, Grid, Layout
from nookwright.sizing.ways import PartKind, ThingSize, Way
from nookwright.survey.models import FloorStyle, Stance

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence


class Make:
    """Small grids, candidates and asks with plain defaults."""

    def grid(self, space: str, cols: int, rows: int, **other: object) -> Grid:
        """A handy space, 100 mm high, strong, out of nobody's reach."""
        fields: dict[str, object] = {
            "blocked": (),
            "height": 100.0,
            "load_g": 10_000.0,
            "reach": 0.0,
            "children": False,
            "fill": True,
        }
        return Grid(space=space, cols=cols, rows=rows, **(fields | other))  # type: ignore[arg-type]

    def candidate(self, lot: str, cols: int, rows: int, *, kind: PartKind = PartKind.TRAY, **other: float) -> Candidate:
        """A tray of 48 mm with 100 g in it, the cheapest of its lot."""
        thing = ThingSize(10.0, 10.0, 10.0, "")
        way = Way(kind, Stance.UPRIGHT, thing, 1, 1, 1, 10.0, 10.0, 10.0, 10.0, 10.0, 10.0, FloorStyle.SHELL, 0.0)
        fields = {"height": 48.0, "tall": 48.0, "mass_g": 100.0, "cost": 0.0}
        return Candidate(lot=lot, way=way, cols=cols, rows=rows, **(fields | other))  # type: ignore[arg-type]

    def ask(self, lot: str, *sizes: tuple[int, int], near: tuple[str, ...] = (), use: float = 1.0) -> Ask:
        """A lot with candidates of these sizes, each a unit dearer than the one before."""
        candidates = tuple(self.candidate(lot, *size, cost=float(extra)) for extra, size in enumerate(sizes))
        return Ask(lot, candidates, use, tuple((other, 30.0) for other in near), out_of_reach=False)


@pytest.fixture(scope="session")
def make() -> Make:
    """Makers of small problems."""
    return Make()


def faults_of(grids: Sequence[Grid], asks: Sequence[Ask], layout: Layout) -> list[str]:
    """All that is wrong with a layout, found without any code of the solver."""
    faults = []
    by_space = {grid.space: grid for grid in grids}
    covered: Counter[tuple[str, int, int]] = Counter()
    load_g: Counter[str] = Counter()
    for placed in layout.placed:
        grid, one = by_space[placed.space], placed.candidate
        cells = [(placed.col + i, placed.row + j) for i in range(placed.cols) for j in range(placed.rows)]
        if any(not (0 <= col < grid.cols and 0 <= row < grid.rows) for col, row in cells):
            faults.append(f"{placed} sticks out")
        if set(cells) & set(grid.blocked):
            faults.append(f"{placed} lies on blocked cells")
        if not grid.fill:
            faults.append(f"{placed} is in a space that is not to be filled")
        if placed.height > grid.height:
            faults.append(f"{placed} is too high")
        covered.update((placed.space, col, row) for col, row in cells)
        if one is not None:
            load_g[placed.space] += one.mass_g  # type: ignore[assignment]
            ask = next(ask for ask in asks if ask.lot == one.lot)
            if one not in ask.candidates or one.tall > grid.height or (ask.out_of_reach and grid.children):
                faults.append(f"{placed} may not be here")
    faults += [f"cell {cell} is covered {times} times" for cell, times in covered.items() if times > 1]
    faults += [f"{space} carries {mass} g" for space, mass in load_g.items() if mass > by_space[space].load_g + 1e-6]
    lots = [one.candidate.lot for one in layout.placed if one.candidate] + [left.lot for left in layout.left_out]
    if sorted(lots) != sorted(ask.lot for ask in asks):
        faults.append(f"lots lost or doubled: {sorted(lots)}")
    return faults


@pytest.fixture(scope="session")
def check() -> Callable[[Sequence[Grid], Sequence[Ask], Layout], list[str]]:
    """The independent checker."""
    return faults_of
