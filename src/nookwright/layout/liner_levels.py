"""How much liner a space gets: which cells carry panels, with which pattern, and what that still guarantees.

Less liner costs less plastic and holds less. Nothing here is decided for anybody: each level says what it gives up.
"""

from __future__ import annotations

from enum import StrEnum
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.layout.liner import plan_liner
from nookwright.layout.liner_model import Cell, Liner
from nookwright.module.pattern import Pattern

if TYPE_CHECKING:
    from collections.abc import Iterable

    from nookwright.module.floor import Floor
    from nookwright.sizing.usable import Usable

STRIP_CELLS = Fact(2, unit="cells", kind=Kind.CALCULATED, source="Width of a strip: no panel is under 2 x 2 cells.")
CONES_A_PART = Fact(
    2, unit="cones", kind=Kind.CALCULATED, source="One keeps a part from sliding, the second from turning."
)


class Level(StrEnum):
    """How much liner."""

    FULL = "full"
    SPARSE = "sparse"
    FRAME = "frame"
    CROSS = "cross"
    NONE = "none"

    @property
    def keeps(self) -> str:
        """What it guarantees, and what not, in words."""
        return _KEEPS[self]

    @property
    def lined(self) -> bool:
        """Whether there are panels, so that parts stand higher by their thickness."""
        return self is not Level.NONE

    @property
    def all_over(self) -> bool:
        """Whether cones stand all over the floor."""
        return self in {Level.FULL, Level.SPARSE}


_KEEPS = {
    Level.FULL: "Every part of the smallest allowed footprint and more is held in every place and turn.",
    Level.SPARSE: "Parts of 2 x 2 cells and more are held in every place and turn; narrower ones only where a cone is.",
    Level.FRAME: "Parts that reach two cells of the edge are held there; those in the middle are held by their "
    "neighbours alone, and rest on dots as thick as a panel or reach from strip to strip.",
    Level.CROSS: "Parts that reach the middle lines are held there; those in the corners are held by their neighbours "
    "alone, and rest on dots as thick as a panel or reach from strip to strip.",
    Level.NONE: "Nothing is held by cones: trays stand wall to wall, or on dots of rubber, and there are no "
    "fillers. No height is lost.",
}


def level_pattern(level: Level, usual: Pattern = Pattern.CHESSBOARD) -> Pattern:
    """The pattern of a level.

    Args:
        level: how much liner.
        usual: the pattern that follows from the smallest footprint allowed.
    """
    return Pattern.EVERY_SECOND if level is Level.SPARSE else usual


def level_cells(level: Level, cols: int, rows: int) -> frozenset[Cell]:
    """The cells that carry panels, blocked ones not taken off.

    Args:
        level: how much liner.
        cols: of the space.
        rows: of it.

    >>> len(level_cells(Level.FRAME, 6, 6)), len(level_cells(Level.CROSS, 6, 6)), len(level_cells(Level.NONE, 6, 6))
    (32, 20, 0)
    """
    strip = int(STRIP_CELLS)
    left, front = (cols - strip) // 2, (rows - strip) // 2
    cells = ((c, r) for c in range(cols) for r in range(rows))
    match level:
        case Level.NONE:
            return frozenset()
        case Level.FRAME:
            return frozenset(cell for cell in cells if _at_edge(cell, cols, rows, strip))
        case Level.CROSS:
            middle = range(left, left + strip), range(front, front + strip)
            return frozenset(cell for cell in cells if cell[0] in middle[0] or cell[1] in middle[1])
    return frozenset(cells)


def _at_edge(cell: Cell, cols: int, rows: int, strip: int) -> bool:
    """Whether a cell lies in the outer strips."""
    col, row = cell
    return min(col, row) < strip or col >= cols - strip or row >= rows - strip


def liner_at(
    level: Level,
    floor: Floor,
    usable: Usable,
    pitch: float,
    longest: float,
    *,
    usual: Pattern = Pattern.CHESSBOARD,
    chosen: tuple[Cell, ...] = (),
) -> Liner:
    """The liner of a space at a level.

    Args:
        level: how much liner.
        floor: cells of the space and the widths of its fillers.
        usable: its usable inside.
        pitch: cell size, mm.
        longest: the longest strip that can be printed, mm.
        usual: the pattern that follows from the smallest footprint allowed, or only under the layout.
        chosen: for that last one, the cells with a cone, see ``cones_under``.
    """
    if not level.lined:
        return Liner((), ())
    return plan_liner(
        floor,
        usable,
        pitch,
        longest,
        pattern=level_pattern(level, usual),
        chosen=chosen,
        only=level_cells(level, floor.cols, floor.rows),
    )


def cones_under(places: Iterable[tuple[int, int, int, int]], carried: Iterable[Cell]) -> tuple[Cell, ...]:
    """The cells that need a cone where the layout stands still: two under each part, one under a single cell.

    They are taken from every second cell both ways where a part has such, so that they share straps, and as far apart
    as the part allows.

    Args:
        places: of each part, (column, row, columns, rows) in cells.
        carried: cells that panels cover.

    >>> cones_under([(0, 0, 3, 3), (3, 0, 1, 2), (4, 1, 1, 1)], [(c, r) for c in range(5) for r in range(3)])
    ((0, 0), (2, 2), (3, 0), (3, 1), (4, 1))
    """
    there = set(carried)
    found: set[Cell] = set()
    for col, row, cols, rows in places:
        cells = [(c, r) for c in range(col, col + cols) for r in range(row, row + rows) if (c, r) in there]
        found |= set(_far_apart(cells))
    return tuple(sorted(found))


def _far_apart(cells: list[Cell]) -> tuple[Cell, ...]:
    """Two cells, on shared lines if possible and then as far apart as can be; fewer where there are no more."""
    if len(cells) <= CONES_A_PART:
        return tuple(cells)
    shared = [cell for cell in cells if cell[0] % 2 == 0 and cell[1] % 2 == 0]
    pool = shared if len(shared) >= CONES_A_PART else cells
    first = shared[0] if shared else cells[0]
    other = max(pool, key=lambda cell: ((cell[0] - first[0]) ** 2 + (cell[1] - first[1]) ** 2, cell))
    return first, other
