from __future__ import annotations

import io
import struct
import zlib
from typing import TYPE_CHECKING

import numpy as np
import pytest

from nookwright.shapes.regions import Circle, Rect
from nookwright.shapes.solids import Difference, Move, Prism, Solid, Taper
from nookwright.solids.picture import Shown, View, picture
from nookwright.solids.png import png

if TYPE_CHECKING:
    from nookwright.solids.mesh import MeshKernel

RED, BLUE, YELLOW = (220, 60, 60), (60, 60, 220), (230, 210, 60)
FRONT, TOP = View(0, 0), View(0, 90)
WHITE = (255, 255, 255)


def read(data: bytes) -> np.ndarray:
    """Pixels of a PNG, read by the standard's own words: signature, chunks with their sums, filter 2 undone."""
    stream = io.BytesIO(data)
    assert stream.read(8) == b"\x89PNG\r\n\x1a\n"
    chunks = {}
    while head := stream.read(8):
        length, name = struct.unpack(">I4s", head)
        content = stream.read(length)
        assert struct.unpack(">I", stream.read(4))[0] == zlib.crc32(name + content)
        chunks[name] = content
    assert list(chunks) == [b"IHDR", b"IDAT", b"IEND"]
    wide, high, bits, colours, *rest = struct.unpack(">IIBBBBB", chunks[b"IHDR"])
    assert (bits, rest) == (8, [0, 0, 0])
    channels = {2: 3, 6: 4}[colours]
    rows = np.frombuffer(zlib.decompress(chunks[b"IDAT"]), dtype=np.uint8).reshape(high, wide * channels + 1)
    assert (rows[:, 0] == 2).all()
    return np.cumsum(rows[:, 1:], axis=0, dtype=np.uint8).reshape(high, wide, channels)


def box(width: float, depth: float, height: float) -> Solid:
    """A box at the origin."""
    return Prism(Rect(width, depth), height)


def shot(kernel: MeshKernel, *solids: Solid, view: View = TOP, size: int = 100, red_first: bool = True) -> np.ndarray:
    """A square picture of solids in red, blue and yellow."""
    shown = [Shown(kernel.mesh(solid), colour) for solid, colour in zip(solids, (RED, BLUE, YELLOW), strict=False)]
    return read(picture(shown if red_first else shown[::-1], width=size, height=size, view=view))


def hue(pixel: np.ndarray) -> str:
    """The colour of a pixel by name, however bright."""
    red, green, blue = pixel[:3].astype(int)
    if red == green == blue == 255:
        return "paper"
    if red > 1.5 * green and red > 1.5 * blue:
        return "red"
    if blue > 1.5 * green and blue > 1.5 * red:
        return "blue"
    return "yellow" if red > 2 * blue and green > 2 * blue else "ink"


def test_a_picture_has_its_size_and_shows_the_part_in_the_middle(kernel: MeshKernel) -> None:
    """On white paper, with a margin of 4 in 100 all round, filled from edge to edge."""
    pixels = read(picture([Shown(kernel.mesh(box(30, 20, 10)), RED)], width=120, height=90, view=TOP))
    assert pixels.shape == (90, 120, 3)
    covered = (pixels != 255).any(axis=2)
    lines, columns = np.flatnonzero(covered.any(axis=1)), np.flatnonzero(covered.any(axis=0))
    assert (columns[0], columns[-1]) == pytest.approx((3.6, 116.4), abs=1.5)
    assert len(lines) / len(columns) == pytest.approx(2 / 3, abs=0.02)
    assert hue(pixels[45, 60]) == "red"


def test_what_is_nearer_hides_what_is_behind_whatever_comes_first(kernel: MeshKernel) -> None:
    """From above the upper box, from the front the nearer one; the order of drawing changes no pixel."""
    low, high = box(30, 30, 5), Move(box(10, 10, 5), x=10, y=10, z=5)
    for order in (True, False):
        pixels = shot(kernel, low, high, view=TOP, red_first=order)
        assert [hue(pixels[50, 50]), hue(pixels[15, 15])] == ["blue", "red"]
    assert (shot(kernel, low, high) == shot(kernel, low, high, red_first=False)).all()
    behind = Move(box(30, 5, 20), y=40)
    pixels = shot(kernel, box(30, 5, 10), behind, view=FRONT)
    assert [hue(pixels[25, 50]), hue(pixels[70, 50])] == ["blue", "red"]


def test_left_is_left_back_is_up_and_around_turns_counter_clockwise(kernel: MeshKernel) -> None:
    """From above: red at the front left is below left; turned by 90 degrees it is below right."""
    here = (box(10, 10, 5), Move(box(10, 10, 5), x=30, y=30), Move(box(10, 10, 5), x=30))
    pixels = shot(kernel, *here)
    assert [hue(pixels[85, 15]), hue(pixels[15, 85]), hue(pixels[85, 85])] == ["red", "blue", "yellow"]
    pixels = shot(kernel, *here, view=View(90, 90))
    assert [hue(pixels[85, 85]), hue(pixels[15, 15]), hue(pixels[15, 85])] == ["red", "blue", "yellow"]


def test_lines_stand_where_faces_meet_and_nowhere_on_a_round_one(kernel: MeshKernel) -> None:
    """Around a box in a box's face; a tall cylinder seen from the side has ink at its outline alone."""
    step = shot(kernel, Difference(box(30, 30, 10), (Move(box(10, 10, 8), x=10, y=10, z=5),)))
    assert runs_of_line(step[50], step[50, 15]) == 4
    side = shot(kernel, Prism(Circle(10), 20), view=FRONT)
    line = side[50].astype(int).sum(axis=1)
    assert (np.diff(line[10:90]) < 0).sum() + (np.diff(line[10:90]) > 0).sum() > 20  # it is shaded round
    assert np.abs(np.diff(line[10:90])).max() < 30  # without a line


def test_a_line_stands_where_two_faces_meet_at_one_depth(kernel: MeshKernel) -> None:
    """The upright edge of a box seen over the corner: a line down the middle, and the two outlines."""
    pixels = shot(kernel, box(20, 20, 20), view=View(45, 0))
    row = pixels[50].astype(int).sum(axis=1)
    assert row[48:52].min() < 0.9 * min(row[30], row[70])


def runs_of_line(row: np.ndarray, face: np.ndarray) -> int:
    """How often a row of pixels leaves a face and the paper for a line."""
    line = (row != face).any(axis=1) & (row != 255).any(axis=1)
    return int((np.diff(line.astype(int), prepend=0) == 1).sum())


def test_a_face_is_the_brighter_the_more_it_looks_at_the_light(kernel: MeshKernel) -> None:
    """Top before front before right; a cone's side lies between top and front."""
    pixels = shot(kernel, box(20, 20, 20), view=View(-30, 30), size=200)
    bright = {
        tuple(p): int(n) for p, n in zip(*np.unique(pixels.reshape(-1, 3), axis=0, return_counts=True), strict=True)
    }
    faces = sorted((p for p, n in bright.items() if n > 2000 and p != WHITE), key=lambda p: -int(p[0]))
    assert len(faces) == 3
    at = [float(np.argwhere((pixels == face).all(axis=2)).mean(axis=0)[0]) for face in faces]
    assert at[0] < min(at[1:])  # the brightest lies highest: the top


def test_no_paper_lets_the_page_through(kernel: MeshKernel) -> None:
    """The picture then has a cover: none outside, all inside, some between."""
    data = picture([Shown(kernel.mesh(Prism(Circle(10), 5)), RED)], width=60, height=60, view=TOP, paper=None)
    pixels = read(data)
    assert pixels.shape[2] == 4
    assert pixels[0, 0, 3] == 0
    assert pixels[30, 30, 3] == 255
    assert ((pixels[..., 3] > 0) & (pixels[..., 3] < 255)).any()


def test_no_gaps_between_triangles(kernel: MeshKernel) -> None:
    """Inside the outline of a convex body every pixel is covered, from any side."""
    mesh = kernel.mesh(Taper(Circle(10), 6, 3))
    for around in range(0, 360, 17):
        pixels = read(picture([Shown(mesh, RED)], width=80, height=80, view=View(around, 35), paper=None))
        for row in pixels[..., 3] > 0:
            filled = np.flatnonzero(row)
            assert len(filled) == 0 or len(filled) == filled[-1] - filled[0] + 1


def test_the_same_scene_gives_the_same_bytes(kernel: MeshKernel) -> None:
    """And another view others."""
    scene = [Shown(kernel.mesh(box(30, 20, 10)), RED, (1.0, 2.0, 3.0))]
    one, same = (picture(scene, width=64, height=48) for _ in range(2))
    assert one == same
    assert one != picture(scene, width=64, height=48, view=View(30, 30))


def test_pixels_come_back_from_the_file() -> None:
    """Random ones, with and without cover."""
    pixels = np.random.default_rng(1).integers(0, 256, (13, 7, 4), dtype=np.uint8)
    assert (read(png(pixels, opaque=False)) == pixels).all()
    assert (read(png(pixels, opaque=True)) == pixels[..., :3]).all()
