"""Two levels in one place: a tray, a lid in its rim that is itself a liner, a tray on that.

The lid lies flush, so that a tray with its lid is no higher than without, and the walls of the upper tray stand on
those of the lower one. What it does not know: the shapes of tray and lid.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.module.estimates import MM3_PER_CM3, frustum_mm3, tray_fillet
from nookwright.module.floor import CORNER_RADIUS
from nookwright.module.seat import SCALE_SHARE, draw_of, outer_size, whole_layers

if TYPE_CHECKING:
    from nookwright.module.module import Module

DECK = Fact(
    1.2, unit="mm", kind=Kind.CALCULATED, source="Twice a panel: it bridges the tray instead of lying on a floor."
)
DECK_CONE = Fact(
    2.4, unit="mm", kind=Kind.CALCULATED, source="A deck is not bowed like a floor; the slope does the holding."
)
DECK_CLEARANCE = Fact(0.3, unit="mm", kind=Kind.COMMON_PRACTICE, source="On each side, to fall in easily.")
BEARING = Fact(
    2.0, unit="mm", kind=Kind.CALCULATED, source="Of the ledge: less the drawn-in edge and the play, 1 still carries."
)
LEAST_INSIDE = Fact(2.0, unit="mm", kind=Kind.CHOICE, source="Upright wall left between fillet and swelling.")
SEAT_RESERVE = Fact(
    0.3, unit="mm", kind=Kind.COMMON_PRACTICE, source="What crumbs and warp lift a part by at each seat of a stack."
)
HEIGHT_SHARE = Fact(
    0.003, unit="1", kind=Kind.COMMON_PRACTICE, source="What prints of a stack are higher than drawn: uneven layers."
)
LEVELS = Fact(2, unit="1", kind=Kind.CHOICE, source="A third level is lifted twice for what lies at the bottom.")


def deck_clearance(module: Module, cols: int, rows: int) -> float:
    """From the lid to the rim on each side, mm: it falls in, also where two prints differ in scale."""
    return DECK_CLEARANCE + SCALE_SHARE * outer_size(max(cols, rows), module.pitch) / 2


def deck_swell(module: Module, cols: int, rows: int) -> float:
    """How far the wall below swells inwards to carry the lid, mm."""
    return deck_clearance(module, cols, rows) + BEARING


def may_be_decked(module: Module, cols: int, rows: int) -> bool:
    """Whether the ledge of a tray of so many cells fits its inside corners."""
    return deck_swell(module, cols, rows) <= CORNER_RADIUS - module.wall


def deck_opening(module: Module, cols: int, rows: int) -> tuple[float, float]:
    """What the ledge of a tray of so many cells leaves open, along x and y, mm: its things go in and out there."""
    ledges = 2 * deck_swell(module, cols, rows)
    return module.inner(cols) - ledges, module.inner(rows) - ledges


def decked_height(module: Module, cols: int, rows: int, *, things: float, smooth: bool) -> float:
    """The lowest outer height of a tray that closes over its things, mm, in whole rises.

    Things stay below the swelling of the wall, so that they come out past it and never touch the lid.

    Args:
        module: the household's module.
        cols: footprint along x, cells.
        rows: the same along y.
        things: how high they stand above the domes of its floor, mm.
        smooth: whether its floor is.
    """
    layer, seat = module.seat.layer, module.seat
    lid, swell = whole_layers(DECK, layer), whole_layers(deck_swell(module, cols, rows), layer)
    floor = seat.dome if smooth else seat.shell_floor
    inside = max(seat.dome + things, floor + tray_fillet(smooth=smooth) + LEAST_INSIDE)
    return module.height(inside + swell + lid)


def stack_reserve(height: float, seats: int = int(LEVELS)) -> float:
    """What a stack needs above its drawn height, mm.

    Args:
        height: as drawn, mm.
        seats: of it, the one on the liner counted.
    """
    return seats * SEAT_RESERVE + HEIGHT_SHARE * height


def deck_g(module: Module, cols: int, rows: int, density_g_cm3: float) -> float:
    """What lid and ledge weigh, g: a plate with cones in every second cell, a swelling of 45 degrees.

    Args:
        module: the household's module.
        cols: footprint along x, cells.
        rows: the same along y.
        density_g_cm3: of the plastic.
    """
    inset = 2 * (module.wall + deck_clearance(module, cols, rows))
    width, depth = outer_size(cols, module.pitch), outer_size(rows, module.pitch)
    high, base = whole_layers(DECK_CONE, module.seat.layer), module.seat.cone_base
    cones = (cols * rows + 1) // 2 * frustum_mm3(base, base - draw_of(high), high)
    swell = deck_swell(module, cols, rows)
    ledge = 2 * (width + depth - 4 * module.wall) * swell**2 / 2
    plate = (width - inset) * (depth - inset) * whole_layers(DECK, module.seat.layer)
    return (plate + cones + ledge) / MM3_PER_CM3 * density_g_cm3
