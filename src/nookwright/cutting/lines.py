"""Where to cut: on cell borders, into the fewest shares, balanced, and not through a slot."""

from __future__ import annotations

import math
from collections import defaultdict
from itertools import pairwise, product
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable, Collection, Iterator

    from nookwright.cutting.model import Bed

Cuts = tuple[int, ...]
_SHIFTS = (0, 1, -1, 2, -2)  # cells that a cut may move to miss a slot, nearest first
_FREE_CUTS = 4  # so many cuts move in all combinations, more of them only together
_MORE = (0, 1, 2)  # shares beyond the fewest that are tried where no cut of the fewest will do


def shares(cells: int, cuts: Cuts) -> tuple[tuple[int, int], ...]:
    """The shares between cuts, as (first border, last border).

    >>> shares(20, (10,))
    ((0, 10), (10, 20))
    """
    marks = (0, *cuts, cells)
    return tuple(pairwise(marks))


def _most(length: float, size: Callable[[int], float]) -> int:
    """How many cells fit a length."""
    cells = 0
    while size(cells + 1) <= length:
        cells += 1
    return cells


def grid_options(
    cols: int, rows: int, bed: Bed, size: Callable[[int], float], *, avoid: tuple[Collection[int], ...] = ((), ())
) -> Iterator[tuple[Cuts, Cuts]]:
    """Pairs of cuts to choose from: those with the fewest pieces first, then those nearest to balance.

    Where the balanced cuts will not do, each is moved a little, and then there is a share more.

    Args:
        cols: of the part along x, cells.
        rows: of the part along y, cells.
        bed: room on the bed, mm.
        size: length in mm of so many cells.
        avoid: borders where there must be no cut, across x and across y.
    """
    plans = []
    for width, depth in ((bed.width, bed.depth), (bed.depth, bed.width)):
        most_x, most_y = _most(width, size), _most(depth, size)
        plans += [(x * y, x, y, most_x, most_y) for x in _counts(cols, most_x) for y in _counts(rows, most_y)]
    seen: set[tuple[Cuts, Cuts]] = set()
    for _, parts_x, parts_y, most_x, most_y in sorted(plans):
        for pair in _nearest_first(_moved(cols, parts_x, most_x, avoid[0]), _moved(rows, parts_y, most_y, avoid[1])):
            if pair not in seen:
                seen.add(pair)
                yield pair


def _counts(cells: int, most: int) -> tuple[int, ...]:
    """Numbers of shares to try: the fewest, and some more."""
    return tuple(math.ceil(cells / most) + more for more in _MORE) if most else ()


def _moved(cells: int, parts: int, most: int, avoid: Collection[int]) -> dict[int, list[Cuts]]:
    """Cuts into so many shares of at most ``most`` cells, by how far they are from balance in all, in cells."""
    balance = [round(cells * number / parts) for number in range(1, parts)]
    free = [[cut + step for step in _SHIFTS if cut + step not in avoid] for cut in balance]
    options = product(*free) if len(balance) <= _FREE_CUTS else zip(*(_in_order(each) for each in free), strict=False)
    found: dict[int, list[Cuts]] = defaultdict(list)
    for cuts in options:
        if all(0 < last - first <= most for first, last in shares(cells, cuts)):
            found[sum(abs(cut - best) for cut, best in zip(cuts, balance, strict=True))].append(cuts)
    return found


def _in_order(options: list[int]) -> list[int]:
    """As many options as there are shifts, the nearest in place of those that are not there."""
    return (options + options[:1] * len(_SHIFTS))[: len(_SHIFTS)]


def _nearest_first(along_x: dict[int, list[Cuts]], along_y: dict[int, list[Cuts]]) -> Iterator[tuple[Cuts, Cuts]]:
    """All pairs, by how far both are from balance."""
    for total in range(max(along_x, default=0) + max(along_y, default=0) + 1):
        for far in sorted(along_x):
            yield from product(along_x[far], along_y.get(total - far, ()))
