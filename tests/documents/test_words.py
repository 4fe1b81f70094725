"""How numbers read."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.documents import words


@given(st.floats(0, 1e6))
def test_a_mass_read_back_is_near(mass_g: float) -> None:
    """What is written as grams or kilograms is right to half of a hundredth, or a twentieth of a gram."""
    number, unit = words.grams(mass_g).split()
    assert float(number) * {"g": 1, "kg": 1000}[unit] == pytest.approx(mass_g, rel=0.051, abs=0.0501)


@given(st.floats(0, 1e7))
def test_a_time_read_back_is_near(time_s: float) -> None:
    """What is written as hours and minutes is right to half a minute, from a day on to half an hour."""
    parts = words.duration(time_s).split()
    read = sum(
        float(number) * {"h": 3600, "min": 60}[unit] for number, unit in zip(parts[::2], parts[1::2], strict=True)
    )
    assert abs(read - time_s) <= (1800 if time_s > 23 * 3600 else 30) + 1e-6


@given(st.floats(-1e5, 1e5))
def test_a_length_is_to_a_tenth(value: float) -> None:
    """A length is written to a tenth of a millimetre and never as minus nought."""
    assert abs(float(words.mm(value)) - value) <= 0.0501
    assert words.mm(value) != "-0"
