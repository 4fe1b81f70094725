from __future__ import annotations

from typing import TYPE_CHECKING

import manifold3d
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.checks import shared
from nookwright.checks.bodies import Body, Shape, Sort, box_shape, shape_of
from nookwright.checks.shared import Overlaps, inside
from nookwright.checks.verdicts import Verdicts
from nookwright.ground.errors import SolidError

if TYPE_CHECKING:
    from pathlib import Path

    from nookwright.checks.boxes import Floats


def at(shape: Shape, x: float = 0, y: float = 0, z: float = 0) -> Body:
    """A shape moved to a place."""
    matrix = np.eye(4)
    matrix[:3, 3] = x, y, z
    return Body("b", Sort.PART, shape, matrix)


def cube(size: float = 10) -> Shape:
    return box_shape((0, 0, 0), (size, size, size))


def volume(some: Body, other: Body) -> float:
    return Overlaps(Verdicts(None)).shared_mm3(some, other)


@pytest.mark.parametrize(
    ("name", "place", "size", "expected"),
    [
        ("apart", (11, 0, 0), 10, 0),
        ("beside", (10, 0, 0), 10, 0),
        ("on top", (0, 0, 10), 10, 0),
        ("on top, smaller", (2, 3, 10), 4, 0),
        ("the same place", (0, 0, 0), 10, 1000),
        ("moved along x, sides flush", (5, 0, 0), 10, 500),
        ("moved along z, sides flush", (0, 0, 5), 10, 500),
        ("a corner", (8, 8, 8), 10, 8),
        ("inside", (3, 3, 3), 4, 64),
        ("inside, on the floor", (3, 3, 0), 4, 64),
    ],
)
def test_cubes_share_what_a_sketch_says(
    name: str, place: tuple[float, float, float], size: float, expected: float
) -> None:
    """A cube of 10 and another: all ways to touch count as nothing, all ways to share room are measured."""
    for pair in ((at(cube()), at(cube(size), *place)), (at(cube(size), *place), at(cube()))):
        assert volume(*pair) == pytest.approx(expected, abs=2e-3), name


@pytest.mark.parametrize(("sunk", "expected"), [(0.0, 0.0), (1e-6, 0.0), (1e-3, 0.1), (1e-4, 0.01)])
def test_a_part_that_rests_is_told_from_one_that_is_sunk(sunk: float, expected: float) -> None:
    """A cube that stands on another; sunk by 0.1 micrometres' worth of rounding it still only stands."""
    assert volume(at(cube()), at(cube(), z=10 - sunk)) == pytest.approx(expected, rel=0.12, abs=1e-9)


def test_a_cone_in_its_socket_shares_nothing_and_a_shifted_one_does() -> None:
    """A cone with 0.25 around it is told by its surfaces; moved by 0.5 it bites."""
    kernel = manifold3d.Manifold
    block = kernel.cube([20, 20, 10]) - kernel.cylinder(4.2, 3.2, 2.2, 48).translate([10, 10, -0.5])
    cone = kernel.cylinder(3, 2.8, 2.0, 48)
    shapes = [shape_of(str(n), *arrays(solid)) for n, solid in enumerate((block, cone))]
    assert volume(at(shapes[0]), at(shapes[1], 10, 10)) == 0
    assert volume(at(shapes[0]), at(shapes[1], 10.5, 10)) > 0.5


def arrays(solid: manifold3d.Manifold) -> tuple[Floats, np.ndarray]:
    """Vertices and triangles."""
    mesh = solid.to_mesh64()
    return np.array(mesh.vert_properties)[:, :3], np.array(mesh.tri_verts).astype(np.int64)


@settings(max_examples=40, deadline=None)
@given(st.tuples(*[st.floats(-12, 12)] * 3), st.tuples(*[st.floats(0.5, 8)] * 3))
def test_boxes_at_random_share_the_product_of_their_overlaps(
    place: tuple[float, float, float], size: tuple[float, float, float]
) -> None:
    """For boxes the closed form is known."""
    sides = [max(0.0, min(10, low + length) - max(0, low)) for low, length in zip(place, size, strict=True)]
    found = volume(at(cube()), at(box_shape((0, 0, 0), size), *place))
    assert found == pytest.approx(sides[0] * sides[1] * sides[2], rel=1e-3, abs=2e-3)


def test_pairs_that_are_apart_never_reach_the_kernel(monkeypatch: pytest.MonkeyPatch) -> None:
    """A cube that stands in the middle of another's top is told by the surfaces alone."""
    monkeypatch.setattr(Overlaps, "_solid", lambda *_: pytest.fail("asked the kernel"))
    assert volume(at(cube()), at(cube(4), 3, 3, 10)) == 0


def test_a_pair_in_the_same_place_to_each_other_is_looked_at_once(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Moved together, asked the other way round, or in another run: the verdict is the one from before."""
    overlaps = Overlaps(Verdicts(tmp_path))
    other = cube(4)
    first = overlaps.shared_mm3(at(cube()), at(other, 8, 8, 8))
    monkeypatch.setattr(shared, "_near", lambda *_: pytest.fail("looked again"))
    assert overlaps.shared_mm3(at(other, 108, 8, 8), at(cube(), 100)) == first
    assert Overlaps(Verdicts(tmp_path)).shared_mm3(at(cube()), at(other, 8, 8, 8)) == first


def test_a_mesh_that_is_no_solid_is_refused() -> None:
    """An open mesh that would have to be cut is named as such."""
    whole = cube()
    open_cube = Shape("open", whole.vertices, whole.triangles[1:], whole.probes)
    with pytest.raises(SolidError, match="refuses a mesh"):
        volume(at(whole), at(open_cube, 5, 5, 5))


def test_points_inside_and_outside_of_a_ring() -> None:
    """In the wall of a ring, in its hole, above, below and beside it."""
    ring = manifold3d.Manifold.cylinder(10, 10, 10, 64) - manifold3d.Manifold.cylinder(30, 6, 6, 64).translate(
        [0, 0, -9]
    )
    vertices, triangles = arrays(ring)
    points = np.array([[8.0, 0, 5], [0, 8, 5], [0, 0, 5], [8, 0, 11], [8, 0, -1], [20, 0, 5]])
    assert inside(points, shape_of("ring", vertices, triangles)).tolist() == [True, True, False, False, False, False]
