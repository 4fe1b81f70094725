"""Sides of an outline: a straight line, or an arc of a circle told by its bulge.

The bulge is the tangent of a quarter of the arc's included angle, as drawing exchange formats have it: 0 for a straight
line, 1 for a half circle, positive where the arc turns counter-clockwise on its way.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

from nookwright.ground import tolerances
from nookwright.ground.sources import Fact, Kind

Point = tuple[float, float]
QUARTER = Fact(math.tan(math.pi / 8), unit="1", kind=Kind.CALCULATED, source="Bulge of a quarter circle: tan 22.5 deg.")
HALF = Fact(1.0, unit="1", kind=Kind.CALCULATED, source="Bulge of a half circle: tan 45 degrees.")


@dataclass(frozen=True)
class Side:
    """One side of an outline.

    Attributes:
        start: where it begins.
        end: where it ends.
        bulge: the tangent of a quarter of its included angle.
    """

    start: Point
    end: Point
    bulge: float = 0.0

    @cached_property
    def chord(self) -> float:
        """Distance from start to end."""
        return math.dist(self.start, self.end)

    @property
    def swept_rad(self) -> float:
        """The included angle; negative where the arc turns clockwise."""
        return 4 * math.atan(self.bulge)

    @cached_property
    def radius(self) -> float:
        """Radius of an arc; endless for a line."""
        if not self.bulge:
            return math.inf
        return self.chord * (1 + self.bulge**2) / (4 * abs(self.bulge))

    @cached_property
    def centre(self) -> Point:
        """Centre of an arc."""
        (x0, y0), (x1, y1) = self.start, self.end
        off = (1 - self.bulge**2) / (4 * self.bulge)  # of the chord, to its left
        return (x0 + x1) / 2 - (y1 - y0) * off, (y0 + y1) / 2 + (x1 - x0) * off

    @cached_property
    def start_rad(self) -> float:
        """Direction of an arc's start, seen from its centre."""
        return math.atan2(self.start[1] - self.centre[1], self.start[0] - self.centre[0])

    @property
    def area_mm2(self) -> float:
        """The area between an arc and its chord; negative for a clockwise one, 0 for a line."""
        return 0.0 if not self.bulge else self.radius**2 / 2 * (self.swept_rad - math.sin(self.swept_rad))

    def at(self, angle_rad: float) -> Point:
        """The point of an arc's circle in a direction."""
        return self.centre[0] + self.radius * math.cos(angle_rad), self.centre[1] + self.radius * math.sin(angle_rad)

    def heading(self, *, at_end: bool) -> Point:
        """The direction of travel at an end, of length 1."""
        (x0, y0), (x1, y1) = self.start, self.end
        turn = self.swept_rad / 2 if at_end else -self.swept_rad / 2
        angle = math.atan2(y1 - y0, x1 - x0) + turn
        return math.cos(angle), math.sin(angle)

    @cached_property
    def extremes(self) -> tuple[tuple[float, Point], ...]:
        """Where an arc is furthest right, back, left or front, as angle and point, in order of travel.

        Those nearer than a grid step to an end are left out: the end stands for them.
        """
        if not self.bulge:
            return ()
        low, high = sorted((self.start_rad, self.start_rad + self.swept_rad))
        near, quarter = tolerances.GRID / self.radius, math.pi / 2
        first, last = math.ceil((low + near) / quarter), math.floor((high - near) / quarter)
        (x, y), r = self.centre, self.radius
        points = ((x + r, y), (x, y + r), (x - r, y), (x, y - r))
        found = [(quarter * n, points[n % 4]) for n in range(first, last + 1)]
        return tuple(found if self.bulge > 0 else found[::-1])

    def holds(self, point: Point, slack: float) -> bool:
        """Whether a point lies on it.

        Args:
            point: the point.
            slack: how far off still counts, mm.
        """
        if min(math.dist(point, self.start), math.dist(point, self.end)) <= slack:
            return True
        if not self.bulge:
            return self._line_holds(point, slack)
        if abs(math.dist(point, self.centre) - self.radius) > slack:
            return False
        angle = math.atan2(point[1] - self.centre[1], point[0] - self.centre[0]) - self.start_rad
        ahead = math.copysign(1, self.bulge) * angle % (2 * math.pi)
        return ahead <= abs(self.swept_rad)

    def _line_holds(self, point: Point, slack: float) -> bool:
        (x0, y0), (x1, y1) = self.start, self.end
        across, along = (x1 - x0) / self.chord, (y1 - y0) / self.chord
        way = (point[0] - x0) * across + (point[1] - y0) * along
        off = (point[1] - y0) * across - (point[0] - x0) * along
        return abs(off) <= slack and 0 <= way <= self.chord


def sides_of(points: tuple[tuple[float, float, float], ...]) -> tuple[Side, ...]:
    """The sides of a closed outline of corners (x, y, bulge of the side to the next corner)."""
    return tuple(Side((x, y), (u, v), bulge) for (x, y, bulge), (u, v, _) in pairwise((*points, points[0])))


def crossings(one: Side, other: Side) -> list[Point]:
    """Points that the two whole lines or circles, which the sides are parts of, have in common.

    Where they touch or miss each other by less than half a grid step, the point between is given.
    """
    if not one.bulge and not other.bulge:
        return _of_lines(one, other)
    if one.bulge and other.bulge:
        return _of_circles(one, other)
    return _of_line_and_circle(*((other, one) if one.bulge else (one, other)))


def _of_lines(one: Side, other: Side) -> list[Point]:
    (x0, y0), (x1, y1) = one.start, one.end
    (u0, v0), (u1, v1) = other.start, other.end
    turn = (x1 - x0) * (v1 - v0) - (y1 - y0) * (u1 - u0)
    if abs(turn) <= tolerances.KERNEL * one.chord * other.chord:
        return []
    way = ((u0 - x0) * (v1 - v0) - (v0 - y0) * (u1 - u0)) / turn
    return [(x0 + way * (x1 - x0), y0 + way * (y1 - y0))]


def _of_line_and_circle(line: Side, arc: Side) -> list[Point]:
    (x0, y0), (x1, y1) = line.start, line.end
    across, along = (x1 - x0) / line.chord, (y1 - y0) / line.chord
    way = (arc.centre[0] - x0) * across + (arc.centre[1] - y0) * along
    foot = (x0 + way * across, y0 + way * along)
    return _apart(foot, (across, along), arc.radius, math.dist(foot, arc.centre))


def _of_circles(one: Side, other: Side) -> list[Point]:
    apart = math.dist(one.centre, other.centre)
    if apart <= tolerances.GRID / 2:
        return []
    across, along = ((b - a) / apart for a, b in zip(one.centre, other.centre, strict=True))
    # From the first centre towards the second, to the line through both points.
    way = (apart**2 + one.radius**2 - other.radius**2) / (2 * apart)
    foot = (one.centre[0] + way * across, one.centre[1] + way * along)
    return _apart(foot, (-along, across), one.radius, abs(way))


def _apart(foot: Point, direction: Point, radius: float, height: float) -> list[Point]:
    """The two points of a circle on a line, both sides of the foot of its centre."""
    if height > radius + tolerances.GRID / 2:
        return []
    half = math.sqrt(max(0.0, radius**2 - height**2))
    return [(foot[0] + sign * half * direction[0], foot[1] + sign * half * direction[1]) for sign in (-1, 1)]
