"""Faults of meshes: what a slicer would have to guess about."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from nookwright.ground.tolerances import CROSSING, FLAT

from .solids import arrays, box, solid_of
from .table import plain, sized

if TYPE_CHECKING:
    from nookwright.exchange.stl import Triangles, Vertices

    from .harness import Sample


def _coin_tray(sample: Sample) -> str:
    return sample.placed("coin-cells").part


@plain("mesh-inside-out", besides=("hollow-closed", "volume-wrong"))
def inside_out(sample: Sample) -> Sample:
    """A mesh is inside out."""
    return sample.redrawn(_coin_tray(sample), lambda vertices, triangles: (vertices, triangles[:, ::-1]))


@plain("mesh-not-oriented")
def one_turned(sample: Sample) -> Sample:
    """One triangle of a mesh faces the wrong way."""

    def turn(vertices: Vertices, triangles: Triangles) -> tuple[Vertices, Triangles]:
        return vertices, np.concatenate([triangles[:1, ::-1], triangles[1:]])

    return sample.redrawn(_coin_tray(sample), turn)


@plain("mesh-open")
def one_missing(sample: Sample) -> Sample:
    """One triangle of a mesh is missing."""
    return sample.redrawn(_coin_tray(sample), lambda vertices, triangles: (vertices, triangles[1:]))


@plain("mesh-too-small", besides=("size-wrong", "things-outside-part"))
def nothing_left(sample: Sample) -> Sample:
    """Of a mesh only three triangles are left."""
    return sample.redrawn(_coin_tray(sample), lambda vertices, triangles: (vertices, triangles[:3]))


@plain("mesh-in-pieces")
def in_pieces(sample: Sample) -> Sample:
    """A crumb lies loose in a tray."""

    def add(vertices: Vertices, triangles: Triangles) -> tuple[Vertices, Triangles]:
        crumb, sides = arrays(box((16, 16, 10), (18, 18, 12)))
        return np.concatenate([vertices, crumb]), np.concatenate([triangles, sides + len(vertices)])

    return sample.redrawn(_coin_tray(sample), add)


@sized("mesh-flat-triangle", f"{FLAT:g} mm high at least")
def flat(sample: Sample, size: float) -> Sample:
    """A triangle of a mesh has no area to speak of."""

    def split(vertices: Vertices, triangles: Triangles) -> tuple[Vertices, Triangles]:
        a, b, c = (vertices[number] for number in triangles[0])
        middle = (a + b) / 2
        apart = middle + (c - middle) / np.linalg.norm(c - middle) * FLAT / size
        new = len(vertices)
        first, second, third = triangles[0]
        parts = [[first, second, new], [second, third, new], [third, first, new]]
        return np.concatenate([vertices, [apart]]), np.concatenate([triangles[1:], parts])

    return sample.redrawn(_coin_tray(sample), split)


@sized("mesh-crosses-itself", f"{CROSSING:g} mm")
def crossing(sample: Sample, size: float) -> Sample:
    """A dent in a wall comes out on its other side."""
    part, deep = _coin_tray(sample), 0.5
    wall = float(sample.part("tray", "35x35").parameters["wall"])  # type: ignore[arg-type]

    def pushed(vertices: Vertices, triangles: Triangles) -> tuple[Vertices, Triangles]:
        dented, sides = arrays(solid_of(vertices, triangles) - box((-1, 16, 14), (deep, 18, 16)))
        bottom = np.abs(dented - (deep, 17, 15)).max(axis=1) < 1 + FLAT
        bottom &= np.abs(dented[:, 0] - deep) < FLAT
        dented[bottom, 0] = wall + size * CROSSING
        return dented, sides

    return sample.redrawn(part, pushed)
