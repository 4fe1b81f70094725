"""Published sizes: finding them, and what every row must say. Their figures are checked in tests/published."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.survey.models import Shape
from nookwright.survey.standards import all_standards, find_standard, nearest_standards


@pytest.mark.parametrize(
    ("typed", "designation"),
    [
        ("R6", "R6"),
        ("aa", "R6"),
        (" lr03 ", "R03"),
        ("A4", "A4"),
        ("Hex Key 2,5", "hex key 2.5"),
        ("hex key 2.5 m", "hex key 2.5 M"),
        ("M5x16 ISO 4762", "M5x16 ISO 4762"),
        ("m5 × 16 iso4762", "M5x16 ISO 4762"),
        ("M8x60 ISO 7380-1", "M8x60 ISO 7380"),
        ("M3x4 ISO 10642", "M3x4 ISO 10642"),
        ("M6 ISO 4032", "M6 ISO 4032"),
        ("400 x 300", "400x300"),
        ("id-1", "ID-1"),
        ("50 cent", "50 cent"),
    ],
)
def test_a_designation_is_found_however_it_is_typed(typed: str, designation: str) -> None:
    """Case, blanks, the decimal sign and the multiplication sign do not matter; aliases are known."""
    size = find_standard(typed)
    assert size is not None
    assert size.designation == designation


@pytest.mark.parametrize(
    "typed", ["", "R7", "M5x3 ISO 4762", "M5x61 ISO 4762", "M7x16 ISO 4762", "M8x16 ISO 7045", "M5x16 ISO 1", "M5x16"]
)
def test_an_unknown_designation_is_not_found(typed: str) -> None:
    """Also screws too short, too long, of another thread or of another standard."""
    assert find_standard(typed) is None


def test_the_nearest_designations_are_named() -> None:
    """What looks most like it comes first; something is always named."""
    assert nearest_standards("hex kay 4")[0] == "hex key 4"
    assert nearest_standards("A 4 4")[0] == "A4"
    assert len(nearest_standards("ÿ" * 50)) == 3


def test_every_row_says_where_it_comes_from_and_is_found_again() -> None:
    """Source, sureness, sensible limits, a mass with its source, and a designation of its own."""
    names = [name for size in all_standards() for name in (size.designation, *size.aliases)]
    assert len({name.casefold() for name in names}) == len(names)
    for size in all_standards():
        assert find_standard(size.designation) == size
        assert size.source
        assert bool(size.mass_source) == (size.mass_g is not None)
        assert size.mass_g is None or size.mass_g > 0
        assert size.dimensions
        for limits in size.dimensions.values():
            assert limits.largest > 0
            assert limits.smallest is None or 0 < limits.smallest <= limits.largest


def test_no_mass_is_beyond_its_material() -> None:
    """No thing of the list weighs more than its box in steel, nor less than a tenth of it in water."""
    for size in all_standards():
        if size.mass_g is None:
            continue
        sides = [limits.largest for limits in size.dimensions.values()]
        box_cm3 = (sides[0] ** 2 * sides[1] if size.shape is Shape.ROUND else sides[0] * sides[1] * sides[2]) / 1000
        assert 0.05 * box_cm3 < size.mass_g < 7.85 * box_cm3, size.designation


@given(st.text(max_size=40))
def test_any_text_is_a_designation_or_none(text: str) -> None:
    """No text raises anything."""
    size = find_standard(text)
    assert size is None or size.limits


@given(st.sampled_from([3, 4, 5, 6, 8]), st.integers(4, 60))
def test_a_screw_is_its_head_and_its_length(thread: int, length: int) -> None:
    """A cap screw's head is as high as its thread is wide; a countersunk head lies within the length."""
    cap, sunk = find_standard(f"M{thread}x{length} ISO 4762"), find_standard(f"M{thread}x{length} ISO 10642")
    assert cap is not None
    assert sunk is not None
    assert cap.dimensions["height"].largest == length + thread
    assert sunk.dimensions["height"].largest == length
