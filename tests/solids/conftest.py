"""What the tests of meshes ask of every mesh."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest

from nookwright.ground import tolerances

if TYPE_CHECKING:
    from collections.abc import Callable

    from nookwright.solids.mesh import Mesh


def faults_of(mesh: Mesh) -> list[str]:
    """Everything that is wrong with a mesh, recomputed from its arrays without our own code."""
    faces, count = mesh.triangles.astype(np.int64), len(mesh.vertices)
    corners = mesh.vertices[faces]
    edges = np.stack([faces.ravel(), np.roll(faces, -1, axis=1).ravel()], axis=1)
    there, back = edges @ [count, 1], edges @ [1, count]
    sides = [np.linalg.norm(corners[:, n] - corners[:, n - 1], axis=1) for n in range(3)]
    doubled = np.linalg.norm(np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]), axis=1)
    volume = float(np.linalg.det(corners).sum()) / 6
    checks = {
        "a number is not finite": np.isfinite(mesh.vertices).all(),
        "an edge has two triangles on one side": len(np.unique(there)) == len(there),
        "an edge has a triangle on one side only": np.array_equal(np.sort(there), np.sort(back)),
        "a triangle is flat": (doubled / np.max(sides, axis=0)).min() >= tolerances.FLAT,
        "a vertex is not used": len(np.unique(faces)) == count,
        "the volume is not positive": volume > 0,
        "the volume is not what it says": abs(volume - mesh.volume_mm3) <= 1e-9 * volume + 1e-9,
    }
    return [fault for fault, fine in checks.items() if not fine]


@pytest.fixture(scope="session")
def faults() -> Callable[[Mesh], list[str]]:
    """A function that lists what is wrong with a mesh."""
    return faults_of
