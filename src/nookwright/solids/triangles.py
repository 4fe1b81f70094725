"""Closed triangle meshes as arrays, and what can be read off them."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from nookwright.ground import tolerances
from nookwright.ground.errors import SolidError
from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from nookwright.shapes.boxes import Box3

    Array = NDArray[np.float64]

WRITTEN = Fact(
    1e-5,
    unit="mm",
    kind=Kind.CHOICE,
    source="The last decimal of the 3MF that we write; a tenth of GRID, far above the plane kernel's noise of 3e-9.",
)

_BITS = 32  # of the number of a vertex
_SCALES = (math.sqrt(2), math.sqrt(3))  # of no whole ratio to each other, so that equal sums are rare


@dataclass(frozen=True, order=True)
class Feature:
    """A run of triangles that carry a name.

    Attributes:
        name: as the recipe gives it.
        first: number of its first triangle.
        count: how many triangles it has.
    """

    name: str
    first: int
    count: int


@dataclass(frozen=True, eq=False)
class Mesh:
    """A closed mesh; its arrays are read-only.

    Attributes:
        vertices: (n, 3), float64, mm.
        triangles: (m, 3), uint32, counter-clockwise from outside; those without a name come first.
        features: the rest of the triangles by name, in order of names, one run each.
    """

    vertices: Array
    triangles: NDArray[np.uint32]
    features: tuple[Feature, ...] = ()

    def __post_init__(self) -> None:
        self.vertices.setflags(write=False)
        self.triangles.setflags(write=False)

    @cached_property
    def volume_mm3(self) -> float:
        """The volume inside, by the divergence theorem; negative where the mesh is inside out."""
        return float(self.under_mm3.sum())

    @cached_property
    def under_mm3(self) -> Array:
        """For each triangle the volume between it and the origin, negative where it looks towards the origin."""
        columns = np.ascontiguousarray(self.vertices.T)
        (ax, ay, az), (bx, by, bz), (cx, cy, cz) = (columns[:, self.triangles[:, n]] for n in range(3))
        found: Array = (ax * (by * cz - bz * cy) + ay * (bz * cx - bx * cz) + az * (bx * cy - by * cx)) / 6
        return found

    @cached_property
    def area_mm2(self) -> float:
        """The area of the surface."""
        a, b, c = self._corners()
        return float(np.linalg.norm(np.cross(b - a, c - a), axis=1).sum()) / 2

    @cached_property
    def bounds(self) -> Box3:
        """The box around it."""
        low, high = self.vertices.min(axis=0).tolist(), self.vertices.max(axis=0).tolist()
        return (*low, *high)

    @cached_property
    def labels(self) -> NDArray[np.int64]:
        """For each vertex the lowest vertex of its closed surface."""
        label = np.arange(len(self.vertices))
        start, end = self.triangles.ravel(), np.roll(self.triangles, -1, axis=1).ravel()
        apart = start > end  # the other triangle on an edge has it the other way round
        while apart.any():
            start, end = start[apart], end[apart]
            one, other = label[start], label[end]
            np.minimum.at(label, np.maximum(one, other), np.minimum(one, other))
            while not np.array_equal(lower := label[label], label):
                label = lower
            apart = label[start] != label[end]
        return label

    @cached_property
    def components(self) -> int:
        """How many closed surfaces it has; a hollow without an opening counts as one more."""
        return len(np.unique(self.labels))

    @cached_property
    def genus(self) -> int:
        """How many handles its surfaces have together: a plate with k holes has k.

        By Euler: V - E + F = 2 (components - genus), and of triangles E = 3 F / 2.
        """
        return self.components - (len(self.vertices) - len(self.triangles) // 2) // 2

    def of_feature(self, name: str) -> NDArray[np.uint32]:
        """The triangles that carry a name, (k, 3); none where the mesh has no such feature."""
        runs = [self.triangles[each.first : each.first + each.count] for each in self.features if each.name == name]
        return runs[0] if runs else self.triangles[:0]

    def _corners(self) -> tuple[Array, Array, Array]:
        a, b, c = (self.vertices[self.triangles[:, n]] for n in range(3))
        return a, b, c


def ordered(
    vertices: Array,
    triangles: NDArray[np.integer],
    labels: NDArray[np.int64] | None = None,
    names: tuple[str, ...] = (),
) -> Mesh:
    """The mesh in an order that follows from its shape: vertices by x, y, z, triangles by their names and corners.

    Args:
        vertices: (n, 3), mm.
        triangles: (m, 3).
        labels: (m,), for each triangle 0 where it has no name, or which of the names it has, from 1 on.
        names: in order.
    """
    vertices = vertices + 0.0
    order = np.lexsort(vertices.T[::-1])
    number = np.empty(len(order), dtype=np.uint32)
    number[order] = np.arange(len(order), dtype=np.uint32)
    faces = number[triangles]
    turn = (np.argmin(faces, axis=1)[:, None] + np.arange(3)) % 3
    faces = np.take_along_axis(faces, turn, axis=1)
    labels = np.zeros(len(faces), dtype=np.int64) if labels is None else labels
    # In a closed mesh no two triangles start with the same edge, so two corners and the label put them in order.
    start, onward = faces[:, 0].astype(np.int64), faces[:, 1].astype(np.int64)
    sequence = np.argsort((labels * len(vertices) + start) * len(vertices) + onward, kind="stable")
    features = _runs(labels[sequence], names)
    return Mesh(np.ascontiguousarray(vertices[order]), np.ascontiguousarray(faces[sequence]), features)


def _runs(labels: NDArray[np.int64], names: tuple[str, ...]) -> tuple[Feature, ...]:
    """The features of labels in order; a name whose triangles are all cut away is left out."""
    starts, ends = (np.searchsorted(labels, np.arange(1, len(names) + 1), side).tolist() for side in ("left", "right"))
    runs = zip(names, starts, ends, strict=True)
    return tuple(Feature(name, start, end - start) for name, start, end in runs if end > start)


def without_crumbs(mesh: Mesh) -> Mesh:
    """The mesh without those of its surfaces that enclose less than ``tolerances.SHARED_VOLUME_MM3``."""
    surface = mesh.labels[mesh.triangles[:, 0]]
    volumes = np.bincount(surface, mesh.under_mm3, len(mesh.vertices))
    kept = np.abs(volumes[surface]) >= tolerances.SHARED_VOLUME_MM3
    if kept.all():
        return mesh
    labels = np.zeros(len(mesh.triangles), dtype=np.int64)
    for which, feature in enumerate(mesh.features, 1):
        labels[feature.first : feature.first + feature.count] = which
    used, number = np.unique(mesh.triangles[kept], return_inverse=True)
    names = tuple(feature.name for feature in mesh.features)
    return ordered(mesh.vertices[used], number.reshape(-1, 3), labels[kept], names)


def pinched_at(mesh: Mesh) -> tuple[float, float, float] | None:
    """A point on an edge where more than two triangles would meet, once a file has rounded the vertices.

    Such a mesh is closed in memory, since it holds the edge twice, and open to whoever reads the file.
    """
    rounded = np.round(mesh.vertices, round(-math.log10(WRITTEN)))
    if not _may_coincide(rounded):
        return None
    points, number = np.unique(rounded, axis=0, return_inverse=True)
    if len(points) == len(rounded):
        return None
    faces = number.reshape(-1)[mesh.triangles]
    edges = faces.ravel() * len(points) + np.roll(faces, -1, axis=1).ravel()
    kept, times = np.unique(edges, return_counts=True)
    if times.max() == 1:
        return None
    x, y, z = points[kept[times > 1][0] // len(points)].tolist()
    return x, y, z


def is_closed(triangles: NDArray[np.integer]) -> bool:
    """Whether each edge has one triangle on either side."""
    a, b, c = np.ascontiguousarray(triangles.T, dtype=np.int64)
    starts, ends = np.concatenate([a, b, c]), np.concatenate([b, c, a])
    rising = starts < ends
    falling = ~rising
    there, back = starts[rising] << _BITS | ends[rising], ends[falling] << _BITS | starts[falling]
    there.sort()
    back.sort()
    return bool(np.array_equal(there, back) and (there[1:] != there[:-1]).all())


def _may_coincide(points: Array) -> bool:
    """Whether some of the points could be equal: two sums of their coordinates are. Quick, and never wrong about no."""
    x, y, z = np.ascontiguousarray(points.T)
    # Number by number: a product of matrices may round one row otherwise than another.
    sums = np.sort(x + _SCALES[0] * y + _SCALES[1] * z)
    return bool((np.diff(sums) == 0).any())


def transformed(mesh: Mesh, matrix: Array) -> Mesh:
    """The mesh moved by a 4x4 matrix for column vectors that turns and shifts.

    Raises:
        SolidError: the matrix scales or mirrors.
    """
    turn, shift = matrix[:3, :3], matrix[:3, 3]
    rigid = np.allclose(turn @ turn.T, np.eye(3), rtol=0, atol=tolerances.KERNEL)
    if not rigid or np.linalg.det(turn) < 0:
        raise SolidError(f"a mesh is turned and shifted, never scaled or mirrored; found {turn.tolist()}")
    return Mesh(mesh.vertices @ turn.T + shift, mesh.triangles.copy(), mesh.features)
