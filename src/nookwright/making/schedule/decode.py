"""From an order of bedfuls to a schedule, quickly: thousands of orders are tried, so all that can be is looked up."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from nookwright.ground.sources import Fact, Kind
from nookwright.ground.times import MINUTE_S
from nookwright.making.schedule.gates import dried
from nookwright.making.schedule.model import Slot
from nookwright.survey.making_wishes import Order

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from nookwright.making.schedule.model import Bedful
    from nookwright.making.schedule.spans import Spans
    from nookwright.making.schedule.starts import Starts

MINUTES_A_GRAM = Fact(
    1.0,
    unit="min/g",
    kind=Kind.CHOICE,
    source="A gram at risk in a night counts as a space that is ready a minute later.",
)
MINUTES_A_CHANGE = Fact(
    20.0, unit="min", kind=Kind.CHOICE, source="A change of filament: a few grams purged and a chance of a jam."
)
END = Fact(10.0, unit="1", kind=Kind.CHOICE, source="The end goes before what else counts, by ten to one.")
ENDS = Fact(2.0, unit="1", kind=Kind.CHOICE, source="Other printers that end early can take over; tried with 0 and 2.")


class Put(NamedTuple):
    """A bedful as an order puts it: the minutes of its work, its begin and its end; see ``Slot``."""

    work: int
    begin: int
    end: int
    printer: str
    bedful: str
    changes: bool


class _Begins(NamedTuple):
    """When a change of bed may begin, as two columns, and how long it takes."""

    firsts: tuple[int, ...]
    ends: tuple[int, ...]
    work: int


@dataclass(frozen=True)
class _Known:
    """What is looked up of a bedful on a printer."""

    run: int
    ready: int
    material: str
    same: _Begins
    other: _Begins


@dataclass(frozen=True)
class Worth:
    """How good a schedule is; less is better.

    Attributes:
        end: minute at which the last print ends.
        rest: what counts among schedules of one end, in minutes.
        pull: what leads an exchange towards an earlier end, in minutes; it counts printers that end early too.
    """

    end: int
    rest: float
    pull: float

    @property
    def rank(self) -> tuple[int, float]:
        """Less is better: the end before all else."""
        return self.end, self.rest


class Decoder:
    """Makes a schedule of an order: always the printer that can begin first is served next."""

    def __init__(self, bedfuls: Mapping[str, Bedful], starts: Starts, begin: int, loaded: Mapping[str, str]) -> None:
        self.bedfuls, self.starts, self.begin, self.loaded = bedfuls, starts, begin, loaded
        ready = dried(starts, begin)
        self._known = {
            (one.id, way.printer): _Known(
                run=starts.run(one, way.printer),
                ready=ready.get(one.material, begin),
                material=one.material,
                same=self._begins(one, way.printer, change=False),
                other=self._begins(one, way.printer, change=True),
            )
            for one in bedfuls.values()
            for way in one.ways
            if way.printer in starts.hours
        }
        self._nights = {name: _columns(hours.nights) for name, hours in starts.hours.items()}
        self._spaces = {one.id: one.spaces for one in bedfuls.values()}
        self._risk = {one.id: MINUTES_A_GRAM * one.mass_g for one in bedfuls.values()}

    def _begins(self, bedful: Bedful, printer: str, *, change: bool) -> _Begins:
        spans = self.starts.at(bedful, printer, change=change)
        return _Begins(*_columns(spans), self.starts.work(printer, change=change))

    def puts(self, order: Mapping[str, Sequence[str]]) -> list[Put] | None:
        """Where an order puts its bedfuls, in order of time; ``None`` where the hours end before."""
        found: list[Put] = []
        at = dict.fromkeys(order, 0)
        free = dict.fromkeys(order, self.begin)
        loaded = {printer: self.loaded.get(printer, "") for printer in order}
        waiting: dict[str, Put] = {}
        people = self.starts.rules.people
        open_printers = [printer for printer, names in order.items() if names]
        while open_printers:
            for printer in open_printers:
                if printer not in waiting:
                    put = self._put(order[printer][at[printer]], printer, free[printer], loaded[printer])
                    if put is None:
                        return None
                    waiting[printer] = put
            put = min(waiting.values())
            printer = put.printer
            del waiting[printer]
            busy = [one.begin for one in found[-2 * people :] if one.begin > put.work and one.work < put.begin]
            if len(busy) >= people:
                free[printer] = min(busy)
                continue
            found.append(put)
            at[printer] += 1
            free[printer] = put.end
            loaded[printer] = self._known[put.bedful, printer].material
            if at[printer] == len(order[printer]):
                open_printers.remove(printer)
        return found

    def _put(self, name: str, printer: str, free: int, loaded: str) -> Put | None:
        """A bedful as early as it can go on a printer."""
        known = self._known[name, printer]
        changes = known.material != loaded
        firsts, ends, minutes = known.other if changes else known.same
        work = max(free, known.ready)
        at = bisect_right(firsts, work) - 1
        if at < 0 or work >= ends[at]:
            if at + 1 >= len(firsts):
                return None
            work = firsts[at + 1]
        begin = work + minutes
        return Put(work, begin, begin + known.run, printer, name, changes)

    def worth(self, puts: Sequence[Put]) -> Worth:
        """How good a schedule is."""
        rest = 0.0
        ends: dict[str, int] = {}
        ready: dict[str, int] = {}
        for put in puts:
            ends[put.printer] = put.end
            if put.changes:
                rest += MINUTES_A_CHANGE
            firsts, stops = self._nights[put.printer]
            at = bisect_right(stops, put.begin)
            if at < len(firsts) and firsts[at] < put.end:
                rest += self._risk[put.bedful]
            for space in self._spaces[put.bedful]:
                ready[space] = max(ready.get(space, 0), put.end)
        if self.starts.rules.order is Order.SPACES:
            rest += sum(ready.values())
        end = max(ends.values(), default=self.begin)
        return Worth(end, rest, END * end + ENDS * sum(ends.values()) + rest)

    def slots(self, puts: Sequence[Put]) -> tuple[Slot, ...]:
        """The same as slots, in order of time."""
        return tuple(
            sorted(
                slot_at(self.bedfuls[put.bedful], self.starts, put.printer, put[:3], changes=put.changes)
                for put in puts
            )
        )


def _columns(spans: Spans) -> tuple[tuple[int, ...], tuple[int, ...]]:
    return tuple(first for first, _ in spans), tuple(end for _, end in spans)


def slot_at(bedful: Bedful, starts: Starts, printer: str, at: tuple[int, int, int], *, changes: bool) -> Slot:
    """A slot of a bedful whose minutes are known.

    Args:
        bedful: which.
        starts: hours and rules.
        printer: id of the printer.
        at: minutes of its work, its begin and its end.
        changes: whether the filament is changed.
    """
    work, begin, end = at
    likely = min(end, begin + max(1, -int(-bedful.on(printer).likely_s // MINUTE_S)))
    return Slot(work, begin, likely, end, printer, bedful.id, changes, starts.at_night(begin, end, printer))
