"""Which points lie inside a recipe: enough geometry to decide where to cut, with no kernel.

Every leaf is told by its formula; only an offset of a bent outline is told by eight directions. A point on a surface
may be told either way, so whoever asks keeps clear of faces.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from nookwright.shapes.arcs import sides_of
from nookwright.shapes.regions import (
    Circle,
    Glyphs,
    Offset,
    Path,
    Polygon,
    Rect,
    Region,
    RegionDifference,
    RegionIntersection,
    RegionMove,
    RegionRepeat,
    RegionUnion,
    Stroke,
)
from nookwright.shapes.solids import (
    Bowl,
    Difference,
    Intersection,
    Move,
    Named,
    Prism,
    Repeat,
    Revolution,
    Solid,
    Taper,
    Tip,
    Union,
)

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from numpy.typing import NDArray

    from nookwright.shapes.arcs import Side

    Floats = NDArray[np.float64]
    Told = NDArray[np.bool_]

_DIRECTIONS = 8  # in which an offset is felt out


def inside(shape: Solid | Region, points: Floats) -> Told:
    """Which points lie inside a shape.

    Args:
        shape: a solid, or a region of the plane.
        points: ``float[n][3]`` for a solid, ``float[n][2]`` for a region, mm.
    """
    box = shape.bounds
    half = points.shape[1]
    near = np.ones(len(points), dtype=np.bool_)
    for axis in range(half):
        near &= (points[:, axis] >= box[axis]) & (points[:, axis] <= box[axis + half])
    if not near.any():
        return near
    found = np.zeros(len(points), dtype=np.bool_)
    at = np.flatnonzero(near)
    found[at] = _told(shape, points[at])
    return found


def _told(shape: Solid | Region, points: Floats) -> Told:
    """Which points, all within the shape's box, lie inside it."""
    match shape:
        case Union(members) | RegionUnion(members):
            return _any(members, points)
        case Difference(base, cuts) | RegionDifference(base, cuts):
            return inside(base, points) & ~_any(cuts, points)
        case Intersection(members) | RegionIntersection(members):
            return _all(members, points)
        case Repeat(inner, places) | RegionRepeat(inner, places):
            return _any_of(inner, places, points)
    return _placed(shape, points)


def _placed(shape: Solid | Region, points: Floats) -> Told:
    """Shapes that are others, moved, turned, named or grown."""
    match shape:
        case Move(inner) | RegionMove(inner):
            return inside(inner, _unmoved(shape, points))
        case Tip(inner, axis):
            x, y, z = points.T
            return inside(inner, np.column_stack([x, z, -y] if axis == "x" else [-z, y, x]))
        case Named(inner, _):
            return inside(inner, points)
        case Offset(inner, by):
            return _offset(inner, by, points)
    return _body(shape, points) if isinstance(shape, Solid) else _outline(shape, points)


def _body(solid: Solid, points: Floats) -> Told:
    """The leaves among solids."""
    flat, z = points[:, :2], points[:, 2]
    match solid:
        case Prism(region, _):
            return inside(region, flat)
        case Taper(Circle(radius), height, draw):
            return np.asarray(np.hypot(*flat.T) <= radius - draw * z / height)
        case Taper(Rect(width, depth, radius), height, draw):
            return _rounded(flat, width, depth, radius, draw * z / height)
        case Revolution(profile):
            return _parity(sides_of(tuple((r, h, 0.0) for r, h in profile)), np.column_stack([np.hypot(*flat.T), z]))
        case Bowl(width, depth, radius, fillet, _):
            low = np.clip(fillet - z, 0.0, None)
            return _rounded(flat, width, depth, radius, fillet - np.sqrt(np.maximum(0.0, fillet**2 - low**2)))
    raise TypeError(f"no formula for {solid.kind}")


def _outline(region: Region, points: Floats) -> Told:
    """The leaves among regions."""
    match region:
        case Rect(width, depth, radius):
            return _rounded(points, width, depth, radius, np.zeros(len(points)))
        case Circle(radius):
            return np.asarray(np.hypot(*points.T) <= radius)
        case Polygon(corners):
            return _parity(sides_of(tuple((x, y, 0.0) for x, y in corners)), points)
        case Path():
            return _parity(region.sides, points)
        case Stroke():
            return _parity(region.outline, points)
        case Glyphs():
            return inside(region.strokes, points)
    raise TypeError(f"no formula for {region.kind}")


def _any(members: Iterable[Solid | Region], points: Floats) -> Told:
    found = np.zeros(len(points), dtype=np.bool_)
    for member in members:
        rest = np.flatnonzero(~found)
        found[rest] = inside(member, points[rest])
    return found


def _all(members: Iterable[Solid | Region], points: Floats) -> Told:
    found = np.ones(len(points), dtype=np.bool_)
    for member in members:
        left = np.flatnonzero(found)
        found[left] = inside(member, points[left])
    return found


def _any_of(inner: Solid | Region, places: Iterable[tuple[float, ...]], points: Floats) -> Told:
    """Copies of one shape; those whose box misses the box of all points are passed over."""
    half = points.shape[1]
    low, high = points.min(axis=0), points.max(axis=0)
    box = np.array(inner.bounds)
    found = np.zeros(len(points), dtype=np.bool_)
    for place in places:
        by = np.array((*place, 0.0)[:half])
        if (box[:half] + by <= high).all() and (box[half:] + by >= low).all():
            found |= inside(inner, points - by)
    return found


def _unmoved(move: Move | RegionMove, points: Floats) -> Floats:
    x, y = points[:, 0] - move.x, points[:, 1] - move.y
    back = ((x, y), (y, -x), (-x, -y), (-y, x))[move.quarter_turns % 4]
    return np.column_stack([*back, points[:, 2] - move.z] if isinstance(move, Move) else back)


def _rounded(points: Floats, width: float, depth: float, radius: float, inset: Floats) -> Told:
    """Within a rectangle with round corners, each point with an inset of its own, the corners concentric."""
    round_by = max(0.0, radius)
    out_x = np.abs(points[:, 0] - width / 2) - (width / 2 - round_by)
    out_y = np.abs(points[:, 1] - depth / 2) - (depth / 2 - round_by)
    in_corner = (out_x > 0) & (out_y > 0)
    straight = np.maximum(out_x, out_y)
    return np.asarray(np.where(in_corner, np.hypot(out_x, out_y), straight) <= round_by - inset)


def _parity(sides: tuple[Side, ...], points: Floats) -> Told:
    """Even or odd: the polygon of the chords, and what each arc adds to it or takes from it."""
    x, y = points.T
    found = np.zeros(len(points), dtype=np.bool_)
    for side in sides:
        (x0, y0), (x1, y1) = side.start, side.end
        if (y0 > y.min() or y1 > y.min()) and y0 != y1:
            spans = (y0 > y) != (y1 > y)
            found ^= spans & (x < (x1 - x0) * (y - y0) / (y1 - y0) + x0)
        if side.bulge:
            left = (x1 - x0) * (y - y0) - (y1 - y0) * (x - x0)
            within = np.hypot(x - side.centre[0], y - side.centre[1]) <= side.radius
            found ^= within & ((left < 0) if side.bulge > 0 else (left >= 0))
    return found


def _offset(inner: Region, by: float, points: Floats) -> Told:
    """A region grown or worn away by a disc, felt out in some directions."""
    found = inside(inner, points)
    join: Callable[[Told, Told], Told] = np.logical_or if by > 0 else np.logical_and
    for number in range(_DIRECTIONS):
        turn = 2 * math.pi * number / _DIRECTIONS
        step = abs(by) * np.array([math.cos(turn), math.sin(turn)])
        found = join(found, inside(inner, points + step))
    return found
