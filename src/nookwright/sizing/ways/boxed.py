"""Lots kept in a box, tin or jar that the person has or can buy, which stands on a shoe.

The part is the shoe, so the box's foot decides the footprint. A lot goes into one box or is not offered it.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.sizing.ways.clearances import capacity, is_small
from nookwright.sizing.ways.handling import LAYER_TROUBLE, LID_TROUBLE
from nookwright.sizing.ways.heaps import heaped_mm3, is_heaped
from nookwright.sizing.ways.rows import HEAP, Kept, in_rows, staggered
from nookwright.sizing.ways.walls import LEAST_WALL, MOST_WALL
from nookwright.sizing.ways.way import Limits, PartKind, ThingSize, Way
from nookwright.survey.models import FloorStyle, Stance

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.sizing.things import Standing
    from nookwright.survey.layout_wishes import OwnBox
    from nookwright.survey.models import Lot

SHOE_AROUND = Fact(
    2.9, unit="mm", kind=Kind.CALCULATED, source="Clearance of 0.5 and a sleeve of 2.4 on each side of a box in a shoe."
)
SHOE_SHARE = Fact(
    0.15, unit="1", kind=Kind.COMMON_PRACTICE, source="Share of a box's height that its shoe holds; a box is stiff."
)
_ROUND = 1e-3  # mm; a foot whose corners are half its side is round


def is_round(box: OwnBox) -> bool:
    """Whether a box is round: its foot has no straight side."""
    return abs(box.width - box.depth) < _ROUND and 2 * box.foot_radius > box.width - _ROUND


def inside_of(box: OwnBox) -> tuple[float, float, float]:
    """Width, depth and height that things find in a box, mm; of a round one, those of the square in its circle.

    Args:
        box: the box.
    """
    width, depth, height = (side - 2 * box.wall for side in (box.width, box.depth, box.height))
    if is_round(box):
        width = depth = width / math.sqrt(2)
    return width, depth, height


def in_box(lot: Lot, standings: tuple[Standing, ...], box: OwnBox, limits: Limits) -> Way | None:
    """The handiest way to keep a whole lot in one box on a shoe; ``None`` where it does not go in.

    Args:
        lot: a loaded lot.
        standings: one of its things in every way that it may stand; none of what has no single things.
        box: the box.
        limits: the largest insides of the room.
    """
    around = 2 * SHOE_AROUND - 2 * limits.wall
    size = box.width + around, box.depth + around
    if max(size) > limits.length or box.height > limits.height:
        return None
    troubles = list(_troubles(lot, standings, box, limits))
    if not troubles:
        return None
    return Way(
        kind=PartKind.SHOE,
        stance=Stance.UPRIGHT,
        thing=ThingSize(box.width, box.depth, box.height, "z" if is_round(box) else ""),
        columns=1,
        rows=1,
        layers=1,
        pitch_x=size[0],
        pitch_y=size[1],
        inner_width=size[0],
        inner_depth=size[1],
        stack_height=box.height,
        wall_height=min(max(SHOE_SHARE * box.height, float(LEAST_WALL)), float(MOST_WALL)),
        floor=FloorStyle.SMOOTH,
        trouble=min(troubles) + (LID_TROUBLE if box.lid else 0.0),
        each=capacity(lot),
        box=box,
    )


def _troubles(lot: Lot, standings: tuple[Standing, ...], box: OwnBox, limits: Limits) -> Iterator[float]:
    """What it takes to get one thing out, for each way in which the lot goes into the box."""
    width, depth, height = inside_of(box)
    if min(width, depth, height) <= 0:
        return
    if is_heaped(lot, standings) or (standings and all(is_small(one) for one in standings)):
        level = heaped_mm3(lot, standings) / _floor_mm2(box)
        if level <= height:
            yield LAYER_TROUBLE * max(0, math.ceil(level / HEAP) - 1)
        return
    inner = Limits(max(width, depth), height, limits.wall, FloorStyle.SHELL)
    for standing in standings:
        kept = Kept(lot, standing, PartKind.TRAY, inner)
        for sketch in (*in_rows(kept), *staggered(kept)):
            if _goes_in(sketch.way, width, depth):
                yield sketch.trouble


def _floor_mm2(box: OwnBox) -> float:
    """Area of its floor inside, mm2; the rounding of its corners outside is taken off."""
    width, depth = box.width - 2 * box.wall, box.depth - 2 * box.wall
    return width * depth - (4 - math.pi) * max(0.0, box.foot_radius - box.wall) ** 2


def _goes_in(way: Way, width: float, depth: float) -> bool:
    """Whether things in rows lie inside a box, this way or turned."""
    sides = way.columns * way.pitch_x + way.edge_x, way.rows * way.pitch_y + way.edge_y
    return (sides[0] <= width and sides[1] <= depth) or (sides[0] <= depth and sides[1] <= width)
