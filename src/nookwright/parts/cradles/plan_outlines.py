"""Outlines of a plan that know their chords and their distances: what sleeves and ties are made of.

A rounded box stands for circles too (no core, all radius), so one distance formula serves every pair. Areas of
overlapping outlines are summed over strips: a closed form for any union of them would be longer than all else here.
"""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.parts.swollen_rim import rounded_rect
from nookwright.shapes.regions import Circle, Polygon, Region, RegionMove

if TYPE_CHECKING:
    from collections.abc import Iterable

Chord = tuple[float, float]
STRIP = Fact(0.25, unit="mm", kind=Kind.CHOICE, source="Areas are summed over strips of this; good to half a per cent.")


@dataclass(frozen=True)
class RoundedBox:
    """A rectangle with round corners, or a circle, by its middle.

    Attributes:
        x, y: its middle.
        half_width, half_depth: half its sizes.
        radius: of its corners; the half sizes of a circle.
    """

    x: float
    y: float
    half_width: float
    half_depth: float
    radius: float

    def grown(self, by: float) -> RoundedBox:
        """The outline that lies outside this one by a distance; corners get round."""
        return RoundedBox(self.x, self.y, self.half_width + by, self.half_depth + by, self.radius + by)

    @property
    def core(self) -> tuple[float, float]:
        """Half sizes of the rectangle on which the corner radius rolls."""
        return self.half_width - self.radius, self.half_depth - self.radius

    @property
    def span(self) -> Chord:
        """From where to where it reaches along y."""
        return self.y - self.half_depth, self.y + self.half_depth

    def chord(self, y: float) -> Chord | None:
        """From where to where a line along x at ``y`` lies inside."""
        over = abs(y - self.y) - self.core[1]
        if over >= self.radius and abs(y - self.y) >= self.half_depth:
            return None
        half = self.core[0] + (self.radius if over <= 0 else math.sqrt(max(0.0, self.radius**2 - over**2)))
        return self.x - half, self.x + half

    def gap(self, other: RoundedBox) -> float:
        """Distance between two outlines; negative where they overlap.

        >>> coin = RoundedBox(0, 0, 5, 5, 5)
        >>> coin.gap(RoundedBox(13, 0, 5, 5, 5)), coin.gap(RoundedBox(0, 9, 5, 5, 0))
        (3.0, -1.0)
        """
        (a, b), (c, d) = self.core, other.core
        across, back = abs(other.x - self.x) - a - c, abs(other.y - self.y) - b - d
        between = math.hypot(max(0.0, across), max(0.0, back)) + min(0.0, max(across, back))
        return between - self.radius - other.radius

    def region(self) -> Region:
        """It as a region."""
        if self.radius == self.half_width == self.half_depth:
            return RegionMove(Circle(self.radius), x=self.x, y=self.y)
        rect = rounded_rect(2 * self.half_width, 2 * self.half_depth, self.radius)
        return RegionMove(rect, x=self.x - self.half_width, y=self.y - self.half_depth)


@dataclass(frozen=True)
class Slab:
    """A convex polygon, corners counter-clockwise."""

    points: tuple[tuple[float, float], ...]

    @property
    def span(self) -> Chord:
        """From where to where it reaches along y."""
        return min(y for _, y in self.points), max(y for _, y in self.points)

    def chord(self, y: float) -> Chord | None:
        """From where to where a line along x at ``y`` lies inside."""
        met = []
        for (x0, y0), (x1, y1) in pairwise((*self.points, self.points[0])):
            if min(y0, y1) <= y < max(y0, y1):
                met.append(x0 + (x1 - x0) * (y - y0) / (y1 - y0))
        return (min(met), max(met)) if met else None

    def region(self) -> Region:
        """It as a region."""
        return Polygon(self.points)


def slab(x0: float, y0: float, x1: float, y1: float) -> Slab:
    """An upright rectangle from corner to corner."""
    return Slab(((x0, y0), (x1, y0), (x1, y1), (x0, y1)))


def bar(start: tuple[float, float], end: tuple[float, float], width: float) -> Slab:
    """A rectangle of a width from one point to another."""
    (x0, y0), (x1, y1) = start, end
    length = math.hypot(x1 - x0, y1 - y0)
    dx, dy = -(y1 - y0) / length * width / 2, (x1 - x0) / length * width / 2
    return Slab(((x0 - dx, y0 - dy), (x1 - dx, y1 - dy), (x1 + dx, y1 + dy), (x0 + dx, y0 + dy)))


def covered_mm2(shapes: Iterable[RoundedBox | Slab], within: Slab, holes: Iterable[RoundedBox | Slab] = ()) -> float:
    """Area of what lies in one shape or more, within an upright rectangle, and in no hole; holes lie in shapes.

    Args:
        shapes: that may overlap.
        within: an upright rectangle.
        holes: that do not overlap, each inside the shapes.
    """
    (left, front), _, (right, back), _ = within.points
    count = max(1, math.ceil((back - front) / STRIP))
    step = (back - front) / count
    levels = [front + (number + 0.5) * step for number in range(count)]
    covered, bored = _chords(shapes, levels), _chords(holes, levels)
    return step * sum(
        _length(one, left, right) - _length(other, left, right) for one, other in zip(covered, bored, strict=True)
    )


def _chords(shapes: Iterable[RoundedBox | Slab], levels: list[float]) -> list[list[Chord]]:
    """The chords at each of some rising levels; a shape is asked only where it lies, as most lie elsewhere."""
    found: list[list[Chord]] = [[] for _ in levels]
    for shape in shapes:
        low, high = shape.span
        for number in range(bisect_left(levels, low), bisect_right(levels, high)):
            chord = shape.chord(levels[number])
            if chord is not None:
                found[number].append(chord)
    return found


def _length(chords: list[Chord], left: float, right: float) -> float:
    """Length that one chord or more cover, between two ends."""
    total, reached = 0.0, left
    for start, end in sorted(chords):
        total += max(0.0, min(end, right) - max(start, reached))
        reached = max(reached, min(end, right))
    return total
