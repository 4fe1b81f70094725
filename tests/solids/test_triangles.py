"""Meshes as arrays."""

from __future__ import annotations

import numpy as np
import pytest

from nookwright.ground.errors import SolidError
from nookwright.shapes.regions import Rect
from nookwright.shapes.solids import Prism
from nookwright.solids.mesh import build
from nookwright.solids.triangles import Mesh, ordered, pinched_at, transformed, without_crumbs

CUBE = build(Prism(Rect(1, 1), 1))


def pair(x: float, y: float, size: float = 1.0) -> Mesh:
    """A cube and a smaller or equal one beside it, as one mesh."""
    other = CUBE.vertices * size + np.array([x, y, 0])
    return ordered(np.concatenate([CUBE.vertices, other]), np.concatenate([CUBE.triangles, CUBE.triangles + 8]))


def test_measures_of_a_cube() -> None:
    """Volume, area, box, surfaces and handles of a cube of 1 mm."""
    assert CUBE.volume_mm3 == pytest.approx(1)
    assert CUBE.area_mm2 == pytest.approx(6)
    assert CUBE.bounds == (0, 0, 0, 1, 1, 1)
    assert (CUBE.components, CUBE.genus) == (1, 0)


def test_inside_out_is_negative() -> None:
    """The volume has a sign."""
    assert Mesh(CUBE.vertices.copy(), CUBE.triangles[:, ::-1].copy()).volume_mm3 == pytest.approx(-1)


def test_order_follows_from_the_shape() -> None:
    """However vertices, triangles and corners are shuffled, the arrays come out the same."""
    random = np.random.default_rng(1)
    for _ in range(5):
        shuffle = random.permutation(8)
        faces = np.argsort(shuffle)[CUBE.triangles][random.permutation(12)]
        faces = np.stack([np.roll(face, random.integers(3)) for face in faces])
        again = ordered(CUBE.vertices[shuffle], faces)
        assert np.array_equal(again.vertices, CUBE.vertices)
        assert np.array_equal(again.triangles, CUBE.triangles)


def test_a_turn_and_a_shift_keep_the_measures() -> None:
    """A mesh moved by a matrix has its volume, its area, and its new place."""
    matrix = np.array([[0.0, -1, 0, 5], [1, 0, 0, 7], [0, 0, 1, 9], [0, 0, 0, 1]])
    moved = transformed(CUBE, matrix)
    assert moved.bounds == (4, 7, 9, 5, 8, 10)
    assert moved.volume_mm3 == pytest.approx(1)
    assert moved.area_mm2 == pytest.approx(6)


@pytest.mark.parametrize("diagonal", [(-1, 1, 1), (2, 1, 1), (1.001, 1, 1)])
def test_a_mirror_or_a_scale_is_refused(diagonal: tuple[float, float, float]) -> None:
    """A printed part is neither mirrored nor scaled."""
    with pytest.raises(SolidError, match="never scaled or mirrored"):
        transformed(CUBE, np.diag([*diagonal, 1.0]))


@pytest.mark.parametrize(("x", "y", "pinched"), [(1, 1, True), (1.000004, 1, True), (1.01, 1, False), (2, 0, False)])
def test_edges_that_a_file_would_weld_are_found(x: float, y: float, pinched: bool) -> None:  # noqa: FBT001
    """Two cubes edge to edge have four faces there as soon as coordinates are rounded."""
    assert (pinched_at(pair(x, y)) is not None) == pinched


def test_a_shared_point_is_no_pinch() -> None:
    """Two cubes corner to corner share no edge."""
    other = CUBE.vertices + np.array([1, 1, 1])
    both = ordered(np.concatenate([CUBE.vertices, other]), np.concatenate([CUBE.triangles, CUBE.triangles + 8]))
    assert pinched_at(both) is None


def test_only_crumbs_are_dropped() -> None:
    """A cube of 0.09 mm is a crumb, one of 0.11 mm is not."""
    assert without_crumbs(pair(5, 5, 0.09)).components == 1
    assert np.array_equal(without_crumbs(pair(5, 5, 0.09)).vertices, CUBE.vertices)
    assert without_crumbs(pair(5, 5, 0.11)).components == 2
