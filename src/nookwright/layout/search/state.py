"""A layout in the making, as arrays that the kernels change in place."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from nookwright.ground.sources import Fact, Kind
from nookwright.layout.packing.moves import state_from

if TYPE_CHECKING:
    from collections.abc import Iterable

    from numpy.typing import NDArray

    from nookwright.layout.search.table import Table

    Ints = NDArray[np.int64]

REMEMBERED = Fact(1 << 16, unit="1", kind=Kind.CHOICE, source="Sets of footprints whose tries are remembered; 1 MB.")
EACH = Fact(1 << 10, unit="1", kind=Kind.CHOICE, source="At least so many for each space; 16 MB for a thousand.")


class State(NamedTuple):
    """What is where.

    Attributes:
        chosen: candidate of each lot, -1 for none.
        space: of each lot, -1 for none.
        at: where each lot lies in the words of its space, as row * 64 + col; -1 for nowhere yet.
        turned: 1 where it lies turned.
        many: lots in each space.
        order: they, in the order that packed them last.
        free: free cells of each space, a word a row.
        area: cells taken in each space.
        mass_g: mass in each space.
        room: cells that each space may be filled with.
        spent: what was tried in vain for sets of footprints: a key, and tries.
        rng: the random word.
        waiting: lots that are left out and could be somewhere, as many as the tally says.
        stale: spaces that changed since the best layout was kept, as many as the tally says; and, for each space,
            whether it did.
        tally: counters, see ``TALLY``.
    """

    chosen: Ints
    space: Ints
    at: Ints
    turned: Ints
    many: Ints
    order: Ints
    free: NDArray[np.uint64]
    area: Ints
    mass_g: NDArray[np.float64]
    room: Ints
    spent: NDArray[np.uint64]
    rng: NDArray[np.uint64]
    waiting: Ints
    stale: Ints
    tally: Ints


class Tally(NamedTuple):
    """Names of the counters of a state."""

    moves: int = 0  # drawn
    asked: int = 1  # spaces that a move asked to pack
    tries: int = 2  # packings made
    found: int = 3  # spaces that were packed anew
    refused: int = 4  # sets of footprints refused because enough was tried before
    out: int = 5  # lots that are left out and could be somewhere
    stale: int = 6  # spaces that changed since the best layout was kept


TALLY = Tally()


class Desk(NamedTuple):
    """What the kernels write on: a move, what it does to spaces, and spaces while they are packed anew.

    Attributes:
        change: lots, candidates and spaces of a move, a row each.
        touched: a row a space: its number, lots more, cells more, lots that come.
        grams: mass more, by space touched.
        spots: where each lot that comes would lie, and whether turned.
        numbers: lots of each space touched.
        lots, at, turned: they, where they would lie, whether turned.
        ones: candidates of one space.
        items: their footprints, order and tilts, a row each.
        work: of the packer.
        free: words of each space touched.
    """

    change: Ints
    touched: Ints
    grams: NDArray[np.float64]
    spots: Ints
    numbers: Ints
    lots: Ints
    at: Ints
    turned: Ints
    ones: Ints
    items: Ints
    work: Ints
    free: NDArray[np.uint64]


_MOVED, _TOUCHED = 3, 6  # a move changes so many lots at most, and so many spaces


def desk_of(table: Table, state: State) -> Desk:
    """Something to write on.

    Args:
        table: the problem.
        state: a state of it.
    """
    from nookwright.layout.packing.kernels import WORK

    most = state.order.shape[1]
    return Desk(
        change=np.zeros((3, _MOVED), np.int64),
        touched=np.zeros((_TOUCHED, 4), np.int64),
        grams=np.zeros(_TOUCHED),
        spots=np.zeros((_MOVED, 2), np.int64),
        numbers=np.zeros(_TOUCHED, np.int64),
        lots=np.zeros((_TOUCHED, most), np.int64),
        at=np.zeros((_TOUCHED, most), np.int64),
        turned=np.zeros((_TOUCHED, most), np.int64),
        ones=np.zeros(most, np.int64),
        items=np.zeros((5, most), np.int64),
        work=np.zeros((WORK, most + 1), np.int64),
        free=np.zeros((_TOUCHED, table.words.shape[1]), np.uint64),
    )


class Kept(NamedTuple):
    """The best layout seen: its cost, and what is where."""

    cost: NDArray[np.float64]
    chosen: Ints
    space: Ints
    at: Ints
    turned: Ints


def empty_state(table: Table, *, seed: int) -> State:
    """Nothing placed.

    Args:
        table: the problem.
        seed: of every random choice.
    """
    lots, spaces = len(table.first) - 1, len(table.cells)
    remembered = max(int(REMEMBERED), 1 << (int(EACH) * spaces - 1).bit_length())
    smallest = max(int(table.area.min(initial=1 << 30)), 1)
    most = min(lots, int(table.cells.max(initial=0)) * 2 // smallest + 2) + 3
    return State(
        chosen=np.full(lots, -1, np.int64),
        space=np.full(lots, -1, np.int64),
        at=np.full(lots, -1, np.int64),
        turned=np.zeros(lots, np.int64),
        many=np.zeros(spaces, np.int64),
        order=np.zeros((spaces, most), np.int64),
        free=table.words.copy(),
        area=np.zeros(spaces, np.int64),
        mass_g=np.zeros(spaces),
        room=table.cells.copy(),
        spent=np.zeros((remembered, 2), np.uint64),
        rng=np.array([state_from(seed)], np.uint64),
        waiting=np.zeros(lots, np.int64),
        stale=np.zeros((spaces, 2), np.int64),
        tally=np.zeros(len(TALLY), np.int64),
    )


def cost_of(table: Table, state: State) -> float:
    """Cost of all that is placed, and a high one for each lot that is not.

    Args:
        table: the problem.
        state: what is where.
    """
    placed = np.flatnonzero(state.chosen >= 0)
    space = state.space[placed]
    total = table.out.sum() - table.out[placed].sum() + table.opened[state.many > 0].sum()
    total += table.own[state.chosen[placed]].sum() + table.there[placed, space].sum()
    here = np.repeat(state.space, np.diff(table.near_at))
    there = state.space[table.near]
    parted = (here >= 0) & (there >= 0) & (here != there)
    return float(total + table.bond[parted].sum() / 2)  # each bond stands with both its lots


def kept_of(state: State, cost: float = np.inf) -> Kept:
    """A copy of what is where."""
    return Kept(np.array([cost]), state.chosen.copy(), state.space.copy(), state.at.copy(), state.turned.copy())


def restore(table: Table, state: State, kept: Kept, order: Iterable[int] | None = None) -> None:
    """Go back to what was kept.

    Args:
        table: the problem.
        state: is changed.
        kept: what is where.
        order: of the lots inside their spaces; by where they lie when left out.
    """
    state.chosen[:], state.space[:] = kept.chosen, kept.space
    state.at[:], state.turned[:] = kept.at, kept.turned
    state.many[:] = 0
    for lot in (np.argsort(kept.at, kind="stable") if order is None else np.array(list(order))).tolist():
        place = state.space[lot]
        if place >= 0:
            state.order[place, state.many[place]] = lot
            state.many[place] += 1
    placed = state.space >= 0
    spaces = len(table.cells)
    state.area[:] = np.bincount(state.space[placed], table.area[state.chosen[placed]], spaces).astype(np.int64)
    state.mass_g[:] = np.bincount(state.space[placed], table.mass_g[state.chosen[placed]], spaces)
    waiting = np.flatnonzero(~placed & (table.out > 0))
    state.waiting[: len(waiting)] = waiting
    state.tally[TALLY.out] = len(waiting)
    state.stale[:], state.tally[TALLY.stale] = 0, 0
    state.free[:] = table.words
    for lot in np.flatnonzero(placed & (state.at >= 0)):
        _take(table, state, int(lot))


def _take(table: Table, state: State, lot: int) -> None:
    """Take the cells of a lot out of what is free."""
    one, place = state.chosen[lot], int(state.space[lot])
    wide, deep = int(table.wide[one]), int(table.deep[one])
    if bool(table.swapped[place]) != bool(state.turned[lot]):
        wide, deep = deep, wide
    row, col = divmod(int(state.at[lot]), 64)
    state.free[place, row : row + deep] &= ~np.uint64(((1 << wide) - 1) << col)
