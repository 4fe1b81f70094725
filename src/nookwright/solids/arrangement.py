"""Booleans of exact regions: their edges cut at all crossings, those kept that part inside from outside.

Points nearer than ``MERGED`` are one; edges between the same two points and nearer than that are one. Everything else
is decided by asking on which side of an edge's middle each of the regions is.
"""

from __future__ import annotations

import math
from collections import defaultdict
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from nookwright.ground.sources import Fact, Kind
from nookwright.solids.crossings import all_crossings
from nookwright.solids.edges import Edge, Loop, box_of, windings

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from numpy.typing import NDArray

    from nookwright.shapes.arcs import Point

    Array = NDArray[np.float64]
    Inside = NDArray[np.bool_]

MERGED = Fact(1e-6, unit="mm", kind=Kind.CHOICE, source="A hundredth of GRID, and ten times OCCT's own 1e-7.")
BESIDE = Fact(2e-7, unit="mm", kind=Kind.CALCULATED, source="Less than MERGED, far above 1e-13, the noise of sums.")


def combined(operands: Sequence[Sequence[Loop]], rule: Callable[[Inside], Inside]) -> tuple[Loop, ...]:
    """The loops of a boolean of regions: inside on the left of every edge.

    Args:
        operands: the regions, each as its loops.
        rule: from rows (operands) of columns (points), inside or not, to one row: inside the result or not.
    """
    edges = [edge for loops in operands for loop in loops for edge in loop]
    points = _Points()
    pieces = _pieces(edges, points)
    if not pieces:
        return ()
    sides = [rule(_inside(operands, _beside(pieces, sign))) for sign in (1, -1)]
    kept = [
        edge if left else edge.reverse
        for edge, left, right in zip(pieces, *(side.tolist() for side in sides), strict=True)
        if left != right
    ]
    return tuple(_tidied(loop) for loop in _chained(kept))


class _Points:
    """Points that are one where they are nearer than ``MERGED``."""

    def __init__(self) -> None:
        self._near: dict[tuple[int, int], list[Point]] = defaultdict(list)

    def one(self, point: Point) -> Point:
        """The first point that was given at this place."""
        column, row = round(point[0] / (2 * MERGED)), round(point[1] / (2 * MERGED))
        for right in (0, -1, 1):
            for up in (0, -1, 1):
                for known in self._near.get((column + right, row + up), ()):
                    if math.dist(known, point) < MERGED:
                        return known
        self._near[column, row].append(point)
        return point


def _pieces(edges: list[Edge], points: _Points) -> list[Edge]:
    """The edges cut at all crossings, those that coincide once."""
    cuts = all_crossings(edges, MERGED)
    found: dict[tuple[Point, Point], list[Edge]] = defaultdict(list)
    for edge, extra in zip(edges, cuts, strict=True):
        stops = sorted({points.one(point) for point in extra}, key=edge.share_of)
        first, last = points.one(edge.start), points.one(edge.end)
        stops = [first, *(stop for stop in stops if stop not in (first, last)), last]
        for start, end in pairwise(stops):
            if start != end:
                _add(found[min(start, end), max(start, end)], edge.between(start, end))
    return [edge for group in found.values() for edge in group]


def _add(group: list[Edge], edge: Edge) -> None:
    if all(math.dist(edge.middle, other.middle) >= MERGED for other in group):
        group.append(edge)


def _beside(pieces: list[Edge], sign: int) -> Array:
    """Points beside the middles of edges, on the left or on the right."""
    ways = [edge.heading_rad(0.5) + sign * math.pi / 2 for edge in pieces]
    return np.array([edge.middle for edge in pieces]) + BESIDE * np.stack([np.cos(ways), np.sin(ways)], axis=1)


def _inside(operands: Sequence[Sequence[Loop]], points: Array) -> Inside:
    """Which of the points lie in which operand, (operands, points)."""
    found = np.zeros((len(operands), len(points)), dtype=np.int64)
    for row, loops in zip(found, operands, strict=True):
        for loop in loops:
            x0, y0, x1, y1 = box_of(loop)
            x, y = points.T
            near = np.nonzero((x >= x0) & (x <= x1) & (y >= y0) & (y <= y1))[0]
            if len(near):
                row[near] += windings(loop, points[near])
    return found > 0


def _chained(edges: list[Edge]) -> list[Loop]:
    """Edges put one after another; where several start at a point, the one that turns furthest to the left."""
    starting: dict[Point, list[Edge]] = defaultdict(list)
    for edge in edges:
        starting[edge.start].append(edge)
    loops: list[Loop] = []
    for first in edges:
        if first not in starting[first.start]:
            continue
        loop = [first]
        starting[first.start].remove(first)
        while loop[-1].end != first.start:
            following = _leftmost(loop[-1], starting[loop[-1].end])
            starting[following.start].remove(following)
            loop.append(following)
        loops.append(tuple(loop))
    return loops


def _leftmost(edge: Edge, following: list[Edge]) -> Edge:
    """Of the edges that start where one ends, the one that turns furthest to the left."""
    if not following:
        raise ValueError(f"an edge ends at {edge.end} where none starts")
    came = edge.heading_rad(1.0)
    # Between straight back on the right and straight back on the left.
    return max(following, key=lambda each: (each.heading_rad(0.0) - came + math.pi - 1e-9) % (2 * math.pi))


def _tidied(loop: Loop) -> Loop:
    """The loop with neighbouring edges joined that are parts of one line, or of up to half of one circle."""
    joined: list[Edge] = []
    for edge in loop:
        whole = _joined(joined[-1], edge) if joined else None
        joined = [*joined[:-1], whole] if whole else [*joined, edge]
    whole = _joined(joined[-1], joined[0]) if len(joined) > len(("out", "back")) else None
    return (whole, *joined[1:-1]) if whole else tuple(joined)


def _joined(one: Edge, other: Edge) -> Edge | None:
    """Two edges in a row as one, or nothing where they are no parts of the same."""
    if one.centre is None and other.centre is None:
        straight = Edge(one.start, other.end)
        middle = straight.at(straight.share_of(one.end)) if straight.length > MERGED else other.end
        return straight if math.dist(middle, one.end) < MERGED and straight.length > one.length else None
    if one.centre is None or other.centre is None or (one.swept_rad > 0) != (other.swept_rad > 0):
        return None
    same = math.dist(one.centre, other.centre) < MERGED and abs(one.radius - other.radius) < MERGED
    swept = one.swept_rad + other.swept_rad
    if not same or abs(swept) > math.pi + MERGED:
        return None
    return Edge(one.start, other.end, one.centre, one.radius, one.start_rad, swept)
