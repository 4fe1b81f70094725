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

from nookwright.shapes.boxes import Box2, around, common, shifted, turned, united
from nookwright.shapes.node import Node, refuse, snapped
from nookwright.shapes.outline_rules import check_polygon
from nookwright.shapes.place_rules import check_places


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
