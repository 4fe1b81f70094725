# ruff: noqa: PLR0917 - nopython functions hand arrays on by position, and calls cost time
"""Thousands of orders of bedfuls, each made a schedule: the innermost loops of ``improve``.

Importing this module loads numba. ``place`` does what ``Decoder.puts`` does, and ``walk`` what ``improve`` says. No
Python objects, no clock; what is random comes from one word that every draw moves on.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, NamedTuple

import numpy as np

from nookwright.layout.packing.compiled import compiled, inner
from nookwright.layout.packing.kernels import below, draw
from nookwright.making.schedule.decode import END, ENDS, MINUTES_A_CHANGE, MINUTES_A_GRAM

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from nookwright.making.schedule.tables import Columns

    Ints = NDArray[np.int64]
    Floats = NDArray[np.float64]
    Words = NDArray[np.uint64]

# Rows of ``Desk.put``: what is placed, in the order in which it is.
WORK: Final = np.int64(0)
BEGIN: Final = np.int64(1)
STOP: Final = np.int64(2)
PRINTER: Final = np.int64(3)
BEDFUL: Final = np.int64(4)
CHANGES: Final = np.int64(5)

# Rows of ``Desk.state``: printers while a schedule grows; the first three as above, of the bedful that waits there.
_BEDFUL: Final = 3  # -1 for none
_CHANGES: Final = 4
_FREE: Final = 5
_LOADED: Final = 6
_NEXT: Final = 7

# Worth: the end, what counts among schedules of one end, what leads a walk.
_END: Final = 0
_REST: Final = 1
_PULL: Final = 2

# Kinds of change, and how many of so many in all are of the first, and of the first or the second.
_NOTHING: Final = -1
_HAND_OVER: Final = 0
_SWAP: Final = 1
_SHIFT: Final = 2
_HANDS_OVER: Final = 1
_SWAPS: Final = 3
_IN_ALL: Final = 5

_NEVER: Final = 1 << 60
_WORD: Final = 4294967296.0  # draws lie below it
_END_MIN, _ENDS_MIN = float(END), float(ENDS)
_CHANGE_MIN, _GRAM_MIN = float(MINUTES_A_CHANGE), float(MINUTES_A_GRAM)


class Order(NamedTuple):
    """Which bedfuls each printer prints, in which order, and how many."""

    rows: Ints
    size: Ints


class Desk(NamedTuple):
    """What placing writes on."""

    put: Ints
    state: Ints
    spaces: Ints
    worth: Floats


class Wish(NamedTuple):
    """What a walk keeps to.

    Attributes:
        strict: 1 where ranks never go down on a printer.
        by: minute by which each space must be ready; a walk that is late comes back sooner or later.
        ready: 1 where it counts when each space is ready.
        fine: what a minute counts by which a space is late.
    """

    strict: np.int64
    by: Ints
    ready: np.int64
    fine: np.float64


def desk_for(columns: Columns) -> Desk:
    """A desk for these bedfuls."""
    printers, bedfuls = columns.run.shape
    spaces = int(columns.space.max(initial=-1)) + 1
    return Desk(
        np.zeros((6, bedfuls), np.int64), np.zeros((8, printers), np.int64), np.zeros(spaces, np.int64), np.zeros(3)
    )


@inner
def _from(columns: Columns, row: int, minute: int) -> int:
    """The first minute of a row of spans that is not before another."""
    low, high = columns.at[row], columns.at[row + 1]
    stop = high
    while low < high:
        middle = (low + high) // 2
        if columns.end[middle] > minute:
            high = middle
        else:
            low = middle + 1
    return max(minute, columns.first[low]) if low < stop else _NEVER


@inner
def _wait(columns: Columns, desk: Desk, order: Order, printer: int) -> bool:
    """Put the next bedful of a printer in waiting, as early as it can go; whether it can."""
    state = desk.state
    bedful = order.rows[printer, state[_NEXT, printer]]
    changes = 0 if columns.material[bedful] == state[_LOADED, printer] else 1
    row = columns.row[printer, bedful, changes]
    if row < 0:
        return False
    work = _from(columns, row, max(state[_FREE, printer], columns.ready[bedful]))
    if work >= _NEVER:
        return False
    state[WORK, printer] = work
    state[BEGIN, printer] = work + columns.work[printer, changes]
    state[STOP, printer] = state[BEGIN, printer] + columns.run[printer, bedful]
    state[_BEDFUL, printer], state[_CHANGES, printer] = bedful, changes
    return True


@inner
def _first(desk: Desk, order: Order) -> int:
    """The printer that begins first of those where something waits; -1 for none."""
    state, best = desk.state, -1
    for printer in range(order.size.size):
        if state[_BEDFUL, printer] < 0:
            continue
        if best >= 0:
            if state[WORK, printer] > state[WORK, best]:
                continue
            if state[WORK, printer] == state[WORK, best]:
                if state[BEGIN, printer] > state[BEGIN, best]:
                    continue
                if state[BEGIN, printer] == state[BEGIN, best] and state[STOP, printer] >= state[STOP, best]:
                    continue
        best = printer
    return best


@inner
def _hands(columns: Columns, desk: Desk, count: int, printer: int) -> int:
    """When hands are free again that are all busy when a printer would begin; -1 where they are not."""
    people, busy, soonest = columns.people[0], 0, _NEVER
    for number in range(max(0, count - 2 * people), count):
        if desk.put[BEGIN, number] > desk.state[WORK, printer] and desk.put[WORK, number] < desk.state[BEGIN, printer]:
            busy += 1
            soonest = min(soonest, desk.put[BEGIN, number])
    return soonest if busy >= people else -1


@compiled
def place(columns: Columns, desk: Desk, order: Order) -> int:
    """Place an order, always the printer that can begin first; how many bedfuls were, -1 where the hours end before."""
    state, count = desk.state, 0
    for printer in range(order.size.size):
        state[_NEXT, printer], state[_BEDFUL, printer] = 0, -1
        state[_FREE, printer], state[_LOADED, printer] = columns.people[1], columns.loaded[printer]
        if order.size[printer] and not _wait(columns, desk, order, printer):
            return -1
    while True:
        printer = _first(desk, order)
        if printer < 0:
            return count
        free = _hands(columns, desk, count, printer)
        if free < 0:
            for part in range(3):
                desk.put[part, count] = state[part, printer]
            desk.put[PRINTER, count], desk.put[BEDFUL, count] = printer, state[_BEDFUL, printer]
            desk.put[CHANGES, count] = state[_CHANGES, printer]
            count += 1
            state[_LOADED, printer] = columns.material[state[_BEDFUL, printer]]
            state[_NEXT, printer] += 1
            free = state[STOP, printer]
        state[_FREE, printer], state[_BEDFUL, printer] = free, -1
        if state[_NEXT, printer] < order.size[printer] and not _wait(columns, desk, order, printer):
            return -1


@inner
def _at_night(columns: Columns, printer: int, begin: int, stop: int) -> bool:
    """Whether a run goes through a night with nobody there."""
    low, high = columns.night_at[printer], columns.night_at[printer + 1]
    end = high
    while low < high:
        middle = (low + high) // 2
        if columns.night_end[middle] > begin:
            high = middle
        else:
            low = middle + 1
    return bool(low < end and columns.night_first[low] < stop)


@compiled
def weigh(columns: Columns, desk: Desk, count: int, wish: Wish) -> int:
    """How good what was placed is; returns the minutes by which spaces are late."""
    rest, end, late = 0.0, columns.people[1], 0
    for space in range(desk.spaces.size):
        desk.spaces[space] = 0
    for number in range(count):
        printer, bedful, stop = desk.put[PRINTER, number], desk.put[BEDFUL, number], desk.put[STOP, number]
        end = max(end, stop)
        desk.state[_FREE, printer] = stop
        rest += _CHANGE_MIN * desk.put[CHANGES, number]
        if _at_night(columns, printer, desk.put[BEGIN, number], stop):
            rest += _GRAM_MIN * columns.risk_g[bedful]
        for at in range(columns.space_at[bedful], columns.space_at[bedful + 1]):
            desk.spaces[columns.space[at]] = max(desk.spaces[columns.space[at]], stop)
    for space in range(desk.spaces.size):
        if wish.ready:
            rest += desk.spaces[space]
        late += max(0, desk.spaces[space] - wish.by[space])
    ends = 0
    for printer in range(desk.state.shape[1]):
        if desk.state[_NEXT, printer]:
            ends += desk.state[_FREE, printer]
    desk.worth[_END], desk.worth[_REST] = end, rest
    desk.worth[_PULL] = _END_MIN * end + _ENDS_MIN * ends + rest + wish.fine * late
    return late


@inner
def _in_order(columns: Columns, order: Order, printer: int) -> bool:
    for step in range(order.size[printer] - 1):
        if columns.rank[order.rows[printer, step]] > columns.rank[order.rows[printer, step + 1]]:
            return False
    return True


@inner
def _shift(order: Order, printer: int, at: int, to: int) -> None:
    """Move a bedful to another step of its printer."""
    bedful = order.rows[printer, at]
    while at < to:
        order.rows[printer, at] = order.rows[printer, at + 1]
        at += 1
    while at > to:
        order.rows[printer, at] = order.rows[printer, at - 1]
        at -= 1
    order.rows[printer, to] = bedful


@inner
def _hand_over(order: Order, printer: int, at: int, other: int, to: int) -> None:
    """Move a bedful to a step of another printer."""
    order.rows[other, order.size[other]] = order.rows[printer, at]
    _shift(order, printer, at, order.size[printer] - 1)
    order.size[printer] -= 1
    order.size[other] += 1
    _shift(order, other, order.size[other] - 1, to)


@inner
def _copy(one: Order, other: Order) -> None:
    for printer in range(one.size.size):
        other.size[printer] = one.size[printer]
        for step in range(one.size[printer]):
            other.rows[printer, step] = one.rows[printer, step]


@inner
def _swap(order: Order, printer: int, at: int, to: int) -> None:
    order.rows[printer, at], order.rows[printer, to] = order.rows[printer, to], order.rows[printer, at]


@inner
def _propose(columns: Columns, order: Order, rng: Words, far: int) -> tuple[int, int, int, int, int]:
    """A change: its kind, or -1 for none, the printer and step of a bedful, and where it goes."""
    chosen, printer = below(rng, order.size.sum()), 0
    while chosen >= order.size[printer]:
        chosen -= order.size[printer]
        printer += 1
    draws = below(rng, _IN_ALL)
    if draws < _HANDS_OVER:
        other = below(rng, order.size.size)
        able = other != printer and columns.row[other, order.rows[printer, chosen], 1] >= 0
        return (_HAND_OVER if able else _NOTHING), printer, chosen, other, below(rng, order.size[other] + 1)
    step = below(rng, far) + 1
    to = max(0, min(order.size[printer] - 1, chosen + step if below(rng, 2) else chosen - step))
    kind = _NOTHING if to == chosen else _SWAP if draws < _SWAPS else _SHIFT
    return kind, printer, chosen, printer, to


@inner
def _make(order: Order, kind: int, printer: int, at: int, other: int, to: int) -> None:
    """Make a change; with the places exchanged, the change back."""
    if kind == _HAND_OVER:
        _hand_over(order, printer, at, other, to)
    elif kind == _SWAP:
        _swap(order, printer, at, to)
    elif kind == _SHIFT:
        _shift(order, printer, at, to)


@compiled
def walk(
    columns: Columns, desk: Desk, order: Order, best: Order, wish: Wish, rng: Words, heat: Floats, tries: int, far: int
) -> None:
    """Change an order again and again, and keep the best one; see ``improve``."""
    bedfuls = order.size.sum()
    top_end, top_rest, here = np.inf, np.inf, np.inf
    for number in range(-1, tries):
        kind, printer, at, other, to = _NOTHING, 0, 0, 0, 0
        if number >= 0:  # the first is the order as it is
            kind, printer, at, other, to = _propose(columns, order, rng, far)
            if kind == _NOTHING:
                continue
            _make(order, kind, printer, at, other, to)
        good = not wish.strict or _in_order(columns, order, other)
        if good:
            good = place(columns, desk, order) == bedfuls
        if good:
            late = weigh(columns, desk, bedfuls, wish)
            end, rest, pull = desk.worth[_END], desk.worth[_REST], desk.worth[_PULL]
            warmth = heat[0] * (heat[1] / heat[0]) ** (max(0, number) / tries)
            good = pull <= here or draw(rng) / _WORD < np.exp((here - pull) / warmth)
        if good:
            here = pull
            if late == 0 and (end < top_end or (end == top_end and rest < top_rest)):
                top_end, top_rest = end, rest
                _copy(order, best)
        else:
            _make(order, kind, other, to, printer, at)
