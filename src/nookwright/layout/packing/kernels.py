# ruff: noqa: PLR0917 - nopython functions hand arrays on by position
"""The packer's innermost loops: footprints into the free cells of a space, front-most then left-most place.

For use from other kernels (functions under ``compiled``) and from ``drawer``. No Python objects, no clock, nothing
allocated: all arrays are handed in. Importing this module loads numba; import it where start-up does not count.

A space
    ``free``: ``uint64[rows]``, a word a row of cells; bit ``c`` of ``free[r]`` is set where cell (c, r) is free.
    At most 64 columns: hand in a wider space with columns and rows exchanged (those of the footprints too; exchange
    the places back). ``words.words`` makes the array from a mask, ``words.exchanged`` exchanges one. Bits from
    ``cols`` on and blocked cells are 0 and stay so.
Footprints, numbered 0 to n - 1
    ``cols``, ``rows``, ``may_turn``: ``int64[n]``; ``may_turn`` is 0 or 1, best 0 for a square.
An order
    ``order``, ``turned``: ``int64[n]``; step s packs footprint ``order[s]``, turned by 90 degrees if ``turned[s]``.
    Where it has no place that way it is tried the other way; a mark on one that may not turn is ignored.
A packing, by step (not by footprint)
    ``at[s] = row * 64 + col`` of the front left cell, -1 for what stayed out; ``lies[s]`` is 1 where it lies turned.
``work``
    ``int64[WORK, m]`` with any m > n, contiguous, no preparation; one for the largest space serves all, a thread each.
``rng``
    ``uint64[1]``, never 0: ``moves.state_from(seed)``. Every draw moves it on.

Most callers need three functions::

    left, tries = search(free, cols, rows, may_turn, order, turned, work, most_tries, rng)

packs the order given, then changes it, keeps what leaves no more area out, and stops when ``left`` (the cells that are
out) is 0 or the tries are used up. The first packing is one try, so ``most_tries = 1`` only packs. Afterwards ``order``
and ``turned`` hold the order found (start the next search from it), ``work[AT, :n]`` and ``work[LIES, :n]`` the packing
by step, and ``free`` what is free beside it. To keep what was before, hand in copies. One long walk gets stuck: for a
long search start anew from the first order every ``moves.LEG * n`` tries. ``n`` may be 0. ::

    at = find_place(free, 0, wide, deep)      # row * 64 + col, or -1
    flip(free, at, wide, deep)                # take these cells, or give them back

put one more footprint beside those that lie, sides as it lies; ``lift`` takes a whole packing out again. About 1 to 2
microseconds a try for 30 footprints in 20 x 24 cells.

A step costs a few word operations, a change at step s leaves the steps before it alone, and a try that leaves more out
than the present order is given up at that step: that is all that makes it quick. ``plain`` does the same without numba:
same arguments, same packing, same draws; a test holds the two together.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, cast

import numpy as np

from nookwright.layout.packing.compiled import compiled, inner
from nookwright.layout.packing.moves import BRINGS, MOVES, TURNS

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Ints = NDArray[np.int64]
    Words = NDArray[np.uint64]

# Rows of ``work``: a packing by step, and the area out and the lowest row with a free cell before each step ...
AT: Final = np.int64(0)
LIES: Final = np.int64(1)
_LEFT: Final = 2
_LOW: Final = 3
# ... and the same of the order that is tried.
_TRIED_ORDER: Final = 4
_TRIED_TURNED: Final = 5
_TRIED: Final = 6
WORK: Final = np.int64(10)

# Kinds of change: a footprint is turned, goes to another step, or changes places with that of another step.
TURN: Final = np.int64(0)
MOVE: Final = np.int64(1)
SWAP: Final = np.int64(2)

_BRINGS, _TURNS, _MOVES = int(BRINGS), int(TURNS), int(MOVES)
_BITS: Final = 64
_ALL: Final = np.uint64(0xFFFFFFFFFFFFFFFF)
_ONE: Final = np.uint64(1)
_NO_LIMIT: Final = cast("int", np.int64(1 << 62))  # no literals: see ``compiled``
_START: Final = cast("int", np.int64(0))
_DE_BRUIJN: Final = 0x03F79D71B4CB0A89  # a de Bruijn sequence: its top six bits differ at each of 64 shifts
_MULTIPLIER: Final = np.uint64(_DE_BRUIJN)
_INDEX: Final = np.zeros(_BITS, np.int64)
for _bit in range(_BITS):
    _INDEX[(_DE_BRUIJN << _bit & 0xFFFFFFFFFFFFFFFF) >> 58] = _bit


@compiled
def draw(rng: Words) -> int:
    """A whole number of 32 bits; see ``moves``."""
    x = rng[0]
    x ^= x >> np.uint64(12)
    x ^= x << np.uint64(25)
    x ^= x >> np.uint64(27)
    rng[0] = x
    drawn: int = np.int64((x * np.uint64(0x2545F4914F6CDD1D)) >> np.uint64(32))  # type: ignore[assignment]
    return drawn


@compiled
def below(rng: Words, count: int) -> int:
    """A whole number from 0 to one less than the count (of at most 2^31)."""
    return (draw(rng) * count) >> 32


@compiled
def find_place(free: Words, low: int, wide: int, deep: int) -> int:
    """The front-most, then left-most place of a rectangle in rows from ``low`` on, as row * 64 + col; -1 for none."""
    if wide > _BITS:
        return -1
    for row in range(low, free.size - deep + 1):
        places = free[row]
        for other in range(row + 1, row + deep):
            places &= free[other]
        reached = 1
        while places and reached < wide:  # a bit stands where so many free cells begin
            more = min(reached, wide - reached)
            places &= places >> np.uint64(more)
            reached += more
        if places:
            lowest = places & (~places + _ONE)
            col: int = _INDEX[np.int64((lowest * _MULTIPLIER) >> np.uint64(58))]
            return row * _BITS + col
    return -1


@inner
def flip(free: Words, at: int, wide: int, deep: int) -> None:
    """Take the cells of a rectangle at a place, or give them back."""
    bar = (_ALL >> np.uint64(_BITS - wide)) << np.uint64(at & (_BITS - 1))
    row = at >> 6
    for other in range(row, row + deep):
        free[other] ^= bar


@compiled
def lift(free: Words, cols: Ints, rows: Ints, order: Ints, at: Ints, lies: Ints, first: int, stop: int) -> None:
    """Take out what was packed in steps from ``first`` to before ``stop``, or put it back where it lay."""
    for step in range(first, stop):
        if at[step] >= 0:
            wide, deep = cols[order[step]], rows[order[step]]
            if lies[step]:
                wide, deep = deep, wide
            flip(free, at[step], wide, deep)


@inner
def pack_from(
    free: Words,
    cols: Ints,
    rows: Ints,
    may_turn: Ints,
    order: Ints,
    turned: Ints,
    packing: Ints,
    first: int,
    limit: int,
) -> int:
    """Pack in this order from a step on; stops at the step that takes the area out over the limit.

    Args:
        free: cells that are free before step ``first``; those taken are taken out.
        cols: of the footprints.
        rows: of the footprints.
        may_turn: 1 for those that may be turned.
        order: footprint of each step.
        turned: how it is tried first.
        packing: four rows, written from step ``first`` on: places, ways, area out and lowest row before a step.
        first: step; the last two rows must be right there.
        limit: most area that may stay out.

    Returns:
        the number of footprints, or the step at which the limit was passed (nothing was packed in it).
    """
    at, lies, lefts, lows = packing[0], packing[1], packing[2], packing[3]
    left, low = lefts[first], lows[first]
    for step in range(first, order.size):
        item = order[step]
        wide, deep, lying = cols[item], rows[item], 0
        if turned[step] and may_turn[item]:
            wide, deep, lying = deep, wide, 1
        place = find_place(free, low, wide, deep)
        if place < 0 and may_turn[item]:
            wide, deep, lying = deep, wide, 1 - lying
            place = find_place(free, low, wide, deep)
        at[step], lies[step] = place, lying
        if place < 0:
            left += wide * deep
            if left > limit:
                return step
        else:
            flip(free, place, wide, deep)
            while low < free.size and free[low] == 0:
                low += 1
        lefts[step + 1], lows[step + 1] = left, low
    return order.size


@inner
def move(order: Ints, turned: Ints, one: int, two: int) -> None:
    """Take a step out of the order and put it in at another."""
    item, lying = order[one], turned[one]
    way = 1 if one < two else -1
    for step in range(one, two, way):
        order[step], turned[step] = order[step + way], turned[step + way]
    order[two], turned[two] = item, lying


@inner
def _one_that_is_out(at: Ints, count: int, rng: Words) -> int:
    """A step that found no place, drawn from them all; there is one."""
    out = 0
    for step in range(count):
        out += at[step] < 0
    number = below(rng, out)
    for step in range(count):
        if at[step] < 0:
            if number == 0:
                return step
            number -= 1
    return -1


@inner
def propose(order: Ints, at: Ints, may_turn: Ints, rng: Words) -> tuple[np.int64, int, int]:
    """A change of an order of two or more, of which something is out: its kind, and two steps that it is about."""
    drawn = draw(rng)
    if drawn < _BRINGS:
        one = _one_that_is_out(at, order.size, rng)
        return MOVE, one, below(rng, one + 1)
    one = below(rng, order.size)
    if drawn < _TURNS and may_turn[order[one]]:
        return TURN, one, one
    two = below(rng, order.size - 1)
    two += two >= one
    return (MOVE if drawn < _MOVES else SWAP), one, two


@inner
def change(order: Ints, turned: Ints, kind: np.int64, one: int, two: int) -> None:
    """Make a proposed change."""
    if kind == TURN:
        turned[one] = 1 - turned[one]
    elif kind == MOVE:
        move(order, turned, one, two)
    else:
        order[one], order[two] = order[two], order[one]
        turned[one], turned[two] = turned[two], turned[one]


@compiled
def search(
    free: Words,
    cols: Ints,
    rows: Ints,
    may_turn: Ints,
    order: Ints,
    turned: Ints,
    work: Ints,
    most_tries: int,
    rng: Words,
) -> tuple[int, int]:
    """Pack, and change the order until everything is in or the tries are used up; see the module.

    Returns:
        area that stayed out, in cells, and packings made.
    """
    count = order.size
    now, tried = work[:_TRIED_ORDER], work[_TRIED:]
    new_order, new_turned = work[_TRIED_ORDER, :count], work[_TRIED_TURNED, :count]
    now[_LEFT, 0] = now[_LOW, 0] = 0
    pack_from(free, cols, rows, may_turn, order, turned, now, _START, _NO_LIMIT)
    tries = 1
    while count > 1 and now[_LEFT, count] > 0 and tries < most_tries:
        tries += 1
        for step in range(count):
            new_order[step], new_turned[step] = order[step], turned[step]
        kind, one, two = propose(order, now[AT], may_turn, rng)
        change(new_order, new_turned, kind, one, two)
        first = min(one, two)
        tried[_LEFT, first], tried[_LOW, first] = now[_LEFT, first], now[_LOW, first]
        lift(free, cols, rows, order, now[AT], now[LIES], first, count)
        stop = pack_from(free, cols, rows, may_turn, new_order, new_turned, tried, first, now[_LEFT, count])
        if stop < count:
            lift(free, cols, rows, new_order, tried[AT], tried[LIES], first, stop)
            lift(free, cols, rows, order, now[AT], now[LIES], first, count)
            continue
        for step in range(first, count):
            order[step], turned[step] = new_order[step], new_turned[step]
            now[AT, step], now[LIES, step] = tried[AT, step], tried[LIES, step]
            now[_LEFT, step + 1], now[_LOW, step + 1] = tried[_LEFT, step + 1], tried[_LOW, step + 1]
    return now[_LEFT, count], tries
