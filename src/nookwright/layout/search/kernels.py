"""The innermost loops of the search, compiled: packing one space on bit rows, and annealing on packed spaces.

Everything is drawn from one word of state that is handed in, so the same call gives the same answer anywhere. Every
change that is accepted has been packed: at any time nothing overlaps, nothing is over a load, nothing stands where it
may not. What it does not know: clocks, names, reasons.
"""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np
from numba import njit

_compiled = njit(cache=True, nogil=True, error_model="numpy")
_inlined = njit(cache=True, nogil=True, error_model="numpy", inline="never")

_DE_BRUIJN = np.uint64(0x03F79D71B4CB0A89)
_BIT_AT = np.zeros(64, dtype=np.int64)
for _bit in range(64):
    _BIT_AT[((1 << _bit) * int(_DE_BRUIJN) & ((1 << 64) - 1)) >> 58] = _bit

ONE = np.uint64(1)
ZERO = np.uint64(0)


class State(NamedTuple):
    """A packed layout that the kernels change in place, and what they need to change it."""

    chosen: Any  # candidate of each lot; -1 for none
    space: Any  # space of each lot; -1 for none
    col: Any  # where it lies, in the words of its space
    row: Any
    turned: Any  # whether it lies turned, as the words have it
    count: Any  # lots in each space
    order: Any  # they, in the order that packed them last
    free: Any  # free words of each space
    area: Any  # cells taken in each space
    mass_g: Any  # mass in each space
    room: Any  # cells that each space may be filled with
    random: Any  # one word
    spent: Any  # what was tried for sets of footprints: key, tries
    tally: Any  # moves, packings asked for, tries, packings found, sets refused from memory


@_compiled
def draw(random):
    """A random word; the state moves on (xorshift64*, after Vigna 2016)."""
    x = random[0]
    x ^= x >> np.uint64(12)
    x ^= x << np.uint64(25)
    x ^= x >> np.uint64(27)
    random[0] = x
    return x * np.uint64(2685821657736338717)


@_compiled
def share(random):
    """A random number from 0 up to 1."""
    return float(draw(random) >> np.uint64(11)) * (1.0 / 9007199254740992.0)


@_compiled
def below(random, count):
    """A random whole number below a count."""
    return np.int64(((draw(random) >> np.uint64(32)) * np.uint64(count)) >> np.uint64(32))


@_compiled
def find(free, height, wide, deep):
    """The lowest, then left-most place of a footprint in free words; row * 64 + column, or -1."""
    for row in range(height - deep + 1):
        bits = free[row]
        if bits == ZERO:
            continue
        for k in range(1, deep):
            bits &= free[row + k]
            if bits == ZERO:
                break
        if bits == ZERO:
            continue
        left, step = wide - 1, 1
        while left > 0:
            move = min(step, left)
            bits &= bits >> np.uint64(move)
            left -= move
            step += move
        if bits != ZERO:
            low = bits & (~bits + ONE)
            return row * 64 + _BIT_AT[(low * _DE_BRUIJN) >> np.uint64(58)]
    return -1


@_compiled
def cover(free, col, row, wide, deep):
    """Take the cells of a rectangle, or give them back: they change sides."""
    bits = ((ONE << np.uint64(wide)) - ONE) << np.uint64(col)
    for k in range(row, row + deep):
        free[k] ^= bits


@_compiled
def decode(height, n, sizes, order, lies, start, before, left_before, limit, at, lying):
    """Pack in an order from a step on; the area that stays out, or -1 once it is over the limit.

    ``before`` holds the free words before each step, ``left_before`` the area left out so far; both are written on.
    """
    left = left_before[start]
    for step in range(start, n):
        free = before[step + 1]
        for k in range(height):
            free[k] = before[step, k]
        item = order[step]
        turn = lies[item]
        wide, deep = sizes[item, 0], sizes[item, 1]
        if turn:
            wide, deep = deep, wide
        spot = find(free, height, wide, deep)
        if spot < 0 and sizes[item, 2] and wide != deep:
            turn = not turn
            wide, deep = deep, wide
            spot = find(free, height, wide, deep)
        at[step] = spot
        lying[step] = turn
        if spot < 0:
            left += wide * deep
            if left > limit:
                return -1
        else:
            cover(free, spot & 63, spot >> 6, wide, deep)
        left_before[step + 1] = left
    return left


@_compiled
def search_orders(base, height, n, sizes, order, lies, tries, random, work, at, lying):
    """Change an order until everything is in or the tries are used up; says how many tries, negative if it failed.

    ``order``, ``lies``, ``at`` and ``lying`` hold the best packing found.
    """
    before, other_before, lefts, other_lefts, other_order, other_lies, other_at, other_lying = work
    total = 0
    for item in range(n):
        total += sizes[item, 0] * sizes[item, 1]
    for k in range(height):
        before[0, k] = base[k]
    lefts[0] = 0
    best = decode(height, n, sizes, order, lies, 0, before, lefts, total, at, lying)
    used = 1
    while best > 0 and used < tries:
        kind = share(random)
        one = below(random, n)
        turned_item = -1
        for k in range(n):
            other_order[k] = order[k]
        if kind < 0.15:
            k = below(random, n)
            while at[k] >= 0:
                k = k + 1 if k + 1 < n else 0
            one = k
            two = below(random, one + 1)
            item = other_order[one]
            for k in range(one, two, -1):
                other_order[k] = other_order[k - 1]
            other_order[two] = item
            start = two
        elif kind < 0.35:
            item = order[one]
            if not sizes[item, 2] or sizes[item, 0] == sizes[item, 1]:
                continue
            turned_item = item
            lies[item] = not lies[item]
            start = one
        else:
            two = below(random, n)
            if one == two:
                continue
            if kind < 0.7:
                item = other_order[one]
                if one > two:
                    for k in range(one, two, -1):
                        other_order[k] = other_order[k - 1]
                else:
                    for k in range(one, two):
                        other_order[k] = other_order[k + 1]
                other_order[two] = item
            else:
                other_order[one], other_order[two] = other_order[two], other_order[one]
            start = min(one, two)
        used += 1
        for k in range(height):
            other_before[start, k] = before[start, k]
        other_lefts[start] = lefts[start]
        left = decode(height, n, sizes, other_order, lies, start, other_before, other_lefts, best, other_at, other_lying)
        if left < 0:
            if turned_item >= 0:
                lies[turned_item] = not lies[turned_item]
            continue
        best = left
        for step in range(start, n):
            order[step] = other_order[step]
            at[step] = other_at[step]
            lying[step] = other_lying[step]
            lefts[step + 1] = other_lefts[step + 1]
            for k in range(height):
                before[step + 1, k] = other_before[step + 1, k]
    return used if best == 0 else -used
