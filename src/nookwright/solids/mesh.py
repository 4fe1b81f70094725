"""Recipes made into closed triangle meshes.

The tolerance is a promise: no point of the mesh is further from the true surface, except for
``tolerances.FLAT`` that mending may add. Each distinct sub-tree is made once, and evaluated where it is
made, so that a mesh does not depend on what its kernel has made before. Vertices and triangles come in an
order that follows from the shape. What a recipe names keeps its name on the faces that are left of it,
through booleans, moves and repeats; of two names around each other the outer one holds.

Booleans in space are what takes time, so two kinds of shapes do without: upright bodies are put together slab by slab
(``slices``, ``stacks``), and round ones that meet a single flat face are stamped on it (``standing``, ``stamps``). What
does not come out closed is made by booleans after all.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from manifold3d import Error, Manifold, OpType

from nookwright.ground import tolerances
from nookwright.ground.errors import SolidError
from nookwright.shapes.boxes import turned_point
from nookwright.shapes.solids import Difference, Intersection, Move, Named, Repeat, Solid, Tip, Union
from nookwright.solids.bodies import Body, Names
from nookwright.solids.leaves import leaf
from nookwright.solids.mending import mended
from nookwright.solids.outlines import Outlines, said
from nookwright.solids.rounds import outline_of, placed
from nookwright.solids.slices import Slicer
from nookwright.solids.stacks import stacked
from nookwright.solids.stamps import Triangles, solid_of
from nookwright.solids.standing import Copies, standing
from nookwright.solids.triangles import Feature, Mesh, is_closed, ordered, pinched_at, transformed, without_crumbs

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

    def __init__(self, tolerance: float = tolerances.MESH, *, direct: bool = True) -> None:
        """A kernel that has made nothing yet.

        Args:
            tolerance: largest distance from the true surface, mm.
            direct: whether it may leave out booleans in space; without, it is slower, and for comparison.
        """
        self.tolerance = float(tolerance)
        self.direct = direct
        self._outlines = Outlines(self.tolerance)
        self._slicer = Slicer(self._outlines, self.tolerance)
        self._made: dict[str, Body] = {}
        self._meshes: dict[str, Mesh] = {}
        self._names = Names()

    def mesh(self, solid: Solid) -> Mesh:
        """The mesh of a recipe.

        Raises:
            SolidError: nothing is left of it, it touches itself, or the kernel failed; the message names the node.
        """
        if solid.digest not in self._meshes:
            self._meshes[solid.digest] = self._made_of(solid)
        return self._meshes[solid.digest]

    def _made_of(self, solid: Solid) -> Mesh:
        try:
            return self._finished(self._body(solid), solid)
        except SolidError:
            # A gap, or two points that a file would weld: where booleans find a fault too, it is the recipe's.
            if not self.direct:
                raise
            return MeshKernel(self.tolerance, direct=False).mesh(solid)

    def _body(self, solid: Solid) -> Body:
        if solid.digest not in self._made:
            stack = self._stack(solid)
            self._made[solid.digest] = Body(stack, self._names) if stack else self._make(solid)
        return self._made[solid.digest]

    def _stack(self, solid: Solid) -> Triangles | None:
        """The surface of a solid that is made of upright bodies, without a boolean in space."""
        slabs = self._slicer.slabs_of(solid) if self.direct else None
        return stacked(slabs) if slabs else None

    def _make(self, solid: Solid) -> Body:
        match solid:
            case Union() | Difference() | Intersection():
                return self._combined(solid)
            case Repeat(inner, places):
                one = self._body(inner).manifold
                copies = [one.translate((x, y, 0.0)) for x, y in places]
                return self._evaluated(Manifold.batch_boolean(copies, OpType.Add), solid)
            case Move(inner) | Tip(inner):
                return self._body(inner).moved(_placing(solid))
            case Named(inner, name):
                return self._body(inner).named(self._names.label(name))
            case _:
                return self._evaluated(leaf(solid, self._outlines, self.tolerance), solid)

    def _combined(self, solid: Union | Difference | Intersection) -> Body:
        match solid:
            case Union(solids):
                return self._joined(solids, OpType.Add, solid)
            case Difference(base, cuts):
                return self._joined((base, *cuts), OpType.Subtract, solid)
            case Intersection(solids):
                return self._boolean([self._body(each) for each in solids], OpType.Intersect, solid)

    def _joined(self, operands: tuple[Solid, ...], operation: OpType, solid: Solid) -> Body:
        """A union or a difference: round bodies far from everything but one flat face need no boolean."""
        copies, others = self._sorted(operands[1:]) if self.direct else ([], list(operands[1:]))
        base = self._body(operands[0])
        if others:
            base = self._boolean([base, *map(self._body, others)], operation, solid)
        if not copies:
            return base
        stamps, rest = standing(base.core, base.stamps, copies, bumps=operation == OpType.Add)
        if rest:
            base = self._boolean([base, *(self._standing_alone(group) for group in rest)], operation, solid)
        return Body(base.given, self._names, base.stamps + stamps)

    def _sorted(self, operands: tuple[Solid, ...]) -> tuple[list[Copies], list[Solid]]:
        """Operands that are copies of round bodies, and the others."""
        copies: list[Copies] = []
        others: list[Solid] = []
        for operand in operands:
            inner, places, name = placed(operand)
            shape = outline_of(inner, self.tolerance)
            if shape is None or np.ptp(places[:, 2]):
                others.append(operand)
            else:
                label = self._names.label(name) if name else 0
                copies.append(Copies(shape.raised(places[0, 2]), places[:, :2], label))
        return copies, others

    def _standing_alone(self, group: Copies) -> Body:
        """Copies of a round body, as a body."""
        one = self._names.written(solid_of(group.shape, group.label))
        copies = [one.translate((x, y, 0.0)) for x, y in group.places.tolist()]
        return Body(Manifold.batch_boolean(copies, OpType.Add), self._names)

    def _boolean(self, bodies: list[Body], operation: OpType, solid: Solid) -> Body:
        return self._evaluated(Manifold.batch_boolean([body.manifold for body in bodies], operation), solid)

    def _evaluated(self, made: Manifold, solid: Solid) -> Body:
        # Asking for the status evaluates the node: once for each node, never in a loop over copies.
        if made.status() != Error.NoError:
            raise SolidError(f"{said(solid)}: the mesh kernel says {made.status().name}")
        return Body(made, self._names)

    def _finished(self, body: Body, solid: Solid) -> Mesh:
        """The arrays of a body: mended, in order, and still closed when a file has rounded them."""
        found = body.triangles
        if len(found.faces) and not is_closed(found.faces):
            raise SolidError(f"{said(solid)}: its triangles leave a gap")
        labels, names = self._names.in_order(found.labels)
        vertices, faces, labels = mended(found.vertices, found.faces, labels)
        mesh = without_crumbs(ordered(vertices, faces, labels, names))
        if not len(mesh.triangles):
            raise SolidError(f"{said(solid)}: nothing is left of this solid")
        pinch = pinched_at(mesh)
        if pinch:
            raise SolidError(f"{said(solid)}: it touches itself along an edge at {pinch}; let it overlap, or part it")
        return mesh


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
