"""Regions made into contours of points: the plane half of the mesh kernel.

Outer contours run counter-clockwise, holes clockwise. A circle is cut into a multiple of four chords, so its
extreme points are vertices and bounding boxes are exact; the chords stay within the tolerance of the arc.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
from manifold3d import CrossSection, FillRule, JoinType, OpType

from nookwright.ground import tolerances
from nookwright.ground.errors import SolidError
from nookwright.ground.sources import Fact, Kind
from nookwright.shapes.boxes import turned_point
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
from nookwright.solids.triangles import WRITTEN

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from nookwright.shapes.arcs import Side
    from nookwright.shapes.solids import Solid

    Array = NDArray[np.float64]

FEWEST_CHORDS = Fact(8, unit="1", kind=Kind.CHOICE, source="No circle has fewer, however small it is.")


def chords(radius: float, tolerance: float) -> int:
    """How many chords keep a full circle within the tolerance: a multiple of four, at least eight.

    >>> chords(5.0, 0.01), chords(0.001, 0.01)
    (52, 8)
    """
    if radius <= tolerance:
        return int(FEWEST_CHORDS)
    quarter = math.ceil(math.pi / math.acos(1 - tolerance / radius) / 4)
    return max(4 * quarter, int(FEWEST_CHORDS))


def circle_points(radius: float, count: int) -> Array:
    """Points of a circle about the origin, counter-clockwise from the right; the four extremes are exact."""
    angles = 2 * np.pi * np.arange(count) / count
    points: Array = radius * np.stack([np.cos(angles), np.sin(angles)], axis=1)
    points[:: count // 4] = radius * np.array([[1, 0], [0, 1], [-1, 0], [0, -1]])
    return points


def rect_points(rect: Rect, count: int, inset: float = 0.0) -> Array:
    """Points of a rounded rectangle that lies inside another one, corners concentric.

    Args:
        rect: the outer one.
        count: chords of a full circle; each corner has a quarter of them.
        inset: how far the contour lies inside; at most the radius of ``rect``.
    """
    arc, quarter, radius = circle_points(rect.radius - inset, count), count // 4, rect.radius
    right, back = rect.width - radius, rect.depth - radius
    corners = []
    for n, middle in enumerate([(right, back), (radius, back), (radius, radius), (right, radius)]):
        turn = np.take(arc, range(n * quarter, (n + 1) * quarter + 1), axis=0, mode="wrap")
        corners.append(turn + np.array(middle))
    return np.concatenate(corners)


def outline_points(sides: tuple[Side, ...], tolerance: float) -> Array:
    """Points of a closed outline of lines and arcs; the furthest points of its arcs are among them, exactly.

    Args:
        sides: in order.
        tolerance: largest distance of a chord from its arc, mm.
    """
    return np.concatenate([_side_points(side, tolerance) for side in sides])


def _side_points(side: Side, tolerance: float) -> Array:
    """Points of a side without its end: its start, and those points of the whole circle that lie on it.

    So arcs of one circle have the same points, however they are cut, and leave no slivers between them.
    """
    if not side.bulge:
        return np.array([side.start])
    count = chords(side.radius, tolerance)
    step, near = 2 * math.pi / count, tolerances.GRID / side.radius
    low, high = sorted((side.start_rad, side.start_rad + side.swept_rad))
    numbers = np.arange(math.ceil((low + near) / step), math.floor((high - near) / step) + 1)
    circle = circle_points(side.radius, count)[numbers % count] + np.array(side.centre)
    return np.concatenate([[side.start], circle if side.bulge > 0 else circle[::-1]])


def _outline(region: Circle | Rect | Polygon | Path | Stroke, tolerance: float) -> Array:
    match region:
        case Circle(radius):
            return circle_points(radius, chords(radius, tolerance))
        case Rect(radius=radius):
            return rect_points(region, chords(radius, tolerance))
        case Polygon(points):
            return np.array(points)
        case Path(sides=sides) | Stroke(outline=sides):
            return outline_points(sides, tolerance)


class Outlines:
    """Makes the contours of regions at one tolerance, each distinct region once."""

    def __init__(self, tolerance: float) -> None:
        self._tolerance = tolerance
        self._made: dict[str, list[Array]] = {}

    def of(self, region: Region) -> list[Array]:
        """The contours of a region.

        Raises:
            SolidError: nothing is left of it.
        """
        contours = self._contours(region)
        if not contours:
            raise SolidError(f"{said(region)}: nothing is left of this region")
        return contours

    def _contours(self, region: Region) -> list[Array]:
        if region.digest not in self._made:
            self._made[region.digest] = tidied(self._trace(region))
        return self._made[region.digest]

    def _trace(self, region: Region) -> list[Array]:
        match region:
            case Circle() | Rect() | Polygon() | Path() | Stroke():
                return [_outline(region, self._tolerance)]
            case Glyphs(strokes=strokes):
                return self._contours(strokes)
            case RegionMove(inner, x, y, turns):
                return [_turned(contour, turns) + np.array([x, y]) for contour in self._contours(inner)]
            case Offset(inner, by):
                return self._offset(inner, by)
        return self._combined(region)

    def _offset(self, region: Region, by: float) -> list[Array]:
        """Grown or worn away: in closed form where that is a primitive, otherwise by the plane kernel."""
        match region:
            case Circle(radius):
                return self._trace(Circle(radius + by))
            case Rect(width, depth, radius):
                grown = Rect(width + 2 * by, depth + 2 * by, max(0.0, radius + by))
                return self._trace(RegionMove(grown, x=-by, y=-by))
            case RegionMove(inner, x, y, turns):
                return self._trace(RegionMove(Offset(inner, by), x, y, turns))
        count = chords(abs(by), self._tolerance)
        return _polygons(self._section(region).offset(by, JoinType.Round, circular_segments=count))

    def _combined(self, region: Region) -> list[Array]:
        match region:
            case RegionUnion(regions):
                return overlaid([self._raw(each) for each in regions])
            case RegionDifference(base, cuts):
                return overlaid([self._raw(base)], [self._raw(each) for each in cuts])
            case RegionRepeat(inner, places):
                one = self._raw(inner)
                return overlaid([[contour + np.array(place) for contour in one] for place in places])
            case RegionIntersection(regions):
                return common([self._contours(each) for each in regions])
        raise SolidError(f"{said(region)}: the mesh kernel knows no such region")

    def _raw(self, region: Region) -> list[Array]:
        """The contours of a region for a boolean, which tidies them: those of a primitive as they come."""
        match region:
            case Circle() | Rect() | Polygon() | RegionMove(Circle() | Rect() | Polygon()):
                return self._trace(region)
        return self._contours(region)

    def _section(self, region: Region) -> CrossSection:
        return CrossSection(self._contours(region), FillRule.Positive)


def overlaid(regions: Sequence[list[Array]], cuts: Sequence[list[Array]] = ()) -> list[Array]:
    """What is in one region or more, and in none of the cuts, each given as its contours.

    Contours that run backwards take one away from how often a point is covered, and it is inside where that leaves more
    than nothing: so one pass over all contours does it. Of a difference there may be only one region.
    """
    contours = [contour for region in regions for contour in region]
    if not contours:
        return []
    contours += [contour[::-1] for cut in cuts for contour in cut]
    ends = np.cumsum([len(contour) for contour in contours])[:-1]
    return _polygons(CrossSection(np.split(on_grid(np.concatenate(contours)), ends), FillRule.Positive))


def common(regions: Sequence[list[Array]]) -> list[Array]:
    """What is in all of the regions, each given as its contours."""
    sections = [CrossSection(contours, FillRule.Positive) for contours in regions]
    return _polygons(CrossSection.batch_boolean(sections, OpType.Intersect))


def tidied(contours: list[Array]) -> list[Array]:
    """The contours on the grid of files, without points that repeat the one before; those without an area left out.

    >>> [contour.tolist() for contour in tidied([np.array([[0.0, 0.0], [1.0, 0.0], [1.000001, 0.0], [0.0, 1.0]])])]
    [[[0.0, 0.0], [1.0, 0.0], [0.0, 1.0]]]
    """
    if not contours:
        return []
    points, sizes = on_grid(np.concatenate(contours)), np.array([len(contour) for contour in contours])
    before, contour = _before(points, sizes), np.repeat(np.arange(len(sizes)), sizes)
    kept = (points != before).any(axis=1)
    points, sizes = points[kept], np.bincount(contour[kept], minlength=len(sizes))
    (x, y), (u, v) = _before(points, sizes).T, points.T
    # Twice the area; less than one grid square is a sliver that rounding has shut.
    doubled = np.bincount(contour[kept], x * v - y * u, len(sizes))
    found = np.split(points, np.cumsum(sizes)[:-1])
    return [each for each, area in zip(found, np.abs(doubled).tolist(), strict=True) if area > WRITTEN]


def _before(points: Array, sizes: NDArray[np.int64]) -> Array:
    """For each point of contours that lie one after another the point before it on its contour."""
    before = np.concatenate([points[-1:], points[:-1]])
    ends = np.cumsum(sizes)
    there = sizes > 0
    before[(ends - sizes)[there]] = points[(ends - 1)[there]]
    return before


def on_grid(points: Array) -> Array:
    """Points on the grid of files, without a negative zero."""
    rounded: Array = np.round(points, round(-math.log10(WRITTEN))) + 0.0
    return rounded


def said(node: Region | Solid) -> str:
    """A region or solid in an error message: its kind, its digest in short, its box."""
    return f"{node.kind} {node.digest[:12]} in {node.bounds}"


def _turned(contour: Array, quarter_turns: int) -> Array:
    axes = [turned_point((1.0, 0.0), quarter_turns), turned_point((0.0, 1.0), quarter_turns)]
    turned: Array = contour @ np.array(axes)
    return turned


def _polygons(section: CrossSection) -> list[Array]:
    return list(section.to_polygons())
