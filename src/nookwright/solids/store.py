"""Meshes remembered on disk, by the hash of their recipe, the tolerance and the versions that made them.

A store is only a memory: what cannot be read is made anew, and what is written appears whole or not at all.
"""

from __future__ import annotations

import os
import tempfile
from importlib.metadata import version
from pathlib import Path
from typing import TYPE_CHECKING
from zipfile import BadZipFile

import numpy as np

from nookwright.ground.digest import digest
from nookwright.solids.triangles import Feature, Mesh

if TYPE_CHECKING:
    from nookwright.shapes.solids import Solid

_KERNEL = 3  # raised whenever the kernel makes other triangles from the same recipe


class MeshStore:
    """A folder of meshes."""

    def __init__(self, folder: Path | None, tolerance: float) -> None:
        """Open a store.

        Args:
            folder: where it lies; ``None`` to remember nothing.
            tolerance: of all its meshes, mm.
        """
        self._folder = folder
        self._made_by = f"{_KERNEL} {tolerance!r} {version('manifold3d')} {version('numpy')}"

    def load(self, solid: Solid) -> Mesh | None:
        """The mesh of a recipe, or ``None`` where it is not known."""
        if self._folder is None:
            return None
        try:
            with self._path(self._folder, solid).open("rb") as file, np.load(file) as arrays:
                vertices, triangles = arrays["vertices"].astype(np.float64), arrays["triangles"].astype(np.uint32)
                runs = zip(arrays["names"].tolist(), arrays["runs"].tolist(), strict=True)
                return Mesh(vertices, triangles, tuple(Feature(name, *run) for name, run in runs))
        except (OSError, ValueError, TypeError, KeyError, EOFError, BadZipFile):
            return None

    def keep(self, solid: Solid, mesh: Mesh) -> None:
        """Remember a mesh; a folder that cannot be written is no fault."""
        if self._folder is None:
            return
        path = self._path(self._folder, solid)
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            handle, name = tempfile.mkstemp(dir=path.parent, suffix=".part")
            with os.fdopen(handle, "wb") as file:
                names = np.array([each.name for each in mesh.features], dtype=np.str_)
                runs = np.array([(each.first, each.count) for each in mesh.features], dtype=np.int64).reshape(-1, 2)
                np.savez(file, vertices=mesh.vertices, triangles=mesh.triangles, names=names, runs=runs)
            Path(name).replace(path)
        except OSError:
            return

    def _path(self, folder: Path, solid: Solid) -> Path:
        key = digest(f"{self._made_by} {solid.digest}")
        return folder / "meshes" / key[:2] / f"{key}.npz"
