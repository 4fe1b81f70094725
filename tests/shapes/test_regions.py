"""Regions as data: rules and boxes."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nookwright.ground.errors import RecipeError
from nookwright.shapes.arcs import QUARTER
from nookwright.shapes.regions import (
    Circle,
    Glyphs,
    Offset,
    Path,
    Polygon,
    Rect,
    Region,
    RegionDifference,
    RegionIntersection,
    RegionMove,
    RegionRepeat,
    RegionUnion,
    Stroke,
)

if TYPE_CHECKING:
    from collections.abc import Callable

    from nookwright.shapes.boxes import Box2

TRIANGLE = Polygon(((-1, 0), (3, 1), (0, 5)))


@pytest.mark.parametrize(
    ("region", "box"),
    [
        (Rect(40, 30, 5), (0, 0, 40, 30)),
        (Circle(2.5), (-2.5, -2.5, 2.5, 2.5)),
        (TRIANGLE, (-1, 0, 3, 5)),
        (Offset(Rect(40, 30), 2), (-2, -2, 42, 32)),
        (Offset(Rect(40, 30), -14.9), (14.9, 14.9, 25.1, 15.1)),
        (RegionUnion((Circle(1), Rect(5, 3))), (-1, -1, 5, 3)),
        (RegionDifference(Rect(5, 3), (Circle(4),)), (0, 0, 5, 3)),
        (RegionIntersection((Rect(5, 3), Circle(4))), (0, 0, 4, 3)),
        (RegionMove(TRIANGLE, x=0.1, y=0.2), (-0.9, 0.2, 3.1, 5.2)),
        (RegionMove(TRIANGLE, x=10, quarter_turns=1), (5, -1, 10, 3)),
        (RegionMove(TRIANGLE, quarter_turns=2), (-3, -5, 1, 0)),
        (RegionMove(TRIANGLE, quarter_turns=3), (0, -3, 5, 1)),
        (RegionRepeat(Circle(1), ((0, 0), (10, -4))), (-1, -5, 11, 1)),
        (Path(((0, 0, 0), (9, 0, 0), (9, 5, QUARTER), (5, 9, 0), (0, 9, 0))), (0, 0, 9, 9)),
        (Path(((0, 0, 0), (8, 0, 1), (8, 6, 0), (0, 6, 0))), (0, 0, 11, 6)),
        (Path(((0, 0, 0), (8, 0, -0.5), (8, 6, 0), (0, 6, 0))), (0, 0, 8, 6)),
        (Path(((3, 4, 3), (5, 4, 0), (5, 6, 0), (3, 6, 0))), (2.3333, 1, 5.6667, 6)),
        (Stroke(1, 2, 1, 2, 3), (-0.5, 0.5, 2.5, 3.5)),
        (Stroke(5, 0, -5, 0, 2, 1), (-6, -1, 6, 6)),
        (Stroke(0, 0, 4, 3, 2), (-1, -1, 5, 4)),
        (Glyphs("L", 10, 1), (0, 0, 5.68, 10)),
    ],
)
def test_boxes(region: Region, box: Box2) -> None:
    """The box of every kind of region is known without a kernel."""
    assert region.bounds == box


@pytest.mark.parametrize(
    ("make", "rule"),
    [
        (lambda: Rect(0, 3), "width is positive; found 0.0"),
        (lambda: Rect(3, -1), "depth is positive; found -1.0"),
        (lambda: Rect(3, 0.00004), "depth is positive; found 0.0"),
        (lambda: Rect(4, 6, 2.0001), "radius fits the shorter side; found 2.0001, allowed: 0 to 2"),
        (lambda: Rect(4, 6, -0.1), "radius fits the shorter side"),
        (lambda: Circle(0), "radius is positive"),
        (lambda: Polygon(((0, 0), (0, 1), (1, 0))), "counter-clockwise"),
        (lambda: Path(((0, 0, -1), (9, 0, 0), (9, 9, 0))), "an arc|neither cross|folds|counter"),
        (lambda: Path(((0, 0, -0.5), (9, 0, -0.5))), "counter-clockwise|folds"),
        (lambda: Path(((0, 0, float("nan")), (9, 0, 0.5))), "points is finite"),
        (lambda: Stroke(0, 0, 9, 0, 0), "width is positive"),
        (lambda: Stroke(0, 0, 9, 0, 1, 1.1), "half a circle or less"),
        (lambda: Stroke(0, 0, 0, 0, 1, 0.5), "half a circle or less"),
        (lambda: Stroke(0, 0, 9, 0, 1, 0.00001), "an arc rises"),
        (lambda: Stroke(0, 0, 4, 0, 4, 1), "finer than the arc; found 4.0, allowed: less than 4"),
        (lambda: Offset(Rect(4, 6), -2), "leaves something; found -2.0, allowed: more than -2"),
        (lambda: Offset(Circle(3), -3.5), "leaves something; found -3.5, allowed: more than -3"),
        (lambda: RegionUnion(()), "regions holds something"),
        (lambda: RegionIntersection(()), "regions holds something"),
        (lambda: RegionIntersection((Circle(1), RegionMove(Circle(1), x=2))), "regions overlap"),
        (lambda: RegionRepeat(Circle(1), ((0, 0), (2.005, 0))), "no hair's gap"),
        (lambda: RegionRepeat(Circle(1), ()), "one or more pairs"),
    ],
)
def test_what_cannot_be_made_is_refused(make: Callable[[], Region], rule: str) -> None:
    """Each rule has a region that breaks it; the message has the rule, the value and what is allowed."""
    with pytest.raises(RecipeError, match=rule):
        make()


@pytest.mark.parametrize("make", [lambda: Rect(4, 6, 2), lambda: Offset(Rect(4, 6), -1.9999), lambda: Circle(0.0001)])
def test_the_limits_can_be_made(make: Callable[[], Region]) -> None:
    """What lies just inside a rule is a region with a box."""
    x0, y0, x1, y1 = make().bounds
    assert x1 > x0
    assert y1 > y0
