"""Bounding boxes of regions and solids, as plain tuples of the low corner and the high corner.

Of two dimensions or three: ``(x0, y0, x1, y1)`` or ``(x0, y0, z0, x1, y1, z1)``.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeVar, cast

from nookwright.shapes.node import snapped

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

Box2 = tuple[float, float, float, float]
Box3 = tuple[float, float, float, float, float, float]
Corners = tuple[list[tuple[float, ...]], list[tuple[float, ...]]]
Box = TypeVar("Box", Box2, Box3)


def around(points: Iterable[tuple[float, float]]) -> Box2:
    """The box of some points of the plane.

    >>> around([(0, 3), (2, -1)])
    (0, -1, 2, 3)
    """
    xs, ys = zip(*points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def united(boxes: Iterable[Box]) -> Box:
    """The smallest box that holds all of these.

    >>> united([(0.0, 0.0, 1.0, 1.0), (3.0, -1.0, 4.0, 0.5)])
    (0.0, -1.0, 4.0, 1.0)
    """
    corners: Corners = _corners(boxes)
    return cast("Box", (*map(min, corners[0]), *map(max, corners[1])))


def common(boxes: Iterable[Box]) -> Box | None:
    """The box that all of these have in common, or nothing where they only touch or miss each other.

    >>> common([(0.0, 0.0, 2.0, 2.0), (1.0, -1.0, 4.0, 0.5)])
    (1.0, 0.0, 2.0, 0.5)
    >>> common([(0.0, 0.0, 1.0, 1.0), (1.0, 0.0, 2.0, 1.0)]) is None
    True
    """
    corners: Corners = _corners(boxes)
    low: list[float] = [max(edges) for edges in corners[0]]
    high: list[float] = [min(edges) for edges in corners[1]]
    if any(start >= end for start, end in zip(low, high, strict=True)):
        return None
    return cast("Box", (*low, *high))


def shifted(box: Box, by: Sequence[float]) -> Box:
    """The box moved along.

    >>> shifted((0.0, 0.0, 1.0, 1.0), (5.0, 0.0))
    (5.0, 0.0, 6.0, 1.0)
    """
    return cast("Box", tuple(snapped(edge + step) for edge, step in zip(box, (*by, *by), strict=True)))


def turned(box: Box2, quarter_turns: int) -> Box2:
    """The box turned about the origin, counter-clockwise.

    >>> turned((3.0, 1.0, 5.0, 2.0), 1)
    (-2.0, 3.0, -1.0, 5.0)
    """
    return around(turned_point((x, y), quarter_turns) for x in box[::2] for y in box[1::2])


def turned_point(point: tuple[float, float], quarter_turns: int) -> tuple[float, float]:
    """A point turned about the origin, counter-clockwise, without rounding.

    >>> turned_point((2.0, 1.0), 1)
    (-1.0, 2.0)
    """
    x, y = point
    return ((x, y), (-y, x), (-x, -y), (y, -x))[quarter_turns % 4]


def _corners(boxes: Iterable[tuple[float, ...]]) -> Corners:
    columns = list(zip(*boxes, strict=True))
    half = len(columns) // 2
    return columns[:half], columns[half:]
