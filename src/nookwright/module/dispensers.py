"""A tray with a sliding lid in cells and heights: its grooves, its ledge, the least that it can be. No shapes.

A dispenser is such a tray with a slot in its lid, through which soft flat things are drawn one by one. Promise:
whatever ``dispenser_cells`` gives can be made; a test asks the part itself, over all sizes and pitches.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from nookwright.ground.sources import Fact, Kind
from nookwright.module.estimates import Plastic, tray_plastic
from nookwright.module.seat import outer_size, whole_layers
from nookwright.sizing.tray_needs import ROLLED_CORNER_ROOM
from nookwright.sizing.ways import SMOOTH_FILLET, TRAY_CLEARANCE

if TYPE_CHECKING:
    from nookwright.module.module import Module
    from nookwright.sizing.ways import Way

SIDE = Fact(0.3, unit="mm", kind=Kind.COMMON_PRACTICE, source="Clearance a side of two prints that slide.")
BOW_SHARE = Fact(0.004, unit="mm/mm", kind=Kind.COMMON_PRACTICE, source="Bow of a rim inwards, of the wall's length.")
KEPT = Fact(0.8, unit="mm", kind=Kind.CALCULATED, source="A lid pushed to one side still lies so deep in the other.")
EDGE = Fact(0.8, unit="mm", kind=Kind.CHOICE, source="Upright edge of the lid: four layers of 0.2.")
LIP = Fact(0.8, unit="mm", kind=Kind.CHOICE, source="Upright face of the leaning wall, four layers of 0.2.")
LONGEST = Fact(
    300.0, unit="mm", kind=Kind.CALCULATED, source="Grooves of 2 (0.3 + 0.004 L) + 0.8 in corners of 3.8 inside."
)
FLANGE = Fact(1.0, unit="mm", kind=Kind.CHOICE, source="Upright face under the ledge: the nose of the stop meets it.")
LID = Fact(2.0, unit="mm", kind=Kind.CALCULATED, source="Of a sliding lid: its edge of 0.8 and its bevel of 1.2.")
SLOT_LIP = Fact(
    4.0, unit="mm", kind=Kind.CHOICE, source="The lip round a slot reaches down by this: it keeps a stack down."
)
LEAST_INSIDE = Fact(2.0, unit="mm", kind=Kind.CHOICE, source="Upright wall left between fillet and swelling.")
SLOT_UNDER = Fact(0.6, unit="mm", kind=Kind.CHOICE, source="From the lip to the bottom of that gap.")
LEAST_WIDTH = Fact(70.0, unit="mm", kind=Kind.CALCULATED, source="Two tongues and a slot for sheets between them.")
LEAST_DEPTH = Fact(85.0, unit="mm", kind=Kind.CALCULATED, source="Thumb grip, tongues and a slot one behind the other.")


def side_clearance(length: float) -> float:
    """Clearance of a sliding lid on each side, mm.

    Args:
        length: of the walls that guide it, mm.

    >>> side_clearance(100), side_clearance(160)
    (0.7, 0.94)
    """
    return round(SIDE + BOW_SHARE * length, 4)


def groove_depth(length: float) -> float:
    """Depth of the grooves, mm: twice the clearance, and what stays in when the lid lies against one side.

    >>> groove_depth(100), groove_depth(160)
    (2.2, 2.68)
    """
    return round(2 * side_clearance(length) + KEPT, 4)


def sill_height(module: Module, rows: int, height: float) -> float:
    """Height of the ledge that a lid slides on, mm.

    Args:
        module: the household's module.
        rows: cells along the way that it slides.
        height: outer height of its tray, mm.
    """
    layer = module.seat.layer
    groove = groove_depth(outer_size(rows, module.pitch))
    return round(height - whole_layers(whole_layers(EDGE, layer) + groove + LIP, layer), 6)


def lip_depth(module: Module) -> float:
    """How far the lip round a slot reaches below the lid, mm."""
    return whole_layers(SLOT_LIP, module.seat.layer)


class DispenserCells(NamedTuple):
    """A dispenser on cells, the lid sliding along its rows, and its outer height, mm."""

    cols: int
    rows: int
    height: float


def dispenser_cells(module: Module, way: Way) -> DispenserCells | None:
    """The smallest dispenser for a stack; ``None`` where it would be longer than a lid can slide.

    The longer side of the stack lies along the way of the lid: along a shorter one it would jam before it opens.

    Args:
        module: the household's module.
        way: how the stack lies, its depth no less than its width.
    """
    rows = 1
    while outer_size(rows, module.pitch) <= LONGEST:
        if _cells_for(module, rows, way.thing.depth, LEAST_DEPTH) <= rows:
            cols = _cells_for(module, rows, way.thing.width, LEAST_WIDTH)
            return DispenserCells(cols, rows, _height(module, rows, way.stack_height))
        rows += 1
    return None


def _height(module: Module, rows: int, stack: float) -> float:
    """Outer height over a stack, mm: the lip reaches down to it; the wall has room for fillet, ledge and grooves."""
    groove, layer = groove_depth(outer_size(rows, module.pitch)), module.seat.layer
    wall = SMOOTH_FILLET + LEAST_INSIDE + whole_layers(FLANGE + groove, layer)
    lip = lip_depth(module)
    inside = max(stack + lip, SMOOTH_FILLET + whole_layers(lip + SLOT_UNDER, layer), wall)
    return module.height(module.seat.dome + inside - sill_height(module, rows, 0.0))


def _cells_for(module: Module, rows: int, side: float, least: float) -> int:
    """Fewest cells whose opening a side of a stack goes through, between grooves for so many rows.

    Its lowest sheet lies on the floor: between the rolls to the walls, with its corners clear of those of the floor.
    """
    ledges = 2 * groove_depth(outer_size(rows, module.pitch))
    cells = module.cells(side + max(TRAY_CLEARANCE + ledges, 2 * ROLLED_CORNER_ROOM))
    while outer_size(cells, module.pitch) < least:
        cells += 1
    return cells


def dispenser_plastic(module: Module, cols: int, rows: int, height: float) -> Plastic:
    """Plastic of a tray with grooves and of its lid, to about a tenth; slot, tongues and grip are left out.

    Args:
        module: the household's module.
        cols: footprint along x, cells.
        rows: the same along y, the way that the lid slides.
        height: outer height, mm.
    """
    plain = tray_plastic(module, cols, rows, height, smooth=True)
    width, depth = module.inner(cols), module.inner(rows)
    groove = groove_depth(outer_size(rows, module.pitch))
    ledge, lean = groove**2 / 2 + groove * FLANGE, groove**2 / 2 + groove * LIP
    rim = 2 * (width + depth) * ledge + (width + 2 * depth) * lean
    front = width * module.wall * (height - sill_height(module, rows, height))
    lid = (width - groove) * (depth - groove / 2) * LID
    body = plain.body_mm3 + rim - front + lid
    return Plastic(body, plain.sparse_mm3, plain.first_mm2 + width * depth, height + LID, plain.hops)
