"""The primitive solids made into triangles, by rings of points that are joined from the bottom up.

Every ring of a body has the same number of points; where a corner shrinks to nothing, they coincide, and are
welded.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from manifold3d import Error, Manifold, Mesh64, triangulate

from nookwright.ground.errors import SolidError
from nookwright.shapes.outline_rules import FEWEST
from nookwright.shapes.regions import Circle, Rect
from nookwright.shapes.solids import Bowl, Prism, Revolution, Solid, Taper
from nookwright.solids.outlines import Outlines, chords, circle_points, on_grid, rect_points, said

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[np.float64]
    Faces = NDArray[np.int64]


def leaf(solid: Solid, outlines: Outlines, tolerance: float) -> Manifold:
    """The body of a primitive.

    Args:
        solid: the primitive.
        outlines: makes the contours of its region.
        tolerance: largest distance from the true surface, mm.

    Raises:
        SolidError: it is no primitive, or nothing is left of its region.
    """
    match solid:
        case Prism():
            return _lofted(_prism(solid, outlines))
        case Taper():
            return _lofted(_taper(solid, tolerance))
        case Bowl():
            return _lofted(_bowl(solid, tolerance))
        case Revolution():
            return _revolved(solid, tolerance)
    raise SolidError(f"{said(solid)}: the mesh kernel knows no such solid")


def _prism(solid: Prism, outlines: Outlines) -> list[Array]:
    contours = outlines.of(solid.region)
    return [np.stack([_at(contour, z) for z in (0.0, solid.height)]) for contour in contours]


def taper_rings(solid: Taper, tolerance: float) -> tuple[Array, Array]:
    """The contours of a taper's bottom and of its top, point by point.

    Args:
        solid: the taper.
        tolerance: largest distance from the true surface, mm.
    """
    region, draw = solid.region, solid.draw
    count = chords(max(region.radius, region.radius - draw), tolerance)
    if isinstance(region, Circle):
        return circle_points(region.radius, count), circle_points(region.radius - draw, count)
    return rect_points(region, count), rect_points(region, count, draw)


def _taper(solid: Taper, tolerance: float) -> list[Array]:
    low, high = taper_rings(solid, tolerance)
    return [np.stack([_at(low, 0.0), _at(high, solid.height)])]


def _bowl(solid: Bowl, tolerance: float) -> list[Array]:
    # The rolled corners curve both ways, and the two errors add up: each way gets half of the tolerance.
    fillet, share = solid.fillet, tolerance / 2 if solid.fillet else tolerance
    rim, count, steps = (
        Rect(solid.width, solid.depth, solid.radius),
        chords(solid.radius, share),
        chords(fillet, share),
    )
    quarter = circle_points(fillet, steps)[: steps // 4 + 1]
    # Up the fillet from the floor, where the wall is furthest in; then the rim.
    levels = [(fillet - across, fillet - down) for across, down in quarter[::-1]] if fillet else [(0.0, 0.0)]
    levels += [(0.0, solid.height)] if solid.height > fillet else []
    return [np.stack([_at(rect_points(rim, count, inset), z) for inset, z in levels])]


def _revolved(solid: Revolution, tolerance: float) -> Manifold:
    count = chords(max(r for r, _ in solid.profile), tolerance)
    circle = circle_points(1.0, count)
    rings = np.stack([_at(r * circle, z) for r, z in (*solid.profile, solid.profile[0])])
    return _welded(rings.reshape(-1, 3), _walls(len(rings), count))


def _at(contour: Array, z: float) -> Array:
    # On the grid of files, as all contours are: where two leaves are flush their points are the same.
    return np.concatenate([on_grid(contour), np.full((len(contour), 1), z)], axis=1)


def _lofted(stacks: list[Array]) -> Manifold:
    """A body of contours that rise level by level; each stack has the shape (levels, points, 3)."""
    faces, low, high, base = [], [], [], 0
    for levels, count, _ in (stack.shape for stack in stacks):
        faces.append(base + _walls(levels, count))
        low.append(base + np.arange(count))
        high.append(base + (levels - 1) * count + np.arange(count))
        base += levels * count
    points = np.concatenate([stack.reshape(-1, 3) for stack in stacks])
    return _welded(points, np.concatenate([*faces, _cap(points, low)[:, ::-1], _cap(points, high)]))


def _walls(levels: int, count: int) -> Faces:
    """Two triangles for each step along each ring to the ring above; rings run counter-clockwise."""
    rings = np.arange(levels - 1)[:, None] * count
    here, onward = (rings + np.arange(count)).ravel(), (rings + np.roll(np.arange(count), -1)).ravel()
    lower = np.stack([here, onward, onward + count], axis=1)
    upper = np.stack([here, onward + count, here + count], axis=1)
    return np.concatenate([lower, upper])


def _cap(points: Array, contours: list[Faces]) -> Faces:
    """A flat face within contours of numbered points; none where they have shrunk to a line or a point."""
    tidy = [_without_repeats(points[:, :2], contour) for contour in contours]
    # The kernel's triangulation of nothing ends the process.
    rings = [ring for ring in tidy if len(ring) >= FEWEST]
    if not rings:
        return np.empty((0, 3), dtype=np.int64)
    faces = np.asarray(triangulate([np.ascontiguousarray(points[ring, :2]) for ring in rings]), dtype=np.int64)
    return np.concatenate(rings)[faces]


def _without_repeats(flat: Array, contour: Faces) -> Faces:
    """Of the numbered points of a contour those that differ from the one before."""
    points = flat[contour]
    kept: Faces = contour[(points != np.concatenate([points[-1:], points[:-1]])).any(axis=1)]
    return kept


def _welded(points: Array, faces: Faces) -> Manifold:
    """A body of triangles, once points that coincide are one and triangles without an area are gone."""
    vertices, number = np.unique(points, axis=0, return_inverse=True)
    faces = number.reshape(-1)[faces]
    whole = (faces[:, 0] != faces[:, 1]) & (faces[:, 1] != faces[:, 2]) & (faces[:, 2] != faces[:, 0])
    made = Manifold(Mesh64(np.ascontiguousarray(vertices), faces[whole].astype(np.uint64)))
    if made.status() != Error.NoError:
        raise SolidError(f"the mesh kernel refused a primitive: {made.status().name}")
    return made
