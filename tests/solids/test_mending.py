"""Triangles without area, taken out of a closed mesh."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest

from nookwright.ground.tolerances import FLAT
from nookwright.shapes.regions import Polygon, Rect
from nookwright.shapes.solids import Prism
from nookwright.solids.mending import _shut, _turned, heights, mended
from nookwright.solids.mesh import build
from nookwright.solids.skin import Skin
from nookwright.solids.triangles import ordered

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.typing import NDArray

    from nookwright.solids.mesh import Mesh

CUBE = build(Prism(Rect(1, 1), 1))
FACES = CUBE.triangles.astype(np.int64)


def with_point(x: float, y: float, z: float, count: int) -> tuple[NDArray[np.float64], NDArray[np.int64]]:
    """The cube with one more vertex, put into the ``count`` triangles whose plane and inside it is nearest to."""
    point = np.array([x, y, z])
    corners = CUBE.vertices[FACES]
    parts = [np.linalg.norm(np.cross(corners[:, n] - point, corners[:, n - 2] - point), axis=1) for n in range(3)]
    whole = np.linalg.norm(np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]), axis=1)
    split = np.argsort(np.sum(parts, axis=0) - whole, kind="stable")[:count]
    fans = np.concatenate([[[a, b, 8], [b, c, 8], [c, a, 8]] for a, b, c in FACES[split]])
    return np.vstack([CUBE.vertices, point]), np.concatenate([np.delete(FACES, split, axis=0), fans])


@pytest.mark.parametrize(
    "point",
    [(0.5, 0.00003, 0.0), (0.00002, 0.00001, 0.0), (0.5, 0.50003, 1.0), (0.3, 0.69999, 0.0), (0.99995, 0.3, 1.0)],
)
def test_needles_and_caps_go(point: tuple[float, float, float], faults: Callable[[Mesh], list[str]]) -> None:
    """A vertex next to an edge, to a diagonal or to a corner leaves no flat triangle, and the cube stays a cube."""
    vertices, faces = with_point(*point, 1)
    assert heights(vertices, faces).min() < FLAT
    better = ordered(*mended(vertices, faces)[:2])
    assert faults(better) == []
    assert better.volume_mm3 == pytest.approx(1, abs=1e-4)
    assert better.area_mm2 == pytest.approx(6, abs=1e-3)


def test_a_sound_mesh_is_left_alone() -> None:
    """Where nothing is flat nothing changes, not even the order."""
    vertices, faces, _ = mended(CUBE.vertices, FACES)
    assert np.array_equal(vertices, CUBE.vertices)
    assert np.array_equal(faces, FACES)


def test_a_thin_part_is_no_fault() -> None:
    """A plate of 0.001 mm has low triangles, but none that is flat."""
    plate = build(Prism(Rect(50, 50), 0.001))
    assert heights(plate.vertices, plate.triangles.astype(np.int64)).min() == pytest.approx(0.001, rel=1e-3)


def test_heights_of_a_triangle_without_extent() -> None:
    """Three equal points have the height 0, without a warning."""
    assert heights(np.zeros((3, 3)), np.array([[0, 1, 2]])).tolist() == [0]


def test_no_edge_is_shut_that_would_pinch() -> None:
    """Where the ends of an edge have three neighbours in common, shutting it would leave two sheets back to back."""
    vertices = np.array([[0.0, 0, 0], [0.00005, 0, 0], [0, 5, 0], [1, 1, 5], [1, 1, -5]])
    faces = np.array([[0, 1, 3], [1, 2, 3], [2, 0, 3], [1, 0, 4], [2, 1, 4], [0, 2, 4]])
    assert not _shut(Skin(vertices, faces), 0, 1)


def test_no_edge_is_shut_that_would_fold() -> None:
    """In a flat dart a point may go to the notch, which sees all sides, and not to a wing, which does not."""
    dart = build(Prism(Polygon(((10, 0), (0, 4), (3, 0), (0, -4))), 1))
    top = np.all(dart.vertices[dart.triangles][:, :, 2] == 1, axis=1)
    rim = [dart.vertices.tolist().index([*corner, 1]) for corner in ((10, 0), (0, 4), (3, 0), (0, -4))]
    fan = [[8, start, end] for start, end in zip(rim, [*rim[1:], rim[0]], strict=True)]
    faces = np.concatenate([dart.triangles[~top].astype(np.int64), np.array(fan)])
    vertices = np.vstack([dart.vertices, [5, 0, 1]])
    skin = Skin(vertices, faces)
    assert not _shut(skin, 8, rim[1])
    assert _shut(skin, 8, rim[2])
    assert len(skin.left()[0]) == len(faces) - 2


def test_no_diagonal_is_taken_twice() -> None:
    """In a tetrahedron every two corners have an edge already, so no two faces can take the other diagonal."""
    vertices = np.array([[0.0, 0, 0], [1, 0, 0], [0.5, 0.00001, 0], [0.5, 0, 1]])
    faces = np.array([[0, 1, 2], [1, 0, 3], [2, 1, 3], [0, 2, 3]])
    assert not _turned(Skin(vertices, faces), 0, 1)
