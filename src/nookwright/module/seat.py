"""The seat: cones on the liner, sockets in the underside of every part, and all heights in whole layers.

A cone is a steep truncated cone at a cell's centre; a part has one socket a cell. A part rests on the straps, the cones
only keep it from sliding, so the fit never depends on pressing it on. The clearance of a socket grows with its distance
from the part's middle, because scale and skew errors do; the middle is the datum since it survives every turn.
"""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import dataclass

from nookwright.ground.sources import Fact, Kind
from nookwright.module.pattern import has_cone as has_cone  # noqa: PLC0414 - part of the seat's own vocabulary

CONE_SLOPE_DEG = Fact(
    75.0,
    unit="deg",
    kind=Kind.CALCULATED,
    source="Ride-up tan(b + phi) is 15 times the weight at friction 0.2; a jammed cone pulls off at 0.38 of its "
    "press-on force at friction 0.6. Window 73 to 78.",
)
STRAP_WIDTH = Fact(
    3.6, unit="mm", kind=Kind.CALCULATED, source="Whole lines; two straps of 3.6 x 0.6 carry 65 N a cone at 15 MPa."
)
CONE_SHOULDER = Fact(1.4, unit="mm", kind=Kind.CHOICE, source="The base of a cone is the strap width and this.")
CONE_HEIGHT = Fact(
    3.0, unit="mm", kind=Kind.CALCULATED, source="Margin against a floor bowed by 3 mm; the slope does the holding."
)
SOCKET_HEADROOM = Fact(
    0.3, unit="mm", kind=Kind.COMMON_PRACTICE, source="A socket is deeper than its cone by this: crumbs and warp."
)
SOCKET_ROOF = Fact(
    1.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="Five layers of 0.2 over the bridge that closes a socket."
)
SOCKET_SKIN = Fact(
    1.0, unit="mm", kind=Kind.CHOICE, source="Wall of the dome around a socket in a shell floor: two lines and more."
)
PANEL_THICKNESS = Fact(
    0.6, unit="mm", kind=Kind.CALCULATED, source="Three layers of 0.2: carries a cone's load, 4 g/dm2 in all."
)
PAD_RADIUS = Fact(
    5.0, unit="mm", kind=Kind.CALCULATED, source="A pad of 10 round each cone spreads its load on the straps."
)
SHELL_FLOOR = Fact(
    1.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="Five layers of 0.2: closed, and stiff between the domes."
)
CLEARANCE = Fact(0.25, unit="mm", kind=Kind.CALCULATED, source="Clearance a side of a socket at the part's middle.")
CLEARANCE_GROWTH = Fact(
    0.005,
    unit="mm/mm",
    kind=Kind.CALCULATED,
    source="Growth of the clearance with the distance from the middle, no coupon: 28 x 25 cells go on in 98 of 100, "
    "turned by 90 degrees too; 0.003 would do as printed, but for 83 of 100 turned. Looser sockets keep their hold.",
)
RING_STEP = Fact(
    0.1,
    unit="mm",
    kind=Kind.CHOICE,
    source="Clearances are rounded up to this, so that a part has few kinds of socket.",
)
MOUTH_LAND = Fact(
    4.0, unit="mm", kind=Kind.CALCULATED, source="A socket's mouth leaves at least this between two sockets."
)
LEAD_IN = Fact(0.4, unit="mm", kind=Kind.COMMON_PRACTICE, source="Covers the spread of a first layer, 0.1 to 0.25 mm.")
LEAD_IN_HEIGHT = Fact(
    LEAD_IN / (1 - 1 / math.tan(math.radians(CONE_SLOPE_DEG))),
    unit="mm",
    kind=Kind.CALCULATED,
    source="The lead-in of a socket closes by itself and the cone's slope; over this height that is 45 degrees, so "
    "that it prints at any layer.",
)
PART_GAP = Fact(0.6, unit="mm", kind=Kind.CALCULATED, source="Least gap between two parts side by side.")
GAP_BASE = Fact(0.2, unit="mm", kind=Kind.CALCULATED, source="Gap that remains at the largest printed size.")
SCALE_SHARE = Fact(
    0.002, unit="1", kind=Kind.COMMON_PRACTICE, source="Scale uncertainty of a printer without a coupon."
)
SIZE_STEP = Fact(
    0.1, unit="mm", kind=Kind.CHOICE, source="Outer sizes are rounded down to this: they can be read off a rule."
)
COARSEST_COMMON_LAYER = Fact(
    0.6,
    unit="mm",
    kind=Kind.CHOICE,
    source="Above this a common layer of all printers costs more height than it is worth.",
)
_MICRON = 1000  # integers keep the common multiple exact


def common_layer(layers: tuple[float, ...]) -> float | None:
    """The smallest height that is a whole number of every printer's layers; ``None`` where it would be too coarse.

    Printers that all print one layer height share that one, however coarse it is.

    Args:
        layers: layer heights of all printers, mm.

    >>> common_layer((0.2, 0.2)), common_layer((0.2, 0.3)), common_layer((0.2, 0.28))
    (0.2, 0.6, None)
    """
    microns = {round(layer * _MICRON) for layer in layers}
    micron = math.lcm(*microns)
    return None if len(microns) > 1 and micron > COARSEST_COMMON_LAYER * _MICRON else micron / _MICRON


def drawn_layer(layers: tuple[float, ...]) -> float:
    """The layer that parts are drawn in: the common one, or where there is none the first printer's.

    Args:
        layers: layer heights of all printers, mm.

    >>> drawn_layer((0.2, 0.3)), drawn_layer((0.28, 0.2))
    (0.6, 0.28)
    """
    return common_layer(layers) or layers[0]


def whole_layers(height: float, layer: float) -> float:
    """A height rounded up to whole layers, mm.

    >>> whole_layers(3.3, 0.2), whole_layers(3.0, 0.2), whole_layers(0.6, 0.25)
    (3.4, 3.0, 0.75)
    """
    return round(math.ceil(round(height / layer, 6)) * layer, 6)


@dataclass(frozen=True)
class Seat:
    """All dimensions of the seat for one layer height, mm.

    Attributes:
        layer: the layer that every height is a whole number of.
        panel: thickness of a panel's straps; parts rest on them.
        cone_base, cone_top: radii of a cone.
        cone_height: of a cone above the straps.
        socket_depth: of a socket above a part's underside.
        shell_floor: thickness of a shell floor between the domes.
        dome: height of a dome above a part's underside; also the thickness of a smooth floor.
        growth: of a socket's clearance with its distance from the part's middle, mm/mm.
        clearance: a side of a socket at the part's middle.
    """

    layer: float
    panel: float
    cone_base: float
    cone_top: float
    cone_height: float
    socket_depth: float
    shell_floor: float
    dome: float
    growth: float = CLEARANCE_GROWTH
    clearance: float = CLEARANCE


def seat_of(layer: float, growth: float = CLEARANCE_GROWTH) -> Seat:
    """The seat whose heights are all whole layers.

    Args:
        layer: the common layer, mm.
        growth: of a socket's clearance with its distance from the part's middle, mm/mm.

    >>> seat = seat_of(0.2)
    >>> seat.panel, seat.cone_height, seat.socket_depth, seat.dome, round(seat.cone_top, 3)
    (0.6, 3.0, 3.4, 4.4, 1.696)
    """
    height = whole_layers(CONE_HEIGHT, layer)
    base = (STRAP_WIDTH + CONE_SHOULDER) / 2
    depth = whole_layers(height + SOCKET_HEADROOM, layer)
    return Seat(
        layer=layer,
        panel=whole_layers(PANEL_THICKNESS, layer),
        cone_base=base,
        cone_top=base - draw_of(height),
        cone_height=height,
        socket_depth=depth,
        shell_floor=whole_layers(SHELL_FLOOR, layer),
        dome=round(depth + whole_layers(SOCKET_ROOF, layer), 6),
        growth=growth,
    )


def draw_of(height: float) -> float:
    """How much a cone or socket draws in on each side over a height, mm."""
    return height / math.tan(math.radians(CONE_SLOPE_DEG))


def socket_clearance(distance: float, growth: float = CLEARANCE_GROWTH, clearance: float = CLEARANCE) -> float:
    """Clearance a side of a socket, rounded up to its ring.

    Args:
        distance: from the middle of the part, mm.
        growth: growth of the clearance with the distance, mm/mm.
        clearance: at the middle, mm.

    >>> socket_clearance(0), socket_clearance(17), socket_clearance(200)
    (0.3, 0.4, 1.3)
    """
    return round(math.ceil(round((clearance + growth * distance) / RING_STEP, 6)) * RING_STEP, 6)


def outer_size(cells: int, pitch: float) -> float:
    """Outer size of a part of so many cells, mm. It depends on the part alone, so equals swap places.

    >>> outer_size(1, 18), outer_size(6, 18), outer_size(20, 18)
    (17.4, 107.4, 359.0)
    """
    length = cells * pitch
    gap = max(PART_GAP, GAP_BASE + SCALE_SHARE * length)
    return round(math.floor(round((length - gap) / SIZE_STEP, 6)) * SIZE_STEP, 6)


@dataclass(frozen=True)
class Ring:
    """Sockets of one clearance: their middles, mm from the part's front left corner."""

    clearance: float
    places: tuple[tuple[float, float], ...]


def rings_of(
    cols: int, rows: int, pitch: float, growth: float = CLEARANCE_GROWTH, clearance: float = CLEARANCE
) -> tuple[Ring, ...]:
    """The sockets of a part, one a cell, in rings of equal clearance from the tightest outwards.

    Args:
        cols: footprint along x, cells.
        rows: footprint along y, cells.
        pitch: cell size, mm.
        growth: of the clearance with the distance from the middle, mm/mm.
        clearance: at the middle, mm.
    """
    width, depth = outer_size(cols, pitch), outer_size(rows, pitch)
    found: dict[float, list[tuple[float, float]]] = defaultdict(list)
    for row in range(rows):
        for col in range(cols):
            dx, dy = (col + 0.5 - cols / 2) * pitch, (row + 0.5 - rows / 2) * pitch
            found[socket_clearance(math.hypot(dx, dy), growth, clearance)].append((width / 2 + dx, depth / 2 + dy))
    return tuple(Ring(clearance, tuple(places)) for clearance, places in sorted(found.items()))


def widest_mouth(pitch: float) -> float:
    """The widest socket mouth (diameter) that a pitch allows, mm."""
    return pitch - MOUTH_LAND
