"""A whole rest in cells: how wide and long it is, where its two supports stand, how high it is. No shapes.

Long things lie side by side along y, each in the middle of cells of its own, with a free column of cells between two of
them and at both sides: there fingers, handles and dowels have room. A blade has its first support at the heel and its
last at the tip, and its handle before them; a shaft lies on the points where an even bar sags least.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.module.floor import CORNER_RADIUS
from nookwright.module.seat import outer_size, whole_layers

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nookwright.module.module import Module
    from nookwright.sizing.ways import LongThings

UNDER = Fact(
    1.2, unit="mm", kind=Kind.CHOICE, source="Plastic below a slot, over the roofs of the sockets: six layers of 0.2."
)
COVER = Fact(
    3.0, unit="mm", kind=Kind.CHOICE, source="A blade lies this deep below the rim: a fingertip does not find its back."
)
BLADE_PLAY = Fact(
    0.8, unit="mm", kind=Kind.COMMON_PRACTICE, source="A slot is wider than a blade by this: it drops in, and stands."
)
HANDLE_CLEAR = Fact(
    4.0, unit="mm", kind=Kind.CALCULATED, source="A handle hangs over the straps by this: cones of 3, and 1 of air."
)
MOUTH = Fact(
    1.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="A chamfer at 45 degrees on both sides of a blade's slot."
)
TOOL_PLAY = Fact(0.8, unit="mm", kind=Kind.COMMON_PRACTICE, source="A U is wider than its tool by this.")
DEEP_SHARE = Fact(0.75, unit="1", kind=Kind.CHOICE, source="A U takes in this share of its tool: it does not roll out.")
LEAST_WEB = Fact(
    2.0, unit="mm", kind=Kind.CHOICE, source="Plastic between slots, holes and sides: skins on both sides meet."
)
TIP_INSIDE = Fact(
    3.0, unit="mm", kind=Kind.MEMORY, source="ISO 13857: through a slot up to 4 wide a fingertip reaches 2; 1 to spare."
)
BESSEL = Fact(
    0.2203, unit="1", kind=Kind.HANDBOOK, source="Bessel points of an even bar on two supports, share from each end."
)
USUAL_DOWEL = Fact(8.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="The dowel that every shop has.")
WOOD_LOOSE = Fact(
    0.4, unit="mm", kind=Kind.CALCULATED, source="Hole over a wood dowel: maker's +0.13 and 0.25 for a printed hole."
)
SUPPORT_ROWS = Fact(2, unit="cells", kind=Kind.CHOICE, source="A support as deep as two cells stands by itself.")
LEAST_GUARD = Fact(2, unit="cells", kind=Kind.CALCULATED, source="A guard of one cell may stand beside every cone.")
LENGTH_PLAY = Fact(
    2.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="At each end of a long thing, to the parts before and behind it."
)


@dataclass(frozen=True)
class RestCells:
    """A whole rest on its cells, as it is designed: things along y, handles to the front.

    Attributes:
        cols: width in cells.
        rows: length in cells, handles and overhangs included.
        lead: cells before the first support.
        last: first cell of the last support, from that of the first.
        block: height of a support without the ribs beside a blade, mm.
        height: of its parts, mm.
        tall: of its parts and of what lies in them, mm.
    """

    cols: int
    rows: int
    lead: int
    last: int
    block: float
    height: float
    tall: float


def rest_cells(module: Module, things: LongThings) -> RestCells | None:
    """A whole rest for some long things; ``None`` where they are too short or their handles too thick for it.

    Args:
        module: the household's module.
        things: what lies in it.
    """
    pitch, rows = module.pitch, int(SUPPORT_ROWS)
    first, wide = columns_of([needs_of(things)] * things.count, pitch)[-1]
    last = span_of(things, pitch, rows)
    most = wide + (1 if things.count > 1 else 2)  # columns that a handle has to itself
    reach = outer_size(last + rows, pitch)
    short = last < rows or not (things.bladed or things.length > reach)
    if short or things.handle_thick + LENGTH_PLAY > most * pitch:
        return None
    if things.bladed:
        lead, behind = _cells(things.handle_length + LENGTH_PLAY if things.handle_length else 0.0, pitch), 0
    else:
        lead = behind = _cells((things.length - reach) / 2 + LENGTH_PLAY, pitch)
    bottom, rim, block = _heights(module, things)
    tall = max(rim, bottom - things.drop + things.handle_high, bottom + things.high)
    return RestCells(first + wide + 1, lead + last + rows + behind, lead, last, block, rim, round(tall, 6))


def _cells(length: float, pitch: float) -> int:
    return max(0, math.ceil(round(length / pitch, 6)))


def needs_of(things: LongThings) -> tuple[float, float]:
    """Half the width of a slot, and the least width of a guard, mm."""
    return half_of(things), guarded(things.across) if things.bladed else 0.0


def half_of(things: LongThings) -> float:
    """Half the width of a slot at its rim, mm."""
    if things.bladed:
        return (things.across + BLADE_PLAY) / 2 + MOUTH
    return (things.across + TOOL_PLAY) / 2


def guarded(spine: float) -> float:
    """Least width of a guard beside a blade, mm: its corners are round, and the slot leaves them whole."""
    return spine + BLADE_PLAY + 2 * CORNER_RADIUS


def columns_of(needs: Sequence[tuple[float, float]], pitch: float) -> tuple[tuple[int, int], ...]:
    """First column of each thing, and how many it takes; a free one stands between two and at both sides.

    Args:
        needs: of each thing, from left to right: half the width of its slot, and the least width of its guard, 0 for
            none, mm.
        pitch: cell size, mm.

    >>> columns_of([(2.4, 12.0), (2.4, 18.0), (12.0, 0.0)], 18.0)
    ((1, 1), (3, 2), (6, 2))
    """
    found, at = [], 1
    for half, guard in needs:
        wide = math.ceil((2 * half + 2 * LEAST_WEB) / pitch)
        while outer_size(wide, pitch) < guard:
            wide += 1
        found.append((at, wide))
        at += wide + 1
    return tuple(found)


def span_of(things: LongThings, pitch: float, rows: int) -> int:
    """First cell of the second of two supports.

    Args:
        things: what lies on them.
        pitch: cell size, mm.
        rows: cells of one support along the things.
    """
    if things.bladed:
        return blade_span(things.length, pitch, rows)
    return round((1 - 2 * BESSEL) * things.length / pitch)


def blade_span(length: float, pitch: float, rows: int) -> int:
    """First cell of the support at the tip of a blade, whose heel is at the front of the first one.

    Args:
        length: of the blade, mm.
        pitch: cell size, mm.
        rows: cells of one support along the blade.

    >>> blade_span(205.0, 18.0, 2)
    10
    """
    last = 0
    while outer_size(last + rows, pitch) < length + TIP_INSIDE:
        last += 1
    return last + 1 if 0 < last - rows < LEAST_GUARD else last


def dowel_middle(module: Module, hole: float) -> float:
    """Height of a dowel's middle above the underside, mm: as low as sockets allow, the same in all supports."""
    return whole_layers(module.seat.dome + UNDER + hole / 2, module.seat.layer)


def block_height(module: Module, hole: float, slots: Sequence[float]) -> float:
    """Height of a support, ribs not counted, mm.

    Args:
        module: the household's module.
        hole: diameter of the dowels' holes, mm.
        slots: what each slot needs, mm.
    """
    over = dowel_middle(module, hole) + hole / 2 + LEAST_WEB
    return max(whole_layers(over, module.seat.layer), *slots)


def blade_bottom(module: Module, drop: float) -> float:
    """Height of a blade's edge above the underside, mm: over the sockets, and so high that the handle hangs free."""
    return whole_layers(max(module.seat.dome + UNDER, drop + HANDLE_CLEAR), module.seat.layer)


def _heights(module: Module, things: LongThings) -> tuple[float, float, float]:
    """Bottom of the slots, top of the parts, and height of a support's block, mm."""
    dome, layer, hole = module.seat.dome, module.seat.layer, USUAL_DOWEL + WOOD_LOOSE
    if things.bladed:
        bottom = blade_bottom(module, things.drop)
        block = block_height(module, hole, [whole_layers(bottom + LEAST_WEB, layer)])
        return bottom, max(block, whole_layers(bottom + things.high + COVER, layer)), block
    depth = round(max(DEEP_SHARE * things.across, half_of(things)), 4)
    block = block_height(module, hole, [whole_layers(dome + UNDER + depth, layer)])
    return block - depth, block, block
