"""Times of day and how long things take, as people type them, read for certain or refused.

Vocabulary: a *clock time* is ``7:30`` or ``24:00``, a *stretch* is two of them with a hyphen (``17:30-22:30``; one that
ends before it begins goes on after midnight), a *duration* is minutes (``95``, ``95,5``) or hours and minutes
(``1:35``, ``1 h 35 min``). Times are those of the clock on the wall: no time zone, no summer time.
"""

from __future__ import annotations

import re
from datetime import date, timedelta
from typing import Final

from nookwright.ground.errors import TimeError
from nookwright.ground.sources import Fact, Kind

HOUR_MIN: Final = Fact(60, unit="min", kind=Kind.STANDARD, source="ISO 80000-3: an hour is 60 minutes.")
DAY_MIN: Final = Fact(1440, unit="min", kind=Kind.STANDARD, source="ISO 80000-3: a day is 24 hours.")
MINUTE_S: Final = Fact(60, unit="s", kind=Kind.STANDARD, source="ISO 80000-3: a minute is 60 seconds.")
LONGEST_MIN: Final = Fact(
    30 * 1440, unit="min", kind=Kind.CHOICE, source="A print of more than a month is a slip of the unit or of a digit."
)

ALLOWED_STRETCH: Final = "7:30-8:15, or 22:00-6:00 over midnight"
ALLOWED_DURATION: Final = "minutes such as 95, or hours and minutes such as 1:35"

_CLOCK: Final = re.compile(r"([0-9]{1,2}):([0-9]{2})")
_HOURS: Final = re.compile(r"([0-9]{1,3}):([0-5][0-9])(?::([0-5][0-9]))?")
_WORDS: Final = re.compile(r"(?:([0-9]{1,3}) ?h)? ?(?:([0-9]{1,5}) ?min)?")
_DECIMAL: Final = re.compile(r"[0-9]{1,9}(?:[.,][0-9]{1,6})?")
_THOUSANDS: Final = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}")


def read_clock(typed: str) -> int:
    """The minute of the day of a clock time.

    >>> read_clock("7:30"), read_clock("24:00")
    (450, 1440)

    Raises:
        TimeError: if there is no such time.
    """
    match = _CLOCK.fullmatch(typed.strip())
    minute = int(match[1]) * int(HOUR_MIN) + int(match[2]) if match else -1
    if not match or int(match[2]) >= HOUR_MIN or minute > DAY_MIN:
        raise TimeError(f"{typed!r} is no time of the day; write it as 7:30")
    return minute


def read_stretch(typed: str) -> tuple[int, int]:
    """The first and the last minute of a stretch of a day; the last is beyond 1440 where it goes over midnight.

    >>> read_stretch("17:30-22:30"), read_stretch("22:00-6:00")
    ((1050, 1350), (1320, 1800))

    Raises:
        TimeError: if it is none, or of no length.
    """
    first, sign, last = typed.replace("\u2013", "-").partition("-")
    if not sign:
        raise TimeError(f"{typed!r} is not two times with a hyphen; write {ALLOWED_STRETCH}")
    begin, end = read_clock(first), read_clock(last)
    if begin == end:
        raise TimeError(f"{typed!r} ends when it begins; write 0:00-24:00 for a whole day")
    return begin, end if end > begin else end + int(DAY_MIN)


def read_duration_s(typed: str) -> float:
    """The seconds of a duration.

    >>> read_duration_s("95"), read_duration_s("1:35"), read_duration_s("1 h 35 min"), read_duration_s("0,5")
    (5700.0, 5700.0, 5700.0, 30.0)

    Raises:
        TimeError: if it cannot be read for certain, or is longer than a month.
    """
    text = typed.strip().lower()
    hours, words = _HOURS.fullmatch(text), _WORDS.fullmatch(text)
    if hours:
        seconds = (int(hours[1]) * HOUR_MIN + int(hours[2])) * MINUTE_S + int(hours[3] or 0)
    elif words and text:
        seconds = (int(words[1] or 0) * HOUR_MIN + int(words[2] or 0)) * MINUTE_S
    else:
        seconds = read_number(text) * MINUTE_S
    if seconds > LONGEST_MIN * MINUTE_S:
        raise TimeError(f"{typed!r} is more than a month; write {ALLOWED_DURATION}")
    return float(seconds)


def read_number(typed: str) -> float:
    """A number that is not negative, with a decimal point or a comma.

    >>> read_number("12.5"), read_number("12,5")
    (12.5, 12.5)

    Raises:
        TimeError: if it is none, or may be meant in two ways (``1,250``).
    """
    text = typed.strip()
    if not _DECIMAL.fullmatch(text):
        raise TimeError(f"{typed[:40]!r} is no number; write digits, with a point or a comma for decimals")
    if _THOUSANDS.fullmatch(text):
        plain, point = text.replace(",", ""), text.replace(",", ".")
        raise TimeError(f"{typed!r} may mean {plain} or {point}; write the one that you mean")
    return float(text.replace(",", "."))


def read_days(typed: str) -> tuple[date, date]:
    """The first and the last day of a day or of two days with ``to`` between them.

    >>> read_days("2026-03-02 to 2026-03-05")[1].day
    5

    Raises:
        TimeError: if there is no such day, or the last is before the first.
    """
    first, _, last = typed.partition(" to ")
    try:
        days = date.fromisoformat(first.strip()), date.fromisoformat((last or first).strip())
    except ValueError:
        raise TimeError(f"{typed!r} is no day of the calendar; write it as 2026-03-02") from None
    if days[1] < days[0]:
        raise TimeError(f"{typed!r} ends before it begins")
    return days


def day_after(day: date, count: int) -> date:
    """The day so many days after another."""
    return day + timedelta(days=count)
