"""Pixels as a PNG file (W3C Recommendation, Portable Network Graphics, third edition): eight bits a channel, no clock.

The few chunks that a picture needs are written here, so that the bytes depend on the pixels and on zlib alone.
"""

from __future__ import annotations

import struct
import zlib
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

_SIGNATURE = b"\x89PNG\r\n\x1a\n"
_BITS, _COLOUR, _COLOUR_AND_COVER = 8, 2, 6  # section 11.2.1, IHDR
_UP = 2  # section 9.2, filter type: the difference to the pixel above
_HARDEST = 9


def png(pixels: NDArray[np.uint8], *, opaque: bool) -> bytes:
    """A PNG file.

    Args:
        pixels: (height, width, 4): red, green, blue, cover.
        opaque: leave the cover out.
    """
    kept = pixels[..., :3] if opaque else pixels
    high, wide, channels = kept.shape
    rows = kept.reshape(high, wide * channels)
    above = np.vstack([np.zeros_like(rows[:1]), rows[:-1]])
    filtered = np.hstack([np.full((high, 1), _UP, dtype=np.uint8), rows - above])
    head = struct.pack(">IIBBBBB", wide, high, _BITS, _COLOUR if opaque else _COLOUR_AND_COVER, 0, 0, 0)
    body = zlib.compress(filtered.tobytes(), _HARDEST)
    return _SIGNATURE + _chunk(b"IHDR", head) + _chunk(b"IDAT", body) + _chunk(b"IEND", b"")


def _chunk(name: bytes, content: bytes) -> bytes:
    check = zlib.crc32(name + content)
    return struct.pack(">I", len(content)) + name + content + struct.pack(">I", check)
