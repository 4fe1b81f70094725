"""Regions made into contours, against shapely as an outside reference."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
import pytest
from shapely import Point, affinity, box, unary_union
from shapely import Polygon as ShapelyPolygon

from nookwright.ground.errors import SolidError
from nookwright.shapes.regions import (
    Circle,
    Offset,
    Polygon,
    Rect,
    Region,
    RegionDifference,
    RegionIntersection,
    RegionMove,
    RegionRepeat,
    RegionUnion,
)
from nookwright.solids.outlines import Outlines, chords, circle_points, rect_points

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

ARROW = Polygon(((0, 0), (12, 0), (12, 5), (6, 2), (3, 9)))
ARROW_OUTSIDE = ShapelyPolygon(ARROW.points)
PLACES = ((0.0, 0.0), (7.0, 3.0), (30.0, -5.0))
FINE = 512  # segments of a quarter circle of the reference


def disc(radius: float, x: float = 0, y: float = 0) -> BaseGeometry:
    """A disc of the reference."""
    return Point(x, y).buffer(radius, quad_segs=FINE)


def area_of(contours: list[np.ndarray[tuple[int, int], np.dtype[np.float64]]]) -> float:
    """The area within contours, holes negative, by the shoelace formula."""
    return sum(float(c[:, 0] @ np.roll(c[:, 1], -1) - c[:, 1] @ np.roll(c[:, 0], -1)) / 2 for c in contours)


@pytest.mark.parametrize(
    ("region", "outside", "contours"),
    [
        (Rect(40, 30, 5), box(5, 5, 35, 25).buffer(5, quad_segs=FINE), 1),
        (Circle(7), disc(7), 1),
        (ARROW, ARROW_OUTSIDE, 1),
        (Offset(Circle(7), 3), disc(10), 1),
        (Offset(Rect(40, 30, 5), 3), box(5, 5, 35, 25).buffer(8, quad_segs=FINE), 1),
        (Offset(Rect(40, 30, 5), -3), box(5, 5, 35, 25).buffer(2, quad_segs=FINE), 1),
        (Offset(Rect(40, 30, 2), -3), box(3, 3, 37, 27), 1),
        (Offset(ARROW, 1.5), ARROW_OUTSIDE.buffer(1.5, quad_segs=FINE), 1),
        (Offset(ARROW, -0.8), ARROW_OUTSIDE.buffer(-0.8, quad_segs=FINE), 1),
        (Offset(RegionMove(ARROW, 3, 4, 1), 1.5), ARROW_OUTSIDE.buffer(1.5, quad_segs=FINE), 1),
        (RegionUnion((ARROW, Circle(4), Rect(5, 5))), unary_union([ARROW_OUTSIDE, disc(4), box(0, 0, 5, 5)]), 1),
        (RegionUnion((Rect(5, 5), RegionMove(Rect(5, 5), x=5))), box(0, 0, 10, 5), 1),
        (RegionUnion((Circle(1), RegionMove(Circle(1), x=9))), unary_union([disc(1), disc(1, 9)]), 2),
        (RegionDifference(Circle(8), (ARROW, Circle(2))), disc(8) - ARROW_OUTSIDE - disc(2), 2),
        (RegionDifference(Circle(8), (Circle(2),)), disc(8) - disc(2), 2),
        (RegionIntersection((Circle(8), ARROW)), disc(8) & ARROW_OUTSIDE, 1),
        (RegionRepeat(Circle(6), PLACES), unary_union([disc(6, *place) for place in PLACES]), 2),
        (RegionMove(ARROW, -3, 4, 3), affinity.rotate(ARROW_OUTSIDE, 270, origin=(0, 0)), 1),
    ],
)
def test_areas_are_those_of_the_reference(region: Region, outside: BaseGeometry, contours: int) -> None:
    """Area and number of contours of every kind of region agree with shapely, within the tolerance along the edge."""
    for tolerance in (0.05, 0.005):
        made = Outlines(tolerance).of(region)
        assert len(made) == contours
        assert area_of(made) == pytest.approx(outside.area, abs=tolerance * outside.length + 1e-3)


@pytest.mark.parametrize(
    ("region", "outside"),
    [
        (RegionMove(ARROW, -3, 4, 1), affinity.translate(affinity.rotate(ARROW_OUTSIDE, 90, origin=(0, 0)), -3, 4)),
        (RegionMove(Rect(9, 4, 1), 1, 2, 2), box(-8, -2, 1, 2).buffer(-1).buffer(1, quad_segs=FINE)),
        (Offset(RegionMove(Circle(3), 5, 5), -1), disc(2, 5, 5)),
    ],
)
def test_places_are_those_of_the_reference(region: Region, outside: BaseGeometry) -> None:
    """A region lies where the reference lies: what only one of them covers is within the tolerance."""
    (contour,) = Outlines(0.005).of(region)
    assert ShapelyPolygon(contour).symmetric_difference(outside).area <= 0.005 * outside.length


@pytest.mark.parametrize("tolerance", [0.1, 0.01, 0.001])
@pytest.mark.parametrize("radius", [0.3, 2.0, 5.0, 60.0])
def test_chords_stay_within_the_tolerance(radius: float, tolerance: float) -> None:
    """The sagitta of a chord is at most the tolerance, and one step of four fewer would break it."""
    count = chords(radius, tolerance)
    assert count % 4 == 0
    assert radius * (1 - math.cos(math.pi / count)) <= tolerance
    if count > 8:
        assert radius * (1 - math.cos(math.pi / (count - 4))) > tolerance


def test_extreme_points_are_exact() -> None:
    """A circle's four extremes are its radius to the last bit, at any number of chords."""
    for count in (8, 12, 52, 100):
        points = circle_points(3.3, count)
        assert points.max(axis=0).tolist() == [3.3, 3.3]
        assert points.min(axis=0).tolist() == [-3.3, -3.3]


def test_a_corner_shrinks_to_a_point() -> None:
    """An inset as large as the radius leaves sharp corners, each as often as its arc has points."""
    points = rect_points(Rect(10, 8, 2), 8, inset=2)
    assert len(points) == 12
    assert np.unique(points, axis=0).tolist() == [[2, 2], [2, 6], [8, 2], [8, 6]]


@pytest.mark.parametrize(
    "region",
    [
        RegionDifference(Circle(2), (Circle(3),)),
        RegionIntersection((Polygon(((0, 0), (9, 9), (0, 9))), Polygon(((1, 0), (9, 0), (9, 8))))),
        Offset(ARROW, -2.4),
    ],
)
def test_a_region_that_vanishes_is_an_error_that_names_it(region: Region) -> None:
    """Boxes cannot tell that nothing is left; the kernel can, and says of what."""
    with pytest.raises(SolidError, match=rf"{region.kind} {region.digest[:12]} .*nothing is left"):
        Outlines(0.01).of(region)


def test_what_the_kernel_does_not_know_is_an_error() -> None:
    """A region of a foreign kind is named, not guessed."""

    class Blob(Region):
        """No kind of ours."""

        @property
        def bounds(self) -> tuple[float, float, float, float]:
            """Somewhere."""
            return 0.0, 0.0, 1.0, 1.0

    with pytest.raises(SolidError, match=r"Blob .*knows no such region"):
        Outlines(0.01).of(Blob())
