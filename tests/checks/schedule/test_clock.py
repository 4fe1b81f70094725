"""When someone is at a printer and when it may run, worked out anew, against the schedule's own hours."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.checks.conftest import room as tiny_room

from nookwright.checks.schedule.clock import DAY_S, clock_of, left_of
from nookwright.making.schedule.hours import Beginning, hours_of

if TYPE_CHECKING:
    from nookwright.survey.models import Room

HOUR = 3600.0
DAYS = 9


def room_with(making: dict[str, Any], running: dict[str, Any]) -> Room:
    """The tiny room with hours."""
    base = tiny_room()
    printer = base.printer[0].model_dump() | {"running": running}
    return tiny_room(making=making, printer=[printer])


STRETCHES = st.tuples(st.integers(0, 47), st.integers(1, 40)).map(
    lambda pair: (
        f"{pair[0] // 2}:{pair[0] % 2 * 30:02d}-{(pair[0] + pair[1]) % 48 // 2}:{(pair[0] + pair[1]) % 2 * 30:02d}"
    )
)
WEEKS = st.fixed_dictionaries(
    {},
    optional={
        "every_day": st.lists(STRETCHES, max_size=2),
        "weekends": st.lists(STRETCHES, max_size=2),
        "tuesday": st.lists(STRETCHES, max_size=2),
    },
)


@given(WEEKS, WEEKS, STRETCHES, st.sampled_from(("never", "by day", "day and night")), st.integers(0, 6))
def test_hours_are_those_that_the_schedule_is_made_by(
    there: dict[str, Any], quiet: dict[str, Any], night: str, alone: str, first: int
) -> None:
    """Every half hour of a week: someone there, and free to run, by two ways of working it out."""
    room = room_with({"there": there, "night": night}, {"quiet": quiet, "alone": alone})
    begins = date(2026, 3, 2 + first)
    clock = clock_of(room.printer[0], room, begins, DAYS * DAY_S)
    (hours,) = hours_of(room.making, room.printer, Beginning(begins, dated=True), days=DAYS)
    for half in range(2 * 24 * 7):
        start, end = half * 1800.0, half * 1800.0 + 1800.0
        minute = half * 30

        def has(spans: Any, minute: int = minute) -> bool:  # noqa: ANN401
            return any(first <= minute and minute + 30 <= last for first, last in spans)

        assert clock.someone_from_to(start, end) == has(hours.there), half
        assert clock.may_run(start, end) == has(hours.runs), half
        assert clock.by_night(start, end) == any(low < minute + 30 and minute < high for low, high in hours.nights)


@pytest.mark.parametrize(("first", "end", "there"), [(6, 7, False), (7, 8, True), (7.5, 8.5, False), (23, 25, False)])
def test_someone_must_be_there_all_the_while(first: float, end: float, there: bool) -> None:  # noqa: FBT001
    """From seven to eight each morning."""
    room = room_with({"there": {"every_day": ["7:00-8:00"]}}, {})
    clock = clock_of(room.printer[0], room, None, 3 * DAY_S)
    assert clock.someone_from_to(first * HOUR, end * HOUR) == there


def test_nobody_is_there_on_days_away() -> None:
    """Of the household, and of the printer, which then does not run either."""
    room = room_with({"there": {"every_day": ["7:00-8:00"]}, "away": ["2026-03-03"]}, {"away": ["2026-03-04"]})
    clock = clock_of(room.printer[0], room, date(2026, 3, 2), 5 * DAY_S)
    seven = [clock.someone_from_to(day * DAY_S + 7 * HOUR, day * DAY_S + 8 * HOUR) for day in range(4)]
    assert seven == [True, False, False, True]
    assert [clock.may_run(day * DAY_S, day * DAY_S + HOUR) for day in range(4)] == [True, True, False, True]


@given(st.lists(st.tuples(st.integers(0, 50), st.integers(0, 50)).map(sorted), max_size=5))
def test_what_is_left_and_what_is_taken_fill_a_span(taken: list[list[int]]) -> None:
    """Every moment of it is in one of the two."""
    left = left_of((0.0, 50.0), [(float(low), float(high)) for low, high in taken])
    for moment in range(50):
        inside = any(low <= moment + 0.5 < high for low, high in left)
        assert inside != any(low <= moment + 0.5 < high for low, high in taken)
