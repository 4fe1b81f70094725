from __future__ import annotations

import struct
import zlib
from typing import TYPE_CHECKING

import numpy as np
import pytest

from nookwright.exchange.bed_pictures import BedPictures
from nookwright.exchange.package import read_thumbnail, write_package
from nookwright.exchange.threemf import BaseMaterial, Body, ThreeMF, parse_3mf, write_3mf
from nookwright.exchange.threemf import Item as Placed
from nookwright.ground.errors import FileFormatError
from nookwright.making.beds.model import Item
from nookwright.solids.triangles import Mesh
from nookwright.survey.models import Printer

if TYPE_CHECKING:
    from pathlib import Path

PRINTER = Printer(id="one", bed_width=200, bed_depth=100, bed_height=100, materials=("grey",))
IDENTITY = ((1, 0, 0, 0), (0, 1, 0, 0), (0, 0, 1, 0), (0, 0, 0, 1))


def block(width: float, depth: float) -> Mesh:
    """A block of 10 high."""
    corners = np.array([(x, y, z) for z in (0, 10) for y in (0, depth) for x in (0, width)], np.float64)
    faces = [(0, 2, 1), (1, 2, 3), (4, 5, 6), (5, 7, 6), (0, 1, 4), (1, 5, 4)]
    faces += [(2, 6, 3), (3, 6, 7), (0, 4, 2), (2, 4, 6), (1, 3, 5), (3, 7, 5)]
    return Mesh(corners, np.array(faces, np.uint32))


def pixels_of(png: bytes) -> np.ndarray:
    """The pixels of a PNG of ours, after the specification: 8 bits, red green blue, filters 0 and 2."""
    at, body, size = 8, b"", (0, 0)
    while at < len(png):
        length, name = struct.unpack(">I4s", png[at : at + 8])
        chunk = png[at + 8 : at + 8 + length]
        if name == b"IHDR":
            size = struct.unpack(">II", chunk[:8])
            assert chunk[8:10] == b"\x08\x02"
        body += chunk if name == b"IDAT" else b""
        at += 12 + length
    rows = np.frombuffer(zlib.decompress(body), np.uint8).reshape(size[1], 1 + 3 * size[0])
    found = np.zeros((size[1], 3 * size[0]), np.uint8)
    for number, row in enumerate(rows):
        assert row[0] == 2
        found[number] = row[1:] + (found[number - 1] if number else 0)
    return found.reshape(size[1], size[0], 3)


def red_at(picture: np.ndarray, x: float, y: float) -> bool:
    """Whether a point of the bed shows something red."""
    scale = picture.shape[1] / PRINTER.bed_width
    red, green, _ = picture[picture.shape[0] - 1 - int(y * scale), int(x * scale)].tolist()
    return bool(red > green + 60)


def test_a_picture_shows_each_piece_where_it_lies() -> None:
    """A long block at the front left, the same turned at the back right; the bed's front is below."""
    items = [(Item("a", 10, 10), "a", block(80, 20)), (Item("a", 150, 15, 1), "a", block(80, 20))]
    png = BedPictures().of(PRINTER, items, "#d02020")
    picture = pixels_of(png)
    assert picture.shape == (96, 192, 3)
    assert [red_at(picture, *at) for at in ((20, 20), (80, 20), (160, 20), (160, 85))] == [True] * 4
    assert not any(red_at(picture, *at) for at in ((20, 60), (120, 50), (190, 50), (100, 90)))


def test_the_same_bed_gives_the_same_bytes() -> None:
    """Whether its pieces were drawn before or not."""
    pictures = BedPictures()
    items = [(Item("a", 10, 10), "a", block(80, 20))]
    assert pictures.of(PRINTER, items, "#d02020") == pictures.of(PRINTER, items, "#d02020")
    assert pictures.of(PRINTER, items, "#d02020") == BedPictures().of(PRINTER, items, "#d02020")


def bedful(thumbnail: bytes | None) -> ThreeMF:
    """One block."""
    mesh = block(10, 10)
    body = Body("block", "block", mesh.vertices, mesh.triangles)
    return ThreeMF((body,), (Placed(0, IDENTITY),), (BaseMaterial("grey", "#808080"),), thumbnail=thumbnail)


def test_a_3mf_carries_its_picture_and_is_read_strictly_with_it(tmp_path: Path) -> None:
    """By our reader, and by the reference library in strict mode, which finds the picture as the package's own."""
    lib3mf = pytest.importorskip("lib3mf")
    png = BedPictures().of(PRINTER, [(Item("a", 10, 10), "a", block(80, 20))], "#d02020")
    one, other = tmp_path / "one.3mf", tmp_path / "other.3mf"
    assert write_3mf(one, bedful(png)) == write_3mf(other, bedful(None))
    assert read_thumbnail(one) == png
    assert read_thumbnail(other) is None
    assert len(parse_3mf(one)[0].items) == 1
    model = lib3mf.get_wrapper().CreateModel()
    reader = model.QueryReader("3mf")
    reader.SetStrictModeActive(True)  # noqa: FBT003 - its signature
    reader.ReadFromFile(str(one))
    assert reader.GetWarningCount() == 0
    assert model.HasPackageThumbnailAttachment()


def test_a_picture_that_is_none_is_refused(tmp_path: Path) -> None:
    """What is named as the picture must be a PNG."""
    file = tmp_path / "one.3mf"
    write_package(file, b"<model/>", b"not a picture")
    with pytest.raises(FileFormatError, match="is no PNG"):
        read_thumbnail(file)
