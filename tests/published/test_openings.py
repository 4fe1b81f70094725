"""One rectangle in another, against the answer of W. B. Carver.

"How to fit one rectangle in another" is the solution of problem E 1225, The American Mathematical Monthly 64 (1957),
pages 114 to 116. The formula is quoted from memory; the two special cases below follow from it by hand.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.checks.room_fit.openings import passes, shadows_of

sides = st.floats(5, 100)


def goes(p: float, q: float, wide: float, high: float) -> bool:
    """Whether a rectangle p >= q goes into one of wide >= high."""
    if p <= wide:
        return q <= high
    if q > high:
        return False
    return wide >= (2 * p * q * high + (p * p - q * q) * math.sqrt(p * p + q * q - high * high)) / (p * p + q * q)


@given(a=sides, b=sides, wide=sides, high=sides)
@settings(max_examples=100, deadline=None)
def test_a_long_box_passes_where_its_end_does(a: float, b: float, wide: float, high: float) -> None:
    """A box so long that only its end can lead: as Carver's answer, but for steps of the turn and a hair."""
    p, q, wide, high = max(a, b), min(a, b), max(wide, high), min(wide, high)
    shadows = shadows_of(np.array([(x, y, z) for x in (0, 2000.0) for y in (0, p) for z in (0, q)]))
    if passes(shadows, (wide, high)):
        assert goes(p, q, wide + 1e-6, high + 1e-6)
    if goes(p, q, wide - 0.5, high - 0.5):
        assert passes(shadows, (wide, high))


def test_the_special_cases_of_the_formula() -> None:
    """A line of no breadth goes up to the diagonal; a square goes no farther leaning than level."""
    assert goes(4.99, 1e-9, 4, 3)
    assert not goes(5.01, 1e-9, 4, 3)
    assert goes(3, 3, 4, 3)
    assert not goes(3.01, 3.01, 4, 3)


@pytest.mark.parametrize(("high", "through"), [(10.6, True), (10.1, False)])
def test_a_leaning_end_goes_through_what_is_shorter_than_it(high: float, through: bool) -> None:  # noqa: FBT001
    """21 x 2 through a width of 20: by the formula a height of 10.36 is the least."""
    shadows = shadows_of(np.array([(x, y, z) for x in (0, 2000.0) for y in (0, 21.0) for z in (0, 2.0)]))
    assert passes(shadows, (20.0, high)) is through is goes(21, 2, 20, high)
