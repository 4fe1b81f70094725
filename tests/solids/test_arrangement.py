"""Exact regions: loops of lines and arcs, against shapely and against the contours of the mesh kernel."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
import pytest
from shapely import Point, unary_union
from shapely import Polygon as ShapelyPolygon

from nookwright.ground.errors import SolidError
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
from nookwright.solids.edges import area_of, circle_loop, loop_of, windings
from nookwright.solids.exact_outlines import ExactOutlines, are_apart
from nookwright.solids.outlines import Outlines

if TYPE_CHECKING:
    from nookwright.solids.edges import Loop

PI = math.pi
SQUARE = Rect(10, 10)
AT_CORNER = RegionMove(Circle(4), x=10, y=10)


def area(region: Region) -> float:
    """The exact area of a region."""
    return sum(map(area_of, ExactOutlines().of(region)))


@pytest.mark.parametrize(
    ("region", "true_area", "loops", "edges"),
    [
        (Rect(40, 30, 5), 1200 - (4 - PI) * 25, 1, 8),
        (Circle(7), PI * 49, 1, 2),
        (RegionUnion((SQUARE, AT_CORNER)), 100 + 0.75 * PI * 16, 1, 6),
        (RegionIntersection((SQUARE, AT_CORNER)), 0.25 * PI * 16, 1, 3),
        (RegionDifference(SQUARE, (AT_CORNER,)), 100 - 0.25 * PI * 16, 1, 5),
        (RegionDifference(SQUARE, (RegionMove(Circle(2), x=5, y=5),)), 100 - PI * 4, 2, 6),
        (RegionUnion((SQUARE, RegionMove(SQUARE, x=10))), 200, 1, 4),  # flush
        (RegionUnion((SQUARE, SQUARE)), 100, 1, 4),  # one on the other
        (RegionUnion((SQUARE, RegionMove(SQUARE, x=20))), 200, 2, 8),
        (RegionDifference(SQUARE, (RegionMove(Rect(4, 10), x=3),)), 60, 2, 8),  # cut in two, flush at both ends
        (RegionRepeat(SQUARE, ((0, 0), (10, 0), (10, 10), (0, 10))), 400, 1, 4),
        (RegionRepeat(Circle(3), ((0, 0), (10, 0))), 18 * PI, 2, 4),
        (RegionMove(RegionDifference(Circle(5), (Circle(2),)), 3, 4, 1), 21 * PI, 2, 4),
        (Offset(SQUARE, 2), 100 + 80 + 4 * PI, 1, 8),
        (Offset(SQUARE, -2), 36, 1, 4),
        (Offset(Offset(SQUARE, -2), 2), 36 + 48 + 4 * PI, 1, 8),
        (Offset(RegionDifference(Rect(20, 20), (RegionMove(SQUARE, x=10, y=10),)), -2), 256 - 100 + (4 - PI), 1, 7),
        (Offset(Circle(5), -2), 9 * PI, 1, 2),
        (Offset(RegionDifference(Circle(9), (Circle(3),)), 2), 120 * PI, 2, 4),
        (Offset(RegionDifference(Circle(9), (Circle(3),)), 4), 169 * PI, 1, 2),
        (Path(((0, 0, 0), (9, 0, 1), (9, 6, 0), (0, 6, 0))), 54 + PI * 4.5, 1, 4),
        (Stroke(5, 0, -5, 0, 2, 1), 11 * PI, 1, 4),
        (Stroke(0, 0, 3, 4, 2), 10 + PI, 1, 4),
        (Glyphs("L", 10, 1), 9 + 0.52 * 9 + PI / 4 - 0.25 - (1 - PI / 4) / 4 + 0.25, 1, None),
    ],
)
def test_areas_are_those_of_the_closed_form(region: Region, true_area: float, loops: int, edges: int | None) -> None:
    """To the last bit, in as few loops and edges as there can be; so no face is cut up for nothing."""
    found = ExactOutlines().of(region)
    assert sum(map(area_of, found)) == pytest.approx(true_area, rel=1e-9)
    assert len(found) == loops
    assert edges is None or sum(map(len, found)) == edges


def test_every_edge_ends_where_the_next_begins() -> None:
    """Loops are closed, to the very float: wires are made of them."""
    region = RegionDifference(Offset(RegionUnion((SQUARE, AT_CORNER)), -0.7), (RegionMove(Circle(2), x=5, y=5),))
    for loop in ExactOutlines().of(region):
        for edge, following in zip(loop, (*loop[1:], loop[0]), strict=True):
            assert edge.end == following.start


def test_regions_that_touch_at_a_corner_stay_two_loops() -> None:
    """Where four edges meet in a point, each loop turns back to its own side."""
    found = ExactOutlines().of(RegionUnion((SQUARE, RegionMove(SQUARE, x=10, y=10))))
    assert [area_of(loop) for loop in found] == [pytest.approx(100)] * 2
    holed = ExactOutlines().of(
        RegionDifference(Rect(30, 30), (RegionMove(SQUARE, x=5, y=5), RegionMove(SQUARE, x=15, y=15)))
    )
    assert sorted(round(area_of(loop)) for loop in holed) in ([-200, 900], [-100, -100, 900])


def test_many_strokes_at_once() -> None:
    """A line of lettering of all its strokes, tangent and coincident ones among them, is what shapely makes of it."""
    region = Glyphs("Bag 058 & äöß", 10, 1.2)
    pens = [ShapelyPolygon(Outlines(0.0005).of(each)[0]) for each in region.strokes.regions]
    whole = unary_union(pens)
    assert area(region) == pytest.approx(whole.area, abs=2 * 0.0005 * whole.length)
    holes = sum(len(piece.interiors) for piece in getattr(whole, "geoms", [whole]))
    assert sum(area_of(loop) < 0 for loop in ExactOutlines().of(region)) == holes


@pytest.mark.parametrize(
    ("loop", "points", "times"),
    [
        (circle_loop(5), [(0, 0), (4.9, 0), (0, -4.9), (5.1, 0), (3.6, 3.6), (-3.5, 3.5)], [1, 1, 1, 0, 0, 1]),
        (
            loop_of(Path(((0, 0, 0), (8, 0, -0.5), (8, 6, 0), (0, 6, 0))).sides),
            [(4, 3), (6.6, 3), (8.1, 3), (0.1, 0.1)],
            [1, 0, 0, 1],
        ),
        (
            loop_of(Path(((3, 4, 3), (5, 4, 0), (5, 6, 0), (3, 6, 0))).sides),
            [(4, 1.1), (2.4, 2.6), (4, 5), (2.4, 4)],
            [1, 1, 1, 0],
        ),
    ],
)
def test_windings(loop: Loop, points: list[tuple[float, float]], times: list[int]) -> None:
    """Inside is once, outside never: with arcs that bulge out, in, and beyond half a circle."""
    assert windings(loop, np.array(points, dtype=float)).tolist() == times
    back = tuple(edge.reverse for edge in loop[::-1])
    assert windings(back, np.array(points, dtype=float)).tolist() == [-each for each in times]


def test_windings_on_the_level_of_corners_and_on_chords() -> None:
    """Points level with a corner, or on the chord of an arc, are counted once: the two halves of a disc agree."""
    points = np.array([(x / 4, 0.0) for x in range(-30, 31) if abs(x) != 20])
    inside = [Point(*point).within(Point(0, 0).buffer(5)) for point in points.tolist()]
    assert (windings(circle_loop(5), points) == 1).tolist() == inside


def test_boxes_apart() -> None:
    """Boxes that touch are not apart: they have to be joined."""
    assert are_apart([(0.0, 0.0, 1.0, 1.0), (1.01, 0.0, 2.0, 1.0), (0.0, 1.01, 3.0, 2.0)])
    assert not are_apart([(0.0, 0.0, 1.0, 1.0), (1.0, 0.0, 2.0, 1.0)])
    assert not are_apart([(0.0, 0.0, 0.0, 9.0, 9.0, 9.0), (3.0, 3.0, 3.0, 4.0, 4.0, 4.0)])
    assert are_apart([(0.0, 0.0, 0.0, 9.0, 9.0, 9.0), (3.0, 3.0, 9.5, 4.0, 4.0, 10.0)])


@pytest.mark.parametrize(
    "region",
    [
        RegionDifference(Circle(2), (Circle(3),)),
        RegionIntersection((Polygon(((0, 0), (9, 9), (0, 9))), Polygon(((1, 0), (9, 0), (9, 8))))),
        Offset(Polygon(((0, 0), (12, 0), (12, 5), (6, 2), (3, 9))), -2.4),
    ],
)
def test_a_region_that_vanishes_is_an_error_that_names_it(region: Region) -> None:
    """As in the mesh kernel."""
    with pytest.raises(SolidError, match=rf"{region.kind} {region.digest[:12]} .*nothing is left"):
        ExactOutlines().of(region)
