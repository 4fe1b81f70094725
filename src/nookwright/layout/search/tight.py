# ruff: noqa: C901, PLR0917 - nopython functions hand arrays on by position, and calls cost time
"""Annealing on packed spaces, compiled: a move is accepted only when every space that it touches has been packed.

The cost is asked first, then room and load, then the packer: what comes is put on free cells beside what lies, and only
where that fails the whole space is packed anew, from its last order. Sets of footprints that failed are remembered with
the tries that were spent on them: each time one is wanted again it gets as many more, until patience ends.

At any time nothing overlaps, nothing is over a load, nothing stands where it may not.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, cast

import numpy as np

from nookwright.layout.packing.compiled import compiled, inner
from nookwright.layout.packing.kernels import AT, LIES, find_place, flip, search
from nookwright.layout.search.drawing import no_longer_out, propose, share, weigh
from nookwright.layout.search.state import TALLY

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from nookwright.layout.search.state import Desk, Kept, State
    from nookwright.layout.search.table import Table

    Ints = NDArray[np.int64]
    Floats = NDArray[np.float64]
    Words = NDArray[np.uint64]

_MOVES, _ASKED, _TRIES, _FOUND, _REFUSED, _STALE = (
    TALLY.moves,
    TALLY.asked,
    TALLY.tries,
    TALLY.found,
    TALLY.refused,
    TALLY.stale,
)
_SLACK_G = 1e-9
_NONE = cast("int", np.int64(0))  # no literal: see ``compiled``
_NOISE = 1e-7
_ASK_STEPS, _TRY_STEPS = 4, 12  # what they take beside drawing a move


@inner
def _sides(table: Table, one: int, space: int, turned: int) -> tuple[int, int]:
    """Width and depth of a candidate as it lies in the words of a space."""
    if table.swapped[space] != (turned == 1):
        return table.deep[one], table.wide[one]
    return table.wide[one], table.deep[one]


@inner
def _carries(table: Table, state: State, touched: Ints, grams: Floats, seen: int) -> bool:
    """Whether every space that a move touches has the room and the load for it."""
    for i in range(seen):
        space = touched[i, 0]
        if touched[i, 2] > 0 and state.area[space] + touched[i, 2] > state.room[space]:
            return False
        if grams[i] > 0 and state.mass_g[space] + grams[i] > table.load_g[space] + _SLACK_G:
            return False
    return True


@inner
def _changed(state: State, change: Ints, count: int, space: int, lots: Ints, ones: Ints) -> int:
    """Lots and candidates of a space after a move: what comes takes the turn of what goes; says how many."""
    n, come = 0, 0
    for k in range(state.many[space]):
        lot = state.order[space, k]
        gone = False
        for j in range(count):
            gone = gone or change[0, j] == lot
        if gone:
            while come < count and change[2, come] != space:
                come += 1
            if come == count:
                continue
            lots[n], ones[n] = change[0, come], change[1, come]
            come += 1
        else:
            lots[n], ones[n] = lot, state.chosen[lot]
        n += 1
    for j in range(come, count):
        if change[2, j] == space:
            lots[n], ones[n] = change[0, j], change[1, j]
            n += 1
    return n


@inner
def _squeeze(table: Table, state: State, change: Ints, count: int, space: int, free: Words, spots: Ints) -> bool:
    """Put what comes on free cells, the largest first, and leave the others where they are."""
    for j in range(count):
        lot = change[0, j]
        if state.space[lot] == space:
            wide, deep = _sides(table, state.chosen[lot], space, state.turned[lot])
            flip(free, state.at[lot], wide, deep)
    done = 0
    for _ in range(count):
        largest = -1
        for j in range(count):
            waits = change[2, j] == space and not (done >> j) & 1
            if waits and (largest < 0 or table.area[change[1, j]] > table.area[change[1, largest]]):
                largest = j
        if largest < 0:
            return True
        done |= 1 << largest
        one = change[1, largest]
        wide, deep = _sides(table, one, space, _NONE)
        at, turned = find_place(free, _NONE, wide, deep), 0
        if table.turns[one] and wide != deep:
            other = find_place(free, _NONE, deep, wide)
            if at < 0 or 0 <= other < at:
                at, turned = other, 1
        if at < 0:
            return False
        if turned:
            wide, deep = deep, wide
        flip(free, at, wide, deep)
        spots[largest, 0], spots[largest, 1] = at, turned
    return True


@inner
def _key(cols: Ints, rows: Ints, turns: Ints, n: int, space: int) -> np.uint64:
    """A word that stands for the set of footprints in a space."""
    key = np.uint64(space + 1) * np.uint64(0x9E3779B97F4A7C15)
    for k in range(n):
        wide, deep = cols[k], rows[k]
        if turns[k]:
            wide, deep = min(wide, deep), max(wide, deep)
        word = np.uint64((wide << 16) + (deep << 1) + turns[k]) * np.uint64(0xBF58476D1CE4E5B9)
        word = (word ^ (word >> np.uint64(27))) * np.uint64(0x94D049BB133111EB)
        key += word ^ (word >> np.uint64(31))
    return key


@inner
def _keep(state: State, kept: Kept, cost: float) -> None:
    """Remember this layout as the best: what is in the spaces that have changed since the best before."""
    kept.cost[0] = cost
    for i in range(state.tally[_STALE]):
        space = state.stale[i, 0]
        state.stale[space, 1] = 0
        for k in range(state.many[space]):
            lot = state.order[space, k]
            kept.chosen[lot], kept.space[lot] = state.chosen[lot], state.space[lot]
            kept.at[lot], kept.turned[lot] = state.at[lot], state.turned[lot]
    state.tally[_STALE] = 0


@inner
def _repack(
    table: Table, state: State, space: int, n: int, lots: Ints, ones: Ints, free: Words, at: Ints, turned: Ints,
    items: Ints, work: Ints, glimpse: int, patience: int,
) -> bool:  # fmt: skip
    """Pack a space anew; ``lots`` are put into the order that did it, ``at`` and ``turned`` are written."""
    cols, rows, turns, order, tilt = items[0, :n], items[1, :n], items[2, :n], items[3, :n], items[4, :n]
    for k in range(n):
        cols[k], rows[k] = _sides(table, ones[k], space, _NONE)
        turns[k] = table.turns[ones[k]] and cols[k] != rows[k]
        order[k], tilt[k] = k, state.turned[lots[k]]
    key = _key(cols, rows, turns, n, space)
    slot = key & np.uint64(state.spent.shape[0] - 1)
    tried = np.int64(state.spent[slot, 1]) if state.spent[slot, 0] == key else np.int64(0)
    if tried >= patience:
        state.tally[_REFUSED] += 1
        return False
    for k in range(free.size):
        free[k] = table.words[space, k]
    left, tries = search(
        free, cols, rows, turns, order, tilt, work, glimpse if glimpse > tried else int(tried), state.rng
    )
    state.tally[_TRIES] += tries
    if left > 0:
        state.spent[slot, 0], state.spent[slot, 1] = key, np.uint64(tried + tries)
        return False
    state.tally[_FOUND] += 1
    for k in range(n):
        ones[k] = lots[order[k]]
    for k in range(n):
        lots[k], at[k], turned[k] = ones[k], work[AT, k], work[LIES, k]
    return True


@inner
def _packs(
    table: Table, state: State, change: Ints, count: int, space: int, n: int, lots: Ints, ones: Ints, free: Words,
    at: Ints, turned: Ints, spots: Ints, items: Ints, work: Ints, glimpse: int, patience: int,
) -> bool:  # fmt: skip
    """Whether a space can be packed after a move; where everything lies then is written."""
    state.tally[_ASKED] += 1
    for k in range(free.size):
        free[k] = state.free[space, k]
    if not _squeeze(table, state, change, count, space, free, spots):
        return _repack(table, state, space, n, lots, ones, free, at, turned, items, work, glimpse, patience)
    for k in range(n):
        lot = lots[k]
        at[k], turned[k] = state.at[lot], state.turned[lot]
        for j in range(count):
            if change[0, j] == lot:
                at[k], turned[k] = spots[j, 0], spots[j, 1]
    return True


@inner
def _commit(
    table: Table, state: State, change: Ints, count: int, touched: Ints, grams: Floats, seen: int, lots: Ints,
    numbers: Ints, free: Words, at: Ints, turned: Ints,
) -> None:  # fmt: skip
    """Make the move."""
    for i in range(seen):
        space = touched[i, 0]
        if touched[i, 3] == 0:  # something only goes
            for j in range(count):
                lot = change[0, j]
                if state.space[lot] == space:
                    wide, deep = _sides(table, state.chosen[lot], space, state.turned[lot])
                    flip(state.free[space], state.at[lot], wide, deep)
    for j in range(count):
        lot = change[0, j]
        if state.chosen[lot] < 0:
            no_longer_out(state, lot)
        state.chosen[lot], state.space[lot] = change[1, j], change[2, j]
    for i in range(seen):
        space = touched[i, 0]
        state.many[space] = numbers[i]
        if not state.stale[space, 1]:
            state.stale[space, 1] = 1
            state.stale[state.tally[_STALE], 0] = space
            state.tally[_STALE] += 1
        state.area[space] += touched[i, 2]
        state.mass_g[space] += grams[i]
        for k in range(numbers[i]):
            lot = lots[i, k]
            state.order[space, k] = lot
            if touched[i, 3] > 0:
                state.at[lot], state.turned[lot] = at[i, k], turned[i, k]
        if touched[i, 3] > 0:
            for k in range(state.free.shape[1]):
                state.free[space, k] = free[i, k]


@compiled
def anneal_tight(
    table: Table, state: State, desk: Desk, kept: Kept, favour: Ints, favours: Ints, movable: Ints, cost: float,
    heat: float, glimpse: int, patience: int, budget: int,
) -> float:  # fmt: skip
    """Moves at one temperature until the budget of steps is used up; says the cost, the best is put into ``kept``.

    Args:
        table: the problem.
        state: is changed; everything in it lies somewhere.
        desk: to write on.
        kept: the best layout so far.
        favour: for each lot, its favourite candidates and spaces, the best first.
        favours: how many.
        movable: lots that may be moved.
        cost: of the state.
        heat: temperature, cost.
        glimpse: tries for a set of footprints that is wanted for the first time.
        patience: tries after which a set of footprints is given up.
        budget: steps; a move is one, a try is several.
    """
    change, touched, grams, spots, numbers = desk.change, desk.touched, desk.grams, desk.spots, desk.numbers
    lots, at, turned, free, ones = desk.lots, desk.at, desk.turned, desk.free, desk.ones
    most, steps, before = state.order.shape[1], 0, state.tally[_TRIES]
    while steps + _TRY_STEPS * (state.tally[_TRIES] - before) < budget:
        steps += 1
        state.tally[_MOVES] += 1
        count = propose(table, state, favour, favours, movable, change)
        if count == 0:
            continue
        more, seen = weigh(table, state, change, count, touched, grams)
        if more > 0 and more > -heat * math.log(1.0 - share(state.rng)):
            continue
        if not _carries(table, state, touched, grams, seen):
            continue
        packed = True
        for i in range(seen):
            space = touched[i, 0]
            if state.many[space] + touched[i, 3] > most:
                packed = False
                break
            numbers[i] = _changed(state, change, count, space, lots[i], ones)
            if touched[i, 3] > 0:
                steps += _ASK_STEPS
                packed = _packs(
                    table, state, change, count, space, numbers[i], lots[i], ones, free[i], at[i], turned[i], spots,
                    desk.items, desk.work, glimpse, patience,
                )  # fmt: skip
                if not packed:
                    break
        if not packed:
            continue
        _commit(table, state, change, count, touched, grams, seen, lots, numbers, free, at, turned)
        cost += more
        if cost < kept.cost[0] - _NOISE:
            _keep(state, kept, cost)
    return cost
