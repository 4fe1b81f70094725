# ruff: noqa: PLR0917 - nopython functions hand arrays on by position
"""Annealing of the assignment, compiled: no geometry; what is over the room or the load of a space costs a fine."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from nookwright.layout.packing.compiled import compiled, inner
from nookwright.layout.search.drawing import no_longer_out, propose, share, weigh
from nookwright.layout.search.state import TALLY

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from nookwright.layout.search.state import Desk, State
    from nookwright.layout.search.table import Table

    Ints = NDArray[np.int64]
    Floats = NDArray[np.float64]

_MOVES = TALLY.moves


@inner
def _fines(table: Table, state: State, touched: Ints, grams: Floats, seen: int, cell: Floats, gram: Floats) -> float:
    """How much more is fined after a move."""
    more = 0.0
    for i in range(seen):
        space = touched[i, 0]
        over = state.area[space] - state.room[space]
        more += cell[space] * (max(0, over + touched[i, 2]) - max(0, over))
        heavy = state.mass_g[space] - table.load_g[space]
        more += gram[space] * (max(0.0, heavy + grams[i]) - max(0.0, heavy))
    return more


@inner
def _shift(table: Table, state: State, lot: int, one: int, space: int) -> None:
    """A lot takes a candidate in a space, where it lies nowhere yet."""
    was, old = state.space[lot], state.chosen[lot]
    if was >= 0:
        last, k = state.many[was] - 1, 0
        while state.order[was, k] != lot:
            k += 1
        state.order[was, k] = state.order[was, last]
        state.many[was] = last
        state.area[was] -= table.area[old]
        state.mass_g[was] -= table.mass_g[old]
    else:
        no_longer_out(state, lot)
    state.order[space, state.many[space]] = lot
    state.many[space] += 1
    state.area[space] += table.area[one]
    state.mass_g[space] += table.mass_g[one]
    state.chosen[lot], state.space[lot], state.at[lot] = one, space, -1


@compiled
def anneal_loose(
    table: Table,
    state: State,
    desk: Desk,
    favour: Ints,
    favours: Ints,
    movable: Ints,
    heat: float,
    cell: Floats,
    gram: Floats,
    moves: int,
) -> float:
    """So many moves at one temperature; says what they gained, fines counted.

    Args:
        table: the problem.
        state: is changed.
        desk: to write on.
        favour: for each lot, its favourite candidates and spaces, the best first.
        favours: how many.
        movable: lots that may be moved.
        heat: temperature, cost.
        cell: fine for a cell too many in each space.
        gram: fine for a gram too many.
        moves: how many are drawn.
    """
    change, touched, grams = desk.change, desk.touched, desk.grams
    gained, most = 0.0, state.order.shape[1]
    for _ in range(moves):
        count = propose(table, state, favour, favours, movable, change)
        if count == 0:
            continue
        more, seen = weigh(table, state, change, count, touched, grams)
        more += _fines(table, state, touched, grams, seen, cell, gram)
        if more > 0 and more > -heat * math.log(1.0 - share(state.rng)):
            continue
        full = False
        for i in range(seen):
            full = full or state.many[touched[i, 0]] + touched[i, 3] > most
        if full:
            continue
        for j in range(count):
            _shift(table, state, change[0, j], change[1, j], change[2, j])
        gained -= more
    state.tally[_MOVES] += moves
    return gained
