"""Where to cut: on cell borders, into the fewest shares, balanced, and not through a slot."""

from __future__ import annotations

import math
from itertools import product
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable

    from nookwright.cutting.model import Bed

Cuts = tuple[int, ...]
_SHIFTS = (0, 1, -1, 2, -2)  # cells that a cut may move to miss a slot, nearest first


def balanced(cells: int, most: int) -> Cuts | None:
    """Cell borders that cut a length into the fewest nearly equal shares of at most ``most`` cells.

    Args:
        cells: length in cells.
        most: longest share, cells.

    Returns:
        The borders strictly inside; ``None`` where not even one cell fits.

    >>> balanced(20, 12), balanced(10, 12), balanced(25, 12), balanced(4, 0)
    ((10,), (), (8, 17), None)
    """
    if most < 1:
        return None
    parts = math.ceil(cells / most)
    return tuple(round(cells * number / parts) for number in range(1, parts))


def shares(cells: int, cuts: Cuts) -> tuple[tuple[int, int], ...]:
    """The shares between cuts, as (first border, last border).

    >>> shares(20, (10,))
    ((0, 10), (10, 20))
    """
    marks = (0, *cuts, cells)
    return tuple(zip(marks, marks[1:], strict=False))


def grid_cuts(cols: int, rows: int, bed: Bed, size: Callable[[int], float]) -> tuple[Cuts, Cuts] | None:
    """Cuts along x and y that give the fewest pieces, the bed lengthwise or turned; ``None`` where no cell fits.

    Args:
        cols, rows: of the part, in cells.
        bed: room on the bed, mm.
        size: length in mm of so many cells.
    """
    best: tuple[int, tuple[Cuts, Cuts]] | None = None
    for width, depth in ((bed.width, bed.depth), (bed.depth, bed.width)):
        along_x, along_y = balanced(cols, _most(width, size)), balanced(rows, _most(depth, size))
        if along_x is None or along_y is None:
            continue
        count = (len(along_x) + 1) * (len(along_y) + 1)
        if best is None or count < best[0]:
            best = (count, (along_x, along_y))
    return best[1] if best else None


def _most(length: float, size: Callable[[int], float]) -> int:
    """How many cells fit a length."""
    cells = 0
    while size(cells + 1) <= length:
        cells += 1
    return cells


def shifted(cuts: tuple[Cuts, Cuts], good: Callable[[Cuts, Cuts], bool]) -> tuple[Cuts, Cuts] | None:
    """The nearest cuts to those given that are good, each direction's cuts moved together; ``None`` where none is.

    Args:
        cuts: along x and y.
        good: whether a pair of cuts will do.
    """
    along_x, along_y = cuts
    for dx, dy in sorted(product(_SHIFTS, _SHIFTS), key=lambda step: abs(step[0]) + abs(step[1])):
        tried = tuple(cut + dx for cut in along_x), tuple(cut + dy for cut in along_y)
        if good(*tried):
            return tried
    return None
