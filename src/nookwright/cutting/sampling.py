"""Which points of a grid lie inside a recipe: enough geometry to decide where to cut, with no kernel.

A grid is a coordinate array along each axis, ascending. Shapes are only ever moved, tipped and turned by quarters, so a
grid stays one, and each shape is looked at only within its box. Every leaf is told by its formula; an offset is felt
out in eight directions. A point on a surface may be told either way, so whoever asks keeps clear of faces.
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
    from collections.abc import Iterable

    from numpy.typing import NDArray

    from nookwright.shapes.arcs import Side

    Floats = NDArray[np.float64]
    Told = NDArray[np.bool_]
    Axes = tuple[Floats, ...]
    Spans = tuple[slice, ...]
    Hit = tuple[Spans, Told]

_DIRECTIONS = 8  # in which an offset is felt out


def inside(shape: Solid | Region, axes: Axes) -> Told:
    """Which points of a grid lie inside a shape, ``bool[x][y][z]``, or ``bool[x][y]`` for a region.

    Args:
        shape: a solid, or a region of the plane.
        axes: coordinates along each axis, ascending, mm.
    """
    found = np.zeros(tuple(len(axis) for axis in axes), dtype=np.bool_)
    for spans, told in _hits(shape, axes):
        found[spans] = told
    return found


def _hits(shape: Solid | Region, axes: Axes, by: tuple[float, ...] = ()) -> Iterable[Hit]:
    """What a shape, shifted, makes of the part of a grid that lies in its box; nothing where none does."""
    count = len(axes)
    box, by = shape.bounds, (*by, 0.0, 0.0, 0.0)[:count]
    spans = tuple(
        slice(int(np.searchsorted(axis, box[n] + by[n])), int(np.searchsorted(axis, box[n + count] + by[n], "right")))
        for n, axis in enumerate(axes)
    )
    if all(span.start < span.stop for span in spans):
        own = tuple(axis[span] - step for axis, span, step in zip(axes, spans, by, strict=True))
        yield spans, _told(shape, own)


def _told(shape: Solid | Region, axes: Axes) -> Told:
    """Which points of a grid, all within the shape's box, lie inside it."""
    match shape:
        case Union(members) | RegionUnion(members):
            return _any((hit for member in members for hit in _hits(member, axes)), axes)
        case Difference(base, cuts) | RegionDifference(base, cuts):
            return inside(base, axes) & ~_any((hit for cut in cuts for hit in _hits(cut, axes)), axes)
        case Intersection(members) | RegionIntersection(members):
            return np.asarray(np.logical_and.reduce([inside(member, axes) for member in members]))
        case Repeat(inner, places) | RegionRepeat(inner, places):
            return _any((hit for place in _near(inner, places, axes) for hit in _hits(inner, axes, place)), axes)
    return _placed(shape, axes)


def _any(hits: Iterable[Hit], axes: Axes) -> Told:
    found = np.zeros(tuple(len(axis) for axis in axes), dtype=np.bool_)
    for spans, told in hits:
        found[spans] |= told
    return found


def _near(inner: Solid | Region, places: tuple[tuple[float, float], ...], axes: Axes) -> Iterable[tuple[float, float]]:
    """Places of copies whose box meets the box of the grid in the plan."""
    half = len(axes)
    at = np.array(places)
    meets = np.ones(len(at), dtype=np.bool_)
    for axis in (0, 1):
        meets &= at[:, axis] + inner.bounds[axis] <= axes[axis][-1]
        meets &= at[:, axis] + inner.bounds[axis + half] >= axes[axis][0]
    return (places[number] for number in np.flatnonzero(meets))


def _placed(shape: Solid | Region, axes: Axes) -> Told:
    """Shapes that are others, moved, turned, named or grown."""
    match shape:
        case Move(inner) | RegionMove(inner):
            return _moved(shape, inner, axes)
        case Tip(inner, axis):
            x, y, z = axes
            if axis == "x":
                return inside(inner, (x, z, _back(y))).transpose(0, 2, 1)[:, ::-1]
            return inside(inner, (_back(z), y, x)).transpose(2, 1, 0)[:, :, ::-1]
        case Named(inner, _):
            return inside(inner, axes)
        case Offset(inner, by):
            return _offset(inner, by, axes)
    return _body(shape, axes) if isinstance(shape, Solid) else _outline(shape, axes)


def _moved(move: Move | RegionMove, inner: Solid | Region, axes: Axes) -> Told:
    """A shape turned by quarters, then shifted."""
    x, y = axes[0] - move.x, axes[1] - move.y
    up = (axes[2] - move.z,) if isinstance(move, Move) else ()
    turns = move.quarter_turns % 4
    own = ((x, y), (y, _back(x)), (_back(x), _back(y)), (_back(y), x))[turns]
    told = inside(inner, (*own, *up))
    if turns % 2:
        told = told.swapaxes(0, 1)
    return (told, told[::-1], told[::-1, ::-1], told[:, ::-1])[turns]


def _back(axis: Floats) -> Floats:
    """Coordinates looked at from the other side."""
    return -axis[::-1]


def _body(solid: Solid, axes: Axes) -> Told:
    """The leaves among solids."""
    x, y, z = axes[0][:, None, None], axes[1][None, :, None], axes[2][None, None, :]
    match solid:
        case Prism(region, _):
            return np.broadcast_to(inside(region, axes[:2])[:, :, None], (len(axes[0]), len(axes[1]), len(axes[2])))
        case Taper(Circle(radius), height, draw):
            return np.asarray(np.hypot(x, y) <= radius - draw * z / height)
        case Taper(Rect(width, depth, radius), height, draw):
            return _rounded((x, y), (width, depth), radius, draw * z / height)
        case Revolution(profile):
            return _parity(sides_of(tuple((r, h, 0.0) for r, h in profile)), np.hypot(x, y), z)
        case Bowl(width, depth, radius, fillet, _):
            low = np.clip(fillet - z, 0.0, None)
            return _rounded((x, y), (width, depth), radius, fillet - np.sqrt(np.maximum(0.0, fillet**2 - low**2)))
    raise TypeError(f"no formula for {solid.kind}")


def _outline(region: Region, axes: Axes) -> Told:
    """The leaves among regions."""
    x, y = axes[0][:, None], axes[1][None, :]
    match region:
        case Rect(width, depth, radius):
            return _rounded((x, y), (width, depth), radius, np.zeros((1, 1)))
        case Circle(radius):
            return np.asarray(np.hypot(x, y) <= radius)
        case Polygon(corners):
            return _parity(sides_of(tuple((u, v, 0.0) for u, v in corners)), x, y)
        case Path():
            return _parity(region.sides, x, y)
        case Stroke():
            return _parity(region.outline, x, y)
        case Glyphs():
            return inside(region.strokes, axes)
    raise TypeError(f"no formula for {region.kind}")


def _rounded(at: tuple[Floats, Floats], size: tuple[float, float], radius: float, inset: Floats) -> Told:
    """Within a rectangle with round corners, each point with an inset of its own, the corners concentric."""
    out_x, out_y = (np.abs(one - side / 2) - (side / 2 - radius) for one, side in zip(at, size, strict=True))
    beside = np.where((out_x > 0) & (out_y > 0), np.hypot(out_x, out_y), np.maximum(out_x, out_y))
    return np.asarray(beside <= radius - inset)


def _parity(sides: tuple[Side, ...], x: Floats, y: Floats) -> Told:
    """Even or odd: the polygon of the chords, and what each arc adds to it or takes from it."""
    found = np.zeros(np.broadcast_shapes(x.shape, y.shape), dtype=np.bool_)
    for side in sides:
        (x0, y0), (x1, y1) = side.start, side.end
        if y0 != y1:
            found ^= ((y0 > y) != (y1 > y)) & (x < (x1 - x0) * (y - y0) / (y1 - y0) + x0)
        if side.bulge:
            left = (x1 - x0) * (y - y0) - (y1 - y0) * (x - x0)
            within = np.hypot(x - side.centre[0], y - side.centre[1]) <= side.radius
            found ^= within & ((left < 0) if side.bulge > 0 else (left >= 0))
    return found


def _offset(inner: Region, by: float, axes: Axes) -> Told:
    """A region grown or worn away by a disc, felt out in some directions."""
    found = inside(inner, axes)
    for number in range(_DIRECTIONS):
        turn = 2 * math.pi * number / _DIRECTIONS
        there = inside(inner, (axes[0] + abs(by) * math.cos(turn), axes[1] + abs(by) * math.sin(turn)))
        found = found | there if by > 0 else found & there
    return found
