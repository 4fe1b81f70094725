"""Trays and cradles cut to the bed: straight through on a cell border, glued while they stand on the liner as a jig."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from nookwright.cutting.lines import Cuts, grid_cuts, shares
from nookwright.cutting.model import Bed, CutPart, Piece
from nookwright.ground.sources import Fact, Kind
from nookwright.ground.tolerances import OVERSHOOT
from nookwright.module.seat import outer_size
from nookwright.shapes.regions import Rect
from nookwright.shapes.solids import Intersection, Move, Prism

if TYPE_CHECKING:
    from nookwright.module.module import Module
    from nookwright.parts.model import Part

GLUE_GAP = Fact(0.1, unit="mm", kind=Kind.COMMON_PRACTICE, source="Each face of a glued butt joint lies back by this.")


def uncut(part: Part) -> CutPart:
    """A part that is printed as one piece."""
    return CutPart(part, (Piece(part.name, part.recipe, 0.0, 0.0, part.plastic),), ())


def cut_tray(module: Module, part: Part, cols: int, rows: int, bed: Bed) -> CutPart | None:
    """A seated part and its pieces; ``None`` where it cannot be cut to the bed (too tall, or a cell too large).

    Args:
        module: the household's module.
        part: a tray or cradle.
        cols: footprint along x, cells.
        rows: footprint along y, cells.
        bed: room on the largest bed, mm.
    """
    width, depth, height = part.size
    if height > bed.height:
        return None
    if bed.holds(width, depth, height):
        return uncut(part)
    cuts = grid_cuts(cols, rows, bed, lambda cells: cells * module.pitch)
    if cuts is None:
        return None
    fields = _fields(cols, cuts[0], module.pitch), _fields(rows, cuts[1], module.pitch)
    count = len(fields[0]) * len(fields[1])
    pieces = tuple(
        _piece(part, (x0, x1), (y0, y1), number, count)
        for number, ((y0, y1), (x0, x1)) in enumerate(((y, x) for y in fields[1] for x in fields[0]), start=1)
    )
    return CutPart(part, pieces, ())


def _fields(cells: int, cuts: Cuts, pitch: float) -> tuple[tuple[float, float], ...]:
    """From where to where each piece reaches along one side of the part, mm."""
    length = outer_size(cells, pitch)
    inset = (cells * pitch - length) / 2
    return tuple(
        (
            0.0 if a == 0 else a * pitch - inset + GLUE_GAP,
            length if b == cells else b * pitch - inset - GLUE_GAP,
        )
        for a, b in shares(cells, cuts)
    )


def _piece(part: Part, along_x: tuple[float, float], along_y: tuple[float, float], number: int, count: int) -> Piece:
    """What of a part lies in one field."""
    (x0, x1), (y0, y1) = along_x, along_y
    width, depth, height = part.size
    field = Move(Prism(Rect(x1 - x0, y1 - y0), height + 2 * OVERSHOOT), x=x0, y=y0, z=-OVERSHOOT)
    share = (x1 - x0) * (y1 - y0) / (width * depth)
    plastic = part.plastic
    return Piece(
        name=f"{part.name} piece {number} of {count}",
        recipe=Move(Intersection((part.recipe, field)), x=-x0, y=-y0),
        x=x0,
        y=y0,
        plastic=replace(
            plastic,
            body_mm3=plastic.body_mm3 * share,
            sparse_mm3=plastic.sparse_mm3 * share,
            first_mm2=plastic.first_mm2 * share,
        ),
    )
