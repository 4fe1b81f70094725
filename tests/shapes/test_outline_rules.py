"""What a polygon must obey."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon as ShapelyPolygon

from nookwright.ground.errors import RecipeError
from nookwright.shapes.outline_rules import check_polygon

SQUARE = ((0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 4.0))


@pytest.mark.parametrize(
    "points",
    [
        SQUARE,
        ((0.0, 0.0), (1.0, 0.0), (0.0, 0.0001)),
        ((0.0, 0.0), (2.0, 0.0), (4.0, 0.0), (4.0, 4.0)),  # a corner on a straight side
        ((0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (2.0, 0.0001), (0.0, 4.0)),  # a notch one grid step from the side
    ],
)
def test_simple_polygons_pass(points: tuple[tuple[float, float], ...]) -> None:
    """A simple polygon that runs counter-clockwise is accepted, however thin."""
    check_polygon("Polygon", points)


@pytest.mark.parametrize(
    ("points", "rule"),
    [
        ((), "three corners or more"),
        (SQUARE[:2], "three corners or more"),
        (((0.0, 0.0, 0.0), (1.0, 0.0), (1.0, 1.0)), "each of two numbers"),
        (SQUARE[::-1], "counter-clockwise"),
        (((0.0, 0.0), (4.0, 0.0), (4.0, 0.0), (0.0, 4.0)), "corners differ"),
        (((0.0, 0.0), (4.0, 0.0), (0.0, 4.0), (0.0, 0.0)), "corners differ"),
        (((0.0, 0.0), (4.0, 0.0), (2.0, 0.0), (2.0, 3.0)), "folds back"),
        (((0.0, 0.0), (4.0, 0.0), (8.0, 0.0)), "folds back"),
        (((0.0, 0.0), (4.0, 4.0), (4.0, 0.0), (0.0, 4.0)), "neither cross nor touch"),
        (((0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (2.0, 0.0), (0.0, 4.0)), "neither cross nor touch"),
        (((0.0, 0.0), (4.0, 0.0), (2.0, 2.0), (4.0, 4.0), (0.0, 4.0), (2.0, 2.0)), "neither cross nor touch"),
    ],
)
def test_other_polygons_are_refused_by_the_rule_they_break(points: tuple[tuple[float, float], ...], rule: str) -> None:
    """Each rule has a polygon that breaks it, and the message names the rule."""
    with pytest.raises(RecipeError, match=rule):
        check_polygon("Polygon", points)


@settings(max_examples=300, deadline=None, derandomize=True)
@given(st.lists(st.tuples(st.integers(0, 6), st.integers(0, 6)), min_size=3, max_size=7, unique=True))
def test_the_verdict_is_that_of_an_outside_library(points: list[tuple[int, int]]) -> None:
    """Shapely finds a ring valid and counter-clockwise exactly where we accept it."""
    outside = ShapelyPolygon(points)
    fine = outside.is_valid and outside.exterior.is_ccw and not math.isclose(outside.area, 0)
    try:
        check_polygon("Polygon", tuple((float(x), float(y)) for x, y in points))
    except RecipeError:
        assert not fine
    else:
        assert fine
