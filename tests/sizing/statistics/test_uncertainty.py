"""Uncertainty of readings: how components add up, and what each instrument is good for."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.sizing.statistics.uncertainty import Combined, Component, reading_components, rectangular, repeated
from nookwright.survey.origins import Instrument

parts = st.lists(
    st.builds(Component, st.just("one"), st.floats(0.001, 10), st.one_of(st.just(math.inf), st.floats(1, 100))),
    min_size=1,
    max_size=6,
).map(tuple)


@given(parts)
def test_a_sum_is_between_its_largest_part_and_their_plain_sum(components: tuple[Component, ...]) -> None:
    """Squares add up."""
    sizes = [one.standard for one in components]
    assert max(sizes) * (1 - 1e-12) <= Combined(components).standard <= sum(sizes) * (1 + 1e-12)


@given(parts)
def test_freedom_is_at_least_that_of_the_poorest_part(components: tuple[Component, ...]) -> None:
    """Welch and Satterthwaite: never below the least, never above the sum."""
    freedoms = [one.freedom for one in components]
    found = Combined(components).freedom
    assert min(freedoms) * (1 - 1e-9) <= found
    assert found <= sum(freedoms) * (1 + 1e-9)


@given(parts, st.sampled_from([(0.8, 0.9), (0.9, 0.95), (0.95, 0.99)]))
def test_one_side_needs_less_than_two(components: tuple[Component, ...], confidences: tuple[float, float]) -> None:
    """And more confidence more."""
    combined = Combined(components)
    low, high = confidences
    assert combined.expanded(high, sides=1) < combined.expanded(high)
    assert combined.expanded(low) < combined.expanded(high)


@pytest.mark.parametrize("instrument", list(Instrument))
@given(st.floats(1, 5000), st.floats(0, 1000))
def test_longer_is_never_surer(instrument: Instrument, length: float, more: float) -> None:
    """What a reading may be off by does not fall with the length."""
    short, long = (Combined(reading_components(instrument, one)).standard for one in (length, length + more))
    assert short <= long


def test_a_caliper_is_surer_than_a_rule_and_a_rule_than_a_tape() -> None:
    """At 80 mm; a laser is for rooms."""
    order = (Instrument.CALIPER, Instrument.RULE, Instrument.TAPE, Instrument.LASER)
    sizes = [Combined(reading_components(one, 80.0)).standard for one in order]
    assert sizes == sorted(sizes)
    assert sizes[0] < 0.05
    assert sizes[1] > 0.3


def test_a_rectangular_limit() -> None:
    """The standard deviation of a uniform distribution."""
    assert rectangular(1.0) == pytest.approx(1 / math.sqrt(3))


def test_repeated_readings() -> None:
    """The deviation of the mean of 1, 2, 3 is 1 / sqrt 3, with two degrees of freedom."""
    mean = repeated((1.0, 2.0, 3.0))
    assert mean.standard == pytest.approx(1 / math.sqrt(3))
    assert mean.freedom == 2
