"""How many openings a panel has: the genus of its surface, counted from its cells before any geometry is made.

Every cell is taken in four fields, one at each of its corners where straps run along rows and columns, one at each of
its sides where they run diagonally. Fields hang together across cell borders, and inside a cell where no strap parts
them. Each group of fields is one opening.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.layout.cells import holes
from nookwright.layout.liner import EDGE_INSET, PanelSpec, Side, Slot
from nookwright.module.pattern import Pattern
from nookwright.module.seat import PAD_RADIUS, STRAP_WIDTH
from nookwright.parts.liner.panel_members import land_size, strap_lines, stub_width

if TYPE_CHECKING:
    from collections.abc import Iterable

Step = tuple[int, int]
Field = tuple[int, int, int, int]  # column and row of the cell, and the direction of its corner or side

_ROOT2 = 2**0.5
_SIDES: dict[Step, Side] = {(-1, 0): Side.LEFT, (1, 0): Side.RIGHT, (0, -1): Side.FRONT, (0, 1): Side.BACK}


def openings(spec: PanelSpec, pitch: float) -> int:
    """Openings of a panel.

    Args:
        spec: the panel.
        pitch: cell size, mm.

    >>> openings(PanelSpec(2, 2, (), first_has_cone=True, slots=(), pattern=Pattern.EVERY_CELL), 18)
    9
    """
    inside = _of_chessboard(spec, pitch) if spec.pattern is Pattern.CHESSBOARD else _of_lines(spec)
    return inside + len(holes(spec.cols, spec.rows, spec.missing))


def _of_lines(spec: PanelSpec) -> int:
    """Straps along rows and columns; a plate around a slot fills the fields that it shares with a strap beside it."""
    there, (cols, rows) = set(spec.cells), strap_lines(spec)
    gone, closed = _plates(spec, cols, rows)
    fields = {
        (c, r, x, y)
        for c, r in there
        for x in (-1, 1)
        for y in (-1, 1)
        if not _banded(spec, (c, r), (x, 0)) and not _banded(spec, (c, r), (0, y))
    } - gone
    links: list[tuple[Field, Field]] = []
    for c, r, x, y in fields:
        links.append(((c, r, x, y), (c + x, r, -x, y)))
        links.append(((c, r, x, y), (c, r + y, x, -y)))
        if c not in cols:
            links.append(((c, r, x, y), (c, r, -x, y)))
        if r not in rows:
            links.append(((c, r, x, y), (c, r, x, -y)))
    return _groups(fields, (link for link in links if frozenset(link) not in closed))


def _banded(spec: PanelSpec, cell: Step, way: Step) -> bool:
    """Whether the frame fills half of a cell towards a side, since it lies back there off a cove."""
    outer = {
        (-1, 0): (cell[0] == 0, spec.set_back.left),
        (1, 0): (cell[0] == spec.cols - 1, spec.set_back.right),
        (0, -1): (cell[1] == 0, spec.set_back.front),
        (0, 1): (cell[1] == spec.rows - 1, spec.set_back.back),
    }[way]
    return outer[0] and outer[1] > 0


def _plates(spec: PanelSpec, cols: tuple[int, ...], rows: tuple[int, ...]) -> tuple[set[Field], set[frozenset[Field]]]:
    """Fields that the plates around the slots fill, and pairs of fields that they part."""
    gone: set[Field] = set()
    closed: set[frozenset[Field]] = set()
    for slot in spec.slots:
        pair = _beside_slot(spec, slot.side, slot.at)
        closed.add(frozenset(pair))
        lines, axis = (rows, 1) if slot.side.upright else (cols, 0)
        gone |= {field for field in pair if field[axis] in lines}
    return gone, closed


def _beside_slot(spec: PanelSpec, side: Side, at: int) -> tuple[Field, Field]:
    """The two fields at the panel's edge that meet at a slot."""
    if side.upright:
        col, x = (0, -1) if side is Side.LEFT else (spec.cols - 1, 1)
        return (col, at - 1, x, 1), (col, at, x, -1)
    row, y = (0, -1) if side is Side.FRONT else (spec.rows - 1, 1)
    return (at - 1, row, 1, y), (at, row, -1, y)


def _of_chessboard(spec: PanelSpec, pitch: float) -> int:
    """Diagonal straps part the cells with a cone; at an edge its stub parts what is left beside it."""
    there, cones = set(spec.cells), set(spec.cones)
    fields = {
        (c, r, x, y)
        for c, r in there
        for x, y in _SIDES
        if ((c, r) not in cones or (c + x, r + y) in there) and not _banded(spec, (c, r), (x, y))
    }
    links: list[tuple[Field, Field]] = []
    for c, r, x, y in fields:
        links.append(((c, r, x, y), (c + x, r + y, -x, -y)))
        if (c, r) not in cones:
            links += [((c, r, x, y), (c, r, *way)) for way in _SIDES]
    slits = sum(
        _slits(spec, pitch, (c, r), way) for c, r in cones for way in _SIDES if (c + way[0], r + way[1]) not in there
    )
    return _groups(fields, links) + slits


def _slits(spec: PanelSpec, pitch: float, cell: Step, way: Step) -> int:
    """Small openings between frame, stub, pad and straps of a cone at an edge: one on each side of the stub.

    A strap's flank at a distance d from the cone is d - w / sqrt(2) off the stub's middle, the pad's slanted side is
    at R sqrt(2) - d. A band fills those on its side, the plate of a slot those that it reaches over.
    """
    far = pitch / 2 - EDGE_INSET - STRAP_WIDTH
    pad = PAD_RADIUS * _ROOT2 - far if far < PAD_RADIUS else 0.0
    if _banded(spec, cell, way) or far - STRAP_WIDTH / _ROOT2 <= max(stub_width(pitch) / 2, pad):
        return 0
    beside = ((0, -1), (0, 1)) if way[0] else ((-1, 0), (1, 0))
    return sum(not _banded(spec, cell, one) and not _covered(spec, pitch, cell, way, one) for one in beside)


def _covered(spec: PanelSpec, pitch: float, cell: Step, way: Step, beside: Step) -> bool:
    """Whether the plate of a slot covers the slit at a side of a cone, on one side of its stub."""
    side = _SIDES[way]
    along, _ = land_size(spec, pitch)
    if along / 2 < pitch / 2 - stub_width(pitch) / 2 or not _at_edge(spec, cell, side):
        return False
    at = (cell[1] if side.upright else cell[0]) + (sum(beside) > 0)
    return Slot(side, at) in spec.slots


def _at_edge(spec: PanelSpec, cell: Step, side: Side) -> bool:
    """Whether a cell lies at a side of the bounding box, where slots are."""
    edge = {Side.LEFT: 0, Side.RIGHT: spec.cols - 1, Side.FRONT: 0, Side.BACK: spec.rows - 1}[side]
    return (cell[0] if side.upright else cell[1]) == edge


def _groups(fields: set[Field], links: Iterable[tuple[Field, Field]]) -> int:
    """How many groups of fields hang together."""
    above = {field: field for field in fields}

    def top(field: Field) -> Field:
        while above[field] != field:
            above[field] = above[above[field]]
            field = above[field]
        return field

    for one, other in links:
        if one in above and other in above:
            above[top(one)] = top(other)
    return sum(above[field] == field for field in fields)
