"""Drains: holes in the floor of a tray that stands where it may get wet, in each compartment near its corners.

A hole lies between the sockets, clear of their domes, of the cell lines that a large tray is cut on, and as far as may
be from the diagonals on which the straps of a liner run; what light falls through, water falls through too.
"""

from __future__ import annotations

import math
from itertools import product
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.module.seat import LEAD_IN, SOCKET_SKIN, rings_of
from nookwright.parts.trays.divider import compartments, rib_reach
from nookwright.parts.trays.front import swept_radius
from nookwright.parts.trays.name_strip import strip_depth
from nookwright.parts.trays.tray_frame import NOTHING, Addition, TrayFrame
from nookwright.parts.trays.tray_options import DividerKind, Front
from nookwright.shapes.cutters import through
from nookwright.shapes.regions import Circle, RegionMove

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.parts.trays.divider import Span

    _Point = tuple[float, float]

RADIUS = Fact(
    2.0,
    unit="mm",
    kind=Kind.CALCULATED,
    source="4 across; drawn shut by up to 0.5 it is still wider than water's capillary length, 2.7.",
)
LAND = Fact(0.3, unit="mm", kind=Kind.CHOICE, source="Of flat floor between a drain and a dome, a rib or a fillet.")
OFF_LINE = Fact(
    3.0,
    unit="mm",
    kind=Kind.CHOICE,
    source="From a cell line to the middle of a drain: a line of floor is left at a cut.",
)
APART = Fact(5.5, unit="mm", kind=Kind.CHOICE, source="Between the middles of two drains: three lines of floor.")
_STEP = 0.5  # of the places that are tried in a cell


def drains(frame: TrayFrame) -> Addition:
    """The holes in the floor; nothing where the tray is not drained.

    Args:
        frame: the tray.

    Raises:
        RecipeError: its dividers cannot be made.
    """
    if not frame.options.drained:
        return NOTHING
    places = drain_places(frame)
    cuts = tuple(through(RegionMove(Circle(float(RADIUS)), x=x, y=y), 0.0, frame.floor) for x, y in places)
    lost = len(places) * math.pi * RADIUS**2 * frame.floor
    return Addition(cuts=cuts, body_mm3=-lost, handles=len(places))


def drain_places(frame: TrayFrame) -> tuple[_Point, ...]:
    """Middles of the holes, from the tray's corner: for each corner of a compartment the nearest place that will do.

    A compartment that has no such place is not drained.
    """
    spots = tuple(_spots(frame))
    found: list[_Point] = []
    across, back = compartments(frame)
    for number, y in enumerate(back):
        for x in across:
            inside = [spot for spot in spots if _within(spot, x, y, frame, first=number == 0)]
            found += _nearest(inside, tuple(product(x, y)))
    return tuple(sorted(found))


def _nearest(spots: list[_Point], corners: tuple[_Point, ...]) -> list[_Point]:
    """For each corner the nearest of some places that is clear of those before it; none where there is none."""
    found: list[_Point] = []
    for corner in corners:
        free = [spot for spot in spots if all(math.dist(spot, other) >= APART for other in found)]
        found += sorted(free, key=lambda spot: (math.dist(spot, corner), spot))[:1]
    return found


def _within(spot: _Point, x: Span, y: Span, frame: TrayFrame, *, first: bool) -> bool:
    """Whether a hole lies in a compartment, clear of fillets and ribs; and of what its front carries."""
    loose = any(entry.kind is not DividerKind.FIXED for entry in frame.options.dividers)
    margin = RADIUS + LAND + max(frame.fillet, rib_reach(frame) + frame.wall if loose else 0.0)
    front = margin
    if first and frame.options.front is Front.SWEPT:
        front = max(front, swept_radius(frame, y[1] - y[0]) + RADIUS + LAND)
    if first and frame.options.strip_height:
        front = max(front, strip_depth(frame.layer) + RADIUS + LAND)
    return x[0] + margin <= spot[0] <= x[1] - margin and y[0] + front <= spot[1] <= y[1] - margin


def _spots(frame: TrayFrame) -> Iterator[_Point]:
    """Eight places in each cell, alike on all sides."""
    module = frame.module
    for ring in rings_of(frame.cols, frame.rows, module.pitch, module.seat.growth, module.seat.clearance):
        clear = module.seat.cone_base + ring.clearance + max(SOCKET_SKIN, LEAD_IN) + LAND + RADIUS
        spot = _spot(module.pitch / 2 - OFF_LINE, clear)
        if spot is not None:
            turned = {(dx, dy) for a, b in (spot, spot[::-1]) for dx in (a, -a) for dy in (b, -b)}
            yield from ((round(x + dx, 4), round(y + dy, 4)) for x, y in ring.places for dx, dy in sorted(turned))


def _spot(most: float, clear: float) -> _Point | None:
    """The place in a quarter of a cell that lies farthest from its diagonals, clear of the socket in its middle.

    Args:
        most: how far from the cell's middle it may lie each way, mm.
        clear: how far from it it must lie, mm.
    """
    steps = [number * _STEP for number in range(math.floor(most / _STEP) + 1)]
    fit = [(most, dy) for dy in steps if math.hypot(most, dy) >= clear]
    return max(fit, key=lambda spot: spot[0] - spot[1], default=None)
