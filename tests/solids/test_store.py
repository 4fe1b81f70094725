"""Meshes remembered on disk, and carried between processes."""

from __future__ import annotations

import pickle
from typing import TYPE_CHECKING

import numpy as np
import pytest

from nookwright.shapes.regions import Circle, Rect
from nookwright.shapes.solids import Difference, Move, Named, Prism
from nookwright.solids.mesh import build
from nookwright.solids.store import MeshStore

if TYPE_CHECKING:
    from pathlib import Path

NAMED = Difference(Named(Prism(Rect(4, 3), 2), "block"), (Named(Move(Prism(Circle(1), 2), 2, 1.5, 1), "hole"),))


@pytest.mark.parametrize("recipe", [NAMED, Prism(Rect(4, 3), 2)], ids=["named", "plain"])
def test_what_is_remembered_is_what_was_kept(tmp_path: Path, recipe: Prism | Difference) -> None:
    """Vertices, triangles and the names of faces."""
    mesh, store = build(recipe), MeshStore(tmp_path, 0.01)
    assert store.load(recipe) is None
    store.keep(recipe, mesh)
    again = MeshStore(tmp_path, 0.01).load(recipe)
    assert again is not None
    assert np.array_equal(again.vertices, mesh.vertices)
    assert np.array_equal(again.triangles, mesh.triangles)
    assert again.features == mesh.features
    assert MeshStore(tmp_path, 0.02).load(recipe) is None


def test_a_spoiled_memory_is_none(tmp_path: Path) -> None:
    """What cannot be read, or lacks the names, is made anew."""
    store = MeshStore(tmp_path, 0.01)
    store.keep(NAMED, build(NAMED))
    (path,) = (tmp_path / "meshes").rglob("*.npz")
    path.write_bytes(path.read_bytes()[:100])
    assert store.load(NAMED) is None
    np.savez(path, vertices=build(NAMED).vertices, triangles=build(NAMED).triangles)
    assert store.load(NAMED) is None


def test_names_travel_between_processes() -> None:
    """A mesh that a worker hands back has its features."""
    mesh = build(NAMED)
    assert [each.name for each in mesh.features] == ["block", "hole"]
    assert pickle.loads(pickle.dumps(mesh)).features == mesh.features  # noqa: S301 - our own
