"""What a path of lines and arcs must obey.

Where all sides are straight, these are the rules of a polygon, decided exactly. Arcs are no whole numbers: sides that
come nearer to each other than half a grid step count as touching.
"""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING

from nookwright.ground import tolerances
from nookwright.ground.sources import Fact, Kind
from nookwright.shapes.arcs import Side, crossings, sides_of
from nookwright.shapes.node import refuse
from nookwright.shapes.outline_rules import check_polygon

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.shapes.arcs import Point

MOST_BULGE = Fact(10.0, unit="1", kind=Kind.CHOICE, source="An arc of 337 degrees: no outline needs a fuller one.")
Corner = tuple[float, float, float]


def check_path(subject: str, points: tuple[Corner, ...]) -> None:
    """Refuse a path that is not simple, or not counter-clockwise.

    Raises:
        RecipeError: fewer than two corners; an arc too flat or too full; sides that fold back, cross or touch.
    """
    if len(points) < len(("there", "back")) or any(len(point) != len(("x", "y", "bulge")) for point in points):
        refuse(subject, "a path has two corners or more, each of three numbers", found=points, allowed="(x, y, bulge)")
    sides = sides_of(points)
    for side in sides:
        _check_side(subject, side)
    if not any(side.bulge for side in sides):
        check_polygon(subject, tuple((x, y) for x, y, _ in points))
        return
    for before, after in pairwise((*sides, sides[0])):
        _check_corner(subject, before, after)
    for first, second in _near_sides(sides):
        if _meet(sides[first], sides[second]):
            found = f"sides {first} and {second} at {sides[first].start} and {sides[second].start}"
            refuse(subject, "sides neither cross nor touch", found=found, allowed="a simple outline")
    chords = sum(x * v - y * u for (x, y), (u, v) in ((side.start, side.end) for side in sides)) / 2
    if chords + sum(side.area_mm2 for side in sides) <= 0:
        refuse(subject, "corners run counter-clockwise", found="clockwise", allowed="the reverse order")


def _check_side(subject: str, side: Side) -> None:
    if side.chord < tolerances.GRID / 2:
        refuse(subject, "neighbouring corners differ", found=side.start, allowed="each corner once")
    if not side.bulge:
        return
    flattest = 2 * tolerances.GRID / side.chord
    if not flattest <= abs(side.bulge) <= MOST_BULGE:
        allowed = f"0 for a line, or {flattest:.2g} to {MOST_BULGE:g} either way"
        refuse(subject, "an arc rises from its chord", found=f"bulge {side.bulge:g}", allowed=allowed)


def _check_corner(subject: str, before: Side, after: Side) -> None:
    (x, y), (u, v) = before.heading(at_end=True), after.heading(at_end=False)
    if x * u + y * v < 0 and abs(x * v - y * u) < tolerances.GRID:
        refuse(subject, "no side folds back on the one before", found=after.start, allowed="a simple outline")


def _near_sides(sides: tuple[Side, ...]) -> Iterator[tuple[int, int]]:
    """Pairs of sides whose spans in x overlap."""
    spans = [_span(side) for side in sides]
    order = sorted(range(len(sides)), key=lambda n: spans[n])
    for at, first in enumerate(order):
        for second in order[at + 1 :]:
            if spans[second][0] > spans[first][1] + tolerances.GRID:
                break
            yield min(first, second), max(first, second)


def _span(side: Side) -> tuple[float, float]:
    xs = [side.start[0], side.end[0], *(x for _, (x, _) in side.extremes)]
    return min(xs), max(xs)


def _meet(one: Side, other: Side) -> bool:
    """Whether two sides have a point in common that is no corner of both."""
    near = tolerances.GRID / 2
    shared = [end for end in (one.start, one.end) if end in (other.start, other.end)]
    found = [*crossings(one, other), one.start, one.end, other.start, other.end, _middle(one), _middle(other)]
    return any(
        one.holds(point, near) and other.holds(point, near)
        for point in found
        # Around a corner that they share, both are there by right.
        if all(math.dist(point, corner) > 4 * near for corner in shared)
    )


def _middle(side: Side) -> Point:
    """The middle of a side: where two arcs of one circle between the same corners would coincide."""
    if side.bulge:
        return side.at(side.start_rad + side.swept_rad / 2)
    return (side.start[0] + side.end[0]) / 2, (side.start[1] + side.end[1]) / 2
