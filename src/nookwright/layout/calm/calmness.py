"""How restless an arrangement looks, as costs with names: widths, rows, edges that do not line up, rims, crumbs.

Judged from the places alone, so that calm and tightest are measured alike. Rows may run from left to right or from
front to back: an arrangement is judged the way it reads better.
"""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from nookwright.layout.bits import free_cells, rectangle, stride
from nookwright.layout.calm.terms import CRUMB, EDGE, RIM, ROW, WIDTH, may_grow
from nookwright.layout.model import CostPart

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nookwright.layout.model import Grid, Placed


class Counts(NamedTuple):
    """What can be counted: the fewer the calmer.

    Attributes:
        widths: different widths along the rows.
        rows: lines at which rows begin or end inside the space.
        edges: lines at which parts begin or end inside it, along the rows.
        rims: changes of the rim within a row.
        crumbs: free cells outside the largest free rectangle.
    """

    widths: int
    rows: int
    edges: int
    rims: int
    crumbs: int

    @property
    def cost(self) -> float:
        """All of it, weighed."""
        return sum(part.value for part in self.parts)

    @property
    def parts(self) -> tuple[CostPart, ...]:
        """The cost by its parts."""
        prices = (WIDTH, ROW, EDGE, RIM, CRUMB)
        return tuple(CostPart(n, float(p) * c) for n, p, c in zip(self._fields, prices, self, strict=True))


def counts_of(grid: Grid, placed: Sequence[Placed]) -> Counts:
    """What can be counted in one space, read the calmer way.

    Args:
        grid: the space.
        placed: what stands in it.
    """
    crumbs = crumbs_of(grid, placed)
    ways = (_along(grid, placed, swap=swap, crumbs=crumbs) for swap in (False, True))
    return min(ways, key=lambda one: one.cost)


def _along(grid: Grid, placed: Sequence[Placed], *, swap: bool, crumbs: int) -> Counts:
    long, deep = (grid.rows, grid.cols) if swap else (grid.cols, grid.rows)
    boxes = [
        (one.row, one.col, one.rows, one.cols) if swap else (one.col, one.row, one.cols, one.rows) for one in placed
    ]
    edges = {edge for at, _, wide, _ in boxes for edge in (at, at + wide)} - {0, long}
    lines = {line for _, at, _, tall in boxes for line in (at, at + tall)} - {0, deep}
    rims: dict[tuple[int, int], set[float]] = {}
    for one, (_, at, _, tall) in zip(placed, boxes, strict=True):
        if one.candidate is None or may_grow(one.candidate):
            rims.setdefault((at, tall), set()).add(one.height)
    changes = sum(len(heights) - 1 for heights in rims.values())
    return Counts(len({wide for _, _, wide, _ in boxes}), len(lines), len(edges), changes, crumbs)


def crumbs_of(grid: Grid, placed: Sequence[Placed]) -> int:
    """Free cells outside the largest free rectangle.

    Args:
        grid: the space.
        placed: what stands in it.
    """
    step = stride(grid.cols)
    free = free_cells(grid.cols, grid.rows, grid.blocked)
    for one in placed:
        free &= ~(rectangle(one.cols, one.rows, step) << (one.row * step + one.col))
    return free.bit_count() - largest_free(free, grid.cols, grid.rows)


@lru_cache(maxsize=4096)
def largest_free(free: int, cols: int, rows: int) -> int:
    """Cells of the largest rectangle that is free.

    Args:
        free: the free cells, see ``bits``.
        cols: of the space.
        rows: of it.

    >>> largest_free(free_cells(3, 3, [(1, 1)]), 3, 3), largest_free(0, 3, 3)
    (3, 0)
    """
    if not free:
        return 0
    step, full = stride(cols), (1 << cols) - 1
    lines = [free >> (row * step) & full for row in range(rows)]
    best = 0
    for first in range(rows):
        if first and not lines[first] & ~lines[first - 1]:
            continue  # whatever begins here could begin a row earlier
        common = full
        for last in range(first, rows):
            common &= lines[last]
            if last + 1 < rows and not common & ~lines[last + 1]:
                continue  # whatever ends here could end a row later
            best = max(best, (last - first + 1) * _longest_run(common))
            if not common:
                break
    return best


def _longest_run(bits: int) -> int:
    """The longest run of set bits."""
    length = 0
    while bits:
        bits &= bits >> 1
        length += 1
    return length
