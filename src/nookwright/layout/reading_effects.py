"""What a size decides: the part of a lot, made anew for things that are a little larger or smaller.

The way in which a lot is kept stays: only its footprint, its height and the room in it follow.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from nookwright.layout.candidates import SMALLEST_SIDE
from nookwright.module.choice import TYPICAL_DENSITY_G_CM3
from nookwright.module.estimates import tray_plastic
from nookwright.sizing.next_readings.resized import along_of, resized
from nookwright.sizing.next_readings.things import Outcome
from nookwright.survey.models import FloorStyle

if TYPE_CHECKING:
    from collections.abc import Callable

    from nookwright.layout.model import Placed
    from nookwright.module.module import Module
    from nookwright.sizing.next_readings.resized import Along
    from nookwright.sizing.ways import Way
    from nookwright.survey.models import Lot


def effect_of(
    lot: Lot, dimension: str, size: float, placed: Placed, *, module: Module, height: float
) -> Callable[[float], Outcome]:
    """What becomes of the part of a lot, by the size of its things.

    Args:
        lot: the lot.
        dimension: which size: ``width``, ``diameter``.
        size: for which the part is made now, mm.
        placed: the part in its place.
        module: the household's module.
        height: clear height above the liner there, mm.
    """
    candidate = placed.candidate
    if candidate is None:
        raise ValueError("A spare tray holds no lot.")
    way, along = candidate.way, along_of(lot, candidate.way, dimension)
    own = (placed.rows, placed.cols) if placed.turned else (placed.cols, placed.rows)
    grown = own if own != (candidate.cols, candidate.rows) else (0, 0)  # what a tray grew into stays filled

    def decide(wanted: float) -> Outcome:
        later = resized(way, along, wanted - size)
        cols = max(int(SMALLEST_SIDE), module.cells(later.inner_width), grown[0])
        rows = max(int(SMALLEST_SIDE), module.cells(later.inner_depth), grown[1])
        outer = module.height(module.seat.dome + later.wall_height)
        plastic = tray_plastic(module, cols, rows, outer, smooth=way.floor is FloorStyle.SMOOTH)
        spare = _spare(later, along, module, (cols, rows), height)
        return Outcome(wanted + max(0.0, spare), cols * rows, plastic.mass_g(TYPICAL_DENSITY_G_CM3))

    return decide


def _spare(way: Way, along: Along, module: Module, cells: tuple[int, int], height: float) -> float:
    """How much larger each thing may be until the part no longer takes it, mm."""
    needed_x = way.needs.columns.least(way.columns, way.pitch_x, way.edge_x)
    needed_y = way.needs.rows.least(way.rows, way.pitch_y, way.edge_y)
    spare = [
        (along.x, module.inner(cells[0]) - needed_x, way.columns),
        (along.y, module.inner(cells[1]) - needed_y, way.rows),
        (along.z, height - module.seat.dome - way.stack_height, way.layers),
    ]
    return min((room / count for on, room, count in spare if on), default=math.inf)
