"""What was read of kits before, believed while a kit of this folder is proven, and by nobody else.

A 3MF that is linked into many kits is parsed once, by its place on the disk; a mesh once, by its content. Whether files
are there, and are those of kit.json, is still looked at in every kit.
"""

from __future__ import annotations

from contextlib import contextmanager
from typing import TYPE_CHECKING, TypeVar

import numpy as np
import pytest

from nookwright.checks import bed_files, bed_room, files, springs
from nookwright.checks.bodies import shape_of
from nookwright.checks.springs import free_travel
from nookwright.exchange.stl import parse_stl
from nookwright.exchange.threemf import parse_3mf
from nookwright.ground.digest import digest

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

    from manifold3d import CrossSection

    from nookwright.checks.bodies import Body, Shape
    from nookwright.exchange.stl import Triangles, Vertices
    from nookwright.exchange.threemf import ThreeMF

_Key = TypeVar("_Key")
_Value = TypeVar("_Value")
MOST = 600  # meshes that are kept in mind: those of the sound kit and of the last faults
_covered = bed_room.covered


class Seen:
    """What was read, by content."""

    def __init__(self) -> None:
        """Nothing yet."""
        self._files: dict[tuple[int, ...], tuple[ThreeMF, str]] = {}
        self._meshes: dict[str, tuple[Vertices, Triangles]] = {}
        self._shapes: dict[str, Shape] = {}
        self._travels: dict[tuple[str, float], float] = {}
        self._covers: dict[tuple[str, bytes], CrossSection] = {}

    @contextmanager
    def believed(self) -> Iterator[None]:
        """Let the checks believe it for a while."""
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(bed_files, "parse_3mf", self._parse)
            patch.setattr(files, "parse_stl", self._mesh)
            patch.setattr(files, "shape_of", self._shape)
            patch.setattr(springs, "free_travel", self._travel)
            patch.setattr(bed_room, "covered", self._cover)
            yield

    def _parse(self, path: Path) -> tuple[ThreeMF, str]:
        try:
            found = path.stat()
        except OSError:
            return parse_3mf(path)  # which says what is wrong with it
        key = found.st_dev, found.st_ino, found.st_size, found.st_mtime_ns
        if key not in self._files:
            self._files[key] = parse_3mf(path)
        return self._files[key]

    def _mesh(self, data: bytes, name: str) -> tuple[Vertices, Triangles]:
        return _kept(self._meshes, digest(data), lambda: parse_stl(data, name))

    def _shape(self, key: str, vertices: Vertices, triangles: Triangles) -> Shape:
        return _kept(self._shapes, key, lambda: shape_of(key, vertices, triangles))

    def _travel(self, sprung: Shape, way: float) -> float:
        return _kept(self._travels, (sprung.key, way), lambda: free_travel(sprung, way))

    def _cover(self, body: Body) -> CrossSection:
        return _kept(self._covers, (body.shape.key, np.asarray(body.matrix).tobytes()), lambda: _covered(body))


def _kept(kept: dict[_Key, _Value], key: _Key, reach: Callable[[], _Value]) -> _Value:
    """What was reached before, or is reached now; the oldest goes where there is too much."""
    if key not in kept:
        found = reach()
        if len(kept) >= MOST:
            del kept[next(iter(kept))]
        kept[key] = found
    return kept[key]
