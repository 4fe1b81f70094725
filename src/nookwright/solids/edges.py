"""Edges of exact regions: lines, and arcs that keep their circle when they are cut.

A side told by its bulge would lose its centre to rounding when it is cut short; an edge carries it along.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from nookwright.shapes.arcs import Side
from nookwright.shapes.boxes import turned_point

if TYPE_CHECKING:
    from collections.abc import Iterable

    from numpy.typing import NDArray

    from nookwright.shapes.arcs import Point
    from nookwright.shapes.boxes import Box2

    Array = NDArray[np.float64]


@dataclass(frozen=True)
class Edge:
    """A line, or an arc.

    Attributes:
        start: where it begins.
        end: where it ends.
        centre: of an arc's circle; nothing for a line.
        radius: of an arc.
        start_rad: direction of the start from the centre.
        swept_rad: included angle of an arc, negative where it turns clockwise; never a full turn.
    """

    start: Point
    end: Point
    centre: Point | None = None
    radius: float = 0.0
    start_rad: float = 0.0
    swept_rad: float = 0.0

    @property
    def reverse(self) -> Edge:
        """The same edge the other way."""
        return Edge(self.end, self.start, self.centre, self.radius, self.start_rad + self.swept_rad, -self.swept_rad)

    @cached_property
    def length(self) -> float:
        """Length along it."""
        return abs(self.swept_rad) * self.radius if self.centre else math.dist(self.start, self.end)

    def at(self, share: float) -> Point:
        """The point after a share of the way."""
        if self.centre is None:
            return tuple(a + share * (b - a) for a, b in zip(self.start, self.end, strict=True))  # type: ignore[return-value]
        angle = self.start_rad + share * self.swept_rad
        return self.centre[0] + self.radius * math.cos(angle), self.centre[1] + self.radius * math.sin(angle)

    @cached_property
    def middle(self) -> Point:
        """The point half way."""
        return self.at(0.5)

    def heading_rad(self, share: float) -> float:
        """The direction of travel after a share of the way."""
        if self.centre is None:
            return math.atan2(self.end[1] - self.start[1], self.end[0] - self.start[0])
        return self.start_rad + share * self.swept_rad + math.copysign(math.pi / 2, self.swept_rad)

    def share_of(self, point: Point) -> float:
        """After which share of the way a point comes that lies on the edge's line or circle."""
        if self.centre is None:
            (x0, y0), (x1, y1) = self.start, self.end
            return ((point[0] - x0) * (x1 - x0) + (point[1] - y0) * (y1 - y0)) / self.length**2
        angle = math.atan2(point[1] - self.centre[1], point[0] - self.centre[0]) - self.start_rad
        ahead = math.copysign(1, self.swept_rad) * angle % (2 * math.pi)
        # A hair before the start is before it, not a full turn after.
        over = ahead - (2 * math.pi + abs(self.swept_rad)) / 2
        return (ahead - 2 * math.pi if over > 0 else ahead) / abs(self.swept_rad)

    def between(self, start: Point, end: Point) -> Edge:
        """The part of it between two of its points, in its own direction."""
        if self.centre is None:
            return Edge(start, end)
        first, last = self.share_of(start), self.share_of(end)
        return Edge(
            start,
            end,
            self.centre,
            self.radius,
            self.start_rad + first * self.swept_rad,
            (last - first) * self.swept_rad,
        )

    def placed(self, x: float, y: float, quarter_turns: int) -> Edge:
        """It turned about the origin, then shifted."""

        def there(point: Point) -> Point:
            u, v = turned_point(point, quarter_turns)
            return u + x, v + y

        if self.centre is None:
            return Edge(there(self.start), there(self.end))
        turned = self.start_rad + quarter_turns * math.pi / 2
        return replace(self, start=there(self.start), end=there(self.end), centre=there(self.centre), start_rad=turned)

    @cached_property
    def box(self) -> Box2:
        """The box around it."""
        points = [self.start, self.end]
        if self.centre is not None:
            low, high = sorted((self.start_rad, self.start_rad + self.swept_rad))
            quarters = range(math.ceil(low / (math.pi / 2)), math.floor(high / (math.pi / 2)) + 1)
            (x, y), r = self.centre, self.radius
            points += [((x + r, y), (x, y + r), (x - r, y), (x, y - r))[n % 4] for n in quarters]
        xs, ys = zip(*points, strict=True)
        return min(xs), min(ys), max(xs), max(ys)


Loop = tuple[Edge, ...]


def edge_of(side: Side) -> Edge:
    """The edge of a side."""
    if not side.bulge:
        return Edge(side.start, side.end)
    return Edge(side.start, side.end, side.centre, side.radius, side.start_rad, side.swept_rad)


def loop_of(sides: Iterable[Side]) -> Loop:
    """The loop of the sides of an outline."""
    return tuple(edge_of(side) for side in sides)


def circle_loop(radius: float) -> Loop:
    """A circle about the origin, as two halves."""
    right, left = (radius, 0.0), (-radius, 0.0)
    return loop_of((Side(right, left, 1.0), Side(left, right, 1.0)))


def area_of(loop: Loop) -> float:
    """The area within a loop, negative where it runs clockwise."""
    chords = sum(edge.start[0] * edge.end[1] - edge.start[1] * edge.end[0] for edge in loop) / 2
    arcs = sum(edge.radius**2 / 2 * (edge.swept_rad - math.sin(edge.swept_rad)) for edge in loop)
    return chords + arcs


def windings(loop: Loop, points: Array) -> NDArray[np.int64]:
    """How often a loop goes round each of some points, (n,); the points lie off its edges.

    The polygon of its chords goes round so often (Sunday's count of upward and downward edges), and each arc once more
    or less where the point lies between arc and chord. Both take a point on a chord for being on the same side.
    """
    x0, y0 = np.array([edge.start for edge in loop]).T[:, :, None]
    x1, y1 = np.array([edge.end for edge in loop]).T[:, :, None]
    x, y = points.T[:, None, :]
    turn = (x1 - x0) * (y - y0) - (x - x0) * (y1 - y0)
    up, down = (y0 <= y) & (y < y1), (y1 <= y) & (y < y0)
    count = ((up & (turn > 0)).astype(np.int64) - (down & (turn < 0))).sum(axis=0)
    for number, edge in enumerate(loop):
        if edge.centre is not None:
            rising = edge.end[1] > edge.start[1] or (edge.end[1] == edge.start[1] and edge.end[0] < edge.start[0])
            right = turn[number] <= 0 if rising else turn[number] < 0
            inside = np.hypot(points[:, 0] - edge.centre[0], points[:, 1] - edge.centre[1]) < edge.radius
            ccw = edge.swept_rad > 0
            count += np.where(inside & (right if ccw else ~right), 1 if ccw else -1, 0)
    return np.asarray(count)


def box_of(loop: Loop) -> Box2:
    """The box around a loop."""
    x0, y0, x1, y1 = zip(*(edge.box for edge in loop), strict=True)
    return min(x0), min(y0), max(x1), max(y1)
