"""Sides told by their bulge."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.shapes.arcs import HALF, QUARTER, Side, crossings

TENTHS = st.integers(-90, 90).map(lambda n: n / 10)
BULGES = st.one_of(
    st.sampled_from([float(QUARTER), -float(QUARTER), 1.0, -1.0]), st.floats(0.05, 3), st.floats(-3, -0.05)
)


def test_the_usual_bulges() -> None:
    """A quarter of a circle from the right to the back, and a half one to the left, about the origin."""
    quarter, half = Side((5, 0), (0, 5), QUARTER), Side((5, 0), (-5, 0), HALF)
    for side, swept in ((quarter, math.pi / 2), (half, math.pi)):
        assert side.centre == pytest.approx((0, 0), abs=1e-12)
        assert side.radius == pytest.approx(5)
        assert side.swept_rad == pytest.approx(swept)
        assert side.area_mm2 == pytest.approx(25 / 2 * (swept - math.sin(swept)))
    assert [point for _, point in half.extremes] == [pytest.approx((0, 5), abs=1e-12)]
    assert Side((5, 0), (-5, 0), -HALF).extremes[0][1] == pytest.approx((0, -5), abs=1e-12)


@given(TENTHS, TENTHS, TENTHS, TENTHS, BULGES)
def test_both_ends_and_the_rise_are_those_of_the_definition(
    x: float, y: float, u: float, v: float, bulge: float
) -> None:
    """Start and end lie on the circle; half way, it is off its chord by bulge times half the chord, to the right."""
    if math.dist((x, y), (u, v)) < 0.1:
        return
    side = Side((x, y), (u, v), bulge)
    assert side.at(side.start_rad) == pytest.approx((x, y), abs=1e-9)
    assert side.at(side.start_rad + side.swept_rad) == pytest.approx((u, v), abs=1e-9)
    right = ((v - y) / side.chord, (x - u) / side.chord)
    rise = bulge * side.chord / 2
    there = ((x + u) / 2 + rise * right[0], (y + v) / 2 + rise * right[1])
    assert side.at(side.start_rad + side.swept_rad / 2) == pytest.approx(there, abs=1e-9)
    # The heading is square to the radius.
    heading, radius = side.heading(at_end=True), (u - side.centre[0], v - side.centre[1])
    assert heading[0] * radius[0] + heading[1] * radius[1] == pytest.approx(0, abs=1e-9 * side.radius)


@pytest.mark.parametrize(
    ("one", "other", "points"),
    [
        (Side((0, 0), (4, 0)), Side((1, -1), (1, 3)), [(1, 0)]),
        (Side((0, 0), (4, 0)), Side((0, 1), (4, 1)), []),
        (Side((-9, 3), (9, 3)), Side((5, 0), (-5, 0), 1), [(-4, 3), (4, 3)]),
        (Side((5, 0), (-5, 0), 1), Side((-9, 5), (9, 5)), [(0, 5), (0, 5)]),
        (Side((-9, 6), (9, 6)), Side((5, 0), (-5, 0), 1), []),
        (Side((5, 0), (-5, 0), 1), Side((13, 0), (3, 0), 1), [(4, -3), (4, 3)]),
        (Side((5, 0), (-5, 0), 1), Side((7, 0), (-7, 0), 1), []),
    ],
)
def test_crossings(one: Side, other: Side, points: list[tuple[float, float]]) -> None:
    """Lines and circles meet where Pythagoras says; parallel lines and concentric circles do not."""
    assert sorted(crossings(one, other)) == [pytest.approx(point) for point in points]
    assert sorted(crossings(other, one)) == [pytest.approx(point) for point in points]
