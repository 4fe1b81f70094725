# ruff: noqa: PLR0917 - nopython functions hand arrays on by position
"""Moves of the annealing, compiled: which lots go where, and how much dearer that would be.

A move changes up to three lots: ``change`` holds, a row each, the lots, their new candidates, their new spaces. What it
does to the spaces is written to ``touched``, a row a space: its number, lots more, cells more, lots that come; and to
``grams``: mass more.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, cast

import numpy as np

from nookwright.layout.packing.compiled import inner
from nookwright.layout.packing.kernels import below, draw
from nookwright.layout.search.state import TALLY

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from nookwright.layout.search.state import State
    from nookwright.layout.search.table import Table

    Ints = NDArray[np.int64]
    Floats = NDArray[np.float64]

_OUT = TALLY.out
_WORD = 1.0 / (1 << 32)
_NONE = cast("int", np.int64(0))  # no literal: see ``compiled``
# Shares of moves: for lots left out; for partners; to any space; within the space; that make another lot give way. Of
# these, that it goes where the first comes from, and, added up, to a favourite place.
_OUT_SHARE, _BOND_SHARE, _ANY_SHARE, _HERE_SHARE, _TRADE_SHARE = 0.3, 0.25, 0.07, 0.13, 0.65
_BACK_SHARE, _AWAY_SHARE = 0.5, 0.75


@inner
def share(rng: NDArray[np.uint64]) -> float:
    """A number from 0 up to 1."""
    number: float = draw(rng) * _WORD
    return number


@inner
def some_candidate(table: Table, rng: NDArray[np.uint64], lot: int, space: int) -> int:
    """Some candidate of a lot that may be in a space; -1 for none."""
    low, high = int(table.first[lot]), int(table.first[lot + 1])
    one = low + below(rng, high - low)
    for _ in range(high - low):
        if table.ok[one, space]:
            return one
        one = one + 1 if one + 1 < high else low
    return -1


@inner
def some_lot(state: State, movable: Ints) -> int:
    """Some lot; while there are lots left out, often one of them."""
    if state.tally[_OUT] > 0 and share(state.rng) < _OUT_SHARE:
        return int(state.waiting[below(state.rng, state.tally[_OUT])])
    return int(movable[below(state.rng, movable.size)])


@inner
def no_longer_out(state: State, lot: int) -> None:
    """A lot that was left out comes in; from now on it is not drawn as one of those."""
    last, k = state.tally[_OUT] - 1, 0
    while state.waiting[k] != lot:
        k += 1
    state.waiting[k] = state.waiting[last]
    state.tally[_OUT] = last


@inner
def propose(table: Table, state: State, favour: Ints, favours: Ints, movable: Ints, change: Ints) -> int:
    """Draw a move; says how many lots it changes, 0 for none.

    A lot goes to one of its favourite places, the best most often, or to its partner, or anywhere, or takes another
    footprint; often another one that is there makes room.
    """
    rng = state.rng
    lot = some_lot(state, movable)
    here = state.space[lot]
    kind, u = share(rng), share(rng)
    rank = int(u * u * favours[lot])
    one, space = favour[lot, rank, 0], favour[lot, rank, 1]
    partners = table.near_at[lot + 1] - table.near_at[lot]
    if kind < _BOND_SHARE:
        if partners > 0:
            other = table.near[table.near_at[lot] + below(rng, partners)]
            there = state.space[other]
            if there >= 0 and there != here:
                space, one = there, some_candidate(table, rng, lot, there)
            elif there >= 0 and space != here:
                return _together(table, state, change, lot, one, space, other)
    elif kind < _BOND_SHARE + _ANY_SHARE:
        space = below(rng, table.cells.size)
        one = some_candidate(table, rng, lot, space)
    elif kind < _BOND_SHARE + _ANY_SHARE + _HERE_SHARE and here >= 0:
        space, one = here, some_candidate(table, rng, lot, here)
    if one < 0 or (one == state.chosen[lot] and space == here):
        return 0
    change[0, 0], change[1, 0], change[2, 0] = lot, one, space
    if state.many[space] == 0 or share(rng) > _TRADE_SHARE:
        return 1
    return _trade(table, state, change, favour, favours, lot, here, space)


@inner
def _together(table: Table, state: State, change: Ints, lot: int, one: int, space: int, other: int) -> int:
    """Two partners go elsewhere; one that is there may come back in exchange."""
    rng, here = state.rng, state.space[lot]
    second = some_candidate(table, rng, other, space)
    if second < 0:
        return 0
    change[0, 0], change[1, 0], change[2, 0] = lot, one, space
    change[0, 1], change[1, 1], change[2, 1] = other, second, space
    if here < 0 or state.many[space] == 0 or share(rng) > _TRADE_SHARE:
        return 2
    third = state.order[space, below(rng, state.many[space])]
    back = some_candidate(table, rng, third, here)
    change[0, 2], change[1, 2], change[2, 2] = third, back, here
    return 3 if back >= 0 else 0


@inner
def _trade(
    table: Table, state: State, change: Ints, favour: Ints, favours: Ints, lot: int, here: int, space: int
) -> int:
    """One that is in the space makes room: it goes where the first came from, to a favourite place, or shrinks."""
    rng = state.rng
    other = state.order[space, below(rng, state.many[space])]
    if other == lot:
        return 1
    kind, u = share(rng), share(rng)
    if kind < _BACK_SHARE and here >= 0 and here != space:
        there, one = here, some_candidate(table, rng, other, here)
    elif kind < _AWAY_SHARE:
        rank = int(u * u * favours[other])
        one, there = favour[other, rank, 0], favour[other, rank, 1]
    else:
        there, one = space, some_candidate(table, rng, other, space)
    if one < 0 or (one == state.chosen[other] and there == space):
        return 0
    change[0, 1], change[1, 1], change[2, 1] = other, one, there
    return 2


@inner
def _touch(table: Table, touched: Ints, grams: Floats, seen: int, space: int, one: int, sign: int) -> int:
    """Add or take one candidate in a space of ``touched``; says how many spaces it holds now."""
    i = 0
    while i < seen and touched[i, 0] != space:
        i += 1
    if i == seen:
        touched[i, 0], touched[i, 1], touched[i, 2], touched[i, 3], grams[i] = space, 0, 0, 0, 0.0
        seen += 1
    touched[i, 1] += sign
    touched[i, 2] += sign * table.area[one]
    touched[i, 3] += sign > 0
    grams[i] += sign * table.mass_g[one]
    return seen


@inner
def _bonds(table: Table, state: State, change: Ints, count: int, k: int) -> float:
    """How much dearer the bonds of a lot of a move become; those with earlier lots of it are counted there."""
    lot, space = change[0, k], change[2, k]
    was, more = state.space[lot], 0.0
    for p in range(table.near_at[lot], table.near_at[lot + 1]):
        other = table.near[p]
        there = then = state.space[other]
        earlier = False
        for j in range(count):
            if change[0, j] == other:
                then, earlier = change[2, j], j < k
        if not earlier:
            more += table.bond[p] * ((then >= 0 and then != space) - (was >= 0 and there >= 0 and there != was))
    return more


@inner
def weigh(table: Table, state: State, change: Ints, count: int, touched: Ints, grams: Floats) -> tuple[float, int]:
    """How much dearer a move makes the layout, and how many spaces it touches."""
    more, seen = 0.0, _NONE
    for k in range(count):
        lot, one, space = change[0, k], change[1, k], change[2, k]
        old, was = state.chosen[lot], state.space[lot]
        more += table.own[one] + table.there[lot, space] + _bonds(table, state, change, count, k)
        more -= table.out[lot] if old < 0 else table.own[old] + table.there[lot, was]
        for sign in range(-1 if old >= 0 else 1, 2, 2):  # what goes, what comes
            seen = _touch(table, touched, grams, seen, space if sign > 0 else was, one if sign > 0 else old, sign)
    for i in range(seen):
        space = touched[i, 0]
        now = state.many[space]
        more += table.opened[space] * ((now + touched[i, 1] > 0) - (now > 0))
    return more, seen
