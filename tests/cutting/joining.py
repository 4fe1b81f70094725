"""Pieces put back together with a solid kernel, for the tests of cutting."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations
from typing import TYPE_CHECKING

import manifold3d
import numpy as np

if TYPE_CHECKING:
    from nookwright.cutting.model import CutPart
    from nookwright.shapes.solids import Solid
    from nookwright.solids.mesh import MeshKernel


@dataclass(frozen=True)
class Rejoined:
    """A part and its pieces in their places, as solids."""

    whole: manifold3d.Manifold
    pieces: tuple[manifold3d.Manifold, ...]

    @property
    def together(self) -> manifold3d.Manifold:
        """All pieces as one."""
        return manifold3d.Manifold.batch_boolean(list(self.pieces), manifold3d.OpType.Add)

    @property
    def outside_mm3(self) -> float:
        """What of the pieces lies outside of the part."""
        return float(max((piece - self.whole).volume() for piece in self.pieces))

    @property
    def shared_mm3(self) -> float:
        """What two pieces have in common, the most."""
        return float(max(((a ^ b).volume() for a, b in combinations(self.pieces, 2)), default=0.0))

    @property
    def box_error(self) -> float:
        """How far the box of all pieces is off that of the part, mm."""
        boxes = np.array(self.together.bounding_box()), np.array(self.whole.bounding_box())
        return float(np.abs(boxes[0] - boxes[1]).max())

    def missing_mm3(self, cut: CutPart, near: float) -> tuple[float, float]:
        """What the pieces lack: farther than ``near`` from every cut, and in all.

        Args:
            cut: says where the cuts are.
            near: mm to each side of a cut.
        """
        missing = self.whole - self.together
        far = missing
        for joint in cut.joints:
            size, at = [2e3, 2e3, 2e3], [-1e3, -1e3, -1e3]
            size[joint.axis], at[joint.axis] = 2 * near, joint.at - near
            far -= manifold3d.Manifold.cube(size).translate(at)
        return float(far.volume()), float(missing.volume())


def rejoined(cut: CutPart, kernel: MeshKernel) -> Rejoined:
    """A part and its pieces, made solid apart from each other."""
    pieces = (solid(piece.recipe, kernel).translate([piece.x, piece.y, piece.z]) for piece in cut.pieces)
    return Rejoined(solid(cut.part.recipe, kernel), tuple(pieces))


def solid(recipe: Solid, kernel: MeshKernel) -> manifold3d.Manifold:
    """A recipe as a solid of the kernel below."""
    mesh = kernel.mesh(recipe)
    vertices, triangles = np.array(mesh.vertices, order="C"), np.array(mesh.triangles, dtype=np.uint64, order="C")
    return manifold3d.Manifold(manifold3d.Mesh64(vertices, triangles))
