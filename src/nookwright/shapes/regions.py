"""Regions of the plane as data, in mm: x to the right, y to the back, counter-clockwise is positive.

>>> RegionDifference(Rect(40, 30, 5), (RegionMove(Circle(3), x=20, y=15),)).bounds
(0.0, 0.0, 40.0, 30.0)
>>> Circle(0)
Traceback (most recent call last):
    ...
nookwright.ground.errors.RecipeError: Circle: radius is positive; found 0.0, allowed: at least 0.0001
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from nookwright.ground import tolerances
from nookwright.ground.sources import Fact, Kind
from nookwright.shapes.arcs import Side, sides_of
from nookwright.shapes.boxes import Box2, around, common, shifted, turned, united
from nookwright.shapes.node import Node, refuse, snapped
from nookwright.shapes.outline_rules import check_polygon
from nookwright.shapes.path_rules import check_path
from nookwright.shapes.place_rules import check_places
from nookwright.shapes.strokes import drawn, drawn_width

BOLDEST = Fact(0.2, unit="1", kind=Kind.CALCULATED, source="Of the height: strokes 0.28 apart then leave a gap.")
_BULGE_DECIMALS = 9  # a bulge is no length: on the grid of lengths a quarter circle would be 0.01 degrees short


@dataclass(frozen=True, eq=False)
class Region(Node):
    """A bounded part of the plane; the base of all regions."""

    @cached_property
    def bounds(self) -> Box2:
        """The box around it: exact for primitives, unions, moves, repeats; otherwise a box that holds it."""
        raise NotImplementedError


@dataclass(frozen=True, eq=False)
class Rect(Region):
    """A rectangle with its front left corner at the origin, its corners rounded.

    Attributes:
        width: along x.
        depth: along y.
        radius: of the corners; 0 for sharp ones, at most half the shorter side.
    """

    width: float
    depth: float
    radius: float = 0.0

    def _validate(self) -> None:
        self._require_positive(width=self.width, depth=self.depth)
        check_radius(self.kind, self.radius, self.width, self.depth)

    @cached_property
    def bounds(self) -> Box2:
        """From the origin to the sizes."""
        return 0.0, 0.0, self.width, self.depth


@dataclass(frozen=True, eq=False)
class Circle(Region):
    """A disc about the origin."""

    radius: float

    def _validate(self) -> None:
        self._require_positive(radius=self.radius)

    @cached_property
    def bounds(self) -> Box2:
        """The square around it."""
        return -self.radius, -self.radius, self.radius, self.radius


@dataclass(frozen=True, eq=False)
class Polygon(Region):
    """A simple polygon; its corners run counter-clockwise."""

    points: tuple[tuple[float, float], ...]

    def _validate(self) -> None:
        check_polygon(self.kind, self.points)

    @cached_property
    def bounds(self) -> Box2:
        """The box around its corners."""
        return around(self.points)


@dataclass(frozen=True, eq=False)
class Path(Region):
    """A simple outline of lines and arcs that runs counter-clockwise.

    Attributes:
        points: corners (x, y, bulge of the side to the next corner); the bulge is the tangent of a quarter of the
            arc's included angle, 0 for a straight line, positive for an arc that turns counter-clockwise.

    >>> Path(((2, 0, 1), (2, 4, 1))).bounds
    (0.0, 0.0, 4.0, 4.0)
    """

    points: tuple[tuple[float, float, float], ...]

    def _tidied(self, name: str, annotation: object, value: object) -> object:
        if not isinstance(value, tuple | list):
            return super()._tidied(name, annotation, value)
        return tuple(self._corner(name, corner) for corner in value)

    def _corner(self, name: str, corner: object) -> object:
        tidy = super()._tidied(name, None, corner)
        if not isinstance(corner, tuple | list) or not isinstance(tidy, tuple) or len(tidy) != len(("x", "y", "b")):
            return tidy
        return (*tidy[:2], round(float(corner[2]), _BULGE_DECIMALS) + 0.0)

    def _validate(self) -> None:
        check_path(self.kind, self.points)

    @cached_property
    def sides(self) -> tuple[Side, ...]:
        """Its sides."""
        return sides_of(self.points)

    @cached_property
    def bounds(self) -> Box2:
        """The box around its corners and the extremes of its arcs."""
        extremes = [point for side in self.sides for _, point in side.extremes]
        x0, y0, x1, y1 = around([*((x, y) for x, y, _ in self.points), *extremes])
        return snapped(x0), snapped(y0), snapped(x1), snapped(y1)


@dataclass(frozen=True, eq=False)
class Stroke(Region):
    """All that lies within half a width of a line or an arc, as a round pen draws it.

    Attributes:
        x0: where the line starts.
        y0: where the line starts.
        x1: where it ends; a dot where that is the start.
        y1: where it ends.
        width: of the pen; less than the diameter of the arc.
        bulge: of the line, as in a path.
    """

    x0: float
    y0: float
    x1: float
    y1: float
    width: float
    bulge: float = 0.0

    def _tidied(self, name: str, annotation: object, value: object) -> object:
        tidy = super()._tidied(name, annotation, value)
        if name != "bulge" or not isinstance(value, int | float):
            return tidy
        return round(float(value), _BULGE_DECIMALS) + 0.0

    def _validate(self) -> None:
        self._require_positive(width=self.width)
        if not self.bulge:
            return
        if abs(self.bulge) > 1 or self.line.chord <= 0:
            refuse(self.kind, "an arc is half a circle or less", found=f"bulge {self.bulge}", allowed="-1 to 1")
        if abs(self.bulge) * self.line.chord < 2 * tolerances.GRID:
            refuse(
                self.kind, "an arc rises from its chord", found=f"bulge {self.bulge}", allowed="0, or more than that"
            )
        if self.line.radius <= self.width / 2:
            allowed = f"less than {2 * self.line.radius:g}"
            refuse(self.kind, "the pen is finer than the arc", found=self.width, allowed=allowed)

    @cached_property
    def line(self) -> Side:
        """The line or arc itself."""
        return Side((self.x0, self.y0), (self.x1, self.y1), self.bulge)

    @cached_property
    def outline(self) -> tuple[Side, ...]:
        """Its edge, counter-clockwise: along the right of the line, round its end, back along the left."""
        half = self.width / 2
        (x, y), (u, v) = self.line.heading(at_end=False), self.line.heading(at_end=True)
        right = ((self.x0 + half * y, self.y0 - half * x), (self.x1 + half * v, self.y1 - half * u))
        left = ((self.x0 - half * y, self.y0 + half * x), (self.x1 - half * v, self.y1 + half * u))
        ends = (Side(right[1], left[1], 1.0), Side(left[0], right[0], 1.0))
        if not self.line.chord:
            return ends
        return Side(*right, self.bulge), ends[0], Side(left[1], left[0], -self.bulge), ends[1]

    @cached_property
    def bounds(self) -> Box2:
        """The box of the line, grown by half the width."""
        x0, y0, x1, y1 = around([self.line.start, self.line.end, *(point for _, point in self.line.extremes)])
        half = self.width / 2
        return snapped(x0 - half), snapped(y0 - half), snapped(x1 + half), snapped(y1 + half)


@dataclass(frozen=True, eq=False)
class Glyphs(Region):
    """A line of lettering, drawn with a round pen; the origin is the left end of the baseline.

    Attributes:
        text: letters, digits and a few signs; see ``shapes/strokes.py``.
        height: of capitals and digits, from the baseline to their upper edge.
        stroke: width of the pen; at most a fifth of the height.

    >>> Glyphs("L", 10, 1).bounds[1::2]
    (0.0, 10.0)
    """

    text: str
    height: float
    stroke: float

    def _validate(self) -> None:
        self._require_positive(height=self.height, stroke=self.stroke)
        most = self.height * BOLDEST
        if self.stroke > most:
            refuse(self.kind, "the pen is fine enough", found=self.stroke, allowed=f"at most {most:g}")
        self._require_some(text=drawn(self.text, self.height, self.stroke))

    @cached_property
    def strokes(self) -> RegionUnion:
        """The strokes that it is drawn with."""
        lines = drawn(self.text, self.height, self.stroke)
        return RegionUnion(tuple(Stroke(*a, *b, self.stroke, bulge) for a, b, bulge in lines))

    @cached_property
    def bounds(self) -> Box2:
        """The box around its strokes."""
        return self.strokes.bounds


def text_width(text: str, height: float, stroke: float) -> float:
    """How long a line of lettering is, from its origin to the right edge of its last letter, mm.

    Args:
        text: the letters.
        height: of capitals, mm.
        stroke: width of the pen, mm.

    Raises:
        RecipeError: a character that has no strokes, by its name.
    """
    return snapped(drawn_width(text, height, stroke))


@dataclass(frozen=True, eq=False)
class Offset(Region):
    """A region grown by a disc of radius ``by``, or worn away by one where ``by`` is negative."""

    region: Region
    by: float

    def _validate(self) -> None:
        x0, y0, x1, y1 = self.bounds
        if x1 <= x0 or y1 <= y0:
            half = min(snapped(x1 - x0), snapped(y1 - y0)) / 2 - self.by
            refuse(self.kind, "wearing away leaves something", found=self.by, allowed=f"more than {-half:g}")

    @cached_property
    def bounds(self) -> Box2:
        """The box of the region, grown or shrunk; exact where the region is convex or ``by`` is positive."""
        x0, y0, x1, y1 = self.region.bounds
        return snapped(x0 - self.by), snapped(y0 - self.by), snapped(x1 + self.by), snapped(y1 + self.by)


@dataclass(frozen=True, eq=False)
class RegionUnion(Region):
    """All that lies in one region or more."""

    regions: tuple[Region, ...]

    def _validate(self) -> None:
        self._require_some(regions=self.regions)

    @cached_property
    def bounds(self) -> Box2:
        """The box around all."""
        return united(region.bounds for region in self.regions)


@dataclass(frozen=True, eq=False)
class RegionDifference(Region):
    """What is left of the base when the cuts are taken away."""

    base: Region
    cuts: tuple[Region, ...]

    @cached_property
    def bounds(self) -> Box2:
        """The box of the base."""
        return self.base.bounds


@dataclass(frozen=True, eq=False)
class RegionIntersection(Region):
    """All that lies in every one of the regions."""

    regions: tuple[Region, ...]

    def _validate(self) -> None:
        self._require_some(regions=self.regions)
        _ = self.bounds

    @cached_property
    def bounds(self) -> Box2:
        """What the boxes have in common."""
        box = common(region.bounds for region in self.regions)
        if box is None:
            found = [region.bounds for region in self.regions]
            refuse(self.kind, "regions overlap", found=found, allowed="boxes that overlap")
        return box


@dataclass(frozen=True, eq=False)
class RegionMove(Region):
    """A region turned about the origin, counter-clockwise, then shifted."""

    region: Region
    x: float = 0.0
    y: float = 0.0
    quarter_turns: int = 0

    @cached_property
    def bounds(self) -> Box2:
        """The box of the region, moved likewise."""
        return shifted(turned(self.region.bounds, self.quarter_turns), (self.x, self.y))


@dataclass(frozen=True, eq=False)
class RegionRepeat(Region):
    """Copies of a region, shifted to places, as one region."""

    region: Region
    places: tuple[tuple[float, float], ...]

    def _validate(self) -> None:
        check_places(self.kind, self.places, self.region.bounds)

    @cached_property
    def bounds(self) -> Box2:
        """The box around all copies."""
        return united(shifted(self.region.bounds, place) for place in self.places)


def check_radius(subject: str, radius: float, width: float, depth: float) -> None:
    """Refuse a corner radius that is negative or more than half the shorter side.

    Raises:
        RecipeError: it is.
    """
    most = min(width, depth) / 2
    if not 0 <= radius <= most:
        refuse(subject, "the corner radius fits the shorter side", found=radius, allowed=f"0 to {most:g}")
