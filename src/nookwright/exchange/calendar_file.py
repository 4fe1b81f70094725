"""A schedule as iCalendar (RFC 5545), for any calendar: one event a bedful, one for what is bought, one for drying.

Times are floating, as the RFC calls those of the clock on the wall: they mean the same hour wherever the calendar is
read. An event keeps its UID when the schedule is made anew, so that it moves instead of being doubled; its stamp is
the beginning of the schedule, not the clock, so that the same schedule gives the same bytes. Events are transparent:
a printer that runs does not make a person busy.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime
from typing import TYPE_CHECKING

from nookwright.ground.digest import digest
from nookwright.ground.times import MINUTE_S
from nookwright.making.schedule.hours import moment

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from icalendar import Event

    from nookwright.making.drying import Drying
    from nookwright.making.schedule.model import Bedful, Schedule, Slot
    from nookwright.making.spools import Purchase, SpoolPlan

PRODUCT = "-//nookwright//schedule//EN"
_UID_DIGITS = 24  # of 64: enough that no two events of a calendar share one


@dataclass(frozen=True)
class Names:
    """What people call things, by id; what has no name keeps its id."""

    room: str
    printers: Mapping[str, str]
    materials: Mapping[str, str]
    spaces: Mapping[str, str]

    def printer(self, name: str) -> str:
        """A printer."""
        return self.printers.get(name) or name

    def material(self, name: str) -> str:
        """A material."""
        return self.materials.get(name) or name

    def space(self, name: str) -> str:
        """A space."""
        return self.spaces.get(name) or name


def calendar_bytes(
    schedule: Schedule,
    bedfuls: Mapping[str, Bedful],
    names: Names,
    *,
    spools: SpoolPlan | None = None,
    drying: Iterable[Drying] = (),
) -> bytes:
    """The calendar of a schedule that has dates.

    Args:
        schedule: with a first day of the calendar.
        bedfuls: by id.
        names: for people.
        spools: which spool each bedful is printed from, and what must be bought.
        drying: what goes into the dryer when.

    Raises:
        ValueError: the schedule has no dates.
    """
    if not schedule.dated:
        raise ValueError("A schedule without dates has no calendar; give [making] a start in the room file.")
    from icalendar import Calendar

    calendar = Calendar()
    calendar.add("prodid", PRODUCT)
    calendar.add("version", "2.0")
    calendar.add("name", f"Printing: {names.room}")
    for slot in schedule.slots:
        calendar.add_component(_bedful(slot, schedule, bedfuls, names, spools))
    for purchase in spools.purchases if spools else ():
        calendar.add_component(_purchase(purchase, schedule, names))
    for one in drying:
        calendar.add_component(_drying(one, schedule, names))
    return bytes(calendar.to_ical())


def _event(schedule: Schedule, names: Names, key: str, *, begin: datetime, end: datetime, summary: str) -> Event:
    """An event with what every event has."""
    from icalendar import Event

    event = Event()
    event.add("uid", f"{digest(f'{names.room}/{key}'.encode())[:_UID_DIGITS]}@nookwright.invalid")
    event.add("dtstamp", moment(schedule.first, schedule.begin).replace(tzinfo=UTC))
    event.add("dtstart", begin)
    event.add("dtend", end)
    event.add("summary", summary)
    event.add("transp", "TRANSPARENT")
    return event


def _bedful(
    slot: Slot, schedule: Schedule, bedfuls: Mapping[str, Bedful], names: Names, spools: SpoolPlan | None
) -> Event:
    """One bedful, from the change of the bed to its latest end."""
    bedful = bedfuls[slot.bedful]
    begin, end = moment(schedule.first, slot.work), moment(schedule.first, slot.end)
    minutes = round(bedful.on(slot.printer).likely_s / MINUTE_S)
    summary = f"{names.printer(slot.printer)}: load {bedful.id}, {names.material(bedful.material)}, {spell(minutes)}"
    event = _event(schedule, names, bedful.id, begin=begin, end=end, summary=summary)
    event.add("description", "\n".join(_lines(slot, schedule, bedful, names, spools)))
    event.add("categories", [names.printer(slot.printer)])
    return event


def _lines(slot: Slot, schedule: Schedule, bedful: Bedful, names: Names, spools: SpoolPlan | None) -> Iterable[str]:
    """What a person wants to know at the printer."""
    spool = spools.spool_of(bedful.id) if spools else ""
    change = ", change the filament" if slot.changes else ""
    yield f"Clean the bed{change}, start {bedful.id}: {slot.begin - slot.work} min of work."
    yield f"Filament: {names.material(bedful.material)}, {bedful.mass_g:.0f} g{f', spool {spool}' if spool else ''}."
    likely, end = moment(schedule.first, slot.likely), moment(schedule.first, slot.end)
    yield f"Ends about {likely:%H:%M}, at the latest {end:%a %H:%M}."
    if bedful.spaces:
        yield f"For: {', '.join(map(names.space, bedful.spaces))}."
    after = next((one for one in schedule.slots if one.printer == slot.printer and one.work >= slot.end), None)
    if after:
        begin = moment(schedule.first, after.work)
        yield f"Next on this printer: {after.bedful}, {begin:%a %H:%M}."
    else:
        yield "The last on this printer."


def _purchase(purchase: Purchase, schedule: Schedule, names: Names) -> Event:
    """What must be there by a day."""
    by = moment(schedule.first, purchase.by)
    count = f"{purchase.spools} spool{'s' if purchase.spools > 1 else ''} of {purchase.spool_g:.0f} g"
    summary = f"Have by now: {count}, {names.material(purchase.material)}, of one batch"
    event = _event(schedule, names, f"buy {purchase.material}", begin=by, end=by, summary=summary)
    event.add("categories", ["filament"])
    return event


def _drying(one: Drying, schedule: Schedule, names: Names) -> Event:
    """What goes into the dryer."""
    begin, end = moment(schedule.first, one.begin), moment(schedule.first, one.end)
    summary = f"Dry {names.material(one.material)} for {one.bedful}"
    event = _event(schedule, names, f"dry {one.material}", begin=begin, end=end, summary=summary)
    event.add("categories", ["filament"])
    return event


def spell(minutes: int) -> str:
    """Minutes as people say them.

    >>> spell(45), spell(200), spell(120)
    ('45 min', '3 h 20 min', '2 h')
    """
    hours, rest = divmod(minutes, 60)
    return " ".join([f"{hours} h"] * bool(hours) + [f"{rest} min"] * bool(rest or not hours))
