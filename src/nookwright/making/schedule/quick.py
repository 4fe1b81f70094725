"""The instant answer: bedfuls put one after another, by a few simple rules of thumb, the best of which is kept.

Always the printer that can be started first is served next. What it gets differs by rule: the longest, the shortest,
the one after whose end somebody comes soonest, or short ones while someone is there and the longest before they leave.
Source of the method: R. L. Graham, Bounds on multiprocessing timing anomalies, SIAM J. Appl. Math. 17 (1969).
"""

from __future__ import annotations

from bisect import bisect_left, insort
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from nookwright.making.schedule.decode import slot_at
from nookwright.making.schedule.gates import dried
from nookwright.making.schedule.spans import first_from

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nookwright.making.schedule.model import Bedful, Slot
    from nookwright.making.schedule.starts import Starts


@dataclass(frozen=True)
class Option:
    """One bedful on one printer as early as it can go there.

    Attributes:
        bedful: which.
        slot: where it would be put.
        wait: minutes from its end until somebody comes.
        run: minutes of its run.
    """

    bedful: Bedful
    slot: Slot
    wait: int
    run: int


Preference = Callable[[Option], tuple[Any, ...]]


def _longest(option: Option) -> tuple[Any, ...]:
    return option.slot.changes, -option.run


def _shortest(option: Option) -> tuple[Any, ...]:
    return option.slot.changes, option.run


def _least_idle(option: Option) -> tuple[Any, ...]:
    """Least minutes in which the printer stands, for each minute that it runs."""
    return ((option.wait + option.slot.begin - option.slot.work) / option.run, -option.run)


def _by_hours(option: Option) -> tuple[Any, ...]:
    """Short ones while someone stays there, the longest before they leave."""
    return (option.wait > 0, option.slot.changes, option.run if not option.wait else -option.run)


def _fewest_ways(option: Option) -> tuple[Any, ...]:
    return (len(option.bedful.ways), *_least_idle(option))


def _light_at_night(option: Option) -> tuple[Any, ...]:
    return (option.bedful.mass_g if option.slot.night else 0.0, *_by_hours(option))


PREFERENCES: Mapping[str, Preference] = {
    "least idle": _least_idle,
    "by the hours": _by_hours,
    "longest": _longest,
    "shortest": _shortest,
    "fewest ways": _fewest_ways,
    "light at night": _light_at_night,
}


def quick_slots(
    bedfuls: Sequence[Bedful], starts: Starts, begin: int, loaded: Mapping[str, str]
) -> tuple[Slot, ...] | None:
    """The best schedule of all rules of thumb.

    Args:
        bedfuls: of one stage, each of which the hours allow.
        starts: when they may begin.
        begin: minute at which they may begin.
        loaded: material that each printer has loaded.

    Returns:
        The slots in order of time; ``None`` where the hours end before all is placed.
    """
    tried = (placed_by(rule, bedfuls, starts, begin, loaded) for rule in PREFERENCES.values())
    found = [slots for slots in tried if slots is not None]
    return min(found, key=lambda slots: (max((slot.end for slot in slots), default=0), slots), default=None)


def placed_by(
    rule: Preference, bedfuls: Sequence[Bedful], starts: Starts, begin: int, loaded: Mapping[str, str]
) -> tuple[Slot, ...] | None:
    """The schedule of one rule of thumb; for the rest see ``quick_slots``."""
    return _Placing(starts, begin, dict(loaded)).all(bedfuls, rule)


@dataclass
class _Placing:
    """A schedule while it grows."""

    starts: Starts
    begin: int
    loaded: dict[str, str]
    slots: list[Slot] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.works: list[tuple[int, Slot]] = []  # the slots by the beginning of their work
        self.longest = max((self.starts.work(name, change=True) for name in self.starts.hours), default=0)
        self.free = dict.fromkeys(self.starts.hours, self.begin)
        self.dried = dried(self.starts, self.begin)

    def all(self, bedfuls: Sequence[Bedful], rule: Preference) -> tuple[Slot, ...] | None:
        """Place all of them."""
        todo = list(bedfuls)
        while todo:
            option = self.next(todo, rule)
            if option is None:
                return None
            self.put(option)
            todo.remove(option.bedful)
        return tuple(sorted(self.slots))

    def next(self, todo: Sequence[Bedful], rule: Preference) -> Option | None:
        """What is placed next: on the printer that can begin first, the bedful that the rule likes best."""
        options = [
            option
            for printer in self.starts.hours
            for bedful in self.first_of(todo, printer)
            if (option := self.option(bedful, printer)) is not None
        ]
        if not options:
            return None
        soonest = min(options, key=lambda one: (one.slot.work, one.slot.printer)).slot
        here = [option for option in options if option.slot.printer == soonest.printer]
        return min(here, key=lambda one: (one.slot.work > soonest.work, *rule(one), one.bedful.id))

    def first_of(self, todo: Sequence[Bedful], printer: str) -> list[Bedful]:
        """The bedfuls that come first on a printer, by the order of spaces."""
        mine = [bedful for bedful in todo if any(way.printer == printer for way in bedful.ways)]
        least = min(map(self.starts.rules.rank, mine), default=0)
        return [bedful for bedful in mine if self.starts.rules.rank(bedful) == least]

    def option(self, bedful: Bedful, printer: str) -> Option | None:
        """A bedful on a printer as early as can be."""
        changes = bedful.material != self.loaded.get(printer, "")
        work = self.starts.work(printer, change=changes)
        allowed = self.starts.at(bedful, printer, change=changes)
        at: int | None = max(self.free[printer], self.dried.get(bedful.material, self.begin))
        while at is not None:
            at = first_from(allowed, at)
            later = at if at is None else self.hands_free(at, at + work)
            if at == later:
                break
            at = later
        if at is None:
            return None
        run, start = self.starts.run(bedful, printer), at + work
        slot = slot_at(bedful, self.starts, printer, (at, start, start + run), changes=changes)
        back = first_from(self.starts.hours[printer].there, slot.end)
        return Option(bedful, slot, (back - slot.end) if back is not None else 0, run)

    def hands_free(self, begin: int, end: int) -> int:
        """The first minute from the beginning on at which a change of so many minutes finds hands that are free."""
        low, high = (bisect_left(self.works, (minute,)) for minute in (begin - self.longest, end))
        busy = [slot for _, slot in self.works[low:high] if begin < slot.begin]
        if len(busy) < self.starts.rules.people:
            return begin
        return min(slot.begin for slot in busy)

    def put(self, option: Option) -> None:
        """Place one."""
        self.slots.append(option.slot)
        insort(self.works, (option.slot.work, option.slot))
        self.free[option.slot.printer] = option.slot.end
        self.loaded[option.slot.printer] = option.bedful.material
