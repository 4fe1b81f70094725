"""Binary STL: writing triangles, and reading them back with equal corners welded.

Promise: the same triangles give the same bytes; what is read has one vertex for each distinct corner, in the order of
first appearance. What STL does not hold: units (millimetres by custom), names, colours, and shared corners.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeAlias

import numpy as np
import numpy.typing as npt

from nookwright.ground.digest import digest
from nookwright.ground.errors import FileFormatError

if TYPE_CHECKING:
    from pathlib import Path

Vertices: TypeAlias = npt.NDArray[np.float64]  # (n, 3), mm
Triangles: TypeAlias = npt.NDArray[np.integer]  # (m, 3), counter-clockwise seen from outside

# Eighty bytes without meaning; they must not begin with "solid", by which readers know the text form.
_TITLE = b"binary STL, millimetres, nookwright".ljust(80)
_RECORD = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("attribute", "<u2")])
_COUNT = np.dtype("<u4")
_HEAD_BYTES = len(_TITLE) + _COUNT.itemsize
# Odd multipliers that spread a corner's bits over one 64-bit key; any collision is found and undone.
_SPREAD = (np.uint64(0x9E3779B97F4A7C15), np.uint64(0xC2B2AE3D27D4EB4F), np.uint64(0x165667B19E3779F9))
_HALF = np.uint64(32)


def write_stl(path: Path, vertices: Vertices, triangles: Triangles) -> str:
    """Write a mesh as binary STL.

    Args:
        path: file to write.
        vertices: (n, 3), mm.
        triangles: (m, 3), rows of ``vertices``.

    Returns:
        The sha256 of the file.

    Raises:
        FileFormatError: a corner is not finite as a float32, or a triangle names a vertex that is not there.
    """
    data = stl_bytes(vertices, triangles)
    path.write_bytes(data)
    return digest(data)


def stl_bytes(vertices: Vertices, triangles: Triangles) -> bytes:
    """The bytes of a binary STL file.

    >>> corners = np.array([[0.0, 0, 0], [1, 0, 0], [0, 1, 0]])
    >>> len(stl_bytes(corners, np.array([[0, 1, 2]])))
    134
    """
    if len(triangles) and (triangles.min() < 0 or triangles.max() >= len(vertices)):
        raise FileFormatError(f"an STL needs triangles between 0 and {len(vertices) - 1}; one names another vertex")
    with np.errstate(over="ignore"):
        corners = vertices[triangles].astype(np.float32) + np.float32(0)  # + 0 turns -0.0 into 0.0
    if not np.isfinite(corners).all():
        raise FileFormatError("an STL needs finite corners; one is not finite as a 32-bit float")
    records = np.zeros(len(triangles), dtype=_RECORD)
    records["corners"] = corners
    records["normal"] = _normals(corners)
    return _TITLE + np.array(len(records), dtype=_COUNT).tobytes() + records.tobytes()


def _normals(corners: npt.NDArray[np.float32]) -> npt.NDArray[np.float64]:
    """Unit normals; zero where a triangle has no area, which readers take as "work it out yourself"."""
    wide = corners.astype(np.float64)
    across = np.cross(wide[:, 1] - wide[:, 0], wide[:, 2] - wide[:, 0])
    length = np.sqrt(across[:, 0] ** 2 + across[:, 1] ** 2 + across[:, 2] ** 2)[:, None]
    unit: npt.NDArray[np.float64] = across / np.where(length > 0, length, 1)
    return unit + 0.0


def read_stl(path: Path) -> tuple[Vertices, Triangles]:
    """Read a binary STL and weld equal corners.

    Args:
        path: file to read.

    Returns:
        Vertices (n, 3) in mm and triangles (m, 3).

    Raises:
        FileFormatError: the file cannot be read, is no binary STL, is cut short or too long, or a corner is not finite.
    """
    try:
        data = path.read_bytes()
    except OSError as error:
        raise FileFormatError(f"{path.name}: cannot be read: {error.strerror}") from error
    return parse_stl(data, path.name)


def parse_stl(data: bytes, name: str = "STL") -> tuple[Vertices, Triangles]:
    """Read the bytes of a binary STL; ``name`` stands in the messages."""
    if len(data) < _HEAD_BYTES:
        raise FileFormatError(f"{name}: {len(data)} bytes, but a binary STL has at least {_HEAD_BYTES}")
    count = int(np.frombuffer(data, dtype=_COUNT, count=1, offset=len(_TITLE))[0])
    expected = _HEAD_BYTES + count * _RECORD.itemsize
    if len(data) != expected:
        raise FileFormatError(f"{name}: {len(data)} bytes, but {count} triangles of a binary STL take {expected}")
    corners = np.frombuffer(data, dtype=_RECORD, offset=_HEAD_BYTES)["corners"].reshape(-1, 3) + np.float32(0)
    if not np.isfinite(corners).all():
        bad = int(np.argmin(np.isfinite(corners).all(axis=1))) // 3
        raise FileFormatError(f"{name}: triangle {bad} has a corner that is not a finite number")
    return _weld(corners)


def _weld(corners: npt.NDArray[np.float32]) -> tuple[Vertices, Triangles]:
    """One vertex for each distinct corner, in the order of first appearance."""
    bits = np.ascontiguousarray(corners).view(np.uint32).astype(np.uint64)
    keys = np.zeros(len(bits), dtype=np.uint64)
    for axis, odd in enumerate(_SPREAD):
        keys = (keys + bits[:, axis]) * odd
        keys ^= keys >> _HALF
    _, first, group = np.unique(keys, return_index=True, return_inverse=True)
    if not np.array_equal(corners[first][group], corners):  # two corners share a key: compare in full
        _, first, group = np.unique(corners, axis=0, return_index=True, return_inverse=True)
    order = np.argsort(first, kind="stable")
    rank = np.empty_like(order)
    rank[order] = np.arange(len(order))
    return corners[first[order]].astype(np.float64), rank[group.reshape(-1)].reshape(-1, 3)
