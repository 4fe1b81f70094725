"""Meshes as solids of the kernel and back, and the few shapes that faults are made of."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from manifold3d import Error, Manifold, Mesh64

from nookwright.solids.mending import mended

if TYPE_CHECKING:
    from collections.abc import Callable

    from nookwright.exchange.stl import Triangles, Vertices

FINE = 5e-4  # mm; what booleans leave of edges shorter than this is taken out again


def solid_of(vertices: Vertices, triangles: Triangles) -> Manifold:
    """A mesh as a solid.

    Args:
        vertices: (n, 3), mm.
        triangles: (m, 3).

    Raises:
        ValueError: the kernel refuses it.
    """
    solid = Manifold(Mesh64(np.ascontiguousarray(vertices), np.ascontiguousarray(triangles, dtype=np.uint64)))
    if solid.status() != Error.NoError:
        raise ValueError(f"no solid: {solid.status().name}")
    return solid


def arrays(solid: Manifold) -> tuple[Vertices, Triangles]:
    """Vertices and triangles of a solid."""
    mesh = solid.simplify(FINE).to_mesh64()
    rounded = np.array(mesh.vert_properties)[:, :3].astype(np.float32).astype(np.float64)
    vertices, faces, _ = mended(rounded, np.array(mesh.tri_verts).astype(np.int64))
    return vertices, faces


def box(low: tuple[float, float, float], high: tuple[float, float, float]) -> Manifold:
    """A box between two corners."""
    size = [end - start for start, end in zip(low, high, strict=True)]
    return Manifold.cube(size).translate(low)


def post(x: float, y: float, bottom: float, top: float, *, diameter: float, sides: int = 64) -> Manifold:
    """A round post."""
    return Manifold.cylinder(top - bottom, diameter / 2, diameter / 2, sides).translate((x, y, bottom))


def ring(x: float, y: float, bottom: float, top: float, *, outer: float, inner: float) -> Manifold:
    """A round tube, upright."""
    full = post(x, y, bottom, top, diameter=outer)
    return full - post(x, y, bottom - 1, top + 1, diameter=inner)


def size_of(solid: Manifold) -> tuple[float, float, float]:
    """Where a solid that begins at 0 ends."""
    x, y, z = solid.bounding_box()[3:]
    return float(x), float(y), float(z)


def carved(solid: Manifold, volume_mm3: float, tool: Callable[[float], Manifold]) -> Manifold:
    """A solid less as much of a tool as takes a given volume.

    Args:
        solid: to take from.
        volume_mm3: how much.
        tool: what is cut off at a share from 0 to 1; more with every step.

    Raises:
        ValueError: the whole tool takes less.
    """
    low, high = 0.0, 1.0
    if (solid ^ tool(high)).volume() < volume_mm3:
        raise ValueError(f"the tool takes {(solid ^ tool(high)).volume():.1f} mm3, not {volume_mm3:.1f}")
    for _ in range(40):
        share = (low + high) / 2
        low, high = (share, high) if (solid ^ tool(share)).volume() < volume_mm3 else (low, share)
    return solid - tool(high)
