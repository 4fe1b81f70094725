"""What filling may use, and what it costs: the module, the beds, what parts and things weigh."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.module.choice import TYPICAL_DENSITY_G_CM3
from nookwright.module.estimates import MM3_PER_CM3, domes_mm3, sockets_mm3, tray_plastic
from nookwright.module.seat import outer_size
from nookwright.survey.models import FloorStyle

if TYPE_CHECKING:
    from nookwright.layout.model import Grid, Placed
    from nookwright.module.module import Module


@dataclass(frozen=True)
class Means:
    """What filling may use.

    Attributes:
        module: the household's module.
        floor: of trays that hold no lot.
        largest: cells that print in one piece; ``None`` for any.
    """

    module: Module
    floor: FloorStyle
    largest: tuple[int, int] | None = None

    def mass_g(self, placed: Placed) -> float:
        """What a part and the things in it weigh, g: a lot's part by its candidate, and what it is larger than that."""
        if placed.fence:
            return self.fence_g(max(placed.cols, placed.rows), placed.height)
        if placed.candidate is None:
            return self.tray_g(placed.cols, placed.rows, placed.height, self.floor)
        one = placed.candidate
        cols, rows = (one.rows, one.cols) if placed.turned else (one.cols, one.rows)
        now_g = self.tray_g(placed.cols, placed.rows, placed.height, one.way.floor)
        return one.mass_g + now_g - self.tray_g(cols, rows, one.height, one.way.floor)

    def tray_g(self, cols: int, rows: int, height: float, floor: FloorStyle) -> float:
        """What a plain tray weighs, g."""
        plastic = tray_plastic(self.module, cols, rows, height, smooth=floor is FloorStyle.SMOOTH)
        return plastic.mass_g(TYPICAL_DENSITY_G_CM3)

    def fence_g(self, cells: int, height: float) -> float:
        """What a fence weighs, g: its base with domes less sockets, its wall, its buttresses; joints left out."""
        module, seat = self.module, self.module.seat
        length, width = outer_size(cells, module.pitch), outer_size(1, module.pitch)
        high = height - seat.shell_floor
        mm3 = length * width * seat.shell_floor + length * module.wall * high
        buttresses = sum(border % 2 == cells // 2 % 2 for border in range(1, cells))
        mm3 += buttresses * module.wall * high * min(high, width - 2 * module.wall) / 2
        mm3 += domes_mm3(seat, cells, 1, module.pitch) - sockets_mm3(seat, cells, 1, module.pitch)
        return mm3 / MM3_PER_CM3 * TYPICAL_DENSITY_G_CM3

    def allows(self, grid: Grid, cols: int, rows: int, height: float) -> bool:
        """Whether a part of so many cells prints in one piece, passes the opening of a space, and is held there."""
        small, large = sorted((cols, rows))
        if self.largest and (small > min(self.largest) or large > max(self.largest)):
            return False
        return height <= grid.height and held(grid, cols, rows) and self._passes(grid, cols, rows, height)

    def _passes(self, grid: Grid, cols: int, rows: int, height: float) -> bool:
        """By its two shorter sides, level or on a side."""
        if grid.opening is None:
            return True
        pitch = self.module.pitch
        sides = sorted((outer_size(cols, pitch), outer_size(rows, pitch), height))
        return all(side <= room for side, room in zip(sides, sorted(grid.opening), strict=False))


def held(grid: Grid, cols: int, rows: int) -> bool:
    """Whether the cones of a space hold a footprint wherever it stands."""
    return min(cols, rows) >= grid.smallest[0] and max(cols, rows) >= grid.smallest[1]
