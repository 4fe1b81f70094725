"""Which fillers of a liner are more than plain strips: tall where things would fall, sprung on one side."""

from __future__ import annotations

import math
from dataclasses import replace

from nookwright.ground.sources import Fact, Kind
from nookwright.layout.liner_model import FillerForm, Liner, PlacedFiller, Side
from nookwright.module.floor import GROWTH_SHARE, SLACK

WORTH_FILLING = Fact(
    8.0, unit="mm", kind=Kind.CALCULATED, source="Narrower gaps beside trays let no finger-sized thing through."
)
TRAVEL_STEP = Fact(0.1, unit="mm", kind=Kind.CHOICE, source="Travels are rounded up to this.")


def worth_a_tall_one(rest: float) -> bool:
    """Whether a rest beside the trays gets a tall filler.

    Args:
        rest: width between trays and wall, mm.

    >>> worth_a_tall_one(8.0), worth_a_tall_one(8.1)
    (False, True)
    """
    return rest > WORTH_FILLING


def travel_for(length: float) -> float:
    """Travel of a sprung filler that takes up the slack of a space, mm: 1 mm and 0.15 % of its length, rounded up.

    Args:
        length: of the space across the filler, mm.

    >>> travel_for(400), travel_for(500)
    (1.6, 1.8)
    """
    return round(math.ceil(round((SLACK + GROWTH_SHARE * length) / TRAVEL_STEP, 6)) * TRAVEL_STEP, 6)


def with_tall_fillers(liner: Liner, height: float) -> Liner:
    """The liner with a tall filler wherever a gap beside the trays is worth it.

    Args:
        liner: of a space.
        height: of tall fillers above the floor of the space, mm, in whole layers.
    """
    return Liner(liner.panels, tuple(_taller(placed, height) for placed in liner.fillers))


def _taller(placed: PlacedFiller, height: float) -> PlacedFiller:
    if not worth_a_tall_one(placed.spec.width):
        return placed
    return replace(placed, spec=replace(placed.spec, form=FillerForm.TALL, height=height))


def with_sprung_side(liner: Liner, side: Side, length: float) -> Liner:
    """The liner with sprung fillers on one side; the other three stay rigid.

    Args:
        liner: of a space.
        side: where; the side away from the hand is best.
        length: of the space across that side's fillers, mm.
    """
    travel = travel_for(length)
    fillers = tuple(
        replace(placed, spec=replace(placed.spec, form=FillerForm.SPRUNG, travel=travel))
        if placed.side is side
        else placed
        for placed in liner.fillers
    )
    return Liner(liner.panels, fillers)
