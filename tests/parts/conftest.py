"""What the tests of parts ask of every part, with the mesh kernel's own booleans and no code of ours."""

from __future__ import annotations

from typing import TYPE_CHECKING

import manifold3d
import numpy as np
import pytest

if TYPE_CHECKING:
    from collections.abc import Callable

    from nookwright.parts.model import Part
    from nookwright.shapes.solids import Solid
    from nookwright.solids.mesh import Mesh, MeshKernel


class Bench:
    """Puts parts where a test wants them and measures what they share."""

    def __init__(self, kernel: MeshKernel) -> None:
        self.kernel = kernel

    def mesh(self, part: Part) -> Mesh:
        """The mesh of a part."""
        return self.kernel.mesh(part.recipe)

    def solid(
        self, part: Part, *, x: float = 0.0, y: float = 0.0, z: float = 0.0, turns: int = 0
    ) -> manifold3d.Manifold:
        """A part turned about z by quarters, the front left corner of its box then put at a point."""
        turned = self.made(part.recipe).rotate([0.0, 0.0, 90.0 * turns])
        low = turned.bounding_box()[:3]
        return turned.translate([x - low[0], y - low[1], z - low[2]])

    def made(self, recipe: Solid) -> manifold3d.Manifold:
        """The body of a recipe, where the recipe has it."""
        mesh = self.kernel.mesh(recipe)
        raw = manifold3d.Mesh64(
            np.array(mesh.vertices, order="C"), np.array(mesh.triangles, dtype=np.uint64, order="C")
        )
        return manifold3d.Manifold(raw)

    def shared_mm3(self, one: manifold3d.Manifold, other: manifold3d.Manifold) -> float:
        """Volume that two bodies share."""
        return float((one ^ other).volume())

    def genus(self, part: Part) -> int:
        """Number of handles of a part whose surface is one piece, by Euler's formula V - E + F = 2 - 2 g."""
        mesh = self.mesh(part)
        assert mesh.components == 1
        faces = mesh.triangles.astype(np.int64)
        edges = np.sort(np.stack([faces.ravel(), np.roll(faces, -1, axis=1).ravel()], axis=1), axis=1)
        euler = len(mesh.vertices) - len(np.unique(edges, axis=0)) + len(faces)
        assert euler % 2 == 0
        return (2 - euler) // 2

    def openings(self, part: Part, z: float) -> int:
        """Number of holes in a level section."""
        contours = self.solid(part).slice(z).to_polygons()
        return sum(_area(contour) < 0 for contour in contours)


def _area(points: np.ndarray) -> float:
    x, y = points[:, 0], points[:, 1]
    return float((x * np.roll(y, -1) - np.roll(x, -1) * y).sum()) / 2


@pytest.fixture(scope="session")
def bench(kernel: MeshKernel) -> Bench:
    """The bench on which parts are measured."""
    return Bench(kernel)


@pytest.fixture(scope="session")
def sound() -> Callable[[Bench, Part, tuple[float, float, float]], None]:
    """A function that asserts what holds of every part."""

    def look(bench: Bench, part: Part, size: tuple[float, float, float]) -> None:
        mesh = bench.mesh(part)
        assert mesh.bounds == pytest.approx((0, 0, 0, *size), abs=2e-4)
        assert part.size == pytest.approx(size, abs=2e-4)
        assert mesh.volume_mm3 > 0
        assert mesh.components == 1
        assert [name for name, _ in part.parameters] == sorted(name for name, _ in part.parameters)

    return look
