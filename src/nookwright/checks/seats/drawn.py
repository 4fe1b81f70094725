"""What the seat of a kit should be like: the module's cones and sockets, worked out from the room and the pitch.

Nothing is taken over from how parts were made: the seat follows from the printers' layers, the coupons, and what seats
were found in trials. What it does not know: parts of an earlier kit with another growth of clearance.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import product
from typing import TYPE_CHECKING

import numpy as np

from nookwright.ground.sources import Fact, Kind
from nookwright.module.measured import clearance_growth
from nookwright.module.seat import CLEARANCE, draw_of, drawn_layer, outer_size, seat_of, socket_clearance, whole_layers
from nookwright.module.seating import COUPON, COUPON_GROWTH, UNCALIBRATED
from nookwright.module.stacking import DECK_CONE
from nookwright.sizing.fits.found import seat_move
from nookwright.sizing.printers.household import household_of

if TYPE_CHECKING:
    from nookwright.checks.boxes import Floats
    from nookwright.exchange.kit import Kit, KitPart
    from nookwright.module.seat import Seat
    from nookwright.module.seating import Spread
    from nookwright.survey.models import Room

SEATED = frozenset({"tray", "cradle", "rest", "riser", "shoe", "nest", "fence"})  # kinds that stand on cones
SAME_SIZE = Fact(
    0.05, unit="mm", kind=Kind.CALCULATED, source="Half of a step of outer sizes: below, two parts are of one size."
)


@dataclass(frozen=True)
class Drawn:
    """The seat of a household.

    Attributes:
        pitch: cell size, mm.
        seat: cones, sockets and their clearances.
    """

    pitch: float
    seat: Seat

    @property
    def draw(self) -> float:
        """By how much cones and sockets shrink for each mm of height."""
        return draw_of(1.0)

    @property
    def deck_cone(self) -> float:
        """Height of a cone on a deck lid, mm."""
        return whole_layers(DECK_CONE, self.seat.layer)

    @property
    def spread(self) -> Spread:
        """By how much two prints of the household differ: the sockets' growth says which it was made for."""
        return COUPON if self.seat.growth <= COUPON_GROWTH else UNCALIBRATED

    def clearance(self, distance: float) -> float:
        """Clearance a side that a socket should have so far from the middle of its part, mm."""
        return socket_clearance(distance, self.seat.growth, self.seat.clearance)


def drawn_of(kit: Kit, room: Room) -> Drawn:
    """The seat that a kit should have.

    Args:
        kit: with its pitch.
        room: with its printers, coupons and trials.
    """
    layers = tuple(printer.layer for printer in room.printer)
    seat = seat_of(drawn_layer(layers), clearance_growth(household_of(room)))
    return Drawn(kit.module.pitch, replace(seat, clearance=round(CLEARANCE + seat_move(room.found), 6)))


@dataclass(frozen=True)
class Footprint:
    """The cells of a part, in its own axes.

    Attributes:
        cols: along x.
        rows: along y.
        middle: of its cells, mm.
        pitch: cell size, mm.
    """

    cols: int
    rows: int
    middle: tuple[float, float]
    pitch: float

    @cached_property
    def places(self) -> Floats:
        """Middles of the cells, row by row, (n, 2)."""
        cells = product(range(self.rows), range(self.cols))
        return np.array(self.middle) + self.pitch * np.array(
            [(col + 0.5 - self.cols / 2, row + 0.5 - self.rows / 2) for row, col in cells]
        )

    @property
    def outer(self) -> tuple[float, float]:
        """Width and depth that the module gives such a part, mm."""
        return outer_size(self.cols, self.pitch), outer_size(self.rows, self.pitch)

    @property
    def in_words(self) -> str:
        """As people say it, the shorter side first."""
        return f"{min(self.cols, self.rows)} x {max(self.cols, self.rows)} cells"


def footprint_of(part: KitPart, pitch: float) -> Footprint:
    """The cells that a part takes, by its outer size; a fence's tongue reaches past its own.

    Args:
        part: one that stands on cones, or a deck lid.
        pitch: cell size, mm.
    """
    width, depth, _ = part.size
    cells = part.parameters.get("cells")
    if part.kind == "fence" and isinstance(cells, int):
        width = outer_size(cells, pitch)
    cols, rows = (max(1, math.ceil((side - SAME_SIZE) / pitch)) for side in (width, depth))
    return Footprint(cols, rows, (width / 2, depth / 2), pitch)
