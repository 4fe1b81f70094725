from __future__ import annotations

from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.making.beds.model import Job
from nookwright.making.beds.share import shared_out
from nookwright.making.pace import ALWAYS, Pace, paces_of
from nookwright.survey.making_wishes import Alone, Making, Running, Week
from nookwright.survey.models import Printer, Room

H = 3600.0
DAILY = Week(every_day=("8:00-20:00",))


def printer(name: str, **running: object) -> Printer:
    """A printer that takes everything."""
    return Printer(
        id=name, bed_width=300, bed_depth=300, bed_height=300, materials=("white",), running=Running(**running)
    )


def room(*printers: Printer, **making: object) -> Room:
    """A room with these printers, of which nothing else is looked at."""
    said = Making.model_validate({"there": DAILY, "start": "2026-03-02 8:00"} | making)
    return Room.model_construct(printer=printers, making=said)  # type: ignore[call-arg] # nothing else is asked


def shares(*printers: Printer, jobs: int = 60, hours: float = 6.0) -> Counter[str]:
    """How many of some like bedfuls each printer gets."""
    job = Job("piece", jobs, 100, 100, 20, "white", 10.0, hours * H)
    found = shared_out([job], printers, paces_of(room(*printers)))
    return Counter({printers[number].id: len(copies) for (number, _), copies in found.items()})


def test_printers_of_the_same_hours_share_evenly() -> None:
    """Half and half."""
    assert shares(printer("one"), printer("two")) == {"one": 30, "two": 30}


def test_a_printer_that_is_away_for_a_fortnight_gets_fewer_bedfuls() -> None:
    """Its fortnight is given to the other: at 20 h a day each, 280 h of 360 h, so all but some forty hours."""
    got = shares(printer("one"), printer("away", away=("2026-03-02 to 2026-03-15",)))
    assert got["one"] + got["away"] == 60
    assert got["one"] - got["away"] == pytest.approx(14 * 20 / 6, abs=2)


def test_a_printer_that_is_away_until_all_is_printed_gets_nothing() -> None:
    """Ten bedfuls are printed in three days."""
    got = shares(printer("one"), printer("away", away=("2026-03-02 to 2026-03-15",)), jobs=10)
    assert got == {"one": 10}


def test_a_printer_that_must_be_silent_at_night_gets_fewer() -> None:
    """20 h a day for the one, 12 h for the other."""
    got = shares(printer("one"), printer("day", alone=Alone.NEVER), jobs=80)
    assert got["one"] / got["day"] == pytest.approx(20 / 12, rel=0.1)


def test_a_printer_that_nobody_looks_after_is_no_reason_to_stop() -> None:
    """The schedule says what cannot be printed; here it counts as one that always prints."""
    assert "never" not in paces_of(room(printer("one"), printer("never", there=Week(every_day=()))))


@given(work_h=st.lists(st.floats(0, 500), min_size=2, max_size=6))
def test_more_work_is_done_later(work_h: list[float]) -> None:
    """And no sooner than if it always printed from midnight on."""
    pace = paces_of(room(printer("one")))["one"]
    done = [pace.done_s(one * H) for one in sorted(work_h)]
    assert done == sorted(done)
    assert all(end >= one * H - 1e-6 for end, one in zip(done, sorted(work_h), strict=True))


def test_without_hours_work_takes_its_own_time() -> None:
    """Nothing is known of hours."""
    assert ALWAYS.done_s(5.0) == 5.0
    assert Pace(((60, 120),)).done_s(2 * H) == 2 * 120 * 60.0  # the second hour on the second day
