"""Plastic of every tray a pitch allows, at once: the closed forms of ``module.estimates`` on whole arrays.

A tray's sockets depend on its footprint alone, and with the middle as their datum the sockets of all footprints are
running sums over four small grids (an even or odd number of columns, an even or odd number of rows). So the volume at a
socket is worked out once for each distance that occurs, however many trays are asked for.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from nookwright.module.estimates import (
    FIRST_RATE_SHARE,
    INFILL_SHARE,
    LAYER_CHANGE_S,
    RATE_MM3_S,
    between_skins,
    dome_mm3,
    socket_mm3,
    solid_round_mm3,
    tray_fillet,
)
from nookwright.module.floor import CORNER_RADIUS
from nookwright.module.seat import outer_size, socket_clearance

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.typing import NDArray

    from nookwright.module.module import Module
    from nookwright.module.seat import Seat

    Counts = NDArray[np.int64]
    Numbers = NDArray[np.float64]
    Flags = NDArray[np.bool_]


class Trays:
    """The trays of one module, up to so many cells a side."""

    def __init__(self, module: Module, most: int) -> None:
        """Work out what depends on the footprint alone.

        Args:
            module: pitch and seat; the rise plays no part.
            most: cells of the longest side that will be asked for.
        """
        self.module, self.most = module, max(1, most)
        seat = module.seat
        self.outer = np.array([0.0] + [outer_size(cells, module.pitch) for cells in range(1, self.most + 1)])
        rings = _clearances(module, self.most)
        self.sockets = _sums(rings, seat, socket_mm3)
        self.domes = _sums(rings, seat, dome_mm3)
        self.rounds = _sums(rings, seat, solid_round_mm3)

    def cells(self, inner: Numbers) -> Counts:
        """Fewest cells whose tray has this room inside; one more than there are where none has.

        Args:
            inner: room needed inside, mm.
        """
        return np.searchsorted(self.outer[1:] - 2 * self.module.wall, inner, side="left").astype(np.int64) + 1

    def laid_mm3(self, cols: Counts, rows: Counts, height: Numbers, smooth: Flags) -> Numbers:
        """Plastic that leaves the nozzle for each tray, mm3.

        Args:
            cols: footprint along x, cells.
            rows: footprint along y, cells.
            height: outer height, mm.
            smooth: flat floor above the sockets instead of a shell with domes.
        """
        seat, wall = self.module.seat, self.module.wall
        width, depth = self.outer[cols], self.outer[rows]
        inner, round_corners = CORNER_RADIUS - wall, 4 - np.pi
        wide, deep = width - 2 * wall, depth - 2 * wall
        plan = width * depth - round_corners * CORNER_RADIUS**2
        inside = wide * deep - round_corners * inner**2
        floor = np.where(smooth, seat.dome, seat.shell_floor)
        fillet = np.where(smooth, tray_fillet(smooth=True), tray_fillet(smooth=False))
        fillets = (1 - np.pi / 4) * fillet**2 * (2 * (wide + deep) - 2 * round_corners * inner)
        extra = np.where(smooth, 0.0, self.domes[cols, rows])
        body = plan * floor + (plan - inside) * (height - floor) + fillets + extra - self.sockets[cols, rows]
        between = np.maximum(0.0, width * depth * between_skins(seat) - self.rounds[cols, rows])
        laid: Numbers = body - np.where(smooth, between, 0.0) * (1 - INFILL_SHARE)
        return laid

    def time_s(self, cols: Counts, rows: Counts, height: Numbers, laid_mm3: Numbers) -> Numbers:
        """Printing time of each tray, s.

        Args:
            cols: footprint along x, cells.
            rows: footprint along y, cells.
            height: outer height, mm.
            laid_mm3: its plastic.
        """
        seat = self.module.seat
        flat = self.outer[cols] * self.outer[rows] - cols * rows * np.pi * seat.cone_base**2
        first = np.minimum(flat * seat.layer, laid_mm3)
        laying = (laid_mm3 - first + first / FIRST_RATE_SHARE) / RATE_MM3_S
        return np.asarray(laying + np.ceil(height / seat.layer) * LAYER_CHANGE_S, dtype=np.float64)


def heights(wanted: Numbers, rise: float) -> Numbers:
    """Outer heights rounded up to whole rises, as ``Module.height`` does one by one, mm.

    Args:
        wanted: heights, mm.
        rise: height step, mm.
    """
    steps = np.maximum(1.0, np.ceil(np.round(wanted / rise, 6)))
    return np.asarray(np.round(steps * rise, 6), dtype=np.float64)


def _clearances(module: Module, most: int) -> dict[tuple[int, int], tuple[Numbers, Numbers]]:
    """For each parity of columns and rows, the clearance at each distance from the middle, and how often it occurs."""
    pitch, seat = module.pitch, module.seat
    half = (most + 1) // 2
    offsets = {0: (np.arange(half) + 0.5) * pitch, 1: np.arange(half) * pitch}
    counts = {0: np.full(half, 2.0), 1: np.where(np.arange(half) > 0, 2.0, 1.0)}
    found = {}
    for across in (0, 1):
        for along in (0, 1):
            distance = np.hypot(offsets[across][:, None], offsets[along][None, :])
            ring = np.vectorize(lambda d: socket_clearance(float(d), seat.growth, seat.clearance), otypes=[float])
            found[across, along] = ring(distance), counts[across][:, None] * counts[along][None, :]
    return found


def _sums(
    rings: dict[tuple[int, int], tuple[Numbers, Numbers]], seat: Seat, one: Callable[[Seat, float], float]
) -> Numbers:
    """A volume at each socket, summed over all sockets of every footprint, mm3; by columns and rows."""
    half = rings[0, 0][0].shape[0]
    table = np.zeros((2 * half + 1, 2 * half + 1))
    for (across, along), (clearance, count) in rings.items():
        values, which = np.unique(clearance, return_inverse=True)
        volume = np.array([one(seat, float(value)) for value in values])[which].reshape(clearance.shape)
        running = (volume * count).cumsum(axis=0).cumsum(axis=1)
        first_col, first_row = (2 - across), (2 - along)
        table[first_col::2, first_row::2] = running[: len(table[first_col::2]), : len(table[0, first_row::2])]
    return table
