"""The module of a household: one pitch, one rise, one seat."""

from __future__ import annotations

import math
from dataclasses import dataclass

from nookwright.module.seat import Seat, outer_size


@dataclass(frozen=True)
class Module:
    """What every part of a household shares.

    Attributes:
        pitch: cell size, mm.
        rise: height step, mm.
        seat: dimensions of cones, sockets and floors.
        wall: thickness of a tray's wall, mm.
        chosen: why this pitch and rise, in one sentence.
    """

    pitch: float
    rise: float
    seat: Seat
    wall: float
    chosen: str

    def cells(self, inner: float) -> int:
        """Fewest cells whose tray has at least this much room inside.

        Args:
            inner: room needed inside, mm.
        """
        cells = max(1, math.ceil((inner + 2 * self.wall) / self.pitch))
        while outer_size(cells, self.pitch) - 2 * self.wall < inner:
            cells += 1
        return cells

    def inner(self, cells: int) -> float:
        """Room inside a tray of so many cells, mm."""
        return outer_size(cells, self.pitch) - 2 * self.wall

    def height(self, wanted: float) -> float:
        """A part's outer height rounded up to whole rises, mm."""
        return round(max(1, math.ceil(round(wanted / self.rise, 6))) * self.rise, 6)
