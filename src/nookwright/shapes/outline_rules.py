"""What a polygon must obey, and what the places of a repeat must, decided exactly, in whole grid steps."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from nookwright.ground import tolerances
from nookwright.ground.sources import Fact, Kind
from nookwright.shapes.node import refuse, steps

if TYPE_CHECKING:
    from collections.abc import Iterator

Point = tuple[float, float]
Step = tuple[int, int]
Edge = tuple[Step, Step]
FEWEST = Fact(3, unit="corners", kind=Kind.STANDARD, source="Euclid: a rectilinear figure has three sides or more.")


def check_polygon(subject: str, points: tuple[Point, ...]) -> None:
    """Refuse a polygon that is not simple, or not counter-clockwise.

    Raises:
        RecipeError: fewer than three, repeated or clockwise corners; edges that fold back, cross or touch.
    """
    if len(points) < FEWEST or any(len(point) != len(("x", "y")) for point in points):
        refuse(
            subject,
            "a polygon has three corners or more, each of two numbers",
            found=points,
            allowed="(x, y), ...",
        )
    corners = [(steps(x), steps(y)) for x, y in points]
    edges = list(pairwise([*corners, corners[0]]))
    _check_corners(subject, edges)
    for first, second in _near_edges(edges):
        if _meet(edges[first], edges[second]):
            found = f"edges {first} and {second} at {points[first]} and {points[second]}"
            refuse(subject, "edges neither cross nor touch", found=found, allowed="a simple polygon")
    if sum(_cross(start, end) for start, end in edges) <= 0:
        refuse(subject, "corners run counter-clockwise", found="clockwise", allowed="the reverse order")


def _check_corners(subject: str, edges: list[Edge]) -> None:
    for (before, corner), (_, after) in zip(edges, [*edges[1:], edges[0]], strict=True):
        ahead, onward = _minus(corner, before), _minus(after, corner)
        if ahead == (0, 0):
            refuse(subject, "neighbouring corners differ", found=_said(corner), allowed="each corner once")
        if _cross(ahead, onward) == 0 and ahead[0] * onward[0] + ahead[1] * onward[1] < 0:
            refuse(
                subject,
                "no edge folds back on the one before",
                found=_said(corner),
                allowed="a simple polygon",
            )


def _near_edges(edges: list[Edge]) -> Iterator[tuple[int, int]]:
    """Pairs of edges that share no corner and whose spans in x overlap."""
    order = sorted(range(len(edges)), key=lambda n: min(edges[n][0][0], edges[n][1][0]))
    for at, first in enumerate(order):
        right = max(edges[first][0][0], edges[first][1][0])
        for second in order[at + 1 :]:
            if min(edges[second][0][0], edges[second][1][0]) > right:
                break
            if (first - second) % len(edges) not in {1, len(edges) - 1}:
                yield min(first, second), max(first, second)


def _meet(one: Edge, other: Edge) -> bool:
    """Whether two edges have a point in common."""
    if not _spans_meet(one, other, 0) or not _spans_meet(one, other, 1):
        return False
    return _straddles(one, other) and _straddles(other, one)


def _spans_meet(one: Edge, other: Edge, axis: int) -> bool:
    low, high = sorted((one[0][axis], one[1][axis]))
    return max(other[0][axis], other[1][axis]) >= low and min(other[0][axis], other[1][axis]) <= high


def _straddles(line: Edge, edge: Edge) -> bool:
    """Whether the ends of an edge lie on both sides of a line, or on it."""
    along = _minus(line[1], line[0])
    sides = [_cross(along, _minus(end, line[0])) for end in edge]
    return min(sides) <= 0 <= max(sides)


def _minus(end: Step, start: Step) -> Step:
    return end[0] - start[0], end[1] - start[1]


def _cross(one: Step, other: Step) -> int:
    return one[0] * other[1] - one[1] * other[0]


def _said(corner: Step) -> str:
    return f"({corner[0] * tolerances.GRID:g}, {corner[1] * tolerances.GRID:g})"
