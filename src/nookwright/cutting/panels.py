"""Panels cut to the bed: smaller panels, keyed together along the cuts."""

from __future__ import annotations

from itertools import islice
from typing import TYPE_CHECKING

from nookwright.cutting.lines import Cuts, grid_options, shares
from nookwright.cutting.model import Bed, CutPart, KeyPlace, Piece
from nookwright.layout.cells import in_squares, sound_groups
from nookwright.layout.liner import EDGE_INSET, PanelSpec, Side, Slot, key_borders
from nookwright.layout.liner_model import part_of
from nookwright.parts.liner.panel import panel

if TYPE_CHECKING:
    from nookwright.module.module import Module

Cell = tuple[int, int]
_TRIES = 2000  # pairs of cuts; the first one or the next few will nearly always do


def cut_panel(module: Module, spec: PanelSpec, bed: Bed) -> CutPart | None:
    """A panel and its pieces; ``None`` where not even one cell fits the bed or no cut leaves sound pieces.

    Args:
        module: the household's module.
        spec: the whole panel.
        bed: room on the largest bed, mm.
    """
    slots = tuple(frozenset(slot.at for slot in spec.slots if slot.side.upright is up) for up in (False, True))
    options = grid_options(spec.cols, spec.rows, bed, lambda cells: cells * module.pitch, avoid=slots)
    fitting = next((cuts for cuts in islice(options, _TRIES) if _sound(spec, *cuts, bed, module.pitch)), None)
    if fitting is None:
        return None
    whole = panel(module, spec)
    if fitting == ((), ()):
        return CutPart(whole, (Piece(whole.name, whole.recipe, 0.0, 0.0, whole.plastic),), ())
    groups = _groups(spec, *fitting)
    joints = _joints(groups)
    return CutPart(
        whole,
        tuple(_piece(module, spec, group, joints) for group in groups),
        tuple(_key(module.pitch, spec, first, border) for first, border in joints),
    )


def _groups(spec: PanelSpec, cuts_x: Cuts, cuts_y: Cuts) -> tuple[tuple[Cell, ...], ...]:
    """The cells of each piece: what hangs together in each field between the cuts."""
    there = set(spec.cells)
    return tuple(
        group
        for y0, y1 in shares(spec.rows, cuts_y)
        for x0, x1 in shares(spec.cols, cuts_x)
        for group in sound_groups({(c, r) for c in range(x0, x1) for r in range(y0, y1)} & there)
    )


def _sound(spec: PanelSpec, cuts_x: Cuts, cuts_y: Cuts, bed: Bed, pitch: float) -> bool:
    """Whether the cuts leave pieces that fit the bed, every cell of them in a square of 2 x 2."""
    for cells, cuts in ((spec.cols, cuts_x), (spec.rows, cuts_y)):
        if any(b - a < 2 for a, b in shares(cells, cuts)):  # noqa: PLR2004 - no panel under 2 x 2 cells
            return False
    return all(_carried(group) and _lies_on(bed, group, pitch) for group in _groups(spec, cuts_x, cuts_y))


def _carried(group: tuple[Cell, ...]) -> bool:
    return in_squares(group) == set(group)


def _lies_on(bed: Bed, group: tuple[Cell, ...], pitch: float) -> bool:
    cols, rows = ({cell[axis] for cell in group} for axis in (0, 1))
    return bed.holds((max(cols) - min(cols) + 1) * pitch, (max(rows) - min(rows) + 1) * pitch, 0.0)


def _joints(groups: tuple[tuple[Cell, ...], ...]) -> tuple[tuple[Side, Cell], ...]:
    """Where keys go between pieces, as (side, cell): in that side of the cell's piece, at the cell's low corner.

    Only right and back sides are named; each joint is named once.
    """
    owner = {cell: number for number, group in enumerate(groups) for cell in group}
    found: list[tuple[Side, Cell]] = []
    for side, (dx, dy) in ((Side.RIGHT, (1, 0)), (Side.BACK, (0, 1))):
        borders: dict[tuple[int, int, int], list[int]] = {}
        for (c, r), number in sorted(owner.items()):
            other = owner.get((c + dx, r + dy), number)
            if other != number:
                line, at = (c, r) if side is Side.RIGHT else (r, c)
                borders.setdefault((line, number, other), []).append(at)
        for (line, _, _), ats in sorted(borders.items()):
            keys = [at for first, last in _stretches(ats) for at in key_borders(first, last)]
            found += [(side, (line, at) if side is Side.RIGHT else (at, line)) for at in keys]
    return tuple(found)


def _stretches(ats: list[int]) -> list[tuple[int, int]]:
    """Runs of neighbouring cells along a border, as (first, last)."""
    starts = [at for at in ats if at - 1 not in ats]
    ends = [at for at in ats if at + 1 not in ats]
    return list(zip(starts, ends, strict=True))


def _piece(module: Module, spec: PanelSpec, group: tuple[Cell, ...], joints: tuple[tuple[Side, Cell], ...]) -> Piece:
    """One piece with its share of the panel's slots and its slots along the cuts."""
    bare = part_of(spec, group, ())
    slots = (*_outer_slots(spec, group), *_joint_slots(group, joints))
    placed = part_of(spec, group, tuple(Slot(s.side, s.at - (bare.row if s.side.upright else bare.col)) for s in slots))
    part = panel(module, placed.spec)
    return Piece(
        part.name,
        part.recipe,
        placed.col * module.pitch + placed.spec.set_back.left - spec.set_back.left,
        placed.row * module.pitch + placed.spec.set_back.front - spec.set_back.front,
        part.plastic,
    )


def _edge_cell(side: Side, at: int, cols: int, rows: int) -> Cell:
    return {Side.LEFT: (0, at), Side.RIGHT: (cols - 1, at), Side.FRONT: (at, 0), Side.BACK: (at, rows - 1)}[side]


def _outer_slots(spec: PanelSpec, group: tuple[Cell, ...]) -> tuple[Slot, ...]:
    """The panel's own slots that lie at cells of this piece, in the panel's axes."""
    there = set(group)
    return tuple(slot for slot in spec.slots if _edge_cell(slot.side, slot.at, spec.cols, spec.rows) in there)


def _joint_slots(group: tuple[Cell, ...], joints: tuple[tuple[Side, Cell], ...]) -> tuple[Slot, ...]:
    """Slots along the cuts that belong to this piece, in the panel's axes."""
    there = set(group)
    found = []
    for side, (col, row) in joints:
        beyond = (col + 1, row) if side is Side.RIGHT else (col, row + 1)
        at = row if side is Side.RIGHT else col
        if (col, row) in there:
            found.append(Slot(side, at))
        elif beyond in there:
            found.append(Slot(Side.LEFT if side is Side.RIGHT else Side.FRONT, at))
    return tuple(found)


def _key(pitch: float, spec: PanelSpec, side: Side, cell: Cell) -> KeyPlace:
    """The loose key of a joint, in the part's own axes."""
    col, row = cell
    left, front = EDGE_INSET + spec.set_back.left, EDGE_INSET + spec.set_back.front
    if side is Side.RIGHT:
        return KeyPlace((col + 1) * pitch - left, row * pitch - front, along_x=True)
    return KeyPlace(col * pitch - left, (row + 1) * pitch - front, along_x=False)
