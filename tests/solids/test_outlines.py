"""Regions made into contours, against shapely as an outside reference."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
import pytest
from shapely import LineString, Point, affinity, box, unary_union
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
from nookwright.solids.outlines import Outlines, chords, circle_points, rect_points, tidied

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

ARROW = Polygon(((0, 0), (12, 0), (12, 5), (6, 2), (3, 9)))
ARROW_OUTSIDE = ShapelyPolygon(ARROW.points)
PLACES = ((0.0, 0.0), (7.0, 3.0), (30.0, -5.0))
FINE = 512  # segments of a quarter circle of the reference
QUARTER = math.tan(math.pi / 8)


def disc(radius: float, x: float = 0, y: float = 0) -> BaseGeometry:
    """A disc of the reference."""
    return Point(x, y).buffer(radius, quad_segs=FINE)


ROUNDED = box(0, 0, 20, 9) | box(0, 0, 15, 14) | disc(5, 15, 9)
HOOKED = (box(0, 0, 26, 9) | (box(20, -3, 26, 0) - disc(3, 20, -3))) - (box(23, -3, 26, 0) - disc(3, 23, 0))
HALF_RING = ((disc(6) - disc(4)) & box(-9, 0, 9, 9)) | disc(1, 5) | disc(1, -5)


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
        (Path(((0, 0, 1), (8, 0, 1))), disc(4, 4), 1),
        (Path(((0, 0, 0), (20, 0, 0), (20, 9, QUARTER), (15, 14, 0), (0, 14, 0))), ROUNDED, 1),
        (
            Path(((0, 0, 0), (20, 0, 0), (20, 14, 0), (13, 14, -1), (7, 14, 0), (0, 14, 0))),
            box(0, 0, 20, 14) - disc(3, 10, 14),
            1,
        ),
        (Path(((0, 0, 0), (20, 0, -QUARTER), (23, -3, QUARTER), (26, 0, 0), (26, 9, 0), (0, 9, 0))), HOOKED, 1),
        (Stroke(1, 2, 7, 10, 3), LineString([(1, 2), (7, 10)]).buffer(1.5, quad_segs=FINE), 1),
        (Stroke(5, 0, -5, 0, 2, 1), HALF_RING, 1),
        (Stroke(-5, 0, 5, 0, 2, -1), HALF_RING, 1),
        (Stroke(2, 3, 2, 3, 4), disc(2, 2, 3), 1),
        (
            Glyphs("L", 10, 1),
            LineString([(0.5, 9.5), (0.5, 0.5), (0.5 + 0.52 * 9, 0.5)]).buffer(0.5, quad_segs=FINE),
            1,
        ),
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


def test_a_path_of_quarters_has_the_points_of_a_rounded_rectangle() -> None:
    """Both are cut into the same chords, so a part may be drawn either way."""
    q = QUARTER
    path = Path(((5, 0, 0), (35, 0, q), (40, 5, 0), (40, 25, q), (35, 30, 0), (5, 30, q), (0, 25, 0), (0, 5, q)))
    (one,), (other,) = Outlines(0.01).of(path), Outlines(0.01).of(Rect(40, 30, 5))
    assert {tuple(point) for point in one.tolist()} == {tuple(point) for point in other.tolist()}


@pytest.mark.parametrize("bulge", [0.3, 1.0, 2.5, -0.7])
def test_arcs_stay_within_the_tolerance_and_reach_their_extremes(bulge: float) -> None:
    """All points lie on the circle, no chord is off by more than the tolerance, and the box is that of the recipe."""
    path = Path(((0, 0, 0), (30, 0, 0), (30, 20, bulge), (12, 26, 0), (0, 26, 0)))
    arc = path.sides[2]
    (points,) = Outlines(0.02).of(path)
    middles = (points + np.roll(points, -1, axis=0)) / 2
    lengths = np.linalg.norm(points - np.roll(points, -1, axis=0), axis=1)
    on = np.abs(np.linalg.norm(points - arc.centre, axis=1) - arc.radius) < 2e-5
    chords_of_arc = on & np.roll(on, -1) & (lengths < arc.chord)
    sagittas = arc.radius - np.linalg.norm(middles[chords_of_arc] - arc.centre, axis=1)
    assert len(sagittas) > 3
    assert sagittas.max() <= 0.02 + 2e-5
    assert (*points.min(axis=0), *points.max(axis=0)) == pytest.approx(path.bounds, abs=1e-4)


def test_contours_are_tidied_one_by_one() -> None:
    """A contour that begins where the one before it ends keeps that point; one without an area goes."""
    square = np.array([[0.0, 0], [1, 0], [1, 1], [0, 1]])
    line = np.array([[5.0, 5], [6, 6], [7, 7]])
    behind, backwards = square + np.array([0, 1]), square[::-1]
    found = tidied([square, behind, line, line[:0], backwards])
    assert [contour.tolist() for contour in found] == [each.tolist() for each in (square, behind, backwards)]
