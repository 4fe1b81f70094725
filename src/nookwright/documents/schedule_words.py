"""Days and times of a schedule in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.ground.times import DAY_MIN, HOUR_MIN
from nookwright.making.schedule.hours import moment

if TYPE_CHECKING:
    from nookwright.making.schedule.model import Schedule

WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


def clock(minute: int) -> str:
    """The time of a minute of a schedule.

    >>> clock(450), clock(1440 + 5)
    ('7:30', '0:05')
    """
    hours, rest = divmod(minute % int(DAY_MIN), int(HOUR_MIN))
    return f"{hours}:{rest:02d}"


def day(schedule: Schedule, minute: int) -> str:
    """The weekday of a minute, with its date where the schedule has dates, else with its number from the first."""
    at = moment(schedule.first, minute)
    weekday = WEEKDAYS[at.weekday()]
    return f"{weekday} {at:%Y-%m-%d}" if schedule.dated else f"{weekday}, day {minute // int(DAY_MIN) + 1}"


def in_days(minutes: int) -> str:
    """A length of time as people say it of weeks of printing.

    >>> in_days(90), in_days(1440), in_days(13032)
    ('2 h', '1 day', '9.1 days')
    """
    if minutes < DAY_MIN:
        return f"{-(-minutes // int(HOUR_MIN))} h"
    days = f"{minutes / DAY_MIN:.1f}".removesuffix(".0")
    return f"{days} day{'' if days == '1' else 's'}"
