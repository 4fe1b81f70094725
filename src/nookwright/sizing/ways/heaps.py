"""Things kept loose, by volume: a low heap in a tray, in a range of footprints; no thing has a place of its own.

Bulk is measured as it lies, so its volume is taken as it is said. Of small things that are counted, the heap is worked
out from the body of one: poured, they fill little more than half of the room.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.sizing.tray_needs import PLAIN, ROLLED_CORNER_ROOM
from nookwright.sizing.ways.clearances import HAND_WIDTH, SMOOTH_FILLET, TRAY_CLEARANCE, capacity, is_small
from nookwright.sizing.ways.rows import HEAP
from nookwright.sizing.ways.walls import lying_wall
from nookwright.sizing.ways.way import Arrangement, PartKind, ThingSize, Way
from nookwright.survey.models import FloorStyle, Keep, Lot, Shape, Stance

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.sizing.things import Standing
    from nookwright.sizing.tray_needs import Parting, TrayNeeds
    from nookwright.sizing.ways.way import Limits

POURED = Fact(
    0.55,
    unit="1",
    kind=Kind.HANDBOOK,
    source="Random loose packing of spheres, Onoda and Liniger 1990: 0.555; what is poured lies no closer.",
)
SLENDER_POURED = Fact(
    5.4,
    unit="1",
    kind=Kind.MEMORY,
    source="Random packing of long rods, Philipse 1996: share filled times length by diameter is 5.4.",
)
HEAPED_FROM = Fact(
    30, unit="1", kind=Kind.CHOICE, source="Nobody lays more small things than this in rows; they are poured."
)
INSIDE_CORNER = Fact(3.8, unit="mm", kind=Kind.CALCULATED, source="Corner of 5 outside less a wall of 1.2.")
MM3_PER_ML = Fact(1000.0, unit="mm3/ml", kind=Kind.STANDARD, source="SI.")
_LEVELS = (1.0, 2 / 3, 1 / 2)  # of the highest heap
_SIDES = (1 / 3, 1 / 2, 2 / 3, 1.0, 3 / 2, 2.0, 3.0)  # width by depth


def is_heaped(lot: Lot, standings: tuple[Standing, ...]) -> bool:
    """Whether a lot is poured into its tray: because the person says so, or because its things are small and many.

    Args:
        lot: a loaded lot.
        standings: one of its things in every way that it may stand; none of what has no single things.
    """
    if lot.shape is Shape.LOOSE or lot.keep is Keep.LOOSE:
        return True
    poured = lot.shape is not Shape.FLAT and lot.stands is None and lot.keep in (Keep.ANY, Keep.TRAY)
    return poured and capacity(lot) > HEAPED_FROM and all(is_small(one) for one in standings)


def heaped_mm3(lot: Lot, standings: tuple[Standing, ...]) -> float:
    """Volume that a lot takes when it is poured, room to grow included, mm3.

    Args:
        lot: a loaded lot.
        standings: one of its things in every way that it may stand; none of what has no single things.
    """
    if lot.shape is Shape.LOOSE or not standings:
        return (lot.volume_ml or 0.0) * MM3_PER_ML * lot.count * (1 + lot.grow_percent / 100)
    one = standings[0]
    return capacity(lot) * _body_mm3(one) / poured_share(one)


def poured_share(standing: Standing) -> float:
    """Share of a heap that is filled by its things, between 0 and 1.

    Args:
        standing: one thing.

    >>> from nookwright.sizing.things import Standing
    >>> from nookwright.survey.models import Stance
    >>> cube = Standing(Stance.UPRIGHT, 10.0, 10.0, 10.0, "")
    >>> rod = Standing(Stance.LYING, 100.0, 5.0, 5.0, "x")
    >>> poured_share(cube), poured_share(rod)
    (0.55, 0.27)
    """
    thin, _, long = sorted((standing.width, standing.depth, standing.height))
    return min(float(POURED), SLENDER_POURED * thin / long)


def _body_mm3(standing: Standing) -> float:
    box = standing.width * standing.depth * standing.height
    return box * math.pi / 4 if standing.round_axis else box


def heaps(lot: Lot, standings: tuple[Standing, ...], limits: Limits, needs: TrayNeeds = PLAIN) -> Iterator[Way]:
    """Low heaps of several levels and footprints that hold the lot.

    Args:
        lot: a loaded lot.
        standings: one of its things in every way that it may stand; none of what has no single things.
        limits: the largest insides of the room.
        needs: what the options of its tray take.
    """
    volume = heaped_mm3(lot, standings)
    least = max(float(HAND_WIDTH), _longest(standings) + TRAY_CLEARANCE)
    seen: set[tuple[float, float]] = set()
    for share in _LEVELS:
        level = min(HEAP * share, limits.height - needs.inlay)
        for ratio in _SIDES if level > 0 else ():
            sides = _sides(volume, level, ratio, least)
            inside = _with_options(sides, needs)
            if inside not in seen and max(inside) <= limits.length:
                seen.add(inside)
                yield _heap(lot, sides, inside, volume, needs=needs)


def _longest(standings: tuple[Standing, ...]) -> float:
    return max((max(one.width, one.depth, one.height) for one in standings), default=0.0)


def _sides(volume: float, level: float, ratio: float, least: float) -> tuple[float, float]:
    """Inside of a tray that holds a volume at a level, in about a ratio of its sides, none shorter than the least."""
    corners = (4 - math.pi) * INSIDE_CORNER**2
    area = volume / level + corners
    roll = (1 - math.pi / 4) * SMOOTH_FILLET**2 / level  # of each mm of wall, spread over the level
    width = max(least, math.sqrt(area * ratio) + 2 * roll)
    depth = max(least, (area + 2 * roll * width) / (width - 2 * roll))
    if depth == least:
        width = max(least, (area + 2 * roll * depth) / (depth - 2 * roll))
    return width, depth


def _with_options(sides: tuple[float, float], needs: TrayNeeds) -> tuple[float, float]:
    """The inside with what dividers and the front take."""
    return (
        max(_parted(sides[0], needs.columns), needs.least_width),
        max(_parted(sides[1], needs.rows), needs.least_depth),
    )


def _parted(clear: float, parting: Parting) -> float:
    """One side that leaves so much clear in all its compartments together, mm."""
    dividers = max(parting.compartments - 1, len(parting.at))
    taken = dividers * max(parting.guide, parting.thick) + parting.front
    shared = clear / (1 - parting.front_share / max(1, parting.compartments)) if parting.front_share else clear
    return max(shared + taken, parting.least_clear * (dividers + 1) + taken, (parting.at or (0.0,))[-1] + clear)


def level_of(volume: float, width: float, depth: float) -> float:
    """How high a volume lies in a tray of this inside, mm.

    Args:
        volume: as poured, mm3.
        width: inside, mm.
        depth: inside, mm.
    """
    rolls = (1 - math.pi / 4) * SMOOTH_FILLET**2 * 2 * (width + depth)
    return (volume + rolls) / (width * depth - (4 - math.pi) * INSIDE_CORNER**2)


def _heap(lot: Lot, sides: tuple[float, float], inside: tuple[float, float], volume: float, *, needs: TrayNeeds) -> Way:
    """A tray with a heap in each of its compartments."""
    level, edge = level_of(volume, *sides), 2 * float(ROLLED_CORNER_ROOM)
    across, back = needs.columns.spans(inside[0]), needs.rows.spans(inside[1])
    width, depth = (max(1.0, min(end - start for start, end in spans) - edge) for spans in (across, back))
    return Way(
        kind=PartKind.TRAY,
        stance=Stance.LYING,
        thing=ThingSize(width, depth, level, ""),
        columns=len(across),
        rows=len(back),
        layers=1,
        pitch_x=width,
        pitch_y=depth,
        inner_width=inside[0],
        inner_depth=inside[1],
        stack_height=level + needs.inlay,
        wall_height=max(lying_wall(level) + needs.inlay, needs.least_wall),
        floor=lot.floor or FloorStyle.SMOOTH,
        trouble=0.0,
        edge=edge,
        needs=needs,
        arrangement=Arrangement.HEAP,
        each=math.ceil(capacity(lot) / (len(across) * len(back))),
    )
