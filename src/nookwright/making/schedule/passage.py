# ruff: noqa: C901, PLR0912 - nopython functions hand arrays on by position, and calls cost time
"""The most valuable way through the hours of one printer: the innermost loop of ``prices``.

Importing this module loads numba. A printer is free at a minute with a filament loaded; from there it may wait, or
print a bedful of any class, however often, for that class's price. What is found for each minute is the highest sum of
prices with which it can be free by then.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, NamedTuple

import numpy as np

from nookwright.layout.packing.compiled import compiled, inner

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Ints = NDArray[np.int64]

_NOT: Final = -1  # cannot be so


class Classes(NamedTuple):
    """Bedfuls that are alike, as one printer sees them.

    Attributes:
        row: of spans, by class and whether the filament is changed; -1 where it cannot be.
        takes: minutes from the beginning of the change of bed to the end of the run, the same way.
        material: by class.
        ready: minute from which it may be printed, by class.
        by: minute by which it must have ended, by class.
        at, first, end: the spans, see ``tables``.
    """

    row: Ints
    takes: Ints
    material: Ints
    ready: Ints
    by: Ints
    at: Ints
    first: Ints
    end: Ints


class Found(NamedTuple):
    """What is found for each material and minute: the sum of prices, the class printed last, the material before it."""

    worth: Ints
    last: NDArray[np.int16]
    before: NDArray[np.int16]


def room_for(materials: int, horizon: int) -> Found:
    """Where ``passage`` writes."""
    shape = (materials, horizon + 1)
    return Found(np.zeros(shape, np.int64), np.zeros(shape, np.int16), np.zeros(shape, np.int16))


@inner
def _open(classes: Classes, span: Ints, opens: NDArray[np.bool_]) -> None:
    """Go to the first span of every row, and mark the minutes at which any begins."""
    for one in range(span.shape[0]):
        for change in range(2):
            row = classes.row[one, change]
            if row < 0:
                continue
            span[one, change] = classes.at[row]
            for number in range(classes.at[row], classes.at[row + 1]):
                minute = max(classes.first[number], classes.ready[one])
                if minute < opens.size:
                    opens[minute] = True


@compiled
def passage(classes: Classes, prices: Ints, loaded: int, begin: int, found: Found) -> int:
    """Find the highest sums of prices, minute by minute; returns how many steps it took."""
    worth, last, before = found
    materials, minutes = worth.shape
    worth[:] = _NOT
    worth[loaded, begin] = 0
    last[:, begin] = _NOT
    many = classes.takes.shape[0]
    span, opens = np.zeros((many, 2), np.int64), np.zeros(minutes, np.bool_)
    fresh = np.zeros(materials, np.bool_)
    _open(classes, span, opens)
    steps = 0
    for minute in range(begin, minutes):
        some = minute == begin or opens[minute]
        for kind in range(materials):
            fresh[kind] = minute == begin
            if minute > begin:
                if worth[kind, minute - 1] >= worth[kind, minute]:
                    worth[kind, minute], last[kind, minute] = worth[kind, minute - 1], _NOT
                else:
                    fresh[kind] = some = True
        if not some:
            continue
        steps += many
        for one in range(many):
            mine = classes.material[one]
            if minute < classes.ready[one]:
                continue
            for change in range(2):
                row = classes.row[one, change]
                if row < 0:
                    continue
                number, stop = span[one, change], classes.at[row + 1]
                while number < stop and classes.end[number] <= minute:
                    number += 1
                span[one, change] = number
                if number == stop or classes.first[number] > minute:
                    continue
                value, source, new = _NOT, _NOT, max(classes.first[number], classes.ready[one]) == minute
                for kind in range(materials):
                    if (kind == mine) != (change == 1):
                        new = new or fresh[kind]
                        if worth[kind, minute] > value:
                            value, source = worth[kind, minute], kind
                end = minute + classes.takes[one, change]
                if not new or source < 0 or end > classes.by[one] or end >= minutes:
                    continue
                steps += 1
                if value + prices[one] > worth[mine, end]:
                    worth[mine, end], last[mine, end], before[mine, end] = value + prices[one], one, source
    return steps


@compiled
def count(classes: Classes, begin: int, minute: int, found: Found, counts: Ints) -> None:
    """Count the bedfuls of each class on the way that is found for a minute."""
    worth, last, before = found
    kind = 0
    for other in range(worth.shape[0]):
        if worth[other, minute] > worth[kind, minute]:
            kind = other
    while minute > begin:
        one = last[kind, minute]
        if one < 0:
            minute -= 1
            continue
        counts[one] += 1
        source = before[kind, minute]
        minute -= classes.takes[one, 0 if source == kind else 1]
        kind = source
