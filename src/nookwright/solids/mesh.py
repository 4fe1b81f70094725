"""Recipes made into closed triangle meshes.

The tolerance is a promise: no point of the mesh is further from the true surface, except for
``tolerances.FLAT`` that mending may add. Each distinct sub-tree is made once, and evaluated where it is
made, so that a mesh does not depend on what its kernel has made before. Vertices and triangles come in an
order that follows from the shape. What a recipe names keeps its name on the faces that are left of it,
through booleans, moves and repeats; of two names around each other the outer one holds.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from manifold3d import Error, Manifold, Mesh64, OpType

from nookwright.ground import tolerances
from nookwright.ground.errors import SolidError
from nookwright.shapes.boxes import turned_point
from nookwright.shapes.solids import Difference, Intersection, Move, Named, Repeat, Solid, Tip, Union
from nookwright.solids.leaves import leaf
from nookwright.solids.mending import mended
from nookwright.solids.outlines import Outlines, said
from nookwright.solids.triangles import Feature, Mesh, ordered, pinched_at, transformed, without_crumbs

if TYPE_CHECKING:
    from numpy.typing import NDArray

__all__ = ["Feature", "Mesh", "MeshKernel", "build", "transformed"]


def build(solid: Solid, tolerance: float = tolerances.MESH, *, kernel: MeshKernel | None = None) -> Mesh:
    """The mesh of a recipe.

    Args:
        solid: the recipe.
        tolerance: largest distance from the true surface, mm; a kernel that is given has its own.
        kernel: one that remembers what it has made; a fresh one where none is given.

    Raises:
        SolidError: nothing is left of it, it touches itself, or the kernel failed; the message names the node.
    """
    return (kernel or MeshKernel(tolerance)).mesh(solid)


class MeshKernel:
    """Makes meshes at one tolerance, each distinct sub-tree once."""

    def __init__(self, tolerance: float = tolerances.MESH) -> None:
        self.tolerance = float(tolerance)
        self._outlines = Outlines(self.tolerance)
        self._made: dict[str, Manifold] = {}
        self._meshes: dict[str, Mesh] = {}
        self._names: dict[int, str] = {}  # by the kernel's ids, which count on through a process and get into no file

    def mesh(self, solid: Solid) -> Mesh:
        """The mesh of a recipe.

        Raises:
            SolidError: nothing is left of it, it touches itself, or the kernel failed; the message names the node.
        """
        if solid.digest not in self._meshes:
            self._meshes[solid.digest] = self._finished(self._manifold(solid), solid)
        return self._meshes[solid.digest]

    def _manifold(self, solid: Solid) -> Manifold:
        if solid.digest not in self._made:
            made = self._make(solid)
            # Asking for the status evaluates the node: once for each node, never in a loop over copies.
            if made.status() != Error.NoError:
                raise SolidError(f"{said(solid)}: the mesh kernel says {made.status().name}")
            self._made[solid.digest] = made
        return self._made[solid.digest]

    def _make(self, solid: Solid) -> Manifold:
        match solid:
            case Union() | Intersection() | Difference():
                return self._combined(solid)
            case Repeat(inner, places):
                one = self._manifold(inner)
                return Manifold.batch_boolean([one.translate((x, y, 0.0)) for x, y in places], OpType.Add)
            case Move(inner) | Tip(inner):
                return self._manifold(inner).transform(_placing(solid))
            case Named(inner, name):
                return self._named(self._manifold(inner), name)
        return leaf(solid, self._outlines, self.tolerance)

    def _named(self, made: Manifold, name: str) -> Manifold:
        """The same body under an id of its own, which all faces that are left of it keep."""
        own = made.as_original()
        self._names[own.original_id()] = name
        return own

    def _combined(self, solid: Union | Intersection | Difference) -> Manifold:
        match solid:
            case Union(solids):
                operation = OpType.Add
            case Intersection(solids):
                operation = OpType.Intersect
            case Difference(base, cuts):
                solids, operation = (base, *cuts), OpType.Subtract
        return Manifold.batch_boolean([self._manifold(each) for each in solids], operation)

    def _finished(self, made: Manifold, solid: Solid) -> Mesh:
        """The arrays of a body: mended, in order, and still closed when a file has rounded them."""
        raw = made.to_mesh64()
        labels, names = self._labels(raw)
        vertices, faces, labels = mended(raw.vert_properties[:, :3], raw.tri_verts.astype(np.int64), labels)
        mesh = without_crumbs(ordered(vertices, faces, labels, names))
        if not len(mesh.triangles):
            raise SolidError(f"{said(solid)}: nothing is left of this solid")
        pinch = pinched_at(mesh)
        if pinch:
            raise SolidError(f"{said(solid)}: it touches itself along an edge at {pinch}; let it overlap, or part it")
        return mesh

    def _labels(self, raw: Mesh64) -> tuple[NDArray[np.int64], tuple[str, ...]]:
        """For each triangle 0, or which of the names it has, counted from 1; and the names, in order."""
        runs = [self._names.get(int(each), "") for each in raw.run_original_id]
        names = tuple(sorted(set(runs) - {""}))
        numbers = [names.index(name) + 1 if name else 0 for name in runs]
        return np.repeat(np.array(numbers, dtype=np.int64), np.diff(raw.run_index) // 3), names


def _placing(solid: Solid) -> NDArray[np.float64]:
    """How a node places what is inside it, as three rows and four columns; quarter turns without rounding."""
    match solid:
        case Move(_, x, y, z, turns):
            (right_x, right_y), (back_x, back_y) = turned_point((1, 0), turns), turned_point((0, 1), turns)
            rows = [[right_x, back_x, 0, x], [right_y, back_y, 0, y], [0, 0, 1, z]]
        case Tip(_, "x"):
            rows = [[1, 0, 0, 0], [0, 0, -1, 0], [0, 1, 0, 0]]
        case Tip(_, "y"):
            rows = [[0, 0, 1, 0], [0, 1, 0, 0], [-1, 0, 0, 0]]
        case _:
            raise SolidError(f"{said(solid)}: the mesh kernel cannot place it")
    return np.array(rows, dtype=np.float64)
