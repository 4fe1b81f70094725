"""What readings are taken with, and why."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.sizing.next_readings.gain import Gain
from nookwright.sizing.next_readings.instruments import REACH, instrument_for, reading_error_of
from nookwright.sizing.next_readings.reasons import why_space, why_thing
from nookwright.survey.origins import Instrument


@given(st.floats(0.5, 4000))
def test_the_instrument_reaches_and_none_that_reaches_is_surer(size: float) -> None:
    """A caliper up to 150 mm, then a rule, then a tape."""
    chosen = instrument_for(size)
    assert size <= REACH[chosen]
    reaching = [one for one, reach in REACH.items() if size <= reach]
    assert all(reading_error_of(chosen, size) <= reading_error_of(one, size) for one in reaching)
    assert chosen is (Instrument.CALIPER if size <= 150 else Instrument.RULE if size <= 300 else Instrument.TAPE)


@pytest.mark.parametrize(
    ("gain", "words"),
    [
        (Gain(pocket=0.52), "its pockets get 0.5 mm tighter"),
        (Gain(pocket=0.52, at_same_size=1.0), "its pockets get 0.5 mm tighter (or stay as wide and fit with 99.9 %)"),
        (Gain(cells=2), "its part takes 8 cm2 less on average"),
        (Gain(cells=-1.5), "its part takes 6 cm2 more on average"),
        (Gain(mass_g=7), "7 g less to print"),
        (Gain(fit=0.021), "the first print fits 2.1 % likelier"),
    ],
)
def test_each_gain_is_said_in_words(gain: Gain, words: str) -> None:
    """Millimetres, cm2, grams, per cent; cells are not for people."""
    assert why_thing(gain, 20.0, rough=False, homeless=False) == words


def test_what_is_rough_or_has_no_place_is_said_first() -> None:
    """Both in plain words."""
    assert why_thing(Gain(), 20.0, rough=True, homeless=False) == "its size is rough"
    said = why_thing(Gain(pocket=1.4), 20.0, rough=True, homeless=True)
    assert said == "its size is rough; it has no place yet, and is likely 1.4 mm smaller than has to be feared"


def test_sides_of_spaces_say_what_may_change() -> None:
    """Columns along the width, rows along the depth, and what is too tall."""
    assert (
        why_space(Gain(lines=0.34), "width") == "with a chance of 34 % it holds one column of cells more, or one less"
    )
    assert "row" in why_space(Gain(lines=0.34), "depth")
    assert why_space(Gain(lines=0.34, pocket=0.6), "height") == (
        "0.6 mm more height, and a lot has no place yet; with a chance of 34 % its tallest part no longer goes in"
    )
