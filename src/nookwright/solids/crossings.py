"""Where the edges of exact regions cross, touch, or end on each other."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray

    from nookwright.shapes.arcs import Point
    from nookwright.solids.edges import Edge

    Array = NDArray[np.float64]
    Numbers = NDArray[np.int64]

PARALLEL = Fact(1e-12, unit="1", kind=Kind.CALCULATED, source="Sine below which two lines cross nowhere near: noise.")

TOUCH = Fact(0.01, unit="1", kind=Kind.CALCULATED, source="Of what touches, 1e-8 mm: a bulge of 9 decimals over 10 mm.")


def all_crossings(edges: list[Edge], near: float) -> list[list[Point]]:
    """For each edge the points at which others cross it, touch it or end on it.

    Args:
        edges: of all regions.
        near: what is nearer than this touches, mm.
    """
    found: list[list[Point]] = [[] for _ in edges]
    boxes = np.array([edge.box for edge in edges])
    straight = np.array([edge.centre is None for edge in edges])
    ends = np.array([(*edge.start, *edge.end) for edge in edges])
    pairs = _near_pairs(boxes, near)
    plain = straight[pairs].all(axis=1)
    lines = pairs[plain]
    firsts, seconds = lines.T.tolist()
    for number, point in _of_lines(ends[lines[:, 0]], ends[lines[:, 1]], near):
        found[firsts[number]].append(point)
        found[seconds[number]].append(point)
    for first, second in pairs[~plain].tolist():
        for point in _of_edges(edges[first], edges[second], near):
            found[first].append(point)
            found[second].append(point)
    return found


def _near_pairs(boxes: Array, near: float) -> Numbers:
    """Pairs of edges whose boxes touch, (n, 2), from left to right."""
    order = np.argsort(boxes[:, 0], kind="stable")
    x0, y0, x1, y1 = boxes[order].T
    last = np.searchsorted(x0, x1 + near, side="right")
    found = [np.empty((0, 2), dtype=np.int64)]
    for at, number in enumerate(order):
        rest = slice(at + 1, last[at])
        touching = (y0[rest] <= y1[at] + near) & (y1[rest] >= y0[at] - near)
        others = order[rest][touching]
        found.append(np.stack([np.full_like(others, number), others], axis=1))
    return np.concatenate(found)


def _of_lines(one: Array, other: Array, near: float) -> Iterator[tuple[int, Point]]:
    """Where pairs of straight edges cross, and where one of the two ends on the other: number of the pair, and point.

    Args:
        one: ends of the first of each pair, (n, 4).
        other: ends of the second, (n, 4).
        near: what is nearer than this touches, mm.
    """
    start, end, starts, stops = one[:, :2], one[:, 2:], other[:, :2], other[:, 2:]
    turn = _cross(end - start, stops - starts)
    lengths = np.linalg.norm(end - start, axis=1) * np.linalg.norm(stops - starts, axis=1)
    askew = np.abs(turn) > PARALLEL * lengths
    safe = np.where(askew, turn, 1.0)
    mine, yours = _cross(starts - start, stops - starts) / safe, _cross(starts - start, end - start) / safe
    hits = askew & (mine > 0) & (mine < 1) & (yours > 0) & (yours < 1)
    points = start + mine[:, None] * (end - start)
    ends = [(tips, _off_lines(tips, starts, stops) <= near) for tips in (start, end)]
    ends += [(tips, _off_lines(tips, start, end) <= near) for tips in (starts, stops)]
    for these, on in ((points, hits), *ends):
        yield from zip(np.nonzero(on)[0].tolist(), map(tuple, these[on].tolist()), strict=True)


def _cross(one: Array, other: Array) -> Array:
    found: Array = one[..., 0] * other[..., 1] - one[..., 1] * other[..., 0]
    return found


def _off_lines(points: Array, starts: Array, ends: Array) -> Array:
    """Distances of points from straight edges."""
    along = ends - starts
    way = np.clip(((points - starts) * along).sum(axis=-1) / (along**2).sum(axis=-1), 0, 1)
    off: Array = np.linalg.norm(points - starts - way[..., None] * along, axis=-1)
    return off


def _of_edges(one: Edge, other: Edge, near: float) -> list[Point]:
    """Points that lie on both of two edges, of which at least one is an arc."""
    found = [*_of_carriers(one, other, near), one.start, one.end, other.start, other.end]
    return [point for point in found if _holds(one, point, near) and _holds(other, point, near)]


def _holds(edge: Edge, point: Point, near: float) -> bool:
    if min(math.dist(point, edge.start), math.dist(point, edge.end)) <= near:
        return True
    share = edge.share_of(point)
    return 0 < share < 1 and math.dist(edge.at(share), point) <= near


def _of_carriers(one: Edge, other: Edge, near: float) -> list[Point]:
    """Points that a circle has in common with another one, or with a line; up to two."""
    line, arc = (one, other) if one.centre is None else (other, one)
    if arc.centre is None:
        return []
    if line.centre is None:
        (x0, y0), (x1, y1) = line.start, line.end
        across, along = (x1 - x0) / line.length, (y1 - y0) / line.length
        way = (arc.centre[0] - x0) * across + (arc.centre[1] - y0) * along
        foot = (x0 + way * across, y0 + way * along)
        return _both(foot, (across, along), arc.radius, math.dist(foot, arc.centre), near)
    apart = math.dist(line.centre, arc.centre)
    if apart <= near:
        return []
    across, along = ((b - a) / apart for a, b in zip(line.centre, arc.centre, strict=True))
    way = (apart**2 + line.radius**2 - arc.radius**2) / (2 * apart)
    foot = (line.centre[0] + way * across, line.centre[1] + way * along)
    return _both(foot, (-along, across), line.radius, abs(way), near)


def _both(foot: Point, direction: Point, radius: float, height: float, near: float) -> list[Point]:
    """The two points of a circle on a line, to both sides of the foot of its centre; the foot where it only touches.

    A line that is 1e-14 too near to touch would otherwise cross twice, 1e-7 apart, and a few booleans later 1e-6.
    """
    if height > radius + near:
        return []
    if height > radius - TOUCH * near:
        return [foot]
    half = math.sqrt(radius**2 - height**2)
    return [(foot[0] + sign * half * direction[0], foot[1] + sign * half * direction[1]) for sign in (-1, 1)]
