"""Where to cut: on cell borders, into the fewest shares, balanced, and not through a slot."""

from __future__ import annotations

import math
from itertools import pairwise, product
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from nookwright.cutting.model import Bed

Cuts = tuple[int, ...]
_SHIFTS = (0, 1, -1, 2, -2)  # cells that a cut may move to miss a slot, nearest first
_MORE = (0, 1, 2)  # shares beyond the fewest that are tried where no cut of the fewest will do


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
    return tuple(pairwise(marks))


def grid_cuts(cols: int, rows: int, bed: Bed, size: Callable[[int], float]) -> tuple[Cuts, Cuts] | None:
    """Cuts along x and y that give the fewest pieces, the bed lengthwise or turned; ``None`` where no cell fits.

    Args:
        cols: of the part along x, cells.
        rows: of the part along y, cells.
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


def grid_options(cols: int, rows: int, bed: Bed, size: Callable[[int], float]) -> Iterator[tuple[Cuts, Cuts]]:
    """Pairs of cuts to choose from: those with the fewest pieces first, then those nearest to balance.

    Where the balanced cuts will not do, they are moved a little, and then there is a share more.

    Args:
        cols: of the part along x, cells.
        rows: of the part along y, cells.
        bed: room on the bed, mm.
        size: length in mm of so many cells.
    """
    pairs: dict[tuple[Cuts, Cuts], tuple[int, int]] = {}
    for width, depth in ((bed.width, bed.depth), (bed.depth, bed.width)):
        along_x, along_y = _moved(cols, _most(width, size)), _moved(rows, _most(depth, size))
        for (x, far_x), (y, far_y) in product(along_x.items(), along_y.items()):
            pairs.setdefault((x, y), ((len(x) + 1) * (len(y) + 1), far_x + far_y))
    yield from sorted(pairs, key=lambda pair: (pairs[pair], pair))


def _moved(cells: int, most: int) -> dict[Cuts, int]:
    """Balanced cuts and cuts that are moved together, each with how far; into the fewest shares and some more."""
    found: dict[Cuts, int] = {}
    balance = balanced(cells, most)
    if balance is None:
        return found
    for more in _MORE:
        parts = len(balance) + 1 + more
        cuts = tuple(round(cells * number / parts) for number in range(1, parts))
        for shift in _SHIFTS:
            found.setdefault(tuple(cut + shift for cut in cuts), abs(shift))
    return found
