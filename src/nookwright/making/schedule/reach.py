# ruff: noqa: C901, PLR0912, PLR0915, PLR0917 - nopython functions hand arrays on by position, and calls cost time
"""From prices to a schedule of one printer: bedfuls one after another, along the most promising beginnings only.

Importing this module loads numba. ``ahead`` says what the rest of a printer's hours is worth at most from each minute
on; a beginning whose own prices and that do not reach the sum of all prices cannot be completed, and is dropped. Of
those that print the same bedfuls, or nearly the same, the one with the most to spare is kept, and of all in one step
those with the most to spare.

Source of the method: P. S. Ow, T. E. Morton, Filtered beam search in scheduling, Int. J. Production Research 26 (1988).
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import numpy as np

from nookwright.layout.packing.compiled import compiled, inner

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from nookwright.making.schedule.passage import Classes

    Ints = NDArray[np.int64]
    Words = NDArray[np.uint64]

_NOT: Final = -1
_NEVER: Final = 1 << 60


@compiled
def ahead(classes: Classes, prices: Ints, begin: int, worth: Ints) -> None:
    """The highest sum of prices from each minute on, for each material that is loaded then."""
    materials, minutes = worth.shape
    many = classes.takes.shape[0]
    span = np.zeros((many, 2), np.int64)
    for one in range(many):
        for change in range(2):
            row = classes.row[one, change]
            span[one, change] = classes.at[row + 1] - 1 if row >= 0 else _NOT
    worth[:, minutes - 1] = 0
    best = np.zeros(materials, np.int64)
    for minute in range(minutes - 2, begin - 1, -1):
        for kind in range(materials):
            best[kind] = worth[kind, minute + 1]
        for one in range(many):
            mine = classes.material[one]
            if minute < classes.ready[one]:
                continue
            for change in range(2):
                row = classes.row[one, change]
                end = minute + classes.takes[one, change]
                if row < 0 or end > classes.by[one] or end >= minutes:
                    continue
                number = span[one, change]
                while number >= classes.at[row] and classes.first[number] > minute:
                    number -= 1
                span[one, change] = number
                if number < classes.at[row] or classes.end[number] <= minute:
                    continue
                value = prices[one] + worth[mine, end]
                if change == 0:
                    best[mine] = max(best[mine], value)
                else:
                    for kind in range(materials):
                        if kind != mine:
                            best[kind] = max(best[kind], value)
        for kind in range(materials):
            worth[kind, minute] = best[kind]


@inner
def _start(classes: Classes, one: int, change: int, minute: int) -> int:
    """The first minute from one on at which a bedful of a class may begin."""
    row = classes.row[one, change]
    if row < 0:
        return _NEVER
    minute = max(minute, classes.ready[one])
    low, high = classes.at[row], classes.at[row + 1]
    stop = high
    while low < high:
        middle = (low + high) // 2
        if classes.end[middle] > minute:
            high = middle
        else:
            low = middle + 1
    return max(minute, classes.first[low]) if low < stop else _NEVER


@compiled
def reach(
    classes: Classes,
    prices: Ints,
    counts: Ints,
    marks: Words,
    loaded: int,
    begin: int,
    worth: Ints,
    wide: int,
    row: Ints,
) -> int:
    """Find an order that ends in time: 1 if one was found, else 0.

    Args:
        classes: of bedfuls.
        prices: of each.
        counts: bedfuls of each.
        marks: a random word for each, from which sets of them are known again; one for all that count as the same.
        loaded: material at first.
        begin: minute at which they may begin.
        worth: see ``ahead``; its last minute is the time.
        wide: how many beginnings are kept in a step.
        row: the order, by class.
    """
    many, steps, minutes = counts.size, counts.sum(), worth.shape[1]
    total = (prices * counts).sum()
    most = wide * many
    left, next_left = np.zeros((wide, many), np.int16), np.zeros((wide, many), np.int16)
    at, kind = np.zeros(wide, np.int64), np.zeros(wide, np.int64)
    value, key = np.zeros(wide, np.int64), np.zeros(wide, np.int64)
    marked = np.zeros(wide, np.uint64)
    parent, chosen = np.zeros((steps, wide), np.int32), np.zeros((steps, wide), np.int16)
    new_at, new_value = np.zeros(most, np.int64), np.zeros(most, np.int64)
    new_from, new_one = np.zeros(most, np.int64), np.zeros(most, np.int64)
    new_spare, new_mark = np.zeros(most, np.int64), np.zeros(most, np.uint64)
    left[0, :] = counts
    at[0], kind[0], size = begin, loaded, 1
    for step in range(steps):
        found = 0
        for label in range(size):
            for one in range(many):
                if left[label, one] == 0:
                    continue
                change = 0 if kind[label] == classes.material[one] else 1
                start = _start(classes, one, change, at[label])
                if start >= _NEVER:
                    continue
                end = start + classes.takes[one, change]
                if end > classes.by[one] or end >= minutes:
                    continue
                spare = value[label] + prices[one] + worth[classes.material[one], end] - total
                if spare < 0:
                    continue
                new_at[found], new_value[found] = end, value[label] + prices[one]
                new_from[found], new_one[found], new_spare[found] = label, one, spare
                new_mark[found] = (marked[label] + marks[one]) * np.uint64(31) + np.uint64(classes.material[one])
                found += 1
        if found == 0:
            return 0
        size = 0
        by_mark = np.argsort(new_mark[:found])
        best = np.zeros(found, np.bool_)
        first = 0
        while first < found:  # of those that print the same the one with the most to spare
            top, stop = by_mark[first], first
            while stop < found and new_mark[by_mark[stop]] == new_mark[by_mark[first]]:
                other = by_mark[stop]
                if new_spare[other] > new_spare[top] or (new_spare[other] == new_spare[top] and other < top):
                    top = other
                stop += 1
            best[top] = True
            first = stop
        kept = np.flatnonzero(best)
        if kept.size > wide:
            order = np.argsort(-new_spare[kept], kind="mergesort")
            kept = kept[order[:wide]]
        for number in kept:
            label, one = new_from[number], new_one[number]
            next_left[size, :] = left[label, :]
            next_left[size, one] -= 1
            key[size], parent[step, size], chosen[step, size] = number, label, one
            size += 1
        marks_before = marked.copy()
        for label in range(size):
            number = key[label]
            at[label], value[label] = new_at[number], new_value[number]
            kind[label] = classes.material[new_one[number]]
            marked[label] = marks_before[new_from[number]] + marks[new_one[number]]
        left, next_left = next_left, left
    label = 0
    for other in range(size):
        if at[other] < at[label]:
            label = other
    for step in range(steps - 1, -1, -1):
        row[step] = chosen[step, label]
        label = parent[step, label]
    return 1
