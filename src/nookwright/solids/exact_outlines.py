"""Regions made into exact loops of lines and arcs: the plane half of the exact kernel. No geometry library is needed.

Growing by a disc adds to a region all that a round pen covers which is drawn along its edge; wearing away takes the
same from it. So both are booleans too, and exact.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from nookwright.ground.errors import SolidError
from nookwright.shapes.arcs import QUARTER, Side
from nookwright.shapes.boxes import common, shifted
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
from nookwright.solids.arrangement import combined
from nookwright.solids.edges import Edge, Loop, box_of, circle_loop, edge_of, loop_of
from nookwright.solids.outlines import said

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from nookwright.shapes.boxes import Box2, Box3

    Inside = NDArray[np.bool_]

Loops = tuple[Loop, ...]


class ExactOutlines:
    """Makes the loops of regions, each distinct region once."""

    def __init__(self) -> None:
        self._made: dict[str, Loops] = {}

    def of(self, region: Region) -> Loops:
        """The loops of a region, those around it counter-clockwise, those of its holes clockwise.

        Raises:
            SolidError: nothing is left of it.
        """
        loops = self._loops(region)
        if not loops:
            raise SolidError(f"{said(region)}: nothing is left of this region")
        return loops

    def holds(self, region: Region) -> bool:
        """Whether anything is left of a region."""
        return bool(self._loops(region))

    def _loops(self, region: Region) -> Loops:
        if region.digest not in self._made:
            try:
                self._made[region.digest] = self._make(region)
            except ValueError as error:
                raise SolidError(f"{said(region)}: the exact kernel lost its edge: {error}") from error
        return self._made[region.digest]

    def _make(self, region: Region) -> Loops:
        match region:
            case Circle() | Rect() | Polygon() | Path() | Stroke():
                return (_outline(region),)
            case Glyphs(strokes=strokes):
                return self._loops(strokes)
            case RegionMove(inner, x, y, turns):
                return _placed(self._loops(inner), x, y, turns)
            case Offset(inner, by):
                return self._offset(inner, by)
        return self._boolean(region)

    def _repeated(self, region: RegionRepeat) -> Loops:
        copies = [_placed(self._loops(region.region), x, y) for x, y in region.places]
        if are_apart([shifted(region.region.bounds, place) for place in region.places]):
            return tuple(loop for loops in copies for loop in loops)
        return combined(copies, _any)

    def _boolean(self, region: Region) -> Loops:
        match region:
            case RegionRepeat():
                return self._repeated(region)
            case RegionUnion(regions):
                return combined([self._loops(each) for each in regions], _any)
            case RegionIntersection(regions):
                return combined([self._near(each, region.bounds) for each in regions], _all)
            case RegionDifference(base, cuts):
                return combined([self._loops(each) for each in (base, *cuts)], _first_only)
        raise SolidError(f"{said(region)}: the exact kernel knows no such region")

    def _near(self, region: Region, window: Box2) -> Loops:
        """The loops of a region that may be around a point of a window, or cross it."""
        return tuple(loop for loop in self._loops(region) if common((box_of(loop), window)) is not None)

    def _offset(self, region: Region, by: float) -> Loops:
        loops = self._loops(region)
        if not by:
            return loops
        pens = [pen for loop in loops for edge in loop for pen in _pens(edge, abs(by))]
        return combined([loops, *pens], _any if by > 0 else _first_only)


def are_apart(boxes: list[Box2] | list[Box3]) -> bool:
    """Whether there is a gap between any two of some boxes."""
    order: list[tuple[float, ...]] = sorted(boxes)
    half = len(order[0]) // 2
    for at, box in enumerate(order):
        for other in order[at + 1 :]:
            if other[0] > box[half]:
                break
            if all(max(box[n], other[n]) <= min(box[n + half], other[n + half]) for n in range(half)):
                return False
    return True


def _any(inside: Inside) -> Inside:
    found: Inside = np.any(inside, axis=0, keepdims=True)[0]
    return found


def _all(inside: Inside) -> Inside:
    found: Inside = np.all(inside, axis=0, keepdims=True)[0]
    return found


def _first_only(inside: Inside) -> Inside:
    found: Inside = inside[0] & ~_any(inside[1:])
    return found


def _outline(region: Circle | Rect | Polygon | Path | Stroke) -> Loop:
    match region:
        case Circle(radius):
            return circle_loop(radius)
        case Rect():
            return rect_loop(region)
        case Polygon(points):
            return loop_of(Side(start, end) for start, end in zip(points, (*points[1:], points[0]), strict=True))
        case Path(sides=sides) | Stroke(outline=sides):
            return loop_of(sides)


def rect_loop(rect: Rect, inset: float = 0.0) -> Loop:
    """The loop of a rounded rectangle that lies inside another one, corners concentric."""
    r = rect.radius - inset
    x0, y0, x1, y1 = inset, inset, rect.width - inset, rect.depth - inset
    points = [
        (x0 + r, y0),
        (x1 - r, y0),
        (x1, y0 + r),
        (x1, y1 - r),
        (x1 - r, y1),
        (x0 + r, y1),
        (x0, y1 - r),
        (x0, y0 + r),
    ]
    sides = [
        Side(start, end, 0.0 if number % 2 == 0 else float(QUARTER))
        for number, (start, end) in enumerate(zip(points, [*points[1:], points[0]], strict=True))
    ]
    return loop_of(side for side in sides if side.chord)


def _placed(loops: Loops, x: float, y: float, turns: int = 0) -> Loops:
    return tuple(tuple(edge.placed(x, y, turns) for edge in loop) for loop in loops)


def _pens(edge: Edge, radius: float) -> tuple[Loops, ...]:
    """Regions that together are all within a radius of an edge."""
    if edge.centre is None or edge.radius > radius:
        halves = [edge] if abs(edge.swept_rad) <= math.pi / 2 else [edge.between(*ends) for ends in _halves(edge)]
        return tuple((_band(half, radius),) for half in halves)
    # The pen is wider than the arc: a slice of a disc, and a disc at each end.
    ends = tuple(_placed((circle_loop(radius),), *end) for end in (edge.start, edge.end))
    halves = [edge.between(*ends) for ends in _halves(edge)]
    return (*ends, *((_slice(half, edge.radius + radius),) for half in halves))


def _halves(edge: Edge) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    return [(edge.start, edge.middle), (edge.middle, edge.end)]


def _band(edge: Edge, radius: float) -> Loop:
    """The outline of a line or arc drawn with a round pen."""
    ways = edge.heading_rad(0.0), edge.heading_rad(1.0)
    points = [
        (x + sign * radius * math.sin(way), y - sign * radius * math.cos(way))
        for sign in (1, -1)
        for (x, y), way in zip((edge.start, edge.end), ways, strict=True)
    ]
    right = _beside(edge, points[0], points[1], radius)
    left = _beside(edge, points[2], points[3], -radius).reverse
    return right, edge_of(Side(right.end, left.start, 1.0)), left, edge_of(Side(left.end, right.start, 1.0))


def _beside(edge: Edge, start: tuple[float, float], end: tuple[float, float], off: float) -> Edge:
    if edge.centre is None:
        return Edge(start, end)
    radius = edge.radius + math.copysign(off, off * edge.swept_rad)
    return Edge(start, end, edge.centre, radius, edge.start_rad, edge.swept_rad)


def _slice(edge: Edge, radius: float) -> Loop:
    """The slice of a disc that an arc spans, out to a radius."""
    centre = edge.centre or edge.start
    edge = edge if edge.swept_rad > 0 else edge.reverse
    start, end = (
        (centre[0] + radius * math.cos(angle), centre[1] + radius * math.sin(angle))
        for angle in (edge.start_rad, edge.start_rad + edge.swept_rad)
    )
    arc = Edge(start, end, centre, radius, edge.start_rad, edge.swept_rad)
    return Edge(centre, start), arc, Edge(end, centre)
