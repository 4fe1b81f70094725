from __future__ import annotations

from typing import TYPE_CHECKING

import lib3mf
import manifold3d
import numpy as np
import pytest

from nookwright.checks.soundness import self_crossing, unsoundness, volume_of
from nookwright.checks.verdicts import Verdicts
from nookwright.exchange.threemf import BaseMaterial, Body, Item, ThreeMF, write_3mf
from nookwright.ground.findings import Severity

if TYPE_CHECKING:
    from pathlib import Path

    from nookwright.exchange.stl import Triangles, Vertices

Mesh = tuple["Vertices", "Triangles"]
IN_PLACE = ((1, 0, 0, 0), (0, 1, 0, 0), (0, 0, 1, 0), (0, 0, 0, 1))


def arrays(solid: manifold3d.Manifold) -> Mesh:
    """Vertices and triangles of a solid."""
    mesh = solid.to_mesh64()
    return np.array(mesh.vert_properties)[:, :3], np.array(mesh.tri_verts).astype(np.int64)


def cube() -> Mesh:
    return arrays(manifold3d.Manifold.cube([10, 10, 10]))


def inside_out() -> Mesh:
    vertices, triangles = cube()
    return vertices, triangles[:, ::-1]


def one_flipped() -> Mesh:
    vertices, triangles = cube()
    triangles[3] = triangles[3, ::-1]
    return vertices, triangles


def hole() -> Mesh:
    vertices, triangles = cube()
    return vertices, triangles[1:]


def triangle_twice() -> Mesh:
    vertices, triangles = cube()
    return vertices, np.vstack([triangles, triangles[:1]])


def unshared() -> Mesh:
    vertices, triangles = cube()
    return vertices[triangles].reshape(-1, 3), np.arange(3 * len(triangles)).reshape(-1, 3)


def two_bodies() -> Mesh:
    vertices, triangles = cube()
    return np.vstack([vertices, vertices + 20]), np.vstack([triangles, triangles + len(vertices)])


def void_inside() -> Mesh:
    vertices, triangles = cube()
    return np.vstack([vertices, vertices / 2 + 2]), np.vstack([triangles, triangles[:, ::-1] + len(vertices)])


def touching_at_a_vertex() -> Mesh:
    vertices, triangles = two_bodies()
    vertices[8:] -= 10
    _, first, same = np.unique(vertices, axis=0, return_index=True, return_inverse=True)
    return vertices[first], same.reshape(-1)[triangles]


def flat_triangle() -> Mesh:
    """An edge of the cube gets a vertex 0.00009 beside it, so that one triangle is that high."""
    vertices, triangles = cube()
    a, b, c = triangles[0]
    beside = (vertices[a] + vertices[b]) / 2 + (vertices[c] - vertices[a]) * 0.9e-5
    split = [[a, 8, c], [8, b, c], [a, b, 8]]
    return np.vstack([vertices, beside]), np.vstack([triangles[1:], split])


def not_finite() -> Mesh:
    vertices, triangles = cube()
    vertices[0, 0] = np.nan
    return vertices, triangles


def too_few() -> Mesh:
    vertices, triangles = cube()
    return vertices, triangles[:3]


SOUND = [
    cube,
    lambda: arrays(manifold3d.Manifold.sphere(10, 64)),
    lambda: arrays(manifold3d.Manifold.cube([9, 9, 2]) - manifold3d.Manifold.cylinder(9, 2).translate([4, 4, -3])),
]


@pytest.mark.parametrize("mesh", SOUND)
def test_a_sound_mesh_has_no_findings(mesh: object) -> None:
    """A cube, a ball, a plate with a hole."""
    assert callable(mesh)
    assert unsoundness("part.stl", *mesh()) == ()


@pytest.mark.parametrize(
    ("mesh", "code"),
    [
        (inside_out, "mesh-inside-out"),
        (one_flipped, "mesh-not-oriented"),
        (hole, "mesh-open"),
        (triangle_twice, "mesh-open"),
        (unshared, "mesh-open"),
        (two_bodies, "mesh-in-pieces"),
        (void_inside, "mesh-in-pieces"),
        (touching_at_a_vertex, "mesh-in-pieces"),
        (flat_triangle, "mesh-flat-triangle"),
        (not_finite, "mesh-not-finite"),
        (too_few, "mesh-too-small"),
    ],
)
def test_each_fault_has_its_finding(mesh: object, code: str) -> None:
    """One fault in an otherwise sound mesh: one finding, a stop, about the file."""
    assert callable(mesh)
    (finding,) = unsoundness("part.stl", *mesh())
    assert (finding.code, finding.severity, finding.subject) == (code, Severity.STOP, "part.stl")


def test_a_triangle_just_high_enough_is_let_pass() -> None:
    """The twin of the flat triangle: 0.00011 high instead of 0.00009."""
    vertices, triangles = flat_triangle()
    a, b, c = triangles[-1][0], triangles[-1][1], triangles[-3][2]
    vertices[8] = (vertices[a] + vertices[b]) / 2 + (vertices[c] - vertices[a]) * 1.1e-5
    assert unsoundness("part.stl", vertices, triangles) == ()


@pytest.mark.parametrize("mesh", [inside_out, flat_triangle])
def test_the_reference_library_lets_these_through(tmp_path: Path, mesh: object) -> None:
    """lib3mf reads them strictly without a warning and calls them manifold, so the check must be ours."""
    assert callable(mesh)
    body = Body("part", "1", *mesh())
    write_3mf(tmp_path / "x.3mf", ThreeMF((body,), (Item(0, IN_PLACE),), (BaseMaterial("grey", "#808080"),)))
    model = lib3mf.get_wrapper().CreateModel()
    reader = model.QueryReader("3mf")
    reader.SetStrictModeActive(True)  # noqa: FBT003 - its only form
    reader.ReadFromFile(str(tmp_path / "x.3mf"))
    found = model.GetMeshObjects()
    assert found.MoveNext()
    assert reader.GetWarningCount() == 0
    assert found.GetCurrentMeshObject().IsManifoldAndOriented()


def test_the_volume_does_not_depend_on_the_place() -> None:
    """A cube of 10 holds 1000 mm3, a kilometre away too."""
    vertices, triangles = cube()
    assert volume_of(vertices[triangles]) == pytest.approx(1000, rel=1e-12)
    assert volume_of((vertices + 1e6)[triangles]) == pytest.approx(1000, rel=1e-9)


def test_a_crossing_is_a_finding_and_is_remembered(tmp_path: Path) -> None:
    """A cube with a corner pushed through; the verdict is read back under its key, a clean one too."""
    vertices, triangles = cube()
    pushed = vertices.copy()
    pushed[0] = [5, 5, 13]
    verdicts = Verdicts(tmp_path)
    (finding,) = self_crossing("part.stl", "pushed", pushed, triangles, verdicts)
    assert (finding.code, finding.severity) == ("mesh-crosses-itself", Severity.STOP)
    assert self_crossing("part.stl", "clean", vertices, triangles, verdicts) == ()
    assert self_crossing("part.stl", "pushed", vertices, triangles, verdicts) == (finding,)
    assert self_crossing("part.stl", "clean", pushed, triangles, verdicts) == ()
