"""Plastic of a whole rest in closed form, before there are parts: two supports, and the guards between them.

Good to about a tenth of the parts: guards are counted as one where they are printed as two, chamfers are left out.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

from nookwright.module.estimates import SKIN_LAYERS_ABOVE, Plastic, sockets_mm3, sparse_floor_mm3
from nookwright.module.floor import CORNER_RADIUS
from nookwright.module.rests import (
    BLADE_PLAY,
    LEAST_WEB,
    SUPPORT_ROWS,
    TOOL_PLAY,
    USUAL_DOWEL,
    WOOD_LOOSE,
    blade_bottom,
    columns_of,
    half_of,
    needs_of,
    rest_cells,
)
from nookwright.module.seat import outer_size, whole_layers

if TYPE_CHECKING:
    from nookwright.module.module import Module
    from nookwright.sizing.ways import LongThings

_SUPPORTS = 2


class _Slots(NamedTuple):
    """The slots of one block: how many, their width, where they end below, up to where ribs or the block hold them.

    ``round_mm2`` is what the round bottom of a U leaves of its corners.
    """

    number: int
    half: float
    width: float
    bottom: float
    rim: float
    round_mm2: float


def rest_plastic(module: Module, things: LongThings) -> Plastic:
    """What has to be laid for all parts of a rest; nothing where there is none for these things.

    Args:
        module: the household's module.
        things: what lies in it.
    """
    cells, half = rest_cells(module, things), half_of(things)
    if cells is None:
        return Plastic(0.0, 0.0, 0.0, 0.0, 0.0)
    play = BLADE_PLAY if things.bladed else TOOL_PLAY
    bottom = blade_bottom(module, things.drop) if things.bladed else cells.tall - things.high
    left = 0.0 if things.bladed else (2 - math.pi / 2) * half**2
    slots = _Slots(things.count, half, things.across + play, bottom, cells.height, left)
    rows = int(SUPPORT_ROWS)
    blocks = [(_block(module, cells.cols, rows, cells.block, slots, bored=True), _SUPPORTS)]
    gap = cells.last - rows
    if things.bladed and gap > 0:
        (_, wide), *_ = columns_of([needs_of(things)], module.pitch)
        low = whole_layers(bottom + LEAST_WEB, module.seat.layer)
        blocks.append((_block(module, wide, gap, low, slots._replace(number=1)), things.count))
    return Plastic(
        body_mm3=sum(one.body_mm3 * count for one, count in blocks),
        sparse_mm3=sum(one.sparse_mm3 * count for one, count in blocks),
        first_mm2=sum(one.first_mm2 * count for one, count in blocks),
        height=cells.height,
        hops=0.0,
    )


def _block(module: Module, cols: int, rows: int, height: float, slots: _Slots, *, bored: bool = False) -> Plastic:
    """One block with its slots, and the ribs beside what stands higher."""
    seat, pitch, wall = module.seat, module.pitch, module.wall
    width, depth = outer_size(cols, pitch), outer_size(rows, pitch)
    plan = width * depth - (4 - math.pi) * CORNER_RADIUS**2
    cut = slots.number * (slots.width * (min(height, slots.rim) - slots.bottom) - slots.round_mm2) * depth
    ribs = slots.number * (2 * (slots.half + wall) - slots.width) * max(0.0, slots.rim - height) * depth
    holes = _SUPPORTS * math.pi / 4 * (USUAL_DOWEL + WOOD_LOOSE) ** 2 * depth if bored else 0.0
    inside = (width - 2 * wall - slots.number * 2 * (slots.half + wall)) * (depth - 2 * wall)
    above = max(0.0, height - SKIN_LAYERS_ABOVE * seat.layer - seat.dome)
    return Plastic(
        body_mm3=plan * height + ribs - cut - holes - sockets_mm3(seat, cols, rows, pitch),
        sparse_mm3=max(0.0, inside) * above + sparse_floor_mm3(seat, cols, rows, pitch),
        first_mm2=width * depth - cols * rows * math.pi * seat.cone_base**2,
        height=max(height, slots.rim),
        hops=0.0,
    )
