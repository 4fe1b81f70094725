"""A level section of a mesh as closed loops, measured without linking them point by point.

Every triangle that crosses the level gives one edge of the section; its direction has the solid on the left. The edges
of a loop follow each other, so a loop is a cycle of a permutation, found by doubling. Promise: for a closed mesh every
loop is found once, with its area, middle, and nearest and farthest point from the middle. What it does not know: which
hole belongs to which outline.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from nookwright.ground.sources import Fact, Kind
from nookwright.ground.tolerances import KERNEL

if TYPE_CHECKING:
    from nookwright.checks.bodies import Shape
    from nookwright.checks.boxes import Floats, Indices

OFF_VERTICES = Fact(
    3.7e-5, unit="mm", kind=Kind.CHOICE, source="Levels lie this much higher, where none of our files has vertices."
)
AT_ONCE = Fact(
    4e6, unit="1", kind=Kind.CHOICE, source="Pairs of point and edge in memory at a time: some tens of megabytes."
)


@dataclass(frozen=True, eq=False)
class Loops:
    """Closed loops of a section.

    Attributes:
        middles: (n, 2), centroids, mm.
        areas_mm2: (n,), positive round solid, negative round a hole.
        near: (n,), from the middle to the nearest point of the loop, mm.
        far: (n,), from the middle to its farthest point, mm.
    """

    middles: Floats
    areas_mm2: Floats
    near: Floats
    far: Floats


@dataclass(frozen=True, eq=False)
class Level:
    """A level section.

    Attributes:
        starts: (m, 2), where its edges begin, mm; the solid lies on their left.
        ends: (m, 2), where they end.
        after: (m,), the edge that follows each one.
    """

    starts: Floats
    ends: Floats
    after: Indices

    @cached_property
    def loops(self) -> Loops:
        """Its loops, in the order of their first edges."""
        if not len(self.starts):
            return Loops(np.empty((0, 2)), np.empty(0), np.empty(0), np.empty(0))
        loop = self._loop
        count = int(loop.max()) + 1
        # About a corner of each loop, so that small loops far from the origin keep their digits.
        corner = np.zeros((count, 2))
        corner[loop[::-1]] = self.starts[::-1]
        a, b = self.starts - corner[loop], self.ends - corner[loop]
        cross = a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]
        area = np.bincount(loop, cross, count) / 2
        moment = np.stack([np.bincount(loop, (a + b)[:, axis] * cross, count) for axis in (0, 1)], axis=1) / 6
        flat = np.abs(area) < KERNEL
        middles = corner + moment / np.where(flat, 1.0, area)[:, None]
        near, far = np.full(count, np.inf), np.zeros(count)
        np.minimum.at(near, loop, distances(middles[loop], self.starts, self.ends))
        np.maximum.at(far, loop, np.hypot(*(self.starts - middles[loop]).T))
        return Loops(middles, area, near, far)

    @cached_property
    def outlines(self) -> Level:
        """The same without its holes: what another thing beside it meets."""
        kept = self.loops.areas_mm2[self._loop] > 0 if len(self.starts) else np.empty(0, dtype=bool)
        number = np.cumsum(kept) - 1
        return Level(self.starts[kept], self.ends[kept], number[self.after[kept]])

    @cached_property
    def _loop(self) -> Indices:
        """The number of each edge's loop."""
        _, loop = np.unique(_cycles(self.after), return_inverse=True)
        return loop

    def clear(self, points: Floats) -> Floats:
        """From each point to the nearest edge, mm; infinite where there is none, negative inside the solid.

        Args:
            points: (n, 2), mm.
        """
        found = np.full(len(points), np.inf)
        if not len(self.starts) or not len(points):
            return found
        step = max(1, int(AT_ONCE) // len(self.starts))
        for first in range(0, len(points), step):
            part = points[first : first + step]
            far = distances(part[:, None], self.starts[None], self.ends[None]).min(axis=1)
            found[first : first + step] = np.where(self._inside(part), -far, far)
        return found

    def meets(self, low: Floats, high: Floats) -> bool:
        """Whether any of the solid lies in an upright rectangle: an edge of it passes through, or all of it is solid.

        Args:
            low: (2,), its least corner, mm.
            high: (2,), its greatest one.
        """
        if not len(self.starts):
            return False
        along = self.ends - self.starts
        flat = along == 0
        step = np.where(flat, 1.0, along)
        one, other = (low - self.starts) / step, (high - self.starts) / step
        beside = flat & ((self.starts <= low) | (self.starts >= high))
        enters = np.where(flat, 0.0, np.minimum(one, other)).max(axis=1).clip(min=0.0)
        leaves = np.where(flat, 1.0, np.maximum(one, other)).min(axis=1).clip(max=1.0)
        passes = (enters < leaves) & ~beside.any(axis=1)
        return bool(passes.any()) or bool(self._inside((low + high)[None] / 2)[0])

    def _inside(self, points: Floats) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
        """Which points lie in the solid: a line to the right crosses an odd number of edges."""
        (x0, y0), (x1, y1) = self.starts.T, self.ends.T
        x, y = points[:, :1], points[:, 1:]
        spans = (y0 > y) != (y1 > y)
        rise = np.where(y1 == y0, 1.0, y1 - y0)
        inside: np.ndarray[tuple[int], np.dtype[np.bool_]] = (spans & (x0 + (y - y0) / rise * (x1 - x0) > x)).sum(
            axis=1
        ) % 2 == 1
        return inside


def level_at(shape: Shape, height: float) -> Level:
    """The section of a closed shape at a height, mm, seen from above.

    Args:
        shape: the shape; its files keep vertices off the level that is looked at.
        height: above its own origin, mm.
    """
    level = height + float(OFF_VERTICES)
    rows = shape.triangles[(shape.boxes[0][:, 2] < level) & (shape.boxes[1][:, 2] > level)].astype(np.int64)
    above = shape.vertices[rows, 2] > level
    # Turned so that the corner that is alone on its side comes first: its two edges are the ones that are cut.
    alone = np.where(above.sum(axis=1) == 1, above.argmax(axis=1), (~above).argmax(axis=1))
    rows = np.take_along_axis(rows, (alone[:, None] + np.arange(3)) % 3, axis=1)
    up = shape.vertices[rows[:, 0], 2] > level
    first, last = rows[:, [0, 1]], rows[:, [0, 2]]
    # Seen from outside, with the solid behind: the section runs from the falling edge to the rising one.
    begin, end = np.where(up[:, None], first, last), np.where(up[:, None], last, first)
    return _linked(shape, level, begin, end)


def _linked(shape: Shape, level: float, begin: Indices, end: Indices) -> Level:
    """The section whose edges begin and end on these edges of the mesh, (m, 2) each."""
    size = len(shape.vertices)
    keys = [np.minimum(*edge.T) * size + np.maximum(*edge.T) for edge in (begin, end)]
    order = np.argsort(keys[0], kind="stable")
    follows = np.searchsorted(keys[0], keys[1], sorter=order)
    after: Indices = order[np.minimum(follows, max(0, len(order) - 1))] if len(order) else order
    return Level(_cut(shape, level, begin), _cut(shape, level, end), after)


def _cut(shape: Shape, level: float, edges: Indices) -> Floats:
    """Where edges of the mesh, (m, 2), meet the level."""
    low, high = np.sort(edges, axis=1).T  # the same sum from both sides
    a, b = shape.vertices[low], shape.vertices[high]
    share = (level - a[:, 2]) / (b[:, 2] - a[:, 2])
    cut: Floats = a[:, :2] + share[:, None] * (b - a)[:, :2]
    return cut


def _cycles(after: Indices) -> Indices:
    """For each member of a permutation the least member of its cycle."""
    label, ahead = np.arange(len(after)), after
    for _ in range(max(1, len(after)).bit_length()):
        label, ahead = np.minimum(label, label[ahead]), ahead[ahead]
    return label


def distances(points: Floats, starts: Floats, ends: Floats) -> Floats:
    """From points to edges, broadcast against each other, mm.

    Args:
        points: (..., 2).
        starts: (..., 2).
        ends: (..., 2).
    """
    along, beyond = ends - starts, points - starts
    length = (along**2).sum(axis=-1)
    share = np.clip((along * beyond).sum(axis=-1) / np.where(length > 0, length, 1.0), 0.0, 1.0)
    away: Floats = np.sqrt(((beyond - share[..., None] * along) ** 2).sum(axis=-1))
    return away
