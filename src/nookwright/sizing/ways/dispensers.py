"""Soft flat things in a stack under a lid with a slot, through which they are drawn one by one with one hand.

The stack is put in past the ledge that the lid slides on, so it is the opening there that counts, not the inside. How
far a ledge reaches in hangs on the length of its lid, which is known when there are cells; here the usual is taken.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.sizing.ways.clearances import TRAY_CLEARANCE, capacity
from nookwright.sizing.ways.way import PartKind, ThingSize, Way
from nookwright.survey.dispensed import Dispensed
from nookwright.survey.models import FloorStyle, Shape, Stance

if TYPE_CHECKING:
    from nookwright.sizing.things import Standing
    from nookwright.sizing.ways.way import Limits
    from nookwright.survey.models import Lot

LEDGE = Fact(
    2.8, unit="mm", kind=Kind.CALCULATED, source="A ledge reaches in by this on each side: grooves of a lid of 180."
)
ABOVE = Fact(10.0, unit="mm", kind=Kind.CALCULATED, source="Over a stack: the lip of the slot, lid and grooves, about.")


def in_dispenser(lot: Lot, standings: tuple[Standing, ...], limits: Limits) -> Way | None:
    """A dispenser for a whole lot in one stack; ``None`` where it is too high or too large for any space.

    Args:
        lot: a loaded lot.
        standings: one of its things in every way that it may stand.
        limits: the largest insides of the room.
    """
    flat = Stance.LYING if lot.shape is Shape.FLAT else Stance.UPRIGHT
    standing = next((one for one in standings if one.stance is flat and not one.round_axis), None)
    if standing is None:
        return None
    short, long = sorted((standing.width, standing.depth))
    layers, around = capacity(lot), 2 * LEDGE + TRAY_CLEARANCE
    stack = layers * standing.height
    if long + around > limits.length or stack + ABOVE > limits.height:
        return None
    return Way(
        kind=PartKind.DISPENSER,
        stance=flat,
        thing=ThingSize(short, long, standing.height, ""),
        columns=1,
        rows=1,
        layers=layers,
        pitch_x=short + around,
        pitch_y=long + around,
        inner_width=short + around,
        inner_depth=long + around,
        stack_height=stack,
        wall_height=stack + ABOVE,
        floor=FloorStyle.SMOOTH,
        trouble=0.0,
        drawn=lot.dispenses or (Dispensed.SHEETS if lot.shape is Shape.FLAT else Dispensed.GLOVES),
    )
