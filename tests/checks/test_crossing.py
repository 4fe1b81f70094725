from __future__ import annotations

import time
from typing import TYPE_CHECKING

import manifold3d
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.checks.crossing import come_closer, crossings
from nookwright.checks.soundness import unsoundness
from nookwright.checks.triangles import depths
from nookwright.exchange.stl import parse_stl, stl_bytes

if TYPE_CHECKING:
    from collections.abc import Callable

    from nookwright.exchange.stl import Triangles, Vertices


def arrays(solid: manifold3d.Manifold) -> tuple[Vertices, Triangles]:
    """Vertices, rounded as a file rounds them, and triangles."""
    mesh = solid.to_mesh64()
    return np.array(mesh.vert_properties)[:, :3].astype(np.float32).astype(float), np.array(mesh.tri_verts)


def cube(size: float = 10, at: tuple[float, float, float] = (0, 0, 0)) -> manifold3d.Manifold:
    return manifold3d.Manifold.cube([size] * 3).translate(at)


def joined(*solids: manifold3d.Manifold) -> tuple[Vertices, Triangles]:
    """Meshes laid into one, as they are."""
    vertices, triangles, count = [], [], 0
    for solid in solids:
        some, corners = arrays(solid)
        vertices.append(some)
        triangles.append(corners + count)
        count += len(some)
    return np.vstack(vertices), np.vstack(triangles)


def plate_with_holes() -> manifold3d.Manifold:
    """A plate of 150 x 110 with 48 holes and 48 cones: large faces made of long thin triangles."""
    kernel = manifold3d.Manifold
    hole, cone = kernel.cylinder(3, 4, 4, 40).translate([0, 0, -1]), kernel.cylinder(3.6, 2.5, 1.7, 40)
    places = [(12 + 16 * i, 10 + 16 * j) for i in range(8) for j in range(6)]
    holes = [hole.translate([x, y, 0]) for x, y in places]
    cones = [cone.translate([x + 8, y + 8, 0]) for x, y in places]
    plate = kernel.batch_boolean([kernel.cube([150, 110, 0.8]), *cones], manifold3d.OpType.Add)
    return plate - kernel.batch_boolean(holes, manifold3d.OpType.Add)


CLEAN: dict[str, Callable[[], manifold3d.Manifold]] = {
    "cube": cube,
    "ball": lambda: manifold3d.Manifold.sphere(20, 96),
    "turned cube": lambda: cube().rotate([10, 20, 30]),
    "ball with a cube cut out": lambda: manifold3d.Manifold.sphere(20, 64) - cube(15),
    "two balls joined": lambda: (
        manifold3d.Manifold.sphere(20, 64) + manifold3d.Manifold.sphere(20, 64).translate([15, 3, 2])
    ),
    "plate": plate_with_holes,
    "turned plate": lambda: plate_with_holes().rotate([10, 20, 30]).translate([200, 100, 50]),
    "thin wall": lambda: cube(40) - cube(39.98, (0.01, 0.01, 0.01)).translate([0, 0, 5]),
}


@pytest.mark.parametrize("name", CLEAN)
def test_what_the_solid_kernel_makes_is_clean(name: str) -> None:
    """Solids of the kernel, rounded to 32 bits, have no crossing: the check raises no false alarm."""
    assert crossings(*arrays(CLEAN[name]())).pairs == 0


def test_a_vertex_pushed_through_the_other_side_is_found() -> None:
    """A cube with one corner pushed through the opposite face, and where that is."""
    vertices, triangles = arrays(cube())
    corner = int(np.argmin(vertices.sum(axis=1)))
    pushed = vertices.copy()
    pushed[corner] = [5, 5, 13]
    found = crossings(pushed, triangles)
    assert found.pairs > 0
    assert np.abs(np.array(found.where) - 5).max() < 10


@pytest.mark.parametrize(("past", "crosses"), [(0.1, True), (0.002, True), (0.0009, False), (-0.1, False)])
def test_only_what_goes_deeper_than_the_limit_is_found(past: float, crosses: bool) -> None:  # noqa: FBT001
    """A corner that is 2 micrometres past the opposite face is found, one that is 0.9 past it is let pass."""
    vertices, triangles = arrays(cube())
    pushed = vertices.copy()
    pushed[int(np.argmin(vertices.sum(axis=1)))] = [4, 5, 10 + past]
    assert (crossings(pushed, triangles).pairs > 0) is crosses


def test_two_bodies_in_each_other_are_found() -> None:
    """Two cubes in one mesh that share room: the kernel takes them apart, a printer might not."""
    assert crossings(*joined(cube(), cube(10, (5, 5, 5)))).pairs > 0


@pytest.mark.parametrize("at", [(10, 10, 10), (10, 3, 3), (20, 0, 0), (3, 3, 3)])
def test_bodies_that_touch_or_hold_each_other_do_not_cross(at: tuple[float, float, float]) -> None:
    """At a vertex, at a face, far apart, and one wholly inside the other: no surface passes through another."""
    assert crossings(*joined(cube(), cube(4, at))).pairs == 0


def test_a_fold_into_itself_is_found() -> None:
    """A box that is narrowed from 10 at the bottom to -8 at the top: its walls pass through each other in between."""
    vertices, triangles = arrays(cube().refine(4))
    assert crossings(vertices, triangles).pairs == 0
    assert crossings(folded(vertices, 1.8), triangles).pairs > 0


def folded(vertices: Vertices, by: float) -> Vertices:
    """A cube of 10 whose width changes evenly with the height."""
    narrow = vertices.copy()
    narrow[:, 0] = (vertices[:, 0] - 5) * (1 - by * vertices[:, 2] / 10)
    return narrow


def test_a_fold_along_edges_is_an_edge_of_four_triangles() -> None:
    """Folded so that a row of vertices lies in the fold, no pair is deep, but the file has edges of four triangles."""
    vertices, triangles = arrays(cube().refine(4))
    assert crossings(folded(vertices, 2), triangles).pairs == 0
    written = parse_stl(stl_bytes(folded(vertices, 2), triangles))
    assert "mesh-open" in [finding.code for finding in unsoundness("fold", *written)]


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 10**6), st.floats(0.1, 6))
def test_a_crumpled_ball_is_judged_as_pair_by_pair(seed: int, strength: float) -> None:
    """With its vertices moved at random, the number of crossings is that of looking at every pair of triangles."""
    vertices, triangles = arrays(manifold3d.Manifold.sphere(10, 12))
    crumpled = vertices + np.random.default_rng(seed).normal(size=vertices.shape) * strength
    corners = crumpled[triangles]
    left, right = np.triu_indices(len(triangles), 1)
    every = int((depths(corners[left], corners[right]) > 1e-3).sum())
    assert crossings(crumpled, triangles).pairs == every


def test_large_meshes_are_judged_in_seconds() -> None:
    """A ball of 50 thousand triangles, where neighbours are many and no box is flat, takes a few seconds at most."""
    mesh = arrays(manifold3d.Manifold.sphere(50, 320).rotate([10, 20, 30]))
    start = time.perf_counter()
    assert crossings(*mesh).pairs == 0
    assert len(mesh[1]) > 50_000
    assert time.perf_counter() - start < 20  # 0.6 s on an idle core; far above, so that a busy machine passes


@pytest.mark.parametrize(("gap", "closer"), [(0.3, True), (0.2, False), (0.0, False)])
def test_how_close_two_surfaces_come(gap: float, closer: bool) -> None:  # noqa: FBT001
    """Two cubes 0.25 apart come closer than 0.3, but not closer than 0.2."""
    left, right = arrays(cube()), arrays(cube(10, (10.25, 2, 2)))
    assert come_closer(left[0][left[1]], right[0][right[1]], gap) is closer


def test_nothing_comes_close_to_nothing() -> None:
    """Without a triangle on one side there is nothing to come close to."""
    left = arrays(cube())
    assert not come_closer(left[0][left[1]], np.zeros((0, 3, 3)), 1.0)
