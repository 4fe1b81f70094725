"""The free cells of one space while it is filled, and the rectangles of them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from nookwright.layout.bits import free_cells, rectangle, stride

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from nookwright.layout.model import Grid, Placed


class Box(NamedTuple):
    """A rectangle of cells."""

    col: int
    row: int
    cols: int
    rows: int

    @property
    def area(self) -> int:
        """How many cells it has."""
        return self.cols * self.rows

    @property
    def right(self) -> int:
        """The first column after it."""
        return self.col + self.cols

    @property
    def back(self) -> int:
        """The first row behind it."""
        return self.row + self.rows

    @property
    def flipped(self) -> Box:
        """The same with columns and rows exchanged."""
        return Box(self.row, self.col, self.rows, self.cols)


def box_of(placed: Placed) -> Box:
    """The cells of a part."""
    return Box(placed.col, placed.row, placed.cols, placed.rows)


@dataclass(frozen=True)
class Floor:
    """The cells of a space that filling may use: ``free`` is a mask, see ``bits``."""

    cols: int
    rows: int
    free: int

    def __contains__(self, box: Box) -> bool:
        """Whether all cells of a rectangle are free; one without cells is free anywhere."""
        if box.cols <= 0 or box.rows <= 0:
            return True
        if box.col < 0 or box.row < 0 or box.right > self.cols or box.back > self.rows:
            return False
        return not self._mask(box) & ~self.free

    def without(self, boxes: Iterable[Box]) -> Floor:
        """The floor once these cells are taken."""
        free = self.free
        for box in boxes:
            free &= ~self._mask(box)
        return Floor(self.cols, self.rows, free)

    def meets(self, box: Box) -> bool:
        """Whether any cell of a rectangle, as far as it lies inside, is free."""
        col, row = max(0, box.col), max(0, box.row)
        inside = Box(col, row, min(box.right, self.cols) - col, min(box.back, self.rows) - row)
        return inside.cols > 0 and inside.rows > 0 and bool(self._mask(inside) & self.free)

    def rectangles(self) -> Iterator[Box]:
        """Every rectangle of free cells that is as deep as it can be for its front edge."""
        for row in range(self.rows):
            for col in range(self.cols):
                deep = self.rows - row
                for cols in range(1, self.cols - col + 1):
                    deep = self._deep(col + cols - 1, row, deep)
                    if not deep:
                        break
                    yield Box(col, row, cols, deep)

    @property
    def count(self) -> int:
        """How many cells are free."""
        return self.free.bit_count()

    @property
    def flipped(self) -> Floor:
        """The same with columns and rows exchanged."""
        taken = ((row, col) for row in range(self.rows) for col in range(self.cols) if Box(col, row, 1, 1) not in self)
        return Floor(self.rows, self.cols, free_cells(self.rows, self.cols, taken))

    def _deep(self, col: int, row: int, most: int) -> int:
        """How many cells of a column are free from a row on, at most so many."""
        step = stride(self.cols)
        here = self.free >> (row * step + col)
        deep = 0
        while deep < most and here >> (deep * step) & 1:
            deep += 1
        return deep

    def _mask(self, box: Box) -> int:
        step = stride(self.cols)
        return rectangle(box.cols, box.rows, step) << (box.row * step + box.col)


def floor_of(grid: Grid, placed: Iterable[Placed] = ()) -> Floor:
    """The free cells of a space with some parts in it."""
    floor = Floor(grid.cols, grid.rows, free_cells(grid.cols, grid.rows, grid.blocked))
    return floor.without(box_of(one) for one in placed)
