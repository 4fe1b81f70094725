"""Rings outside a plan, with leaders to parts that are too small for a mark of their own.

Promise: rings on one side never touch each other and keep the order of their parts, so leaders do not cross.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from nookwright.documents import labels, style
from nookwright.exchange.svg import Pen
from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nookwright.exchange.svg import Box, Canvas, Point

SPACING = Fact(4.8, unit="mm", kind=Kind.CHOICE, source="From ring to ring: its diameter and a line of air.")


class Side(StrEnum):
    """A side of a plan on paper."""

    LEFT = "left"
    RIGHT = "right"
    TOP = "top"
    BOTTOM = "bottom"


@dataclass(frozen=True)
class Callout:
    """A mark that stands outside, and the point that it means."""

    mark: str
    target: Point
    colour: str


@dataclass(frozen=True)
class Set:
    """A callout with its ring's middle."""

    callout: Callout
    ring: Point


def spread(wanted: Sequence[float], least: float, low: float, high: float) -> tuple[float, ...]:
    """Places in the order wanted, moved as little as need be until they are so far apart and inside.

    >>> spread([5, 5, 15], 2, 0, 20), spread([19, 20], 4, 0, 20)
    ((4.0, 6.0, 15.0), (16.0, 20.0))

    Args:
        wanted: in ascending order.
        least: distance between two.
        low: least place; more than fit between low and high begin before it.
        high: greatest place.
    """
    clusters: list[tuple[float, int]] = []  # sum of what would be each one's start of the cluster, members
    for value in wanted:
        total, count = value, 1
        while clusters and _start(clusters[-1]) + clusters[-1][1] * least > total / count:
            before, members = clusters.pop()
            total, count = before + total - count * members * least, members + count
        clusters.append((total, count))
    places = [_start(one) + n * least for one in clusters for n in range(one[1])]
    for n, place in enumerate(places):
        places[n] = max(place, places[n - 1] + least if n else low)
    for n in reversed(range(len(places))):
        places[n] = min(places[n], places[n + 1] - least if n + 1 < len(places) else high)
    return tuple(float(one) for one in places)


def place(callouts: Sequence[Callout], around: Box, distance: float, sides: Sequence[Side]) -> tuple[Set, ...]:
    """Set the rings of callouts at the sides that are nearest.

    Args:
        callouts: what is to be set.
        around: the plan on paper.
        distance: of the rings' middles from it.
        sides: which sides may be used, the preferred first.
    """
    by_side: dict[Side, list[Callout]] = {side: [] for side in sides}
    for callout in callouts:
        gaps = {side: _gap(callout.target, around, side) for side in sides}
        by_side[min(sides, key=gaps.__getitem__)].append(callout)
    return tuple(one for side, group in by_side.items() for one in _row(group, around, distance, side))


def draw(canvas: Canvas, rings: Sequence[Set]) -> None:
    """Draw the leaders, then the rings."""
    for one in rings:
        pen = Pen(one.callout.colour, style.THIN.width)
        canvas.line(one.callout.target, one.ring, pen)
        canvas.circle(one.callout.target, style.THIN.width * 2, fill=one.callout.colour)
    for one in rings:
        labels.draw_ring(canvas, one.ring, one.callout.mark, colour=one.callout.colour)


def _start(cluster: tuple[float, int]) -> float:
    return cluster[0] / cluster[1]


def _gap(target: Point, around: Box, side: Side) -> float:
    x, y = target
    gaps = {
        Side.LEFT: x - around.x,
        Side.RIGHT: around.right - x,
        Side.TOP: y - around.y,
        Side.BOTTOM: around.bottom - y,
    }
    return gaps[side]


def _row(group: list[Callout], around: Box, distance: float, side: Side) -> list[Set]:
    outer = around.inset(-distance)
    if side in {Side.TOP, Side.BOTTOM}:
        group = sorted(group, key=lambda one: (one.target[0], one.mark))
        along = spread([one.target[0] for one in group], SPACING, around.x, around.right)
        y = outer.y if side is Side.TOP else outer.bottom
        return [Set(one, (x, y)) for one, x in zip(group, along, strict=True)]
    group = sorted(group, key=lambda one: (one.target[1], one.mark))
    along = spread([one.target[1] for one in group], SPACING, around.y, around.bottom)
    x = outer.x if side is Side.LEFT else outer.right
    return [Set(one, (x, y)) for one, y in zip(group, along, strict=True)]
