"""The problem as arrays: what the kernels of the search read.

A candidate is stored once, not once for every space: what a choice costs is the candidate's own cost and what its lot
costs in the space.

Rows of a space are machine words, a bit a cell. A space wider than a word is stored with its sides exchanged;
``swapped`` says so. One that is wider than a word both ways does not fit; ``fits_words`` asks.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from nookwright.ground.sources import Fact, Kind
from nookwright.layout.problem import LEFT_OUT

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from nookwright.layout.problem import Problem

WORD = Fact(63, unit="cells", kind=Kind.CALCULATED, source="Bits of a machine word, less one for safe shifts.")


class Table(NamedTuple):
    """The problem as arrays; lots, candidates and spaces are numbered.

    Attributes:
        first: index of the first candidate of each lot, and one past the last.
        wide, deep: footprint of each candidate, cells.
        turns: whether it may be turned.
        area: its cells.
        mass_g: its mass.
        own: its own cost.
        ok: whether it may be in a space, by candidate and space.
        there: what a lot costs more in a space, by lot and space.
        out: cost of a lot that is left out; 0 for one that can be nowhere.
        opened: cost of using a space.
        load_g: what a space carries.
        cells: free cells of a space.
        height: number of words of a space.
        swapped: whether its sides are exchanged.
        words: its free cells.
        near_at, near, bond: for each lot, where its partners begin; the partners; what each costs when split.
    """

    first: NDArray[np.int64]
    wide: NDArray[np.int64]
    deep: NDArray[np.int64]
    turns: NDArray[np.bool_]
    area: NDArray[np.int64]
    mass_g: NDArray[np.float64]
    own: NDArray[np.float64]
    ok: NDArray[np.bool_]
    there: NDArray[np.float64]
    out: NDArray[np.float64]
    opened: NDArray[np.float64]
    load_g: NDArray[np.float64]
    cells: NDArray[np.int64]
    height: NDArray[np.int64]
    swapped: NDArray[np.bool_]
    words: NDArray[np.uint64]
    near_at: NDArray[np.int64]
    near: NDArray[np.int64]
    bond: NDArray[np.float64]


def fits_words(problem: Problem) -> bool:
    """Whether every space is no wider than a machine word at least one way."""
    return all(min(grid.cols, grid.rows) <= int(WORD) for grid in problem.grids)


def table_of(problem: Problem) -> Table:
    """The arrays of a problem.

    Args:
        problem: what can go where; a space that does not fit words has none that is free.
    """
    candidates = [one for ask in problem.asks for one in ask.candidates]
    possible, partners = problem.possible, _partners(problem)
    swapped = np.array([grid.cols > int(WORD) for grid in problem.grids], dtype=np.bool_)
    return Table(
        first=possible.first,
        wide=_whole(one.cols for one in candidates),
        deep=_whole(one.rows for one in candidates),
        turns=np.array([one.may_turn for one in candidates], dtype=np.bool_),
        area=possible.area,
        mass_g=possible.mass_g,
        own=possible.own,
        ok=possible.ok,
        there=possible.there,
        out=np.array([float(LEFT_OUT) + area if area else 0.0 for area in problem.least_area]),
        opened=np.array([grid.open_cost for grid in problem.grids], dtype=np.float64),
        load_g=np.array([grid.load_g for grid in problem.grids], dtype=np.float64),
        cells=_whole(problem.cells),
        height=_whole(grid.cols if s else grid.rows for grid, s in zip(problem.grids, swapped, strict=True)),
        swapped=swapped,
        words=_words(problem, swapped),
        near_at=np.concatenate([[0], np.cumsum([len(some) for some in partners])]).astype(np.int64),
        near=_whole(other for some in partners for other, _ in some),
        bond=np.array([cost for some in partners for _, cost in some], dtype=np.float64),
    )


def _whole(values: object) -> NDArray[np.int64]:
    return np.array(list(values), dtype=np.int64)  # type: ignore[call-overload]


def _words(problem: Problem, swapped: NDArray[np.bool_]) -> NDArray[np.uint64]:
    """The free cells of every space; rows beyond its height are taken."""
    rows = max((g.cols if s else g.rows for g, s in zip(problem.grids, swapped, strict=True)), default=0)
    words = np.zeros((len(problem.grids), max(rows, 1)), dtype=np.uint64)
    for place, grid in enumerate(problem.grids):
        if min(grid.cols, grid.rows) > WORD:
            continue
        step, free = grid.cols + 1, problem.free[place]
        for row in range(grid.rows):
            bits = (free >> (row * step)) & ((1 << grid.cols) - 1)
            if not swapped[place]:
                words[place, row] = bits
                continue
            for col in range(grid.cols):
                words[place, col] |= np.uint64(((bits >> col) & 1) << row)
    return words


def _partners(problem: Problem) -> list[list[tuple[int, float]]]:
    """Partners of every lot, and what each costs when split."""
    partners: list[list[tuple[int, float]]] = [[] for _ in problem.asks]
    for one, other, cost in problem.pairs:
        partners[one].append((other, cost))
        partners[other].append((one, cost))
    return partners
