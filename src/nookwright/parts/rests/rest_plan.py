"""What one support of a rest is made from, and the heights that follow from it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.module.rests import dowel_middle

if TYPE_CHECKING:
    from nookwright.module.module import Module
    from nookwright.parts.rests.rest_slots import Slot
    from nookwright.parts.rests.rest_span import Dowel

CLOSED_END = Fact(
    3.0, unit="mm", kind=Kind.CHOICE, source="A blind hole ends this far inside the face that it does not open."
)


class Holes(StrEnum):
    """Where the holes for dowels open."""

    THROUGH = "through"
    FRONT = "at the front"
    BACK = "at the back"


@dataclass(frozen=True)
class Rest:
    """What one support is made from; the thing runs along y.

    Attributes:
        cols: footprint along x, cells.
        rows: footprint along y, cells.
        height: of the block, mm.
        slots: from left to right or in any order.
        dowel: that ties it to the others; None where it stands alone.
        dowels_at: middles of the holes along x, mm from the left side.
        holes: where they open.
        cover: whether ribs may stand beside a blade that is higher than the block.
    """

    cols: int
    rows: int
    height: float
    slots: tuple[Slot, ...]
    dowel: Dowel | None = None
    dowels_at: tuple[float, ...] = ()
    holes: Holes = Holes.THROUGH
    cover: bool = False


def dowel_height(module: Module, dowel: Dowel) -> float:
    """Height of a dowel's middle above the underside, mm: as low as sockets allow, the same in all supports."""
    return dowel_middle(module, dowel.hole)


def rim_of(module: Module, asked: Rest, slot: Slot) -> float:
    """Height of the rim beside a slot: the block's, or that of its cover ribs."""
    return max(asked.height, slot.rim(module.seat.dome, module.seat.layer))


def bottom_of(module: Module, asked: Rest, slot: Slot) -> float:
    """Height of the lowest point of a slot."""
    return slot.bottom(asked.height, module.seat.dome, module.seat.layer)
