"""Lengths as people type them."""

from __future__ import annotations

import math
import warnings

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.ground.errors import LengthError
from nookwright.ground.lengths import ALLOWED_LENGTHS, read_length


@pytest.mark.parametrize(
    ("typed", "mm"),
    [
        (362, 362.0),
        (36.2, 36.2),
        ("362", 362.0),
        ("36.2 cm", 362.0),
        ("36,2 cm", 362.0),
        ("46,2 cm", 462.0),
        ("362mm", 362.0),
        ("0.362 m", 362.0),
        ("0,125 in", 3.175),
        (".5 in", 12.7),
        ("14 1/4 in", 361.95),
        ("14-1/4 in", 361.95),
        ("14 1/4 inches", 361.95),
        ('14 1/4"', 361.95),
        ("14¼ in", 361.95),
        ("½ in", 12.7),
        ("1/4″", 6.35),
        ("5/4 in", 31.75),
        ("5 ft", 1524.0),
        ("5'", 1524.0),
        ("5 ft 2 in", 1574.8),
        ("5' 2 1/2\"", 1587.5),
        ("5' - 3\"", 1600.2),
        ("-3 mm", -3.0),
        ("1,2345 m", 1234.5),
        ("1.125 in", 28.575),
    ],
)
def test_a_length_is_what_was_meant(typed: object, mm: float) -> None:
    """Every spelling in use is read, and converted without an error of rounding."""
    assert read_length(typed) == mm


def test_fractions_and_commas_are_not_read_as_pint_reads_them() -> None:
    """Left alone, pint multiplies what stands side by side and drops commas; ours does neither."""
    from pint import UnitRegistry

    registry: UnitRegistry[float] = UnitRegistry(cache_folder=None)
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        assert registry.Quantity("14 1/4 in").to("in").magnitude == pytest.approx(3.5)
        assert registry.Quantity("46,2 cm").to("cm").magnitude == pytest.approx(462)
    assert read_length("14 1/4 in") == pytest.approx(14.25 * 25.4)
    assert read_length("46,2 cm") == pytest.approx(462)


def test_a_plain_number_is_in_the_default_unit() -> None:
    """The default unit counts for numbers and for texts without a unit; a unit in the text goes before it."""
    assert read_length(2, "in") == 50.8
    assert read_length("2", "cm") == 20.0
    assert read_length("1/2", "in") == 12.7
    assert read_length("2 mm", "cm") == 2.0


@pytest.mark.parametrize(
    ("typed", "reason"),
    [
        ("1,234", "may mean 1234 or 1.234"),
        ("12,500 mm", "may mean 12500 or 12.500"),
        ("1,234.5", "thousands"),
        ("1.234,5", "thousands"),
        ("12 500", "thousands"),
        ("14 5/4 in", "5/4"),
        ("14 3/0 in", "3/0"),
        ("1/0", "1/0"),
        ("5 ft 13 in", "12 inches or more"),
        ("1'234", "one number"),
        ("1e3", "one number"),
        ("12 m 5 cm", "one number"),
        ("about 5 mm", "one number"),
        ("", "one number"),
        ("mm", "one number"),
        ("3 furlong", "furlong"),
        ("3 mil", "mil"),
        ("1.2.3", "single number"),
        ("5 - 3/4 in", "single number"),
        ("9" * 5000, "one number"),
        (True, "true or false"),
        (None, "nothing"),
        ([3], "a list"),
        ({}, "a table"),
        (math.nan, "nan"),
        (math.inf, "inf"),
        (10**400, "beyond all measure"),
    ],
)
def test_what_is_not_certain_is_refused(typed: object, reason: str) -> None:
    """What could be meant in two ways, or in none, is refused with the reason and with what is allowed."""
    with pytest.raises(LengthError) as caught:
        read_length(typed)
    assert reason in str(caught.value)
    assert str(caught.value).endswith(ALLOWED_LENGTHS)


def test_an_unknown_default_unit_is_refused() -> None:
    """A caller's unit is checked as well."""
    with pytest.raises(LengthError, match="furlong"):
        read_length(3, "furlong")


@given(st.text(max_size=80) | st.text("0123456789.,/'\" -+cmifnt½", max_size=20) | st.floats() | st.integers())
def test_anything_is_a_length_or_refused(typed: object) -> None:
    """No text or number leads to another error, nor to a length that is not finite."""
    try:
        found, refusal = read_length(typed), ""
    except LengthError as error:
        found, refusal = 0.0, str(error)
    assert math.isfinite(found)
    assert not refusal or refusal.endswith(ALLOWED_LENGTHS)


@given(
    whole=st.integers(0, 9999),
    tenths=st.integers(0, 99),
    unit=st.sampled_from([("mm", 1.0), ("cm", 10.0), ("m", 1000.0), ("in", 25.4), ("ft", 304.8)]),
    sign=st.sampled_from(".,"),
)
def test_a_decimal_is_its_value_times_the_unit(whole: int, tenths: int, unit: tuple[str, float], sign: str) -> None:
    """With either decimal sign, in every unit."""
    name, factor = unit
    expected = (whole + tenths / 100) * factor
    assert read_length(f"{whole}{sign}{tenths:02d} {name}") == pytest.approx(expected, rel=1e-12)
