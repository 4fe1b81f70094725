"""What people type into fields."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.studio.typed_fields import number_or_text, readings, shown, understood, words

NUMBER = st.one_of(st.integers(0, 9999), st.decimals(0, 999, places=2).map(float))
READING = st.one_of(NUMBER, st.sampled_from(["36.2 cm", "14 1/4 in", "5 ft 2 in"]))
LISTED = st.one_of(READING, st.lists(READING, min_size=2, max_size=4))


@given(st.one_of(LISTED, st.builds(lambda floor, rim: {"floor": floor, "rim": rim}, LISTED, LISTED)))
def test_what_is_shown_can_be_typed_back(value: object) -> None:
    """One reading, several, at several heights: the same value comes of it."""
    assert readings(shown(value)) == value


@pytest.mark.parametrize(
    ("typed", "value"),
    [
        ("", None),
        (" ; \n", None),
        ("362", 362),
        ("46,2 cm", "46,2 cm"),
        ("46,2; 46,4", [46.2, 46.4]),
        ("floor: 1; 2\nrim: 3", {"floor": [1, 2], "rim": 3}),
        ("1\n2", [1, 2]),
        ("007", "007"),
        ("a pipe", "a pipe"),
    ],
)
def test_readings(typed: str, value: object) -> None:
    """A comma is a decimal sign, a semicolon or a new line stands between readings; what is no number stays a text."""
    assert readings(typed) == value


def test_what_was_read_is_echoed_where_it_was_converted() -> None:
    """Units that pint would read wrongly among them; plain millimetres need no echo, nonsense gets none."""
    assert understood("14 1/4 in", "mm") == "read as 361.95 mm"
    assert understood("46,2 cm; 46,4 cm\nrim: 47 cm", "mm") == "read as 462, 464 and 470 mm"
    assert understood("36.2", "cm") == "read as 362 mm"
    assert understood("362; 363", "mm") == understood("about a hand", "mm") == understood("", "mm") == ""


def test_words_and_numbers() -> None:
    """Words are a list; a number is one only if all of it is."""
    assert words("tea; coffee, sugar\n") == ["tea", "coffee", "sugar"]
    assert words(" ") is None
    assert [number_or_text(one) for one in ("1e3", "1.5", "-2", "1 000", "0x1")] == ["1e3", 1.5, -2, "1 000", "0x1"]
