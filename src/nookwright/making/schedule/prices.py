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

from dataclasses import dataclass, replace
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

TICK_MIN = Fact(5, unit="min", kind=Kind.MEASURED, source="Of the first clock; 10 proves as much on 333 bedfuls.")
ROUGHLY = Fact(0.6, unit="1", kind=Kind.MEASURED, source="Share of the passes that are made by it.")
GRAIN = Fact(
    256, unit="1", kind=Kind.CHOICE, source="Prices are whole numbers, of so many to the minute, so sums are exact."
)
STRIDE = Fact(0.2, unit="1", kind=Kind.MEASURED, source="First change of prices: of 0.03 to 1 the best on the demo.")
SLOWER = Fact(10.0, unit="1", kind=Kind.MEASURED, source="After so many changes they are half as large.")
INERTIA = Fact(0.6, unit="1", kind=Kind.MEASURED, source="Share of the direction of the change before.")
ALIKE = Fact(0.2, unit="1", kind=Kind.MEASURED, source="Share of the length; a tenth of the passes on many bedfuls.")
SHARPER = Fact(5.0, unit="1", kind=Kind.MEASURED, source="After so many changes only half as far.")


@dataclass(frozen=True)
class Kinds:
    """Bedfuls that are alike, as some printers see them.

    Attributes:
        count: of each kind that must be printed; 0 where it only may be.
        minutes: the least that one of it takes, its change of bed included.
        bedfuls: numbers of all that are of it.
        lanes: of each printer: its classes, the numbers of their kinds, what it has loaded.
        materials: how many there are.
    """

    count: Ints
    minutes: Ints
    bedfuls: tuple[tuple[int, ...], ...]
    lanes: tuple[tuple[Classes, Ints, int], ...]
    materials: int


@dataclass(frozen=True)
class Priced:
    """The minute before which no schedule of some bedfuls can end, and the prices that say so."""

    bound: int
    prices: Ints


def kinds_of(
    tables: Tables,
    printers: Sequence[int],
    some: Sequence[int],
    *,
    end: int,
    by: Mapping[str, int],
    others: Sequence[int] = (),
) -> Kinds:
    """The kinds of some bedfuls.

    Args:
        tables: of all bedfuls.
        printers: numbers of those that may print them; each bedful can be printed by one of them.
        some: numbers of the bedfuls.
        end: minute by which all must have ended.
        by: minute by which a bedful must have ended, by its id; those that have time are left out.
        others: numbers of bedfuls that may be printed besides; each can be printed by one of the printers.
    """
    from nookwright.making.schedule.passage import Classes

    columns, chosen = tables.columns, np.asarray([*some, *others], np.int64)
    asked = np.arange(len(chosen)) < len(some)
    them = np.asarray(printers, np.int64)
    row, run = columns.row[np.ix_(them, chosen)], columns.run[np.ix_(them, chosen)]
    able, late = row.max(axis=2) >= 0, np.array([by.get(tables.bedfuls[one], end) for one in chosen], np.int64)
    material, ready = columns.material[chosen], columns.ready[chosen]
    keys = np.stack([*row[:, :, 0], *row[:, :, 1], *np.where(able, run, 0), material, ready, late, asked])
    _, first, kind, count = np.unique(keys, axis=1, return_index=True, return_inverse=True, return_counts=True)
    lanes = []
    for place, printer in enumerate(printers):
        mine = np.flatnonzero(able[place, first])
        ones = first[mine]
        classes = Classes(
            row=np.ascontiguousarray(row[place, ones]),
            takes=run[place, ones][:, None] + columns.work[printer][None, :],
            material=material[ones],
            ready=ready[ones],
            by=late[ones],
            at=columns.at,
            first=columns.first,
            end=columns.end,
        )
        lanes.append((classes, mine, int(columns.loaded[printer])))
    takes = np.where(able, run + columns.work[them, :1], np.iinfo(np.int64).max)
    return Kinds(
        count=np.where(asked[first], count, 0),
        minutes=takes.min(axis=0)[first],
        bedfuls=tuple(tuple(int(one) for one in chosen[kind.reshape(-1) == at]) for at in range(len(count))),
        lanes=tuple(lanes),
        materials=int(columns.material.max(initial=0)) + 1,
    )


def priced(kinds: Kinds, begin: int, *, end: int, bound: int, passed: int) -> Priced:
    """Set prices again and again, and keep those that prove most.

    First by a clock of several minutes, which is so many times quicker; then by whole minutes, and that proof counts.

    Args:
        kinds: of bedfuls, each of which the hours allow.
        begin: minute at which they may begin.
        end: minute at which a schedule is known to end.
        bound: minute before which none can end, as far as is known.
        passed: how many minutes are passed, and bedfuls tried in them, at most.
    """
    prices = np.where(kinds.count > 0, kinds.minutes * float(GRAIN), 0.0)
    tick, number = int(TICK_MIN), 0
    if passed > 0 and end - begin > tick * len(prices):
        roughly = _coarse(kinds, tick)
        search = _Search(roughly, begin // tick, -(-end // tick), prices, number)
        search.go(int(passed * float(ROUGHLY)))
        prices, number = search.best.prices.astype(np.float64), search.number
        passed -= int(passed * float(ROUGHLY))
    search = _Search(kinds, begin, end, prices, number)
    search.go(passed, bound)
    return Priced(min(end, max(bound, search.best.bound)), search.best.prices)


class _Search:
    """Prices that are changed again and again, each time along what the ways print too often and too seldom."""

    def __init__(self, kinds: Kinds, begin: int, end: int, prices: Floats, number: int) -> None:
        """Begin with some prices.

        Args:
            kinds: of bedfuls.
            begin: minute at which they may begin.
            end: minute at which a schedule is known to end.
            prices: to begin with.
            number: of changes that were made before.
        """
        from nookwright.making.schedule.passage import room_for

        self.kinds, self.begin, self.end, self.prices, self.number = kinds, begin, end, prices, number
        self.rooms = [room_for(kinds.materials, end) for _ in kinds.lanes]
        self.way = np.zeros(len(prices))
        self.best = Priced(begin, _whole(prices))

    def go(self, passed: int, bound: int = 0) -> None:
        """Change prices until so much is passed, or no more can be proven.

        Args:
            passed: see ``priced``.
            bound: that is known already.
        """
        for made in count_up():
            if passed <= 0 or self.best.bound >= self.end or (made and bound >= self.end):
                break
            least, counts, steps = _pass(self.kinds, _whole(self.prices), self.rooms, self.begin, self.end)
            if least >= self.best.bound:  # of prices that prove the same, later ones say more of the rest
                self.best = Priced(least, _whole(self.prices))
            passed -= steps
            change = _shared(self.kinds, self.kinds.count - counts, ALIKE / (1 + self.number / SHARPER))
            self.way = INERTIA * self.way + (1 - INERTIA) * change
            length = float(np.sqrt((self.way * self.way).sum()))
            if not length:
                break
            stride = STRIDE / (1 + self.number / SLOWER) * float(np.sqrt((self.prices * self.prices).mean()))
            self.prices = np.maximum(0.0, self.prices + stride / length * self.way)
            self.number += 1


def _coarse(kinds: Kinds, tick: int) -> Kinds:
    """The same by a clock of several minutes: all times rounded so that nothing is lost that was possible."""
    lanes = []
    for classes, mine, loaded in kinds.lanes:
        rough = classes._replace(
            takes=np.maximum(1, classes.takes // tick),
            ready=classes.ready // tick,
            by=-(-classes.by // tick),
            first=classes.first // tick,
            end=-(-classes.end // tick),
        )
        lanes.append((rough, mine, loaded))
    return replace(kinds, lanes=tuple(lanes))


def bound_of_choice(tables: Tables, begin: int, *, end: int, bound: int, passed: int, by: Mapping[str, int]) -> int:
    """The minute before which no schedule can end, where bedfuls may be printed on one printer or another.

    All are asked together; then each printer alone, for what it alone may print. What others may print, too, it may
    still print there, for nothing: between two that it must print it may change the filament at a better time.

    Args:
        tables: bedfuls of one stage, each of which the hours allow.
        begin: minute at which they may begin.
        end: minute at which a schedule is known to end.
        bound: minute before which none can end, as far as is known.
        passed: see ``priced``; for all that is asked together.
        by: minute by which a bedful must have ended, by its id.
    """
    able, material = tables.columns.row.max(axis=2) >= 0, tables.columns.material
    alone = able.sum(axis=0) == 1
    groups = [(list(range(len(able))), np.arange(able.shape[1]), np.arange(0))]
    for printer, mine in enumerate(able):
        some = np.flatnonzero(mine & alone)
        if len(some):
            others = np.flatnonzero(mine & ~alone & np.isin(material, material[some]))
            groups.append(([printer], some, others))
    for printers, some, others in groups:
        kinds = kinds_of(tables, printers, some.tolist(), end=end, by=by, others=others.tolist())
        bound = priced(kinds, begin, end=end, bound=bound, passed=passed // len(groups)).bound
    return bound


def _shared(kinds: Kinds, change: Ints, width: float) -> Floats:
    """A change of prices, each shared with kinds that take nearly as long: early on they differ by chance alone.

    What need not be printed keeps its price of nothing.
    """
    asked = kinds.count > 0
    sizes = np.log(np.maximum(kinds.minutes, 1).astype(np.float64))
    near: Floats = np.exp(-0.5 * ((sizes[:, None] - sizes[None, :]) / width) ** 2)
    shared: Floats = asked * ((near / near.sum(axis=0)) @ (asked * change))
    return shared


def _whole(prices: Floats) -> Ints:
    return np.maximum(np.rint(prices), 0).astype(np.int64)


def _pass(kinds: Kinds, prices: Ints, rooms: Sequence[Found], begin: int, end: int) -> tuple[int, Ints, int]:
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
