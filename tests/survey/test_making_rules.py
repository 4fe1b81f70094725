from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from tests.conftest import TINY_ROOM

from nookwright.survey.load import check_room
from nookwright.survey.making_wishes import Alone, Order, Week, Weekday

if TYPE_CHECKING:
    from pathlib import Path

    from nookwright.ground.errors import Fault
    from nookwright.survey.models import Room

GOOD = """
[making]
start = "2026-03-02 17:30"
away = ["2026-03-07", "2026-03-09 to 2026-03-12"]
night = "23:00-6:00"
people = 2
order = "all done soonest"
plan_by = "likely"
currency = "EUR"

[making.there]
weekdays = ["6:45-7:45", "17:30-22:30"]
saturday = ["9:00-22:30"]
sunday = []

[[spool]]
id = "white-1"
material = "white"
left_g = 640
batch = "A7"

[costs]
electricity_kwh = 0.31
offer = true
labour_h = 35
"""
RUNNING = """
[printer.running]
alone = "by day"
quiet = { every_day = ["22:00-7:00"] }
setup_min = 12
loaded = "red"
"""


def checked(tmp_path: Path, more: str = GOOD, running: str = RUNNING) -> tuple[Room | None, tuple[Fault, ...]]:
    path = tmp_path / "room.toml"
    text = TINY_ROOM.replace('[[material]]\nid = "white"', f'{running}\n[[material]]\nid = "white"')
    path.write_text(text + more, encoding="utf-8")
    return check_room(path)


def test_a_room_says_when_and_how_it_is_printed(tmp_path: Path) -> None:
    """All of it is optional; a narrower day goes before a wider one."""
    room, faults = checked(tmp_path)
    assert faults == ()
    assert room is not None
    assert room.making.order is Order.SOONEST
    assert room.making.there.on(Weekday.SATURDAY) == ("9:00-22:30",)
    assert room.making.there.on(Weekday.SUNDAY) == ()
    assert room.making.there.on(Weekday.FRIDAY) == ("6:45-7:45", "17:30-22:30")
    assert room.printer[0].running.alone is Alone.BY_DAY
    assert room.printer[0].running.quiet == Week(every_day=("22:00-7:00",))
    assert room.spool[0].batch == "A7"
    assert room.costs.labour_h == 35


@pytest.mark.parametrize(
    ("old", "new", "key", "words"),
    [
        ('"2026-03-02 17:30"', '"2026-02-30"', "making.start", "2026-03-02 17:30"),
        ('"2026-03-02 17:30"', '"2026-03-02 25:30"', "making.start", "no time of the day"),
        ('"2026-03-02 17:30"', '"soon"', "making.start", "a day as 2026-03-02"),
        ('"2026-03-02 17:30"', "2026-03-02", "making.start", "Put it in quotation marks."),
        ('"2026-03-09 to 2026-03-12"', '"2026-03-12 to 2026-03-09"', "making.away[2]", "ends before it begins"),
        ('"23:00-6:00"', '"6:00-6:00"', "making.night", "ends when it begins"),
        ('["9:00-22:30"]', '["9:00-24:30"]', "making.there.saturday[1]", "no time of the day"),
        ('["9:00-22:30"]', '["9-22"]', "making.there.saturday[1]", "17:30-22:30"),
        ("saturday", "saturdays", "making.there.saturdays", "Write saturday instead"),
        ("people = 2", "people = 0", "making.people", "at least 1"),
        ('"all done soonest"', '"soonest"', "making.order", "space by space"),
        ('material = "white"\nleft', 'material = "wite"\nleft', "spool.white-1.material", 'Write "white" instead.'),
        ("left_g = 640", "left_g = -1", "spool.white-1.left_g", "at least 0"),
        ("offer = true", "offer = false", "costs.labour_h", "offer = true"),
    ],
)
def test_a_fault_names_key_value_and_what_is_allowed(old: str, new: str, key: str, words: str, tmp_path: Path) -> None:
    """With its line, and what to do."""
    assert old in GOOD
    room, faults = checked(tmp_path, GOOD.replace(old, new, 1))
    assert room is None
    (fault,) = faults
    assert (fault.key, fault.line > 0) == (key, True)
    assert words in str(fault)


@pytest.mark.parametrize(
    ("old", "new", "key", "words"),
    [
        ('loaded = "red"', 'loaded = "blue"', "printer.small.running.loaded", "white, red"),
        ('"by day"', '"in the day"', "printer.small.running.alone", "day and night"),
        ('"22:00-7:00"', '"22:00-22:00"', "printer.small.running.quiet.every_day[1]", "ends when it begins"),
        ("setup_min = 12", "setup_min = 1200", "printer.small.running.setup_min", "at most 600"),
    ],
)
def test_so_does_a_fault_in_a_printers_hours(old: str, new: str, key: str, words: str, tmp_path: Path) -> None:
    """Named by the printer's id."""
    assert old in RUNNING
    _, faults = checked(tmp_path, running=RUNNING.replace(old, new, 1))
    assert [fault.key for fault in faults] == [key]
    assert words in str(faults[0])


def test_two_spools_of_one_id_are_a_fault(tmp_path: Path) -> None:
    """It is written on the spool."""
    again = '\n[[spool]]\nid = "white-1"\nmaterial = "red"\nleft_g = 1\n'
    _, faults = checked(tmp_path, GOOD + again)
    assert [fault.key for fault in faults] == ["spool.white-1.id"]


def test_days_on_which_a_printer_is_away_are_days_of_the_calendar(tmp_path: Path) -> None:
    """As those on which nobody is there."""
    room, faults = checked(tmp_path, GOOD, RUNNING + 'away = ["2026-02-31"]\n')
    assert room is None
    (fault,) = faults
    assert fault.key.endswith("running.away[1]")
    assert "a day such as 2026-03-07" in str(fault)
