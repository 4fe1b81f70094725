"""What becomes of the cells that no lot needs: trays grow into them, spare trays take them, or nothing.

Growing moves the sides of trays outwards, a whole side by one cell at a time, all trays in turn, so that free
cells are shared out; a tray grows by at most half of its own side, and never beyond what prints in one piece.
Spare trays take the commonest footprints of the room, so that they swap with what is there. What it does not
know: what the added plastic weighs.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.layout.bits import first, free_cells, places, rectangle, shifts_for, stride
from nookwright.layout.model import Layout, Placed
from nookwright.sizing.ways import PartKind
from nookwright.survey.models import Rest

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from nookwright.layout.model import Grid

GROWTH = Fact(0.5, unit="1", kind=Kind.CHOICE, source="A tray grown by more than half of its side is another tray.")
FOOTPRINTS = Fact(
    4,
    unit="1",
    kind=Kind.CHOICE,
    source="Few widths read calmly: spare trays take only so many of the room's footprints.",
)


def fill(
    layout: Layout,
    grids: Sequence[Grid],
    rest: Mapping[str, Rest],
    *,
    smallest: tuple[int, int] = (2, 2),
    largest: tuple[int, int] | None = None,
) -> Layout:
    """Fill what is left in every space, as its ``rest`` says.

    Args:
        layout: what is placed.
        grids: the spaces.
        rest: by id of the space; a space that is missing stays open.
        smallest: cells of the smallest spare tray.
        largest: cells that print in one piece; no tray grows beyond them.
    """
    kept = list(layout.placed)
    common = _common_footprints(layout.placed, smallest)
    for grid in grids:
        here = [placed for placed in kept if placed.space == grid.space]
        wish = rest.get(grid.space, Rest.OPEN)
        if wish is Rest.OPEN or not grid.fill:
            continue
        filled = _grow(grid, here, largest) if wish is Rest.GROW else _spare(grid, here, layout.placed, common)
        kept = [placed for placed in kept if placed.space != grid.space] + filled
    return replace(layout, placed=tuple(sorted(kept, key=lambda one: (one.space, one.row, one.col))))


@dataclass(frozen=True)
class _Side:
    """One way to grow, as changes to the column, row, columns and rows of a part."""

    col: int
    row: int
    cols: int
    rows: int

    def strip(self, placed: Placed) -> tuple[int, int, int, int]:
        """Column, row, columns and rows of the cells that growing takes."""
        if self.cols:
            return placed.col + (self.col or placed.cols), placed.row, 1, placed.rows
        return placed.col, placed.row + (self.row or placed.rows), placed.cols, 1

    def grown(self, placed: Placed) -> Placed:
        """The part afterwards."""
        return replace(
            placed,
            col=placed.col + self.col,
            row=placed.row + self.row,
            cols=placed.cols + self.cols,
            rows=placed.rows + self.rows,
        )


_SIDES = (
    _Side(0, 0, 1, 0),
    _Side(0, 0, 0, 1),
    _Side(-1, 0, 1, 0),
    _Side(0, -1, 0, 1),
)  # right, back, left, front


def _grow(grid: Grid, here: list[Placed], largest: tuple[int, int] | None) -> list[Placed]:
    """Trays of one space, each grown by one strip in turn until none can."""
    step = stride(grid.cols)
    free = free_cells(grid.cols, grid.rows, grid.blocked)
    for placed in here:
        free &= ~_cells(placed.col, placed.row, placed.cols, placed.rows, step)
    grown = sorted(here, key=lambda one: (one.row, one.col))
    limits = [
        (one.cols + int(GROWTH * one.cols), one.rows + int(GROWTH * one.rows)) if _may_grow(one) else (0, 0)
        for one in grown
    ]
    changed = True
    while changed:
        changed = False
        for number, placed in enumerate(grown):
            for side in _SIDES:
                after = side.grown(placed)
                col, row, cols, rows = side.strip(placed)
                if after.cols > limits[number][0] or after.rows > limits[number][1] or not _prints(after, largest):
                    continue
                if col < 0 or row < 0 or col + cols > grid.cols or row + rows > grid.rows:
                    continue
                cells = _cells(col, row, cols, rows, step)
                if cells & ~free:
                    continue
                free &= ~cells
                grown[number] = after
                changed = True
                break
    return grown


def _may_grow(placed: Placed) -> bool:
    """A cradle is made to its things; trays may grow."""
    return placed.candidate is None or placed.candidate.way.kind is not PartKind.CRADLE


def _prints(placed: Placed, largest: tuple[int, int] | None) -> bool:
    """Whether it still prints in one piece."""
    if largest is None:
        return True
    return all(side <= most for side, most in zip(sorted((placed.cols, placed.rows)), sorted(largest), strict=True))


def _common_footprints(placed: Sequence[Placed], smallest: tuple[int, int]) -> list[tuple[int, int]]:
    """The commonest footprints of trays in the room, the larger first."""
    least = sorted(smallest)
    counts = Counter(
        (max(one.cols, one.rows), min(one.cols, one.rows))
        for one in placed
        if _may_grow(one) and min(one.cols, one.rows) >= least[0] and max(one.cols, one.rows) >= least[1]
    )
    commonest = sorted(counts, key=lambda size: (-counts[size], -size[0] * size[1], size))[: int(FOOTPRINTS)]
    return sorted(commonest, key=lambda size: (-size[0] * size[1], size))


def _spare(grid: Grid, here: list[Placed], everywhere: Sequence[Placed], common: list[tuple[int, int]]) -> list[Placed]:
    """What is placed in one space, and spare trays beside it."""
    height = _spare_height(grid, here) or _spare_height(grid, everywhere)
    if not height:
        return here
    step = stride(grid.cols)
    free = free_cells(grid.cols, grid.rows, grid.blocked)
    for placed in here:
        free &= ~_cells(placed.col, placed.row, placed.cols, placed.rows, step)
    spare = []
    for size in (size for size in common if _held(grid, *size)):
        for cols, rows in (size, size[::-1]):
            while cols <= grid.cols and (mask := places(free, shifts_for(cols, rows, step))):
                row, col = divmod(first(mask), step)
                free &= ~_cells(col, row, cols, rows, step)
                spare.append(Placed(grid.space, col, row, cols, rows, cols < rows, None, height))
    return here + spare


def _held(grid: Grid, cols: int, rows: int) -> bool:
    """Whether the cones of the space hold a footprint in every place."""
    return min(cols, rows) >= grid.smallest[0] and max(cols, rows) >= grid.smallest[1]


def _spare_height(grid: Grid, placed: Sequence[Placed]) -> float:
    """The commonest height of trays that the space can take; 0 where there is none."""
    counts = Counter(one.height for one in placed if _may_grow(one) and one.height <= grid.height)
    return min(counts, key=lambda height: (-counts[height], height), default=0.0)


def _cells(col: int, row: int, cols: int, rows: int, step: int) -> int:
    """The cells of a rectangle, as a mask."""
    return rectangle(cols, rows, step) << (row * step + col)
