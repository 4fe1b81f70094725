"""Plastic of the part of a way in closed form, before there is a part: tray with its options, cradle, shoe.

Good to about a tenth of the part, like the forms that it is built on; loose dividers and name strips are counted with
their tray, which they are printed for.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.module.dispensers import dispenser_plastic
from nookwright.module.estimates import INFILL_SHARE, Plastic, tray_plastic
from nookwright.module.rest_plastic import rest_plastic
from nookwright.module.seat import outer_size
from nookwright.sizing.ways import LEAST_WALL, Arrangement, PartKind
from nookwright.sizing.ways.shared import divider_room
from nookwright.survey.models import FloorStyle

if TYPE_CHECKING:
    from nookwright.module.module import Module
    from nookwright.sizing.tray_needs import Parting, TrayNeeds
    from nookwright.sizing.ways import Way
    from nookwright.survey.layout_wishes import OwnBox

SLEEVE_CLEARANCE = Fact(
    0.5, unit="mm", kind=Kind.COMMON_PRACTICE, source="Of a box in its shoe, a side: it drops in by itself."
)
SLEEVE_WALL = Fact(2.4, unit="mm", kind=Kind.CHOICE, source="Of a shoe: two walls thick, one where it is chamfered.")
STRIP_STEP = Fact(
    2.8,
    unit="mm",
    kind=Kind.CALCULATED,
    source="A name strip and its place stand into a tray by this at layers of 0.2.",
)
SWEEP_REACH = Fact(
    1.19,
    unit="1",
    kind=Kind.CALCULATED,
    source="A swept front reaches back by this share of its rise: (sin 70 - sin 10) / (cos 10 - cos 70).",
)
STRIP_THICK = Fact(1.2, unit="mm", kind=Kind.CHOICE, source="Of a name strip: a wall.")


def plastic_of(module: Module, way: Way, cols: int, rows: int, height: float) -> Plastic:
    """What has to be laid for the part of a way.

    Args:
        module: the household's module.
        way: how the things stand.
        cols: footprint along x, cells.
        rows: the same along y.
        height: outer height, mm.
    """
    smooth = way.floor is FloorStyle.SMOOTH
    if way.box:
        return _shoe(module, way.box, cols, rows, height)
    if way.long:
        return rest_plastic(module, way.long)
    if way.drawn:
        return dispenser_plastic(module, cols, rows, height)
    plain = tray_plastic(module, cols, rows, height, smooth=smooth)
    if way.kind is PartKind.CRADLE:
        return _more(plain, (height - module.seat.dome) * _sleeves_mm2(module, way, cols, rows))
    return _more(plain, options_mm3(module, way, cols, rows, height))


def _more(plain: Plastic, body_mm3: float) -> Plastic:
    return replace(plain, body_mm3=plain.body_mm3 + body_mm3) if body_mm3 else plain


def options_mm3(module: Module, way: Way, cols: int, rows: int, height: float) -> float:
    """What dividers, a swept front and a name strip add to a plain tray, mm3.

    Args:
        module: the household's module.
        way: with what the options of its tray are.
        cols: footprint along x, cells.
        rows: the same along y.
        height: outer height, mm.
    """
    needs, width, depth = way.needs, module.inner(cols), module.inner(rows)
    floor = module.seat.dome if way.floor is FloorStyle.SMOOTH else module.seat.shell_floor
    high = max(0.0, height - floor - needs.below_rim)
    total = high * (_parted(needs.columns, depth) + _parted(needs.rows, width))
    if way.compartments and needs.columns.fixed:
        total += high * (len(way.compartments) - 1) * divider_room(needs, module.wall) * depth
    strip_mm3 = _strip_mm3(needs, width, module.wall)
    return total + strip_mm3 + width * _laid_mm2(_swept_mm2(needs, depth, height - floor), module.wall)


def _parted(parting: Parting, length: float) -> float:
    """Area of all dividers of one side in plan, mm2."""
    return max(parting.compartments - 1, len(parting.at)) * parting.thick * length if parting.thick else 0.0


def _swept_mm2(needs: TrayNeeds, depth: float, rise: float) -> float:
    """Section of what fills a swept front: it grows with the square of what it takes, until the rim ends it."""
    if not (needs.swept_mm2 and needs.rows.front):
        return 0.0
    taken = min(needs.rows.spans(depth)[0][0], rise * SWEEP_REACH)
    return needs.swept_mm2 * (max(taken, needs.rows.front) / needs.rows.front) ** 2


def _laid_mm2(section_mm2: float, skin: float) -> float:
    """What is laid of a section like a triangle with equal legs: its skin, and an infill inside that."""
    incircle = math.sqrt(2 * section_mm2) * (1 - 1 / math.sqrt(2))
    inside = max(0.0, 1 - skin / incircle) ** 2 if section_mm2 else 0.0
    return section_mm2 * (1 - inside * (1 - INFILL_SHARE))


def _strip_mm3(needs: TrayNeeds, width: float, wall: float) -> float:
    """A name strip and its place."""
    length, high = needs.strip
    place = STRIP_STEP * (STRIP_STEP / 2 + wall)
    return min(length, width) * (place + STRIP_THICK * high) if high else 0.0


def _sleeves_mm2(module: Module, way: Way, cols: int, rows: int) -> float:
    """Area in plan of a cradle's sleeves and of what is seen of its ribs, mm2."""
    wall, inner = module.wall, way.pocket / 2
    outer, lens = inner + wall, 4 / 3 * math.sqrt((inner + wall) * wall) * wall
    second = way.columns - way.short
    beside = sum((second if row % 2 else way.columns) - 1 for row in range(way.rows))
    behind = (way.rows - 1) * (way.columns + second - 1 if _staggered(way) else way.columns)
    rings = way.places * math.pi * (outer**2 - inner**2) - (beside + behind) * lens
    lines = way.rows * outer_size(cols, module.pitch) + way.columns * outer_size(rows, module.pitch)
    standing = -(-way.rows // 2) * way.columns if _staggered(way) else way.places
    hidden = 2 * outer * (way.places + standing)
    return max(0.0, rings) + max(0.0, lines - hidden) * wall


def _staggered(way: Way) -> bool:
    return way.arrangement is Arrangement.STAGGERED


def _shoe(module: Module, box: OwnBox, cols: int, rows: int, height: float) -> Plastic:
    """A smooth floor, and a sleeve round the foot of the box instead of the walls of a tray."""
    floor = tray_plastic(module, cols, rows, module.seat.dome, smooth=True)
    square = 2 * (box.width + box.depth)
    around = square - (8 - 2 * math.pi) * box.foot_radius + math.pi * (2 * SLEEVE_CLEARANCE + SLEEVE_WALL)
    sleeve = around * SLEEVE_WALL * max(float(LEAST_WALL), height - module.seat.dome)
    return replace(floor, body_mm3=floor.body_mm3 + sleeve, height=height)
