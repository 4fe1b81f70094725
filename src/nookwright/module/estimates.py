"""What a part costs in plastic and time before any geometry: closed forms, good to about a tenth in grams.

The seconds rest on one plain profile (below) and are good for comparing, not for an alarm clock.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.module.floor import CORNER_RADIUS
from nookwright.module.seat import (
    PAD_RADIUS,
    SOCKET_SKIN,
    STRAP_WIDTH,
    Seat,
    draw_of,
    outer_size,
    socket_clearance,
    whole_layers,
)
from nookwright.sizing.ways import SHELL_FILLET, SMOOTH_FILLET

if TYPE_CHECKING:
    from collections.abc import Callable

    from nookwright.module.module import Module

INFILL_SHARE = Fact(0.15, unit="1", kind=Kind.COMMON_PRACTICE, source="Density inside thick floors.")
SKIN_LAYERS_BELOW = Fact(3, unit="layers", kind=Kind.COMMON_PRACTICE, source="Solid layers below an infill.")
SKIN_LAYERS_ABOVE = Fact(5, unit="layers", kind=Kind.COMMON_PRACTICE, source="Solid layers above an infill.")
RATE_MM3_S = Fact(
    5.0,
    unit="mm3/s",
    kind=Kind.COMMON_PRACTICE,
    source="Plastic laid in a second by a 0.43 x 0.2 line at about 65 mm/s, corners and travel included.",
)
FIRST_RATE_SHARE = Fact(
    0.5, unit="1", kind=Kind.COMMON_PRACTICE, source="The first layer is printed at half the speed."
)
LAYER_CHANGE_S = Fact(1.5, unit="s", kind=Kind.COMMON_PRACTICE, source="Move up, retract, find the seam.")
ISLAND_S = Fact(0.35, unit="s", kind=Kind.COMMON_PRACTICE, source="Hop to one cone in one layer.")
LIP = Fact(2.0, unit="mm", kind=Kind.CALCULATED, source="A lip of 2 keeps an edge of 0.6 from riding over it.")
LIP_WIDTH = Fact(1.2, unit="mm", kind=Kind.CHOICE, source="The same whole lines as a wall.")
BUDGET_FLOOR_G_DM2 = Fact(20.0, unit="g/dm2", kind=Kind.CHOICE, source="What liner and shell floor together may weigh.")
BUDGET_WALL_G_M_MM = Fact(
    1.5,
    unit="g/(m mm)",
    kind=Kind.CALCULATED,
    source="A metre of 1.2 wall, a millimetre high, at 1.24 g/cm3 is 1.49 g.",
)
MM2_PER_DM2 = Fact(1e4, unit="mm2/dm2", kind=Kind.STANDARD, source="SI.")
MM3_PER_CM3 = Fact(1e3, unit="mm3/cm3", kind=Kind.STANDARD, source="SI.")
MM_PER_M = Fact(1e3, unit="mm/m", kind=Kind.STANDARD, source="SI.")


@dataclass(frozen=True)
class Plastic:
    """What has to be laid for one part.

    Attributes:
        body_mm3: volume of the closed body.
        sparse_mm3: of it, what lies inside solid skins and is printed sparsely.
        first_mm2: area of the first layer.
        height: printed height.
        hops: islands times layers, such as cones.
    """

    body_mm3: float
    sparse_mm3: float
    first_mm2: float
    height: float
    hops: float

    @property
    def laid_mm3(self) -> float:
        """Plastic that leaves the nozzle, mm3."""
        return self.body_mm3 - self.sparse_mm3 * (1 - INFILL_SHARE)

    def times(self, share: float) -> Plastic:
        """So much of it, at the same height."""
        return replace(
            self,
            body_mm3=self.body_mm3 * share,
            sparse_mm3=self.sparse_mm3 * share,
            first_mm2=self.first_mm2 * share,
            hops=self.hops * share,
        )

    def mass_g(self, density_g_cm3: float) -> float:
        """Mass, g."""
        return self.laid_mm3 / MM3_PER_CM3 * density_g_cm3

    def time_s(self, layer: float) -> float:
        """Printing time on a bed of its own, without heating, s."""
        first = min(self.first_mm2 * layer, self.laid_mm3)
        laying = (self.laid_mm3 - first + first / FIRST_RATE_SHARE) / RATE_MM3_S
        return laying + math.ceil(self.height / layer) * LAYER_CHANGE_S + self.hops * ISLAND_S


def frustum_mm3(lower: float, upper: float, height: float) -> float:
    """Volume of a truncated cone of these radii, mm3.

    >>> round(frustum_mm3(1, 1, 1), 4)
    3.1416
    """
    return math.pi * height / 3 * (lower * lower + lower * upper + upper * upper)


@lru_cache(maxsize=4096)
def ring_counts(cols: int, rows: int, pitch: float, growth: float, clearance: float) -> tuple[tuple[float, int], ...]:
    """How many sockets of which clearance a part has, the tightest first: ``rings_of`` without the places.

    One quarter of the part is looked at, since its middle is the datum; footprints come again and again, so each is
    counted once.

    Args:
        cols: footprint along x, cells.
        rows: footprint along y, cells.
        pitch: cell size, mm.
        growth: of the clearance with the distance from the middle, mm/mm.
        clearance: at the middle, mm.
    """
    found: dict[float, int] = {}
    for col in range((cols + 1) // 2):
        dx = (col + 0.5 - cols / 2) * pitch
        for row in range((rows + 1) // 2):
            dy = (row + 0.5 - rows / 2) * pitch
            ring = socket_clearance(math.hypot(dx, dy), growth, clearance)
            found[ring] = found.get(ring, 0) + (2 if dx else 1) * (2 if dy else 1)
    return tuple(sorted(found.items()))


def socket_mm3(seat: Seat, clearance: float) -> float:
    """Volume of one socket without its lead-in, mm3."""
    mouth = seat.cone_base + clearance
    return frustum_mm3(mouth, mouth - draw_of(seat.socket_depth), seat.socket_depth)


def dome_mm3(seat: Seat, clearance: float) -> float:
    """Volume of the dome over one socket above a shell floor, hollow not taken off, mm3."""
    foot = seat.cone_base + clearance + SOCKET_SKIN
    return frustum_mm3(foot - draw_of(seat.shell_floor), foot - draw_of(seat.dome), seat.dome - seat.shell_floor)


def between_skins(seat: Seat) -> float:
    """Height of a smooth floor between its solid skins, mm."""
    return max(0.0, seat.dome - (SKIN_LAYERS_BELOW + SKIN_LAYERS_ABOVE) * seat.layer)


def solid_round_mm3(seat: Seat, clearance: float) -> float:
    """Of a smooth floor between its skins, what one socket and its skin take, mm3."""
    between = between_skins(seat)
    foot = seat.cone_base + clearance + SOCKET_SKIN
    return frustum_mm3(foot, foot - draw_of(between), between)


def sockets_mm3(seat: Seat, cols: int, rows: int, pitch: float) -> float:
    """Volume of all sockets of a part without their lead-in, mm3."""
    return _summed(socket_mm3, seat, cols, rows, pitch)


def domes_mm3(seat: Seat, cols: int, rows: int, pitch: float) -> float:
    """Volume of all domes above a shell floor, hollow not taken off, mm3."""
    return _summed(dome_mm3, seat, cols, rows, pitch)


def sparse_floor_mm3(seat: Seat, cols: int, rows: int, pitch: float) -> float:
    """Of a smooth floor, the volume between its skins and around its sockets, mm3."""
    area = outer_size(cols, pitch) * outer_size(rows, pitch)
    return max(0.0, area * between_skins(seat) - _summed(solid_round_mm3, seat, cols, rows, pitch))


@lru_cache(maxsize=8192)
def _summed(one: Callable[[Seat, float], float], seat: Seat, cols: int, rows: int, pitch: float) -> float:
    """A volume at each socket of a part, summed by rings, mm3."""
    rings = ring_counts(cols, rows, pitch, seat.growth, seat.clearance)
    return sum(count * one(seat, clearance) for clearance, count in rings)


def _rounded_mm2(width: float, depth: float, radius: float) -> float:
    """Area of a rectangle with round corners, mm2."""
    return width * depth - (4 - math.pi) * radius**2


def tray_fillet(*, smooth: bool) -> float:
    """Radius between the floor and the walls of a tray, mm."""
    return float(SMOOTH_FILLET if smooth else SHELL_FILLET)


def tray_plastic(module: Module, cols: int, rows: int, height: float, *, smooth: bool) -> Plastic:
    """Plastic of a plain tray.

    Args:
        module: the household's module.
        cols: footprint along x, cells.
        rows: footprint along y, cells.
        height: outer height, mm.
        smooth: flat floor above the sockets instead of a shell with domes.
    """
    seat, pitch = module.seat, module.pitch
    width, depth = outer_size(cols, pitch), outer_size(rows, pitch)
    sockets = sockets_mm3(seat, cols, rows, pitch)
    floor = seat.dome if smooth else seat.shell_floor
    extra = 0.0 if smooth else domes_mm3(seat, cols, rows, pitch)
    inner = CORNER_RADIUS - module.wall
    plan = _rounded_mm2(width, depth, CORNER_RADIUS)
    inside = _rounded_mm2(module.inner(cols), module.inner(rows), inner)
    fillet = tray_fillet(smooth=smooth)
    round_inside = 2 * (module.inner(cols) + module.inner(rows)) - 2 * (4 - math.pi) * inner
    fillets = (1 - math.pi / 4) * fillet**2 * round_inside
    return Plastic(
        body_mm3=plan * floor + (plan - inside) * (height - floor) + fillets + extra - sockets,
        sparse_mm3=sparse_floor_mm3(seat, cols, rows, pitch) if smooth else 0.0,
        first_mm2=width * depth - cols * rows * math.pi * seat.cone_base**2,
        height=height,
        hops=0.0,
    )


def panel_plastic(module: Module, cols: int, rows: int) -> Plastic:
    """Plastic of a plain panel: frame, diagonal straps, pads and cones.

    Args:
        module: the household's module.
        cols: cells along x.
        rows: cells along y.
    """
    seat, pitch = module.seat, module.pitch
    width, depth = cols * pitch, rows * pitch
    cones = cols * rows / 2
    frame = 2 * (width + depth - 2 * STRAP_WIDTH) * STRAP_WIDTH
    inside = (width - 2 * STRAP_WIDTH) * (depth - 2 * STRAP_WIDTH)
    share = STRAP_WIDTH * math.sqrt(2) / (2 * pitch)  # of the area that one family of diagonal straps covers
    straps = inside * (1 - (1 - share) ** 2)
    crossing = 4 * PAD_RADIUS * STRAP_WIDTH - STRAP_WIDTH**2  # what two crossing straps already cover of a pad
    octagon = 8 * PAD_RADIUS**2 * math.tan(math.pi / 8)
    pads = cones * max(0.0, octagon - crossing)
    area = frame + straps + pads
    cone = frustum_mm3(seat.cone_base, seat.cone_top, seat.cone_height)
    return Plastic(
        body_mm3=area * seat.panel + cones * cone,
        sparse_mm3=0.0,
        first_mm2=area,
        height=seat.panel + seat.cone_height,
        hops=cones * seat.cone_height / seat.layer,
    )


def lip_height(module: Module) -> float:
    """Height of a filler's lip above the floor of the space, mm: whole layers."""
    return whole_layers(module.seat.panel + LIP, module.seat.layer)


def strip_plastic(module: Module, length: float, width: float) -> Plastic:
    """Plastic of a plain filler without its keys.

    Args:
        module: the household's module.
        length: along the wall, mm.
        width: from wall to panel, mm.
    """
    thick, high = module.seat.panel, lip_height(module)
    area = length * width
    body = area * thick + 2 * length * LIP_WIDTH * (high - thick)
    return Plastic(body_mm3=body, sparse_mm3=0.0, first_mm2=area, height=high, hops=0.0)


def budget_g(area_mm2: float, wall_m_mm: float) -> float:
    """What the prints of a space should weigh at most, g.

    Args:
        area_mm2: area that is fitted out.
        wall_m_mm: metres of wall times their height in mm, summed.
    """
    return area_mm2 / MM2_PER_DM2 * BUDGET_FLOOR_G_DM2 + wall_m_mm * BUDGET_WALL_G_M_MM
