"""Pictures of meshes: a small rasteriser of our own, so that pictures need no further library and repeat byte by byte.

Seen from afar (no perspective), each triangle is spread over the pixels that it covers, the nearest one at each pixel
stays (a z-buffer; see J. Foley et al., Computer Graphics, 1996, section 15.4). A pixel is shaded by the direction of
its triangle; lines are drawn where neighbouring pixels belong to faces that meet at an angle, or to different depths.
The picture is made twice as large and averaged.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nookwright.ground.sources import Fact, Kind
from nookwright.solids.png import png

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from nookwright.solids.triangles import Mesh

    Array = NDArray[np.float64]
    Rows = NDArray[np.int64]

CREASE_DEG = Fact(
    25.0, unit="deg", kind=Kind.CHOICE, source="Faces that meet at more get a line; facets of round faces do not."
)
STEP_SHARE = Fact(
    0.01, unit="1", kind=Kind.CHOICE, source="A jump in depth of this share of the picture's width gets a line."
)
MARGIN_SHARE = Fact(0.04, unit="1", kind=Kind.CHOICE, source="Of the picture's smaller side, left free all round.")
_OVER = 2  # pixels across each pixel of the picture
_AT_ONCE = 1 << 21  # fragments that are spread together: what memory holds with ease
_LIGHT = (-0.35, -0.55, 0.76)  # from the front left, above
_DARKEST, _BRIGHTEST = 0.42, 1.06
_INK = (52, 56, 60)
_ON_EDGE = 1e-6  # square pixels; so that no pixel falls between two triangles that share an edge
_FINE = 1 << 20  # steps of depth across the scene
Colour = tuple[int, int, int]
PAPER: Colour = (255, 255, 255)


@dataclass(frozen=True)
class View:
    """From where, in degrees: turned about z, counter-clockwise, then seen from so high above the horizon."""

    around_deg: float = 25.0
    above_deg: float = 38.0


@dataclass(frozen=True, eq=False)
class Shown:
    """A mesh in a picture: its colour and where its origin lies."""

    mesh: Mesh
    colour: Colour
    at: tuple[float, float, float] = (0.0, 0.0, 0.0)


def picture(
    shown: Sequence[Shown], *, width: int, height: int, view: View | None = None, paper: Colour | None = PAPER
) -> bytes:
    """A PNG of meshes, as large as fits.

    Args:
        shown: what is in it.
        width: of the picture, pixels.
        height: of the picture, pixels.
        view: from where; from the front left above where none is given.
        paper: colour behind; ``None`` for none, so that the page shines through.
    """
    return png(pixels(shown, width=width, height=height, view=view, paper=paper), opaque=paper is not None)


def pixels(
    shown: Sequence[Shown], *, width: int, height: int, view: View | None = None, paper: Colour | None = PAPER
) -> NDArray[np.uint8]:
    """The same as pixels, (height, width, 4): red, green, blue, cover."""
    wide, high = width * _OVER, height * _OVER
    corners, normals, colours = _scene(shown, view or View())
    fitted = _fitted(corners, wide, high)
    owner, depth = _nearest(fitted, wide, high)
    lines = _lines(owner, depth, normals, float(STEP_SHARE) * wide)
    return _averaged(_coloured(owner, lines, normals, colours, paper))


def _scene(shown: Sequence[Shown], view: View) -> tuple[Array, Array, Array]:
    """Corners of all triangles that face the viewer, in the viewer's axes (right, up, towards), normals, colours."""
    turn = _turn(view)
    corners, colours = [], []
    for each in shown:
        placed = each.mesh.vertices + np.asarray(each.at)
        corners.append((placed @ turn.T)[each.mesh.triangles.astype(np.int64)])
        colours.append(np.tile(np.asarray(each.colour, dtype=np.float64), (len(each.mesh.triangles), 1)))
    every = np.concatenate(corners)
    normals = np.cross(every[:, 1] - every[:, 0], every[:, 2] - every[:, 0])
    normals /= np.maximum(np.linalg.norm(normals, axis=1, keepdims=True), np.finfo(float).tiny)
    facing = normals[:, 2] > 0
    return every[facing], normals[facing] @ turn, np.concatenate(colours)[facing]


def _turn(view: View) -> Array:
    """Rows: the viewer's right, up, and towards him, in the axes of the part."""
    around, above = math.radians(view.around_deg), math.radians(view.above_deg)
    right = (math.cos(around), -math.sin(around), 0.0)
    up = (math.sin(above) * math.sin(around), math.sin(above) * math.cos(around), math.cos(above))
    towards = (-math.cos(above) * math.sin(around), -math.cos(above) * math.cos(around), math.sin(above))
    return np.array([right, up, towards])


def _fitted(corners: Array, wide: int, high: int) -> Array:
    """The same in pixels, x to the right and y down, depth in the same unit."""
    low, top = corners.min(axis=(0, 1)), corners.max(axis=(0, 1))
    margin = float(MARGIN_SHARE) * min(wide, high)
    scale = min((wide - 2 * margin) / (top[0] - low[0]), (high - 2 * margin) / (top[1] - low[1]))
    middle = (low + top) / 2
    moved: Array = (corners - middle) * scale
    return moved * (1, -1, 1) + (wide / 2, high / 2, 0)


def _nearest(corners: Array, wide: int, high: int) -> tuple[Rows, Array]:
    """For each pixel the triangle that is nearest, -1 for none, and its depth."""
    low = np.clip(np.ceil(corners[:, :, :2].min(axis=1) - 0.5), 0, (wide, high)).astype(np.int64)
    top = np.clip(np.floor(corners[:, :, :2].max(axis=1) - 0.5) + 1, 0, (wide, high)).astype(np.int64)
    size = np.maximum(top - low, 0)
    counts = size[:, 0] * size[:, 1]
    deepest = float(corners[:, :, 2].min())
    step = max(float(corners[:, :, 2].max()) - deepest, 1e-9) / _FINE
    best = np.full(wide * high, -1, dtype=np.int64)
    ends = np.cumsum(counts)
    first = 0
    while first < len(counts):
        before = int(ends[first - 1]) if first else 0
        last = max(first + 1, int(np.searchsorted(ends, before + _AT_ONCE, side="right")))
        rows = np.arange(first, last)
        triangle, pixel, depth = _fragments(corners, rows, low, size, counts[rows], wide=wide)
        level = np.clip((depth - deepest) / step, 0, _FINE).astype(np.int64)
        # One number for both: the nearer wins, of equals the later; so the order of drawing never matters.
        np.maximum.at(best, pixel, level * len(counts) + triangle)
        first = last
    owner = np.where(best >= 0, best % len(counts), -1).reshape(high, wide)
    depth_at = np.where(best >= 0, best // len(counts) * step, -np.inf).reshape(high, wide)
    return owner, depth_at


def _fragments(
    corners: Array, rows: Rows, low: Rows, size: Rows, counts: Rows, *, wide: int
) -> tuple[Rows, Rows, Array]:
    """The pixels that some triangles cover: triangle, pixel, depth."""
    triangle = np.repeat(rows, counts)
    within = np.arange(len(triangle)) - np.repeat(np.cumsum(counts) - counts, counts)
    column = low[triangle, 0] + within % np.maximum(size[triangle, 0], 1)
    line = low[triangle, 1] + within // np.maximum(size[triangle, 0], 1)
    x, y = column + 0.5, line + 0.5
    (ax, ay, az), (bx, by, bz), (cx, cy, cz) = (corners[:, n].T for n in range(3))
    double = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax)
    double = np.where(double == 0, np.inf, double)
    slope_x = ((bz - az) * (cy - ay) - (cz - az) * (by - ay)) / double
    slope_y = ((cz - az) * (bx - ax) - (bz - az) * (cx - ax)) / double
    inside = np.ones(len(triangle), dtype=bool)
    for px, py, qx, qy in ((ax, ay, bx, by), (bx, by, cx, cy), (cx, cy, ax, ay)):
        # The y axis points down in a picture, so the inside lies on the other side.
        inside &= (qx - px)[triangle] * (y - py[triangle]) - (qy - py)[triangle] * (x - px[triangle]) <= _ON_EDGE
    triangle, x, y = triangle[inside], x[inside], y[inside]
    depth = az[triangle] + slope_x[triangle] * (x - ax[triangle]) + slope_y[triangle] * (y - ay[triangle])
    lowest, highest = corners[:, :, 2].min(axis=1), corners[:, :, 2].max(axis=1)
    depth = np.clip(depth, lowest[triangle], highest[triangle])  # of a triangle seen edge on, its slope is noise
    return triangle, (line * wide + column)[inside], depth


def _lines(owner: Rows, depth: Array, normals: Array, step: float) -> NDArray[np.bool_]:
    """Pixels with a line: outlines, jumps in depth, creases."""
    lines = np.zeros(owner.shape, dtype=bool)
    crease = math.cos(math.radians(CREASE_DEG))
    padded = np.vstack([normals, np.zeros((1, 3))])  # the last row stands for no triangle
    for here, there in (
        ((slice(None), slice(1, None)), (slice(None), slice(None, -1))),
        ((slice(1, None),), (slice(None, -1),)),
    ):
        one, other = owner[here], owner[there]
        differ = one != other
        rows = np.flatnonzero(differ)
        a, b = one.ravel()[rows], other.ravel()[rows]
        near, far = depth[here].ravel()[rows], depth[there].ravel()[rows]
        bent = (padded[a] * padded[b]).sum(axis=1) < crease
        with np.errstate(invalid="ignore"):
            apart = ~(np.abs(near - far) < step)
        mark = np.zeros(differ.size, dtype=bool)
        mark[rows[bent | apart]] = True
        lines[here] |= mark.reshape(differ.shape)
    return lines


def _coloured(
    owner: Rows, lines: NDArray[np.bool_], normals: Array, colours: Array, paper: Colour | None
) -> NDArray[np.uint8]:
    """Red, green, blue and cover of each pixel."""
    light = np.asarray(_LIGHT) / np.linalg.norm(_LIGHT)
    bright = _DARKEST + (_BRIGHTEST - _DARKEST) * (1 + normals @ light) / 2
    shades = np.vstack([np.clip(colours * bright[:, None], 0, 255), np.asarray(paper or PAPER, dtype=np.float64)])
    pixels = np.empty((*owner.shape, 4), dtype=np.uint8)
    pixels[..., :3] = np.round(shades).astype(np.uint8)[owner]
    pixels[..., 3] = np.where((owner >= 0) | (paper is not None), 255, 0)
    pixels[lines] = (*_INK, 255)
    return pixels


def _averaged(pixels: NDArray[np.uint8]) -> NDArray[np.uint8]:
    """Each square of pixels as one; colours count by their cover."""
    high, wide, _ = pixels.shape
    blocks = pixels.reshape(high // _OVER, _OVER, wide // _OVER, _OVER, 4).astype(np.uint32)
    cover = blocks[..., 3].sum(axis=(1, 3))
    colour = (blocks[..., :3] * blocks[..., 3:]).sum(axis=(1, 3)) // np.maximum(cover, 1)[..., None]
    return np.concatenate([colour, cover[..., None] // _OVER**2], axis=2).astype(np.uint8)
