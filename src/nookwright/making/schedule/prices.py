"""How early any schedule could end, by prices: a bound that is close where someone is seldom there.

Each bedful gets a price. On each printer the most valuable way through its hours is sought, in which a bedful may be
printed as often as one likes; that is an easier task, and is solved exactly. Where not even these ways are together
worth all prices, nothing that prints each bedful once can end by then. Prices of bedfuls that the ways print too often
fall, of others they rise, and the bound with them.

Source of the method: L. A. Wolsey, Integer Programming (1998), chapter 10; the way is a shortest path in a network of
times, as in J. M. van den Akker, C. A. J. Hurkens, M. W. P. Savelsbergh, Time-indexed formulations for machine
scheduling problems: column generation, INFORMS J. Computing 12 (2000).
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import count as count_up
from typing import TYPE_CHECKING

import numpy as np

from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from numpy.typing import NDArray

    from nookwright.making.schedule.passage import Classes, Found
    from nookwright.making.schedule.tables import Tables

    Ints = NDArray[np.int64]
    Floats = NDArray[np.float64]

GRAIN = Fact(
    256, unit="1", kind=Kind.CHOICE, source="Prices are whole numbers, of so many to the minute, so sums are exact."
)
STRIDE = Fact(0.2, unit="1", kind=Kind.MEASURED, source="First change of prices: of 0.03 to 1 the best on the demo.")
SLOWER = Fact(10.0, unit="1", kind=Kind.MEASURED, source="After so many changes they are half as large.")
INERTIA = Fact(0.6, unit="1", kind=Kind.MEASURED, source="Share of the direction of the change before.")


@dataclass(frozen=True)
class _Kinds:
    """Bedfuls that are alike, as all printers see them."""

    count: Ints
    minutes: Ints
    lanes: tuple[tuple[Classes, Ints, int], ...]  # of each printer: its classes, their numbers, what it has loaded
    materials: int


def bound_by_prices(
    tables: Tables, begin: int, *, end: int, bound: int, passed: int, by: Mapping[str, int] | None = None
) -> int:
    """The minute before which no schedule can end.

    Each printer is asked alone, for what it alone may print; then all together, where some bedfuls have a choice.

    Args:
        tables: bedfuls of one stage, each of which the hours allow.
        begin: minute at which they may begin.
        end: minute at which a schedule is known to end.
        bound: minute before which none can end, as far as is known.
        passed: how many minutes are passed, and bedfuls tried in them, at most.
        by: minute by which a bedful must have ended, by its id; those that have time are left out.
    """
    able = tables.columns.row[:, :, 1] >= 0
    alone = able.sum(axis=0) == 1
    groups = [(np.array([printer]), np.flatnonzero(able[printer] & alone)) for printer in range(len(able))]
    if not alone.all():
        groups.append((np.arange(len(able)), np.arange(able.shape[1])))
    groups = [(printers, some) for printers, some in groups if len(some)]
    for printers, some in groups:
        kinds = _kinds(tables, printers, some, end, by or {})
        bound = _raised(kinds, begin, end=end, bound=bound, passed=passed // len(groups))
    return min(bound, end)


def _raised(kinds: _Kinds, begin: int, *, end: int, bound: int, passed: int) -> int:
    """The bound that is reached by setting prices again and again."""
    from nookwright.making.schedule.passage import room_for

    rooms = [room_for(kinds.materials, end) for _ in kinds.lanes]
    prices: Floats = kinds.minutes * float(GRAIN)
    way = np.zeros(len(prices))
    for number in count_up():
        if bound >= end or passed <= 0:
            break
        least, counts, steps = _pass(kinds, np.maximum(np.rint(prices), 0).astype(np.int64), rooms, begin, end)
        bound, passed = max(bound, least), passed - steps
        way = INERTIA * way + (1 - INERTIA) * (kinds.count - counts)
        length = float(np.sqrt((way * way).sum()))
        if not length:
            break
        stride = STRIDE / (1 + number / SLOWER) * float(np.sqrt((prices * prices).mean()))
        prices = np.maximum(0.0, prices + stride / length * way)
    return bound


def _pass(kinds: _Kinds, prices: Ints, rooms: Sequence[Found], begin: int, end: int) -> tuple[int, Ints, int]:
    """The bound by some prices, how often each class is on the ways that reach their sum, and the steps it took."""
    from nookwright.making.schedule.passage import count, passage

    total, steps = int((prices * kinds.count).sum()), 0
    reached = np.zeros(end + 1, np.int64)
    for (classes, mine, loaded), room in zip(kinds.lanes, rooms, strict=True):
        steps += passage(classes, prices[mine], loaded, begin, room) + room.worth.size
        reached += room.worth.max(axis=0)
    least = int(np.searchsorted(reached[begin:], total)) + begin
    counts = np.zeros(len(prices), np.int64)
    for (classes, mine, _), room in zip(kinds.lanes, rooms, strict=True):
        own = np.zeros(len(mine), np.int64)
        count(classes, begin, min(least, end), room, own)
        counts[mine] += own
    return least, counts, steps


def _kinds(tables: Tables, printers: Ints, some: Ints, end: int, by: Mapping[str, int]) -> _Kinds:
    """The classes of some bedfuls on some printers."""
    from nookwright.making.schedule.passage import Classes

    columns = tables.columns
    row, run = columns.row[np.ix_(printers, some)], columns.run[np.ix_(printers, some)]
    able, late = row[:, :, 1] >= 0, np.array([by.get(tables.bedfuls[one], end) for one in some], np.int64)
    keys = [*row[:, :, 0], *row[:, :, 1], *np.where(able, run, 0), columns.material[some], columns.ready[some], late]
    _, first, count = np.unique(np.stack(keys), axis=1, return_index=True, return_counts=True)
    lanes = []
    for place, printer in enumerate(printers):
        mine = np.flatnonzero(able[place, first])
        chosen = first[mine]
        classes = Classes(
            row=np.ascontiguousarray(row[place, chosen]),
            takes=run[place, chosen][:, None] + columns.work[printer][None, :],
            material=columns.material[some][chosen],
            ready=columns.ready[some][chosen],
            by=late[chosen],
            at=columns.at,
            first=columns.first,
            end=columns.end,
        )
        lanes.append((classes, mine, int(columns.loaded[printer])))
    takes = np.where(able, run + columns.work[printers, :1], np.iinfo(np.int64).max)
    return _Kinds(count, takes.min(axis=0)[first], tuple(lanes), int(columns.material.max(initial=0)) + 1)
