"""Which fillers of a liner are more than plain strips: tall where things would fall, sprung on one side."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.layout.liner_model import EDGE_INSET, FillerForm, FillerSpec, Liner, PlacedFiller, Side
from nookwright.module.floor import GROWTH_SHARE, SLACK

if TYPE_CHECKING:
    from collections.abc import Sequence

WORTH_FILLING = Fact(
    8.0, unit="mm", kind=Kind.CALCULATED, source="Narrower gaps beside trays let no finger-sized thing through."
)
TRAVEL_STEP = Fact(0.1, unit="mm", kind=Kind.CHOICE, source="Travels are rounded up to this.")
LEAF = Fact(1.2, unit="mm", kind=Kind.CHOICE, source="Thickness of a leaf: the same whole lines as a wall.")
STRAIN_AIM = Fact(
    0.005, unit="1", kind=Kind.CHOICE, source="Leaves are made so long that two thirds of the strain limit are used."
)
NUB = Fact(2.0, unit="mm", kind=Kind.CHOICE, source="Length of a nub along the wall: five lines.")
POST = Fact(6.0, unit="mm", kind=Kind.CHOICE, source="Length of a post along the wall: stiff against its leaves.")
BEHIND_LEAF = Fact(
    0.5, unit="mm", kind=Kind.CALCULATED, source="Of gap that is left behind a pressed leaf: two spread layers."
)
LEAST_BODY = Fact(2.4, unit="mm", kind=Kind.CHOICE, source="Behind the gap the strip is two walls wide or more.")
APART = Fact(1.0, unit="mm", kind=Kind.CHOICE, source="Between the ends of two leaves, or of a leaf and the strip.")
SPRING_SIDES = (Side.BACK, Side.RIGHT, Side.LEFT, Side.FRONT)  # away from the hand first


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


def leaf_length(travel: float) -> float:
    """Free length of a leaf from its post to its end, whole mm: where 1.5 h Y / L^2 is the strain aimed at.

    Args:
        travel: of its nub, mm.

    >>> leaf_length(1.6)
    25.0
    """
    return math.ceil(math.sqrt(1.5 * LEAF * travel / STRAIN_AIM) + NUB / 2) + 0.0


def spring_length(travel: float) -> float:
    """Length of a spring along the wall: a post and two leaves, mm."""
    return POST + 2 * leaf_length(travel)


def least_spring_length(travel: float) -> float:
    """The shortest filler that has room for a spring, mm."""
    return spring_length(travel) + APART


def least_spring_width(travel: float) -> float:
    """The narrowest filler in which leaf, gap and strip lie side by side, mm."""
    return EDGE_INSET + LEAF + travel + BEHIND_LEAF + LEAST_BODY


def has_room_for_spring(spec: FillerSpec, travel: float) -> bool:
    """Whether a plain filler could be sprung.

    Args:
        spec: the filler.
        travel: of the spring, mm.
    """
    return spec.width >= least_spring_width(travel) and spec.length >= least_spring_length(travel)


def with_tall_fillers(liner: Liner, heights: Sequence[float]) -> Liner:
    """The liner with a tall filler wherever a gap beside the trays is worth it.

    Args:
        liner: of a space.
        heights: for each of its fillers how high a tall one would be above the floor of the space, mm, in whole
            layers; 0 where nothing stands beside it.
    """
    pairs = zip(liner.fillers, heights, strict=True)
    return Liner(liner.panels, tuple(_taller(placed, height) for placed, height in pairs))


def _taller(placed: PlacedFiller, height: float) -> PlacedFiller:
    if not height or not worth_a_tall_one(placed.spec.width):
        return placed
    return replace(placed, spec=replace(placed.spec, form=FillerForm.TALL, height=height))


def sprung_side(liner: Liner, width: float, depth: float) -> Side | None:
    """The side of a liner that gets springs: the first, away from the hand, with a filler that has room for one.

    Args:
        liner: of a space.
        width: of the space, mm.
        depth: of it, mm.
    """
    for side in SPRING_SIDES:
        travel = travel_for(width if side.upright else depth)
        if any(placed.side is side and has_room_for_spring(placed.spec, travel) for placed in liner.fillers):
            return side
    return None


def with_sprung_side(liner: Liner, side: Side, length: float) -> Liner:
    """The liner with sprung fillers on one side, where they have room for it; the other three stay rigid.

    Args:
        liner: of a space.
        side: where; the side away from the hand is best.
        length: of the space across that side's fillers, mm.
    """
    travel = travel_for(length)
    fillers = tuple(
        replace(placed, spec=replace(placed.spec, form=FillerForm.SPRUNG, travel=travel))
        if placed.side is side and has_room_for_spring(placed.spec, travel)
        else placed
        for placed in liner.fillers
    )
    return Liner(liner.panels, fillers)
