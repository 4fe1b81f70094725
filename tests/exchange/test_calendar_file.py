from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime

import pytest
from icalendar import Calendar

from nookwright.exchange.calendar_file import Names, calendar_bytes
from nookwright.making.drying import Drying
from nookwright.making.schedule.effort import INSTANT
from nookwright.making.schedule.hours import Beginning, Hours
from nookwright.making.schedule.model import Bedful, Rules, Schedule, Way
from nookwright.making.schedule.plan import schedule_of
from nookwright.making.spools import Purchase, SpoolPlan, Use

ALWAYS = ((0, 20_000),)
NAMES = Names("My room; with, signs", {"one": "Large printer"}, {"grey": "PLA, grey"}, {"left": "Left drawer"})
BEDFULS = {
    "b1": Bedful("b1", "grey", (Way("one", 5400, 5000, 6000),), 40.0, 44.0, spaces=("left",)),
    "b2": Bedful("b2", "grey", (Way("one", 12_000, 11_000, 14_000),), 60.0, 66.0),
}
SPOOLS = SpoolPlan((Use("b1", "s1", "x"),), (Purchase("grey", 2, 1000.0, 0, 1200, 40.0),), (), ())


def schedule(first: date = date(2026, 3, 2)) -> Schedule:
    hours = (Hours("one", ALWAYS, ALWAYS, setup_min=10, loaded="grey"),)
    begins = Beginning(first, dated=True, minute=1050)
    return schedule_of(tuple(BEDFULS.values()), hours, Rules(), beginning=begins, effort=INSTANT)


def test_a_calendar_is_read_back_by_the_library_with_one_event_a_bedful() -> None:
    """In floating local times, from the change of the bed to the latest end."""
    plan = schedule()
    data = calendar_bytes(plan, BEDFULS, NAMES, spools=SPOOLS, drying=(Drying("grey", 1060, 1300, "b2"),))
    calendar = Calendar.from_ical(data)
    events = {str(event["summary"]): event for event in calendar.walk("VEVENT")}
    assert len(events) == 4
    first = events["Large printer: load b1, PLA, grey, 1 h 30 min"]
    assert first.decoded("dtstart") == datetime(2026, 3, 2, plan.slots[0].work // 60, plan.slots[0].work % 60)  # noqa: DTZ001
    assert (first.decoded("dtend") - first.decoded("dtstart")).total_seconds() == 60 * (
        plan.slots[0].end - plan.slots[0].work
    )
    text = str(first["description"])
    assert "spool s1" in text
    assert "For: Left drawer." in text
    assert {event["transp"] for event in events.values()} == {"TRANSPARENT"}
    assert any("2 spools of 1000 g" in summary for summary in events)
    assert any(summary.startswith("Dry PLA, grey") for summary in events)


def test_every_event_says_what_is_loaded_next() -> None:
    """And the last one that it is the last."""
    texts = [
        str(event["description"])
        for event in Calendar.from_ical(calendar_bytes(schedule(), BEDFULS, NAMES)).walk("VEVENT")
    ]
    assert sum("Next on this printer: b" in text for text in texts) == 1
    assert sum("The last on this printer." in text for text in texts) == 1


def test_lines_are_as_rfc_5545_has_them() -> None:
    """CRLF, at most 75 octets a line, the properties that must be there, no zone."""
    data = calendar_bytes(schedule(), BEDFULS, NAMES, spools=SPOOLS)
    assert data.startswith(b"BEGIN:VCALENDAR\r\n")
    assert data.endswith(b"END:VCALENDAR\r\n")
    assert all(len(line) <= 75 for line in data.split(b"\r\n"))
    assert b"\n" not in data.replace(b"\r\n", b"")
    assert b"TZID" not in data
    for event in Calendar.from_ical(data).walk("VEVENT"):
        assert {"UID", "DTSTAMP", "DTSTART"} <= set(event)


def test_the_same_schedule_gives_the_same_bytes_and_a_new_one_the_same_uids() -> None:
    """So that events move instead of being doubled."""
    one, other = (calendar_bytes(schedule(day), BEDFULS, NAMES) for day in (date(2026, 3, 2), date(2026, 3, 9)))
    assert one == calendar_bytes(schedule(), BEDFULS, NAMES)
    uids = [{str(event["uid"]) for event in Calendar.from_ical(data).walk("VEVENT")} for data in (one, other)]
    assert uids[0] == uids[1]
    assert len(uids[0]) == 2
    assert one != other


def test_a_schedule_without_dates_has_no_calendar() -> None:
    """A Monday that stands for any would be a wrong one."""
    with pytest.raises(ValueError, match="start"):
        calendar_bytes(replace(schedule(), dated=False), BEDFULS, NAMES)
