from __future__ import annotations

from datetime import date, datetime

import pytest

from nookwright.making.schedule.hours import Beginning, beginning_of, hours_of, moment
from nookwright.survey.making_wishes import Alone, Making, Running, Week
from nookwright.survey.models import Printer

MONDAY = Beginning(date(2026, 3, 2), dated=True)
DAY = 1440


def printer(**running: object) -> Printer:
    return Printer(
        id="one", bed_width=200, bed_depth=200, bed_height=200, materials=("grey",), running=Running(**running)
    )


def test_the_narrowest_key_says_when_someone_is_there() -> None:
    """A named day goes before weekends and weekdays, these before every day."""
    week = Week(every_day=("8:00-9:00",), weekdays=("7:00-8:00",), sunday=(), tuesday=("10:00-11:00", "12:00-13:00"))
    (hours,) = hours_of(Making(there=week), (printer(),), MONDAY, days=7)
    tuesday = 1 * DAY
    assert hours.there[:3] == ((420, 480), (tuesday + 600, tuesday + 660), (tuesday + 720, tuesday + 780))
    assert hours.there[-1] == (5 * DAY + 480, 5 * DAY + 540)  # Saturday by every day, nobody on Sunday


def test_a_stretch_over_midnight_belongs_to_the_day_that_it_begins_on() -> None:
    """Also that of the day before the schedule."""
    week = Week(sunday=("22:00-1:00",), monday=("23:00-0:30",))
    (hours,) = hours_of(Making(there=week), (printer(),), MONDAY, days=2)
    assert hours.there == ((0, 60), (1380, DAY + 30))


def test_days_away_and_the_beginning_cut_the_hours() -> None:
    """Nobody is there on those days, nor before it begins."""
    week = Week(every_day=("8:00-20:00",))
    begins = Beginning(date(2026, 3, 2), dated=True, minute=600)
    (hours,) = hours_of(Making(there=week, away=("2026-03-03 to 2026-03-04",)), (printer(),), begins, days=4)
    assert hours.there == ((600, 1200), (3 * DAY + 480, 3 * DAY + 1200))


@pytest.mark.parametrize(
    ("alone", "runs"),
    [
        (Alone.NEVER, ((480, 1380),)),
        (Alone.BY_DAY, ((360, 1380),)),  # someone is there until 23:00, so the night with nobody there begins then
        (Alone.ALWAYS, ((0, DAY),)),
    ],
)
def test_when_a_printer_may_run_alone(alone: Alone, runs: object) -> None:
    """Never, by day, or always."""
    week = Week(every_day=("8:00-23:00",))
    (hours,) = hours_of(Making(there=week), (printer(alone=alone),), MONDAY, days=1)
    assert hours.runs == runs
    assert hours.nights == ((0, 360), (1380, DAY))


def test_quiet_hours_hold_even_with_someone_there() -> None:
    """A printer beside a bed does not run at all."""
    week = Week(every_day=("0:00-24:00",))
    (hours,) = hours_of(Making(there=week), (printer(quiet=Week(every_day=("22:00-7:00",))),), MONDAY, days=1)
    assert hours.runs == ((420, 1320),)


def test_a_printer_may_have_hours_of_its_own() -> None:
    """One stands in the workshop, one at home."""
    own = printer(there=Week(saturday=("9:00-10:00",)), setup_min=9.2)
    (hours,) = hours_of(Making(), (own,), MONDAY, days=7)
    assert hours.there == ((5 * DAY + 540, 5 * DAY + 600),)
    assert hours.setup_min == 10  # whole minutes, rounded up


def test_a_schedule_begins_when_the_room_says_but_not_in_the_past() -> None:
    """A print noted on a later day shows that the start is past."""
    making = Making(start="2026-03-02 17:30")
    assert beginning_of(making) == Beginning(date(2026, 3, 2), dated=True, minute=1050)
    assert beginning_of(making, ("2026-03-01", "2026-03-02")) == beginning_of(making)
    assert beginning_of(making, ("2026-03-05", "2026-03-03")) == Beginning(date(2026, 3, 6), dated=True)
    assert beginning_of(Making()).first.weekday() == 0
    assert not beginning_of(Making()).dated


def test_minutes_are_moments_of_the_wall_clock() -> None:
    """No zone, no summer time."""
    assert moment(date(2026, 3, 28), 2 * DAY + 150) == datetime(2026, 3, 30, 2, 30)  # noqa: DTZ001 - the wall has none


def test_a_printer_that_is_away_prints_nothing_then() -> None:
    """Nobody is at it, and it does not run through those days; the others do."""
    week = Week(every_day=("8:00-20:00",))
    away = printer(away=("2026-03-03 to 2026-03-04",))
    one, other = hours_of(Making(there=week), (away, printer()), MONDAY, days=4)
    assert one.there == ((480, 1200), (3 * DAY + 480, 3 * DAY + 1200))
    assert one.runs == ((0, DAY), (3 * DAY, 4 * DAY))
    assert other.runs == ((0, 4 * DAY),)
