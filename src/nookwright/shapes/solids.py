"""Solids as data, in mm: x to the right, y to the back, z up.

>>> tray = Difference(Prism(Rect(100, 60, 5), 40), (Move(Bowl(97.6, 57.6, 3.8, 3, 40), x=1.2, y=1.2, z=1),))
>>> tray.bounds
(0.0, 0.0, 0.0, 100.0, 60.0, 40.0)
>>> Bowl(50, 50, 2, 3, 20)
Traceback (most recent call last):
    ...
nookwright.ground.errors.RecipeError: Bowl: the fillet fits the corner radius; found 3.0, allowed: 0 to 2
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Literal

from nookwright.shapes.boxes import Box3, common, shifted, turned, united
from nookwright.shapes.node import Node, refuse, snapped
from nookwright.shapes.outline_rules import check_polygon
from nookwright.shapes.place_rules import check_places
from nookwright.shapes.regions import Circle, Rect, Region, check_radius


@dataclass(frozen=True, eq=False)
class Solid(Node):
    """A bounded body; the base of all solids."""

    @cached_property
    def bounds(self) -> Box3:
        """The box around it: exact for primitives, unions, moves, repeats; otherwise a box that holds it."""
        raise NotImplementedError


@dataclass(frozen=True, eq=False)
class Prism(Solid):
    """A region raised from z = 0 to its height."""

    region: Region
    height: float

    def _validate(self) -> None:
        self._require_positive(height=self.height)

    @cached_property
    def bounds(self) -> Box3:
        """The region's box, raised."""
        return _raised(self.region, 0.0, self.height)


@dataclass(frozen=True, eq=False)
class Taper(Solid):
    """A region drawn in evenly on its way up, corners concentric; a cone where the region is a circle.

    Attributes:
        region: the bottom, at z = 0.
        height: of the top.
        draw: how far each side of the top lies inside that of the bottom; negative: outside.
    """

    region: Rect | Circle
    height: float
    draw: float

    def _validate(self) -> None:
        self._require_positive(height=self.height)
        if not isinstance(self.region, Rect | Circle):
            refuse(self.kind, "only these regions taper", found=self.region.kind, allowed="Rect, Circle")
        if isinstance(self.region, Circle):
            if self.draw >= self.region.radius:
                most = f"less than {self.region.radius:g}"
                refuse(self.kind, "the top has a radius", found=f"draw {self.draw}", allowed=most)
            return
        half = min(self.region.width, self.region.depth) / 2
        if self.draw > self.region.radius or self.draw >= half:
            most = f"at most {self.region.radius:g} and less than {half:g}"
            refuse(self.kind, "the top keeps concentric corners", found=f"draw {self.draw}", allowed=most)

    @cached_property
    def bounds(self) -> Box3:
        """That of the bottom, or of the top where it is the larger."""
        x0, y0, z0, x1, y1, z1 = _raised(self.region, 0.0, self.height)
        grown = max(0.0, -self.draw)
        return snapped(x0 - grown), snapped(y0 - grown), z0, snapped(x1 + grown), snapped(y1 + grown), z1


@dataclass(frozen=True, eq=False)
class Revolution(Solid):
    """A profile of points (r, z), counter-clockwise, r >= 0, turned once round about the z axis."""

    profile: tuple[tuple[float, float], ...]

    def _validate(self) -> None:
        check_polygon(self.kind, self.profile)
        least = min(r for r, _ in self.profile)
        if least < 0:
            refuse(
                self.kind,
                "the profile stays on one side of the axis",
                found=f"r = {least:g}",
                allowed="r >= 0",
            )
        axis = [r == 0 for r, _ in self.profile]
        runs = sum(on and not before for on, before in zip(axis, [axis[-1], *axis[:-1]], strict=True))
        if runs > 1 or sum(axis) == 1:
            found = [point for point in self.profile if point[0] == 0]
            refuse(
                self.kind,
                "the profile meets the axis along one edge",
                found=found,
                allowed="one edge, or nowhere",
            )

    @cached_property
    def bounds(self) -> Box3:
        """From the largest radius and the ends of the profile."""
        radius = max(r for r, _ in self.profile)
        heights = [z for _, z in self.profile]
        return -radius, -radius, min(heights), radius, radius, max(heights)


@dataclass(frozen=True, eq=False)
class Bowl(Solid):
    """The shape of a tray's inside: a rounded prism, corner at the origin, whose bottom edge is rolled.

    Attributes:
        width: along x.
        depth: along y.
        radius: of the upright corners.
        fillet: radius between floor and walls; at most ``radius``, or it would fold over in the corners.
        height: from floor to rim.
    """

    width: float
    depth: float
    radius: float
    fillet: float
    height: float

    def _validate(self) -> None:
        self._require_positive(width=self.width, depth=self.depth, height=self.height)
        check_radius(self.kind, self.radius, self.width, self.depth)
        if not 0 <= self.fillet <= self.radius:
            refuse(
                self.kind,
                "the fillet fits the corner radius",
                found=self.fillet,
                allowed=f"0 to {self.radius:g}",
            )
        if self.fillet > self.height:
            refuse(self.kind, "the fillet fits the height", found=self.fillet, allowed=f"0 to {self.height:g}")

    @cached_property
    def bounds(self) -> Box3:
        """From the origin to the sizes."""
        return 0.0, 0.0, 0.0, self.width, self.depth, self.height


@dataclass(frozen=True, eq=False)
class Union(Solid):
    """All that lies in one solid or more."""

    solids: tuple[Solid, ...]

    def _validate(self) -> None:
        self._require_some(solids=self.solids)

    @cached_property
    def bounds(self) -> Box3:
        """The box around all."""
        return united(solid.bounds for solid in self.solids)


@dataclass(frozen=True, eq=False)
class Difference(Solid):
    """What is left of the base when the cuts are taken away."""

    base: Solid
    cuts: tuple[Solid, ...]

    @cached_property
    def bounds(self) -> Box3:
        """The box of the base."""
        return self.base.bounds


@dataclass(frozen=True, eq=False)
class Intersection(Solid):
    """All that lies in every one of the solids."""

    solids: tuple[Solid, ...]

    def _validate(self) -> None:
        self._require_some(solids=self.solids)
        _ = self.bounds

    @cached_property
    def bounds(self) -> Box3:
        """What the boxes have in common."""
        box = common(solid.bounds for solid in self.solids)
        if box is None:
            found = [solid.bounds for solid in self.solids]
            refuse(self.kind, "solids overlap", found=found, allowed="boxes that overlap")
        return box


@dataclass(frozen=True, eq=False)
class Move(Solid):
    """A solid turned about the z axis, counter-clockwise from above, then shifted."""

    solid: Solid
    x: float = 0.0
    y: float = 0.0
    z: float = 0.0
    quarter_turns: int = 0

    @cached_property
    def bounds(self) -> Box3:
        """The box of the solid, moved likewise."""
        x0, y0, z0, x1, y1, z1 = self.solid.bounds
        left, front, right, back = turned((x0, y0, x1, y1), self.quarter_turns)
        return shifted((left, front, z0, right, back, z1), (self.x, self.y, self.z))


@dataclass(frozen=True, eq=False)
class Tip(Solid):
    """A solid turned by +90 degrees about the x or the y axis (right-hand rule): prisms that lie.

    About x, up becomes front and back becomes up; about y, up becomes right and right becomes down.
    """

    solid: Solid
    axis: Literal["x", "y"]

    def _validate(self) -> None:
        if self.axis not in {"x", "y"}:
            refuse(self.kind, "the axis lies flat", found=self.axis, allowed="x, y")

    @cached_property
    def bounds(self) -> Box3:
        """The box of the solid, tipped likewise."""
        x0, y0, z0, x1, y1, z1 = self.solid.bounds
        tipped = (x0, -z1, y0, x1, -z0, y1) if self.axis == "x" else (z0, y0, -x1, z1, y1, -x0)
        return shifted(tipped, (0.0, 0.0, 0.0))


@dataclass(frozen=True, eq=False)
class Repeat(Solid):
    """Copies of a solid, shifted in x and y to places; the solid is made once."""

    solid: Solid
    places: tuple[tuple[float, float], ...]

    def _validate(self) -> None:
        x0, y0, _, x1, y1, _ = self.solid.bounds
        check_places(self.kind, self.places, (x0, y0, x1, y1))

    @cached_property
    def bounds(self) -> Box3:
        """The box around all copies."""
        return united(shifted(self.solid.bounds, (*place, 0.0)) for place in self.places)


@dataclass(frozen=True, eq=False)
class Named(Solid):
    """A solid whose faces keep a name; its shape is that of the solid."""

    solid: Solid
    name: str

    def _validate(self) -> None:
        if not self.name:
            refuse(self.kind, "a name says something", found="nothing", allowed="a word")

    @cached_property
    def bounds(self) -> Box3:
        """The box of the solid."""
        return self.solid.bounds


def _raised(region: Region, low: float, high: float) -> Box3:
    x0, y0, x1, y1 = region.bounds
    return x0, y0, low, x1, y1, high
