"""The hours of a printer: when someone is there, when it may run, when it runs through a night with nobody there."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.ground.times import DAY_MIN, HOUR_MIN, read_clock, read_days, read_stretch
from nookwright.making.schedule.spans import Spans, both, gaps, joined, without
from nookwright.survey.making_wishes import Alone, Week, Weekday

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from nookwright.survey.making_wishes import Making
    from nookwright.survey.models import Printer

MOST_DAYS = Fact(400, unit="d", kind=Kind.CHOICE, source="What is not printed within a year is not planned.")
UNDATED = date(2001, 1, 1)  # a Monday, on which a schedule without dates begins


@dataclass(frozen=True)
class Beginning:
    """When a schedule begins: its first day, whether that is one of the calendar, and the minute of it."""

    first: date = UNDATED
    dated: bool = False
    minute: int = 0


UNDATED_MONDAY = Beginning()


@dataclass(frozen=True)
class Hours:
    """The hours of one printer, in minutes from midnight of the first day.

    Attributes:
        printer: id.
        name: for people.
        there: when someone is there to change its bed.
        runs: when it may run.
        nights: when it is night and nobody is there.
        setup_min: to take a bedful off, clean and start the next.
        change_min: more, to change the filament.
        power_w: mean, while it prints.
        loaded: material that it has loaded at first; empty if not known.
    """

    printer: str
    there: Spans
    runs: Spans
    nights: Spans = ()
    setup_min: int = 10
    change_min: int = 8
    power_w: float = field(default=120.0, compare=False)
    loaded: str = ""
    name: str = field(default="", compare=False)


def beginning_of(making: Making, printed: Iterable[str] = ()) -> Beginning:
    """When a schedule begins: as the room file says, but not on a day that is over.

    A print that is noted on a later day than the start shows that the start is past; then it begins the day after.

    Args:
        making: as the room file says it.
        printed: days on which something was printed, as 2026-03-05.
    """
    if making.start is None:
        return Beginning()
    text, _, clock = making.start.partition(" ")
    first = read_days(text)[0]
    last = max((date.fromisoformat(day) for day in printed), default=first)
    if last > first:
        return Beginning(last + timedelta(days=1), dated=True)
    return Beginning(first, dated=True, minute=read_clock(clock or "0:00"))


def hours_of(
    making: Making, printers: Sequence[Printer], begins: Beginning, *, days: int = int(MOST_DAYS)
) -> tuple[Hours, ...]:
    """The hours of every printer for so many days.

    Args:
        making: hours of the household.
        printers: with their own.
        begins: when the schedule begins.
        days: how many, from the first day of the schedule.
    """
    first, minute = begins.first, begins.minute
    begin, end = minute, days * int(DAY_MIN)
    away = joined(_away(making.away, first))
    night = _clipped(_daily(making.night, days), begin, end)
    return tuple(_hours(printer, making, (first, begin, end), away, night) for printer in printers)


def _hours(printer: Printer, making: Making, window: tuple[date, int, int], away: Spans, night: Spans) -> Hours:
    """The hours of one printer between two minutes."""
    first, begin, end = window
    running = printer.running
    away = joined((*away, *_away(running.away, first)))
    there = without(_clipped(_weekly(running.there or making.there, first, end), begin, end), away)
    nights = without(night, there)
    quiet = _weekly(running.quiet, first, end) if running.quiet else ()
    may = {
        Alone.NEVER: there,
        Alone.BY_DAY: gaps(nights, begin, end),
        Alone.ALWAYS: ((begin, end),),
    }[running.alone]
    return Hours(
        printer=printer.id,
        name=printer.name or printer.id,
        there=there,
        runs=without(may, joined((*quiet, *_away(running.away, first)))),
        nights=nights,
        setup_min=_whole(running.setup_min),
        change_min=_whole(running.colour_change_min),
        power_w=running.power_w,
        loaded=running.loaded or "",
    )


def _whole(minutes: float) -> int:
    """Whole minutes, rounded up; the last moment of one is not worth a decimal."""
    return -int(-minutes // 1)


def _weekly(week: Week, first: date, end: int) -> Spans:
    """The stretches of a week, day by day; the day before the first counts for what goes over midnight."""
    found = []
    days = tuple(Weekday)
    for number in range(-1, end // int(DAY_MIN) + 1):
        weekday = days[(first + timedelta(days=number)).weekday()]
        for stretch in week.on(weekday):
            start, stop = read_stretch(stretch)
            found.append((number * int(DAY_MIN) + start, number * int(DAY_MIN) + stop))
    return joined(found)


def _daily(stretch: str, days: int) -> Spans:
    start, stop = read_stretch(stretch)
    return joined((day * int(DAY_MIN) + start, day * int(DAY_MIN) + stop) for day in range(-1, days + 1))


def _away(days: Iterable[str], first: date) -> Spans:
    """Whole days on which nobody is there."""
    found = []
    for typed in days:
        begin, last = ((day - first).days * int(DAY_MIN) for day in read_days(typed))
        found.append((begin, last + int(DAY_MIN)))
    return joined(found)


def _clipped(spans: Spans, begin: int, end: int) -> Spans:
    return both(spans, ((begin, end),)) if begin < end else ()


def moment(first: date, minute: int) -> datetime:
    """The day and time of a minute of a schedule, by the clock on the wall.

    Args:
        first: the first day of the schedule.
        minute: counted from its midnight.
    """
    hour, rest = divmod(minute % int(DAY_MIN), int(HOUR_MIN))
    day = first + timedelta(days=minute // int(DAY_MIN))
    return datetime(day.year, day.month, day.day, hour, rest)  # noqa: DTZ001 - times of the wall have no zone
