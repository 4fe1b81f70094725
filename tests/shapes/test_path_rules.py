"""What a path of lines and arcs must obey."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely import Polygon as ShapelyPolygon

from nookwright.ground.errors import RecipeError
from nookwright.shapes.arcs import QUARTER
from nookwright.shapes.path_rules import check_path
from nookwright.shapes.regions import Path
from nookwright.solids.outlines import outline_points

Q = float(QUARTER)
Corners = tuple[tuple[float, float, float], ...]


@pytest.mark.parametrize(
    "points",
    [
        ((0, 0, 1), (4, 0, 1)),  # a disc
        ((0, 0, 0), (4, 0, 1)),  # half of one
        ((0, 0, 0), (9, 0, 0), (9, 5, Q), (5, 9, 0), (0, 9, 0)),  # a corner rounded
        ((0, 0, 0), (9, 0, 0), (9, 5, -Q), (5, 9, 0), (0, 9, 0)),  # a corner hollowed
        ((0, 0, 0), (9, 0, 0), (9, 9, 0), (6, 9, -1), (3, 9, 0), (0, 9, 0)),  # a bay in the back
        ((0, 0, 0), (4, 0, 3), (4, 3, 0), (0, 3, 0)),  # most of a circle on a side
        ((0, 0, 0), (4, 0, 0), (0, 4, 0)),
    ],
)
def test_simple_paths_pass(points: Corners) -> None:
    """Discs, rounded and hollowed corners, bays, and plain polygons."""
    check_path("Path", points)


@pytest.mark.parametrize(
    ("points", "rule"),
    [
        (((0, 0, 1),), "two corners or more"),
        (((0, 0), (1, 0), (0, 1)), "each of three numbers"),
        (((0, 0, -1), (4, 0, -1)), "counter-clockwise"),
        (((0, 0, 0), (4, 0, 0)), "three corners or more"),
        (((0, 0, 0), (4, 0, 1), (4, 0, 0)), "corners differ"),
        (((0, 0, 0.00001), (4, 0, 1)), "an arc rises"),
        (((0, 0, 0), (4, 0, 11)), "an arc rises"),
        (
            ((0, 0, 0), (9, 0, 0), (9, 3, 0), (7, 3, -1), (1, 3, 0), (0, 3, 0)),
            "neither cross nor touch",
        ),  # a bay to the front
        (((0, 0, 0), (9, 0, 0), (9, 9, -1), (9, 3, 0), (0, 3, 0)), "neither cross nor touch"),
        (((0, 0, 0), (8, 0, 0), (8, 8, 0), (6, 8, 0.3), (6, 4, 0), (4, 4, 2), (4, 8, 0), (0, 8, 0)), "neither cross"),
        (((0, 0, 0), (8, 0, 0), (8, 8, 0), (6, 8, -1), (6, 4, 1), (6, 8, 0), (0, 8, 0)), "folds back"),
        (((0, 0, 1), (4, 0, -1)), "folds back"),
        (((0, 0, 0), (9, 0, -1), (9, 9, 0), (0, 9, 0)), "folds back"),  # an arc that starts straight back
    ],
)
def test_other_paths_are_refused_by_the_rule_they_break(points: Corners, rule: str) -> None:
    """Each rule has a path that breaks it."""
    with pytest.raises(RecipeError, match=rule):
        check_path("Path", points)


@given(st.lists(st.tuples(st.integers(2, 9), st.sampled_from([0, 0, Q, -Q, 0.2, -0.3, 1])), min_size=3, max_size=7))
def test_the_verdict_is_that_of_an_outside_library(rays: list[tuple[int, float]]) -> None:
    """Stars with bulging sides: flattened very finely, shapely finds them simple exactly where we do.

    Passed over are those that are so near to touching that flattening decides.
    """
    turn = 2 * math.pi / len(rays)
    points = tuple(
        (round(r * math.cos(n * turn), 4), round(r * math.sin(n * turn), 4), b) for n, (r, b) in enumerate(rays)
    )
    try:
        sides = Path(points).sides
    except RecipeError as error:
        assume("touch" in str(error) or "folds" in str(error) or "counter" in str(error))
        from nookwright.shapes.arcs import sides_of

        outline = ShapelyPolygon(outline_points(sides_of(points), 1e-4))
        assert not outline.is_valid or not outline.exterior.is_ccw or _nearly_touches(outline)
    else:
        outline = ShapelyPolygon(outline_points(sides, 1e-4))
        assert outline.is_valid
        assert outline.exterior.is_ccw


def _nearly_touches(outline: ShapelyPolygon) -> bool:
    """Whether a pen of 0.001 around the edge shuts a gap or a neck of the outline."""
    thick = outline.buffer(-0.001)
    thin = outline.buffer(0.001)
    return thick.geom_type != "Polygon" or len(thin.interiors) > 0
