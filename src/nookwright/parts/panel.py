"""A panel of the liner: a frame, diagonal straps through the cones, a pad and a cone in every second cell.

With cones like a chessboard the nearest cones are diagonal neighbours, so straps only between cones run diagonally;
they meet the frame at cell borders, where the keys are.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact
from nookwright.ground.sources import Kind as SourceKind
from nookwright.ground.tolerances import OVERSHOOT
from nookwright.layout.liner import EDGE_INSET, PanelSpec, Side, Slot
from nookwright.module.estimates import Plastic, panel_plastic
from nookwright.module.floor import CORNER_RADIUS
from nookwright.module.seat import PAD_RADIUS, STRAP_WIDTH, Seat
from nookwright.parts.keys import CLEARANCE, slot_land, tongue
from nookwright.parts.model import Kind, Part, size_name
from nookwright.shapes.cutters import open_below
from nookwright.shapes.regions import (
    Offset,
    Polygon,
    Rect,
    Region,
    RegionDifference,
    RegionIntersection,
    RegionMove,
    RegionRepeat,
    RegionUnion,
)  # fmt: skip
from nookwright.shapes.solids import Difference, Move, Prism, Repeat, Revolution, Solid, Union

if TYPE_CHECKING:
    from collections.abc import Callable

    from nookwright.module.module import Module

FIRST_LAYER_INSET = Fact(
    0.3,
    unit="mm",
    kind=SourceKind.CALCULATED,
    source="The first layer spreads 0.1 to 0.25; a panel is nearly all first layer.",
)
_PAD_SIDES = 8
SLOT_FILLED = Fact(
    0.6, unit="1", kind=SourceKind.CALCULATED, source="Share of the plate around a slot that no strap covered."
)


def panel(module: Module, spec: PanelSpec) -> Part:
    """A panel; its edges lie ``EDGE_INSET`` inside its cells, so its bounding box does too.

    Args:
        module: the household's module.
        spec: cells and slots.
    """
    outline = _outline(spec, module.pitch)
    members = RegionIntersection((outline, RegionUnion(_members(spec, module.pitch, outline))))
    sheet = RegionDifference(members, _slots(spec, module.pitch)) if spec.slots else members
    width, depth = spec.cols * module.pitch - 2 * EDGE_INSET, spec.rows * module.pitch - 2 * EDGE_INSET
    return Part(
        kind=Kind.PANEL,
        name=f"panel {size_name(width, depth)}",
        parameters=(
            ("cols", spec.cols),
            ("first_has_cone", spec.first_has_cone),
            ("missing", tuple((float(c), float(r)) for c, r in spec.missing)),
            ("pitch", module.pitch),
            ("rows", spec.rows),
            ("slots", " ".join(f"{slot.side}:{slot.at}" for slot in spec.slots)),
            ("thickness", module.seat.panel),
        ),
        recipe=Move(_solid(spec, module, sheet, outline), x=-EDGE_INSET, y=-EDGE_INSET),
        plastic=_plastic(module, spec),
    )


def _plastic(module: Module, spec: PanelSpec) -> Plastic:
    """Closed form of the full rectangle, by the share of cells that are there, and the plates around the slots."""
    full = panel_plastic(module, spec.cols, spec.rows)
    share = len(spec.cells) / (spec.cols * spec.rows)
    along, deep = slot_land()
    lands = len(spec.slots) * (along - 2 * STRAP_WIDTH) * (deep - STRAP_WIDTH) * SLOT_FILLED
    return Plastic(
        body_mm3=full.body_mm3 * share + lands * module.seat.panel,
        sparse_mm3=0.0,
        first_mm2=full.first_mm2 * share + lands,
        height=full.height,
        hops=full.hops * share,
    )


def _outline(spec: PanelSpec, pitch: float) -> Region:
    """The outer edge, inset, its corners round like those of the parts, so that it goes where they go."""
    if not spec.missing:
        plain = Rect(spec.cols * pitch - 2 * EDGE_INSET, spec.rows * pitch - 2 * EDGE_INSET, CORNER_RADIUS)
        return RegionMove(plain, x=EDGE_INSET, y=EDGE_INSET)
    return Offset(Offset(RegionUnion(_runs(spec, pitch)), -EDGE_INSET - CORNER_RADIUS), CORNER_RADIUS)


def _runs(spec: PanelSpec, pitch: float) -> tuple[Region, ...]:
    """Rectangles that together are its cells: a run in each row, and the same in each column, so that they overlap."""
    by_row = _stretches(spec.cells, lambda cell: (cell[1], cell[0]))
    by_col = _stretches(spec.cells, lambda cell: cell)
    rows = [RegionMove(Rect((b - a + 1) * pitch, pitch), x=a * pitch, y=r * pitch) for r, a, b in by_row]
    cols = [RegionMove(Rect(pitch, (b - a + 1) * pitch), x=c * pitch, y=a * pitch) for c, a, b in by_col]
    return (*rows, *cols)


def _stretches(
    cells: tuple[tuple[int, int], ...], key: Callable[[tuple[int, int]], tuple[int, int]]
) -> list[tuple[int, int, int]]:
    """Runs of neighbouring cells along one direction, as (line, first, last)."""
    found: list[tuple[int, int, int]] = []
    for line, at in sorted(map(key, cells)):
        if found and found[-1][0] == line and found[-1][2] == at - 1:
            found[-1] = (line, found[-1][1], at)
        else:
            found.append((line, at, at))
    return found


def _members(spec: PanelSpec, pitch: float, outline: Region) -> tuple[Region, ...]:
    """Frame, straps, stubs at the edge, pads, and plates around the slots; they may reach past the outline."""
    frame = RegionDifference(outline, (_inset(spec, pitch, outline),))
    middles = tuple(((c + 0.5) * pitch, (r + 0.5) * pitch) for c, r in spec.cones)
    pads = (RegionRepeat(_pad(), middles),) if middles else ()
    return (frame, *_straps(spec, pitch), *_stubs(spec, pitch), *pads, *_lands(spec, pitch))


def _pad() -> Region:
    """An octagon instead of a circle: as good a pad, and a sixth of the corners in the mesh of a large panel."""
    flat = PAD_RADIUS * math.tan(math.pi / _PAD_SIDES)
    return Polygon(
        (
            (flat, -PAD_RADIUS), (PAD_RADIUS, -flat), (PAD_RADIUS, flat), (flat, PAD_RADIUS),
            (-flat, PAD_RADIUS), (-PAD_RADIUS, flat), (-PAD_RADIUS, -flat), (-flat, -PAD_RADIUS),
        )
    )  # fmt: skip


def _inset(spec: PanelSpec, pitch: float, outline: Region) -> Region:
    """The inner edge of the frame."""
    if spec.missing:
        return Offset(outline, -STRAP_WIDTH)
    back = EDGE_INSET + STRAP_WIDTH
    hole = Rect(spec.cols * pitch - 2 * back, spec.rows * pitch - 2 * back, CORNER_RADIUS - STRAP_WIDTH)
    return RegionMove(hole, x=back, y=back)


def _straps(spec: PanelSpec, pitch: float) -> tuple[Region, ...]:
    """Diagonal strips through all cones, from edge to edge of the bounding box and a little past it."""
    odd = 0 if spec.first_has_cone else 1
    half = STRAP_WIDTH / math.sqrt(2)  # of a strip's width along x
    high = spec.rows * pitch + pitch
    rising = [k * pitch for k in range(1 - spec.rows, spec.cols) if k % 2 == odd]
    falling = [k * pitch for k in range(1, spec.cols + spec.rows) if k % 2 != odd]
    return (
        *(_strip(c - pitch, -pitch, c + high, high, half) for c in rising),
        *(_strip(s + pitch, -pitch, s - high, high, half) for s in falling),
    )


def _strip(x0: float, y0: float, x1: float, y1: float, half: float) -> Region:
    """A strip from a point up to another, so wide on each side along x."""
    return Polygon(((x0 - half, y0), (x0 + half, y0), (x1 + half, y1), (x1 - half, y1)))


def _stubs(spec: PanelSpec, pitch: float) -> tuple[Region, ...]:
    """Short straps from the cones at an edge straight to the frame, so that no slit is left beside their pads."""
    there = set(spec.cells)
    half, reach = STRAP_WIDTH / 2, pitch / 2
    found: list[Region] = []
    for col, row in spec.cones:
        x, y = (col + 0.5) * pitch, (row + 0.5) * pitch
        found += [
            RegionMove(Rect(STRAP_WIDTH, reach), x=x - half, y=y - (reach if step < 0 else 0))
            for step in (-1, 1)
            if (col, row + step) not in there
        ]
        found += [
            RegionMove(Rect(reach, STRAP_WIDTH), x=x - (reach if step < 0 else 0), y=y - half)
            for step in (-1, 1)
            if (col + step, row) not in there
        ]
    return tuple(found)


def _at_slot(spec: PanelSpec, pitch: float, slot: Slot, region: Region) -> Region:
    """A region drawn for the front side at the origin, pointing in +y, put at a slot."""
    along, width, depth = slot.at * pitch, spec.cols * pitch, spec.rows * pitch
    turns, x, y = {
        Side.FRONT: (0, along, 0.0),
        Side.RIGHT: (1, width, along),
        Side.BACK: (2, along, depth),
        Side.LEFT: (3, 0.0, along),
    }[slot.side]
    return RegionMove(region, x=x, y=y, quarter_turns=turns)


def _lands(spec: PanelSpec, pitch: float) -> tuple[Region, ...]:
    along, deep = slot_land()
    plate = RegionMove(Rect(along, deep), x=-along / 2)
    return tuple(_at_slot(spec, pitch, slot, plate) for slot in spec.slots)


def _slots(spec: PanelSpec, pitch: float) -> tuple[Region, ...]:
    hole = tongue(-OVERSHOOT, CLEARANCE)
    return tuple(_at_slot(spec, pitch, slot, hole) for slot in spec.slots)


def _solid(spec: PanelSpec, module: Module, sheet: Region, outline: Region) -> Solid:
    """The sheet, its first layer drawn in along the edge, and the cones."""
    seat = module.seat
    edge = RegionDifference(Offset(outline, OVERSHOOT), (Offset(outline, -FIRST_LAYER_INSET),))
    plate = Difference(Prism(sheet, seat.panel), (open_below(edge, 0.0, _step(seat)),))
    if not spec.cones:
        return plate
    middles = tuple(((c + 0.5) * module.pitch, (r + 0.5) * module.pitch) for c, r in spec.cones)
    return Union((plate, Repeat(_cone(seat), middles)))


def _step(seat: Seat) -> float:
    """Height of the drawn-in edge: one layer, or half of a panel that is only one common layer thick."""
    return min(seat.layer, seat.panel / 2)


def _cone(seat: Seat) -> Solid:
    """A cone with its root inside its pad."""
    top, root = seat.panel + seat.cone_height, _step(seat)
    return Revolution(
        (
            (0.0, root),
            (seat.cone_base, root),
            (seat.cone_base, seat.panel),
            (seat.cone_top, top),
            (0.0, top),
        )
    )
