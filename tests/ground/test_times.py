from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.ground.errors import TimeError
from nookwright.ground.times import read_clock, read_days, read_duration_s, read_number, read_stretch


@given(st.integers(0, 23), st.integers(0, 59))
def test_every_time_of_the_day_is_read(hour: int, minute: int) -> None:
    """With and without a leading nought."""
    assert read_clock(f"{hour}:{minute:02d}") == read_clock(f"{hour:02d}:{minute:02d}") == 60 * hour + minute


@pytest.mark.parametrize("typed", ["24:01", "7", "7:5", "25:00", "7:60", "", "-1:00", "7.30"])
def test_what_is_no_time_is_refused(typed: str) -> None:
    """Nothing is guessed."""
    with pytest.raises(TimeError):
        read_clock(typed)


@pytest.mark.parametrize(
    ("typed", "seconds"),
    [
        ("95", 5700),
        ("1:35", 5700),
        ("1:35:30", 5730),
        ("1h35min", 5700),
        ("2 h", 7200),
        ("45 min", 2700),
        ("0,5", 30),
        ("100:00", 360_000),
    ],
)
def test_durations_are_minutes_or_hours_and_minutes(typed: str, seconds: float) -> None:
    """As a printer's screen and a kitchen clock show them."""
    assert read_duration_s(typed) == seconds


@pytest.mark.parametrize("typed", ["", "1:75", "h", "1,250", "43201", "1 day", "-5", "1e3", "inf"])
def test_what_is_no_duration_for_certain_is_refused(typed: str) -> None:
    """A comma before three digits parts thousands or decimals."""
    with pytest.raises(TimeError):
        read_duration_s(typed)


def test_a_stretch_of_no_length_and_a_day_that_is_none_are_refused() -> None:
    """They are slips of the pen."""
    for typed in ("7:30-7:30", "7:30", "7:30 to 8:00"):
        with pytest.raises(TimeError):
            read_stretch(typed)
    for typed in ("2026-02-30", "2026-03-05 to 2026-03-04", "tomorrow"):
        with pytest.raises(TimeError):
            read_days(typed)


@given(st.text(max_size=12))
def test_any_text_is_read_or_refused(typed: str) -> None:
    """Never another error."""
    refused = 0
    for reader in (read_clock, read_stretch, read_duration_s, read_number, read_days):
        try:
            reader(typed)
        except TimeError:
            refused += 1
    assert refused <= 5
