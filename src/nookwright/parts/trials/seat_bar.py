"""A bar with a socket at each end: whether the seat fits, over a length that shows scale as no small gauge does.

Its sockets are in its first and last cell, with the clearance that a tray of that length has there; the cells between
are open, so no other cone touches it. It is laid on a row of the liner, and again on a column, on the straps as a tray.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact
from nookwright.ground.sources import Kind as SourceKind
from nookwright.module.estimates import Plastic, frustum_mm3
from nookwright.module.floor import CORNER_RADIUS
from nookwright.module.seat import LEAD_IN, SOCKET_SKIN, Ring, draw_of, outer_size, socket_clearance, whole_layers
from nookwright.parts.model import Example, Kind, Part, size_name
from nookwright.parts.refusals import refuse_part
from nookwright.parts.underside import block, seated_on
from nookwright.shapes.cutters import through
from nookwright.shapes.regions import Circle, Rect, Region, RegionMove, RegionRepeat
from nookwright.shapes.solids import Difference, Move, Repeat, Taper, Union

if TYPE_CHECKING:
    from nookwright.module.module import Module

SHORTEST = Fact(120.0, unit="mm", kind=SourceKind.CHOICE, source="From here on scale shows: 0.14 % of it is 0.17 mm.")
TIE = Fact(3.6, unit="mm", kind=SourceKind.CHOICE, source="Between two open cells: there is never a cone on a border.")
AROUND_CONE = Fact(2.4, unit="mm", kind=SourceKind.CALCULATED, source="A side, around a cone: the widest clearance.")
BAR_HEIGHT = Fact(
    1.2, unit="mm", kind=SourceKind.CHOICE, source="It lies flat by its own weight and does not bend aside."
)


def fewest_cells(pitch: float) -> int:
    """The fewest cells of a bar that is long enough: an odd number, so that a chessboard has a cone under each end.

    Args:
        pitch: cell size, mm.

    >>> fewest_cells(18.0), fewest_cells(24.0)
    (7, 7)
    """
    cells = 3
    while outer_size(cells, pitch) < SHORTEST:
        cells += 2
    return cells


def seat_bar(module: Module, cells: int) -> Part:
    """A bar of so many cells.

    Args:
        module: the household's module.
        cells: along it, odd, ``fewest_cells`` or more.

    Raises:
        RecipeError: too short, or no cone would be under one end.
    """
    least = fewest_cells(module.pitch)
    if cells < least or cells % 2 == 0:
        refuse_part(
            "a seat bar",
            "it is long, with a cone under each end",
            found=f"{cells} cells",
            allowed=f"odd numbers from {least} on",
            remedy=f"Take {max(least, cells + 1 - cells % 2)}.",
        )
    seat, high = module.seat, whole_layers(BAR_HEIGHT, module.seat.layer)
    length, deep = outer_size(cells, module.pitch), outer_size(1, module.pitch)
    middles = tuple((length / 2 + (cell - (cells - 1) / 2) * module.pitch, deep / 2) for cell in range(cells))
    clearance = socket_clearance((cells - 1) * module.pitch / 2, seat.growth, seat.clearance)
    ring = Ring(clearance, (middles[0], middles[-1]))
    rise = round(seat.dome - seat.layer, 6)
    foot = seat.cone_base + ring.clearance + SOCKET_SKIN - draw_of(seat.layer)
    ends = Move(Repeat(Taper(Circle(foot), rise, draw_of(rise)), ring.places), z=seat.layer)
    open_cells = through(RegionRepeat(_window(module), middles[1:-1]), 0.0, high)
    return Part(
        kind=Kind.GAUGE,
        name=f"seat bar {size_name(length, deep)} h{seat.dome:g}",
        parameters=(("cells", cells), ("clearance", ring.clearance), ("pitch", module.pitch)),
        recipe=seated_on(Union((Difference(block(length, deep, high), (open_cells,)), ends)), module, (ring,)),
        plastic=_plastic(module, cells, high, ring.clearance),
    )


def _window(module: Module) -> Region:
    """An open cell, about its middle."""
    width, depth = _window_size(module)
    return RegionMove(Rect(width, depth), x=-width / 2, y=-depth / 2)


def _window_size(module: Module) -> tuple[float, float]:
    return module.pitch - TIE, 2 * (module.seat.cone_base + AROUND_CONE)


def _plastic(module: Module, cells: int, high: float, clearance: float) -> Plastic:
    seat, (wide, across) = module.seat, _window_size(module)
    length, deep = outer_size(cells, module.pitch), outer_size(1, module.pitch)
    plan = length * deep - (4 - math.pi) * CORNER_RADIUS**2 - (cells - 2) * wide * across
    lead_in = LEAD_IN**2 / 2 * 2 * (length + deep)
    mouth = seat.cone_base + clearance
    outside = mouth + SOCKET_SKIN
    dome = frustum_mm3(outside - draw_of(high), outside - draw_of(seat.dome), seat.dome - high)
    socket = frustum_mm3(mouth, mouth - draw_of(seat.socket_depth), seat.socket_depth)
    return Plastic(
        body_mm3=plan * high - lead_in + 2 * (dome - socket),
        sparse_mm3=0.0,
        first_mm2=plan - 2 * math.pi * mouth**2,
        height=seat.dome,
        hops=2 * (seat.dome - high) / seat.layer,
    )


def examples(module: Module) -> tuple[Example, ...]:
    """Bars; every open cell is a handle."""
    least = fewest_cells(module.pitch)
    wanted = (("smallest", least), ("middle", least + 2), ("largest", least + 4))
    return tuple(Example(size, seat_bar(module, cells), genus=cells - 2) for size, cells in wanted)
