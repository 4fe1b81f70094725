"""Level sections of a mesh at the middle of each layer, and which layers are worth looking at.

A layer is only looked at where the mesh changes. Nothing new can hang in the air where no face looks down flatter than
45 degrees and no surface begins. Between two heights at which there are vertices every edge of a section moves evenly,
so a wall is thinnest at one of the two ends. This leaves a few layers of some hundreds.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from nookwright.ground.errors import SolidError
from nookwright.ground.sources import Fact, Kind
from nookwright.ground.tolerances import FLAT, KERNEL, MESH

if TYPE_CHECKING:
    from manifold3d import CrossSection, Manifold

    from nookwright.checks.boxes import Floats, Indices
    from nookwright.checks.bridges import Which
    from nookwright.exchange.stl import Triangles, Vertices

STEEPEST_OVERHANG_DEG = Fact(
    45.0, unit="deg", kind=Kind.COMMON_PRACTICE, source="From the vertical: each line still lies half on the one below."
)
FIRST_LAYER_SPREAD = Fact(
    0.2, unit="mm", kind=Kind.COMMON_PRACTICE, source="The first layer is pressed out by 0.1 to 0.25 on each side."
)
STRIP = Fact(0.02, unit="mm", kind=Kind.CALCULATED, source="Narrower strips of a section are left over by rounding.")
_LEANING = 0.01  # of a normal's z: half a degree, for the facets of cones


@dataclass(frozen=True, eq=False)
class Sections:
    """A mesh and its sections.

    Attributes:
        vertices: (n, 3), mm.
        triangles: (m, 3), counter-clockwise from outside, closed.
        layer: layer height, mm.
    """

    vertices: Vertices
    triangles: Triangles
    layer: float
    _made: dict[int, CrossSection] = field(default_factory=dict, repr=False)

    @cached_property
    def bottom(self) -> float:
        """Height of the bed."""
        return float(self.vertices[:, 2].min())

    @cached_property
    def count(self) -> int:
        """How many layers there are."""
        high = float(self.vertices[:, 2].max()) - self.bottom
        return max(1, math.ceil(round(high / self.layer - 0.5, 6)))  # a rest that misses a middle is not printed

    def middle(self, number: int) -> float:
        """Height of the middle of a layer, counted from 0."""
        return self.bottom + (number + 0.5) * self.layer

    def at(self, number: int) -> CrossSection:
        """The section through the middle of a layer."""
        if number not in self._made:
            # A face leaves a corner where its triangles meet; most of the corners of a section say nothing.
            self._made[number] = self._solid.slice(self.middle(number)).simplify(MESH / 2)
        return self._made[number]

    @property
    def height(self) -> float:
        """Of the mesh, mm."""
        return float(self.vertices[:, 2].max()) - self.bottom

    @property
    def looked_at(self) -> tuple[int, ...]:
        """The layers that were looked at so far, from the bed up."""
        return tuple(sorted(self._made))

    @cached_property
    def hanging(self) -> tuple[int, ...]:
        """Layers, without the first, below which something may be missing: a flat face that looks down, a beginning."""
        found = set(np.flatnonzero(self._excess > MESH + STRIP).tolist()) | self.beginning
        return tuple(sorted(found & set(range(1, self.count))))

    def reach(self, number: int) -> float:
        """How far a layer may lie outside the one below it, mm; the first one is pressed out and reaches further."""
        return self.layer * _flatness(STEEPEST_OVERHANG_DEG) + MESH + (FIRST_LAYER_SPREAD if number == 1 else 0.0)

    @cached_property
    def _excess(self) -> Floats:
        """For each layer how far it lies at most outside of what the one below it carries, by the faces between, mm.

        A surface goes sideways by its flatness times its height; of faces between the middles of two layers the
        flattest is taken for as high as all of them reach.
        """
        normal_z, low, high = self._faces
        down = normal_z < -math.sin(math.radians(STEEPEST_OVERHANG_DEG)) - _LEANING
        low, high = low[down], high[down]
        flat = -normal_z[down] / np.sqrt(np.maximum(1 - normal_z[down] ** 2, KERNEL))
        first, last = (np.clip(self._above(z), 0, self.count) for z in (low, high))
        face = np.repeat(np.arange(len(low)), last - first + 1)
        number = first[face] + np.arange(len(face)) - np.searchsorted(face, face)
        middle = self.bottom + (number + 0.5) * self.layer
        start, end, flattest = (
            np.full(self.count + 1, np.inf),
            np.full(self.count + 1, -np.inf),
            np.ones(self.count + 1),
        )
        np.minimum.at(start, number, np.maximum(low[face], middle - self.layer))
        np.maximum.at(end, number, np.minimum(high[face], middle))
        np.maximum.at(flattest, number, flat[face])
        height = np.maximum(end - start, FLAT)  # of a level face too
        excess: Floats = (flattest - _flatness(STEEPEST_OVERHANG_DEG)) * height
        excess[1] -= FIRST_LAYER_SPREAD
        return excess

    @cached_property
    def beginning(self) -> frozenset[int]:
        """Layers in which, or just below which, something begins that has nothing of the mesh below it."""
        return frozenset(self._between(self._beginnings, self._beginnings))

    def walls(self, run: int) -> tuple[int, ...]:
        """Layers among which is one of any ``run`` layers on end whose walls are too thin at one place.

        Any such run holds a multiple of its length; of a long stretch between two heights at which there are vertices
        the outer multiples will do, and one where nothing slopes in it.

        Args:
            run: layers.
        """
        level = np.unique(np.round(self.vertices[:, 2], 6))
        first = np.maximum(self._above(level[:-1]), 0)
        last = np.minimum(self._above(level[1:]) - 1, self.count - 1)
        low, high = -(-first // run) * run, last // run * run
        # At its very end what runs out is too thin to be seen, so the multiple before the last is looked at too.
        wanted = np.stack([low, high - run, high], axis=1)
        wanted = np.where(self._sloping(level)[:, None], wanted, low[:, None])
        kept = (wanted >= low[:, None]) & (wanted <= high[:, None])
        return tuple(np.unique(wanted[kept]).tolist())

    def _sloping(self, level: Floats) -> Which:
        """For each stretch between two heights, whether a face in it leaves the upright by more than a mesh errs."""
        normal_z, low, high = self._faces
        sideways = (high - low) * np.abs(normal_z) / np.sqrt(np.maximum(1 - normal_z**2, KERNEL))
        leans = (high - low > FLAT) & (sideways > MESH)
        starts = np.searchsorted(level, low[leans] + FLAT, side="right") - 1
        ends = np.searchsorted(level, high[leans] - FLAT)
        change = np.zeros(len(level) + 1, dtype=np.int64)
        np.add.at(change, starts, 1)
        np.add.at(change, ends, -1)
        sloping: Which = np.cumsum(change)[: len(level) - 1] > 0
        return sloping

    @cached_property
    def _solid(self) -> Manifold:
        import manifold3d

        solid = manifold3d.Manifold(
            manifold3d.Mesh64(
                np.array(self.vertices, dtype=np.float64, order="C"),
                np.array(self.triangles, dtype=np.uint64, order="C"),
            )
        )
        if solid.status() != manifold3d.Error.NoError:
            raise SolidError(f"a mesh that is sliced is closed; the mesh kernel says {solid.status().name}")
        return solid

    @cached_property
    def _faces(self) -> tuple[Floats, Floats, Floats]:
        """Of each triangle the z of its unit normal, its lowest and its highest z."""
        corners = self.vertices[self.triangles.astype(np.int64)]
        normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
        length = np.linalg.norm(normals, axis=1)
        z = corners[:, :, 2]
        return normals[:, 2] / np.where(length > 0, length, 1.0), z.min(axis=1), z.max(axis=1)

    @cached_property
    def _beginnings(self) -> Floats:
        """Heights of vertices above the bed where a body begins: the mesh next to them rises, and looks down."""
        rows = self.triangles.astype(np.int64)
        z = self.vertices[:, 2]
        start, end = rows.ravel(), np.roll(rows, -1, axis=1).ravel()  # each edge in both directions, as it is closed
        hangs = z <= self.bottom + FLAT
        hangs[start[z[end] < z[start] - FLAT]] = True
        hangs[rows[self._faces[0] > FLAT].ravel()] = True  # what looks up is the floor of a hollow, with body below it
        level = np.abs(z[end] - z[start]) <= FLAT
        while True:  # what is level with something that hangs on, hangs on
            more = level & hangs[start] & ~hangs[end]
            if not more.any():
                break
            hangs[end[more]] = True
        first: Floats = np.unique(np.round(z[~hangs], 6))
        return first

    def _between(self, low: Floats, high: Floats) -> set[int]:
        """Layers k for which something from ``low`` to ``high`` lies between the middles of layers k - 1 and k."""
        spans = np.unique(np.stack([self._above(low), self._above(high)], axis=1), axis=0)
        return {k for a, b in spans.tolist() for k in range(max(a, 0), min(b, self.count - 1) + 1)}

    def _above(self, z: Floats) -> Indices:
        """The first layer whose middle is at each height or above it."""
        number: Indices = np.ceil((z - self.bottom) / self.layer - 0.5 - FLAT).astype(np.int64)
        return number


def _flatness(angle_deg: float) -> float:
    """How far a face that leans so much from the vertical goes sideways for each mm of height."""
    return math.tan(math.radians(angle_deg))
