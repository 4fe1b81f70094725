"""A skin of triangles that can be changed one at a time."""

from __future__ import annotations

import numpy as np

from nookwright.shapes.regions import Rect
from nookwright.shapes.solids import Prism
from nookwright.solids.mesh import build
from nookwright.solids.skin import Skin

CUBE = build(Prism(Rect(1, 1), 1))
FACES = CUBE.triangles.astype(np.int64)


def test_who_touches_a_vertex_is_known_before_and_after_changes() -> None:
    """The table and what is kept beside it agree with a search through all triangles, after every change."""
    skin = Skin(CUBE.vertices, FACES, np.arange(len(FACES)))
    random = np.random.default_rng(1)
    for _ in range(20):
        faces, _ = skin.left()
        face = tuple(faces[random.integers(len(faces))].tolist())
        number = skin.number_of(face)
        assert number is not None
        gone = np.array([number])
        skin.replace(gone, np.roll(skin.corners(gone), 1, axis=1), skin.labels(gone))
        assert skin.number_of(face) is None
        faces, labels = skin.left()
        assert len(faces) == len(FACES)
        assert sorted(labels.tolist()) == list(range(len(FACES)))
        for vertex in range(8):
            near = skin.corners(skin.around(vertex))
            expected = faces[np.any(faces == vertex, axis=1)]
            assert sorted(map(tuple, near.tolist())) == sorted(map(tuple, expected.tolist()))


def test_the_triangle_beside_an_edge_is_on_its_left() -> None:
    """Each directed edge of a closed mesh belongs to one triangle."""
    skin = Skin(CUBE.vertices, FACES)
    for number, (a, b, c) in enumerate(FACES.tolist()):
        assert [skin.beside(a, b), skin.beside(b, c), skin.beside(c, a)] == [number] * 3
