"""When someone is at a printer, when it may run, and when it is night with nobody there, by the room file alone.

Vocabulary: a *span* is ``(first, end)`` in seconds from midnight of the schedule's first day. A schedule without dates
begins on a Monday, and days on which somebody is away then count for nothing. Worked out anew, day by day.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.ground.times import MINUTE_S, read_days, read_stretch
from nookwright.survey.making_wishes import Alone, Weekday

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from nookwright.survey.making_wishes import Week
    from nookwright.survey.models import Printer, Room

Span = tuple[float, float]

DAY_S = Fact(86_400.0, unit="s", kind=Kind.STANDARD, source="ISO 80000-3: a day is 24 hours.")
ANY_MONDAY = date(2001, 1, 1)


@dataclass(frozen=True)
class Clock:
    """The hours of one printer.

    Attributes:
        there: spans in which someone can change its bed.
        night: what counts as night.
        quiet: in which it must not run.
        alone: what it may do with nobody there.
    """

    there: tuple[Span, ...]
    night: tuple[Span, ...]
    quiet: tuple[Span, ...]
    alone: Alone

    def someone_from_to(self, first: float, end: float) -> bool:
        """Whether somebody is there all the while."""
        return left_of((first, end), self.there) == ()

    def by_night(self, first: float, end: float) -> bool:
        """Whether it would run in a night with nobody there."""
        return any(left_of(dark, self.there) for dark in _cut(self.night, first, end))

    def may_run(self, first: float, end: float) -> bool:
        """Whether it may run all the while."""
        allowed = {
            Alone.NEVER: self.someone_from_to(first, end),
            Alone.BY_DAY: not self.by_night(first, end),
            Alone.ALWAYS: True,
        }[self.alone]
        return allowed and not _cut(self.quiet, first, end)


def clock_of(printer: Printer, room: Room, first: date | None, end_s: float) -> Clock:
    """The hours of a printer until a moment.

    Args:
        printer: of the room.
        room: with the hours of the household.
        first: first day of the schedule; ``None`` for any Monday.
        end_s: until when, from its midnight.
    """
    running, begins = printer.running, first or ANY_MONDAY
    days = range(-1, int(end_s // DAY_S) + 2)
    gone = (*_away(room.making.away, begins), *_away(running.away, begins))
    there = _joined(_weekly(running.there or room.making.there, begins, days))
    return Clock(
        there=tuple(left for span in there for left in left_of(span, gone)),
        night=tuple(_on(day, room.making.night) for day in days),
        quiet=(*(_weekly(running.quiet, begins, days) if running.quiet else ()), *_away(running.away, begins)),
        alone=running.alone,
    )


def left_of(span: Span, taken: Iterable[Span]) -> tuple[Span, ...]:
    """What is left of a span.

    >>> left_of((0, 10), [(2, 3), (8, 12)])
    ((0, 2), (3, 8))
    """
    first, end = span
    found = []
    for begins, ends in sorted(taken):
        if ends <= first or begins >= end:
            continue
        found.append((first, begins))
        first = max(first, ends)
    return tuple((start, stop) for start, stop in (*found, (first, end)) if start < stop)


def _cut(spans: Iterable[Span], first: float, end: float) -> tuple[Span, ...]:
    """The parts of spans between two moments."""
    both = ((max(first, begins), min(end, ends)) for begins, ends in spans)
    return tuple((start, stop) for start, stop in both if start < stop)


def _joined(spans: Iterable[Span]) -> tuple[Span, ...]:
    """Spans in order, those that meet as one."""
    found: list[Span] = []
    for begins, ends in sorted(spans):
        if found and begins <= found[-1][1]:
            found[-1] = found[-1][0], max(ends, found[-1][1])
        else:
            found.append((begins, ends))
    return tuple(found)


def _on(day: int, stretch: str) -> Span:
    """A stretch of a day, so many days after the first."""
    begins, ends = read_stretch(stretch)
    return day * DAY_S + begins * MINUTE_S, day * DAY_S + ends * MINUTE_S


def _weekly(week: Week, first: date, days: Iterable[int]) -> tuple[Span, ...]:
    """The stretches of a week."""
    names = tuple(Weekday)
    return tuple(_on(day, one) for day in days for one in week.on(names[(first + timedelta(days=day)).weekday()]))


def _away(typed: Sequence[str], first: date) -> tuple[Span, ...]:
    """Days on which nobody is there."""
    read = (read_days(one) for one in typed)
    return tuple(((begins - first).days * DAY_S, ((last - first).days + 1) * DAY_S) for begins, last in read)
