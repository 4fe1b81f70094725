from __future__ import annotations

import struct
from typing import TYPE_CHECKING

import manifold3d
import numpy as np
import pytest
import trimesh
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra import numpy as arrays

from nookwright.exchange import stl
from nookwright.exchange.stl import parse_stl, read_stl, stl_bytes, write_stl
from nookwright.ground.digest import digest
from nookwright.ground.errors import FileFormatError

if TYPE_CHECKING:
    from pathlib import Path

    from nookwright.exchange.stl import Triangles, Vertices

CORNER = np.array([[0.0, 0, 0], [1, 0, 0], [0, 2, 0]])
ONE = np.array([[0, 1, 2]])


@pytest.fixture
def ball() -> tuple[Vertices, Triangles]:
    """A ball of radius 20 with 2048 triangles, off the origin."""
    mesh = manifold3d.Manifold.sphere(20, 64).translate([30, 40, 50]).to_mesh64()
    return np.array(mesh.vert_properties)[:, :3], np.array(mesh.tri_verts).astype(np.int64)


def test_the_layout_is_that_of_the_format() -> None:
    """80 bytes, a count, then 50 bytes a triangle: normal, three corners, attribute; all little-endian."""
    data = stl_bytes(CORNER, ONE)
    assert len(data) == 80 + 4 + 50
    assert not data.startswith(b"solid")
    assert struct.unpack_from("<I", data, 80) == (1,)
    assert struct.unpack_from("<12fH", data, 84) == (0, 0, 1, 0, 0, 0, 1, 0, 0, 0, 2, 0, 0)


def test_an_outside_reader_sees_the_same_solid(tmp_path: Path, ball: tuple[Vertices, Triangles]) -> None:
    """Read by trimesh, the solid is watertight and holds the volume it had before, but for 32-bit rounding."""
    write_stl(tmp_path / "ball.stl", *ball)
    mesh = trimesh.load_mesh(tmp_path / "ball.stl")
    a, b, c = ball[0][ball[1]].transpose(1, 0, 2)
    assert mesh.is_watertight
    assert mesh.volume == pytest.approx((a * np.cross(b, c)).sum() / 6, rel=1e-6)


def test_what_is_read_is_what_was_written(tmp_path: Path, ball: tuple[Vertices, Triangles]) -> None:
    """Triangles keep their order, each distinct corner is one vertex again."""
    sha = write_stl(tmp_path / "ball.stl", *ball)
    vertices, triangles = read_stl(tmp_path / "ball.stl")
    assert sha == digest((tmp_path / "ball.stl").read_bytes())
    assert len(vertices) == len(ball[0])
    np.testing.assert_array_equal(vertices[triangles], ball[0][ball[1]].astype(np.float32))


def test_minus_zero_is_zero() -> None:
    """A corner at -0.0 gives the same bytes as one at 0.0, and is the same vertex."""
    assert stl_bytes(-CORNER * 0 + CORNER, ONE) == stl_bytes(CORNER, ONE)
    twice = np.vstack([CORNER, [[-0.0, -0.0, 0.0]]])
    vertices, _ = parse_stl(stl_bytes(twice, np.array([[0, 1, 2], [3, 2, 1]])))
    assert len(vertices) == 3


def test_vertices_stand_in_order_of_first_appearance() -> None:
    """The order does not depend on the values, so a file read and written again is the same."""
    data = stl_bytes(CORNER[::-1], ONE)
    vertices, triangles = parse_stl(data)
    np.testing.assert_array_equal(vertices, CORNER[::-1])
    assert stl_bytes(vertices, triangles) == data


def test_corners_that_share_a_key_are_told_apart(
    ball: tuple[Vertices, Triangles], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where the keys by which corners are welded say nothing at all, the corners themselves are compared."""
    expected = parse_stl(stl_bytes(*ball))
    monkeypatch.setattr(stl, "_SPREAD", (np.uint64(0),) * 3)
    for ours, theirs in zip(parse_stl(stl_bytes(*ball)), expected, strict=True):
        np.testing.assert_array_equal(ours, theirs)


@given(
    arrays.arrays(np.float32, st.tuples(st.integers(1, 8), st.just(3), st.just(3)), elements=st.floats(-9, 9, width=32))
)
def test_reading_and_writing_again_changes_nothing(corners: np.ndarray) -> None:
    """Any triangles come back in their order, and their file comes back byte for byte."""
    flat = corners.reshape(-1, 3).astype(np.float64)
    data = stl_bytes(flat, np.arange(len(flat)).reshape(-1, 3))
    vertices, triangles = parse_stl(data)
    np.testing.assert_array_equal(vertices[triangles], corners)
    assert len({tuple(row) for row in vertices.tolist()}) == len(vertices)
    assert stl_bytes(vertices, triangles) == data


@pytest.mark.parametrize(
    ("vertices", "triangles", "message"),
    [
        (CORNER, [[0, 1, 3]], "between 0 and 2"),
        (CORNER, [[0, 1, -1]], "between 0 and 2"),
        (CORNER * np.nan, ONE, "finite"),
        (CORNER * 1e39, ONE, "finite"),
    ],
)
def test_what_an_stl_cannot_hold_is_refused(vertices: Vertices, triangles: list[list[int]], message: str) -> None:
    """A vertex that is not there, and a number that is not finite as 32 bits, never get into a file."""
    with pytest.raises(FileFormatError, match=message):
        stl_bytes(vertices, np.array(triangles))


@pytest.mark.parametrize(
    ("damage", "message"),
    [
        (lambda _: b"", "0 bytes"),
        (lambda data: data[:83], "83 bytes"),
        (lambda data: data[:-1], "133 bytes, but 1 triangles .* take 134"),
        (lambda data: data + b"x", "135 bytes"),
        (lambda data: data[:96] + struct.pack("<f", float("nan")) + data[100:], "triangle 0"),
        (lambda _: b"solid text\nendsolid text\n" + b" " * 80, "bytes"),
    ],
)
def test_a_damaged_file_is_named_with_its_damage(tmp_path: Path, damage: object, message: str) -> None:
    """Cut short, too long, not a number, or the text form: a FileFormatError with the file's name."""
    assert callable(damage)
    (tmp_path / "part.stl").write_bytes(damage(stl_bytes(CORNER, ONE)))
    with pytest.raises(FileFormatError, match=f"part.stl: .*{message}"):
        read_stl(tmp_path / "part.stl")


def test_a_missing_file_is_named(tmp_path: Path) -> None:
    """A file that is not there is no traceback of the system's."""
    with pytest.raises(FileFormatError, match=r"part\.stl: cannot be read"):
        read_stl(tmp_path / "part.stl")
