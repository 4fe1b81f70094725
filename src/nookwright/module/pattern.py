"""Which cells of a liner carry a cone: the pattern follows from the smallest footprint that is allowed anywhere.

Fewer cones cost less plastic and time; a part must still meet one in every place and turn.
"""

from __future__ import annotations

from enum import StrEnum
from itertools import product

PERIOD = range(2)  # every pattern repeats after two cells both ways


class Pattern(StrEnum):
    """Where cones stand."""

    EVERY_CELL = "in every cell"
    CHESSBOARD = "like a chessboard"
    EVERY_SECOND = "in every second cell both ways"
    UNDER_LAYOUT = "only under the layout"

    @property
    def keeps(self) -> str:
        """What a liner with it guarantees, in words."""
        return _KEEPS[self]


_KEEPS = {
    Pattern.EVERY_CELL: "A part of any footprint meets a cone in every cell it covers, wherever it stands.",
    Pattern.CHESSBOARD: "A part of 1 x 2 cells or more meets a cone in every place and turn; a single cell may not.",
    Pattern.EVERY_SECOND: "A part of 2 x 2 cells or more meets a cone in every place and turn; a narrower one may not.",
    Pattern.UNDER_LAYOUT: "Parts are held where the layout has them and nowhere else: they no longer swap places, and "
    "moving one may need a new panel.",
}

_SMALLEST = {
    Pattern.EVERY_CELL: (1, 1),
    Pattern.CHESSBOARD: (1, 2),
    Pattern.EVERY_SECOND: (2, 2),
    Pattern.UNDER_LAYOUT: (1, 1),  # two cones under each part, one under a single cell
}


def has_cone(col: int, row: int, pattern: Pattern = Pattern.CHESSBOARD) -> bool:
    """Whether the liner carries a cone in a cell of a space.

    Args:
        col: of the cell, counted from the left.
        row: of the cell, counted from the front.
        pattern: one that follows from the place alone.

    Raises:
        ValueError: the pattern follows from the layout, not from the place.

    >>> [has_cone(1, 1, pattern) for pattern in (Pattern.EVERY_CELL, Pattern.CHESSBOARD, Pattern.EVERY_SECOND)]
    [True, True, False]
    """
    match pattern:
        case Pattern.EVERY_CELL:
            return True
        case Pattern.CHESSBOARD:
            return (col + row) % 2 == 0
        case Pattern.EVERY_SECOND:
            return col % 2 == 0 and row % 2 == 0
    raise ValueError(f'pattern "{pattern}" has its cones where the layout needs them; ask the layout')


def pattern_for(cols: int, rows: int) -> Pattern:
    """The pattern with the fewest cones that still serves the smallest footprint allowed anywhere.

    Args:
        cols: of that footprint, cells.
        rows: of it, cells.

    >>> [pattern_for(*size).value for size in ((1, 1), (2, 1), (2, 2))]
    ['in every cell', 'like a chessboard', 'in every second cell both ways']
    """
    if max(cols, rows) == 1:
        return Pattern.EVERY_CELL
    return Pattern.CHESSBOARD if min(cols, rows) == 1 else Pattern.EVERY_SECOND


def smallest_of(pattern: Pattern) -> tuple[int, int]:
    """The smallest footprint that a pattern holds, cells, the shorter side first.

    >>> smallest_of(Pattern.CHESSBOARD), smallest_of(Pattern.UNDER_LAYOUT)
    ((1, 2), (1, 1))
    """
    return _SMALLEST[pattern]


def fewest_cones(cols: int, rows: int, pattern: Pattern) -> int:
    """The fewest cones that a part meets, over all places and turns.

    Args:
        cols: footprint, cells.
        rows: footprint, cells.
        pattern: one that follows from the place alone.

    >>> fewest_cones(2, 1, Pattern.CHESSBOARD), fewest_cones(1, 4, Pattern.EVERY_SECOND)
    (1, 0)
    """
    return min(
        sum(has_cone(col + right, row + back, pattern) for right, back in product(range(wide), range(deep)))
        for wide, deep in ((cols, rows), (rows, cols))
        for col, row in product(PERIOD, PERIOD)
    )
