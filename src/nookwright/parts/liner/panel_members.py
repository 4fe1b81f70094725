"""What a panel is drawn from, in the axes of its cells: outline, frame, straps, pads, plates around slots, slots.

Straps run only between cones. The nearest cones of a chessboard are diagonal neighbours, so its straps run diagonally;
those of the other patterns run along rows and columns. Members may reach past the outline: they are cut off at it.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact
from nookwright.ground.sources import Kind as SourceKind
from nookwright.ground.tolerances import OVERSHOOT
from nookwright.layout.cells import holes
from nookwright.layout.liner import EDGE_INSET, PanelSpec, Side, Slot
from nookwright.module.floor import CORNER_RADIUS
from nookwright.module.pattern import Pattern
from nookwright.module.seat import PAD_RADIUS, STRAP_WIDTH
from nookwright.parts.liner.keys import CLEARANCE, slot_land, tongue
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

if TYPE_CHECKING:
    from collections.abc import Callable

_PAD_SIDES = 8
LAND_TO_MIDDLE = Fact(
    1.0,
    unit="mm",
    kind=SourceKind.CALCULATED,
    source="The plate around a slot ends this far from the middle of a strap: 0.8 inside it, so no slit is left.",
)
INTO_STRAP = Fact(
    0.1, unit="mm", kind=SourceKind.CALCULATED, source="A stub that closes a slit reaches this far into the strap."
)
LEAST_OPENING = Fact(
    1.5, unit="mm", kind=SourceKind.CHOICE, source="A narrower slit closes by itself, badly: it is filled on purpose."
)


def outline(spec: PanelSpec, pitch: float) -> Region:
    """The outer edge, inset, its corners round like those of the parts, so that it goes where they go.

    Args:
        spec: the panel.
        pitch: cell size, mm.
    """
    if not spec.missing:
        return _inside(spec, pitch, float(EDGE_INSET), float(CORNER_RADIUS))
    cells: Region = RegionUnion(_runs(spec, pitch))
    if any(spec.set_back.sides):
        cells = RegionIntersection((cells, _inside(spec, pitch, 0.0, 0.0)))
    return Offset(Offset(cells, -EDGE_INSET - CORNER_RADIUS), CORNER_RADIUS)


def sheet(spec: PanelSpec, pitch: float, edge: Region) -> Region:
    """Frame, straps, stubs, pads and plates inside an outline, the slots cut out.

    Args:
        spec: the panel.
        pitch: cell size, mm.
        edge: its outline.
    """
    whole = RegionIntersection((edge, RegionUnion(_members(spec, pitch, edge))))
    return RegionDifference(whole, slot_holes(spec, pitch)) if spec.slots else whole


def middles(spec: PanelSpec, pitch: float) -> tuple[tuple[float, float], ...]:
    """Where the cones stand, mm."""
    return tuple(((c + 0.5) * pitch, (r + 0.5) * pitch) for c, r in spec.cones)


def land_size(spec: PanelSpec, pitch: float) -> tuple[float, float]:
    """Width along the edge and depth of the full plate around a slot, mm."""
    along, deep = slot_land()
    if spec.pattern is Pattern.CHESSBOARD:
        return along, deep
    return max(along, pitch - 2 * LAND_TO_MIDDLE), max(deep, pitch / 2)


def stub_width(pitch: float) -> float:
    """Width of the short straps from cones to an edge, mm: as wide as the slits beside them, where these are narrow.

    At a distance d from the cone the flank of a diagonal strap is d - w / sqrt(2) off the stub's middle; the frame
    begins where d is half a cell less its inset and its width.

    Args:
        pitch: cell size, mm.

    >>> round(stub_width(18), 2), stub_width(24)
    (5.51, 3.6)
    """
    flank = pitch / 2 - EDGE_INSET - STRAP_WIDTH - STRAP_WIDTH / math.sqrt(2)
    if flank - STRAP_WIDTH / 2 >= LEAST_OPENING:
        return float(STRAP_WIDTH)
    return float(max(STRAP_WIDTH, 2 * (flank + INTO_STRAP)))


def strap_lines(spec: PanelSpec) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """Columns and rows along which straps run; none for a chessboard.

    Those with cones, and where none of them meets a hole, the first row of the hole, which ties its frame to the rest.
    """
    if spec.pattern is Pattern.CHESSBOARD:
        return (), ()
    cols, rows = {c for c, _ in spec.cones}, {r for _, r in spec.cones}
    for hole in holes(spec.cols, spec.rows, spec.missing):
        if not any(c in cols or r in rows for c, r in hole):
            rows.add(min(r for _, r in hole))
    return tuple(sorted(cols)), tuple(sorted(rows))


def _inside(spec: PanelSpec, pitch: float, inset: float, radius: float) -> Region:
    """The rectangle around all cells, each side drawn in by its set-back and an inset, mm."""
    left, right, front, back = (side + inset for side in spec.set_back.sides)
    plain = Rect(spec.cols * pitch - left - right, spec.rows * pitch - front - back, radius)
    return RegionMove(plain, x=left, y=front)


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


def _members(spec: PanelSpec, pitch: float, edge: Region) -> tuple[Region, ...]:
    """Frame, straps, stubs at the edge, pads, and plates around the slots; they may reach past the outline."""
    frame = (RegionDifference(edge, (_inset(spec, pitch, edge),)), *_bands(spec, pitch))
    places = middles(spec, pitch)
    pads = (RegionRepeat(_pad(), places),) if places else ()
    straps = (
        (*_diagonals(spec, pitch), *_stubs(spec, pitch)) if spec.pattern is Pattern.CHESSBOARD else _lines(spec, pitch)
    )
    return (*frame, *straps, *pads, *_lands(spec, pitch))


def _bands(spec: PanelSpec, pitch: float) -> tuple[Region, ...]:
    """On sides that lie back off a cove the frame reaches to the middle of the cells, so that no slits are left."""
    wide, deep, half = spec.cols * pitch, spec.rows * pitch, pitch / 2
    places = (
        (half, deep, 0.0, 0.0),
        (half, deep, wide - half, 0.0),
        (wide, half, 0.0, 0.0),
        (wide, half, 0.0, deep - half),
    )
    return tuple(
        RegionMove(Rect(width, depth), x=x, y=y)
        for back, (width, depth, x, y) in zip(spec.set_back.sides, places, strict=True)
        if back
    )


def _pad() -> Region:
    """An octagon instead of a circle: as good a pad, and a sixth of the corners in the mesh of a large panel."""
    flat = PAD_RADIUS * math.tan(math.pi / _PAD_SIDES)
    return Polygon(
        (
            (flat, -PAD_RADIUS), (PAD_RADIUS, -flat), (PAD_RADIUS, flat), (flat, PAD_RADIUS),
            (-flat, PAD_RADIUS), (-PAD_RADIUS, flat), (-PAD_RADIUS, -flat), (-flat, -PAD_RADIUS),
        )
    )  # fmt: skip


def _inset(spec: PanelSpec, pitch: float, edge: Region) -> Region:
    """The inner edge of the frame: all along the outline, around holes too."""
    if spec.missing:
        return Offset(edge, -STRAP_WIDTH)
    return _inside(spec, pitch, EDGE_INSET + STRAP_WIDTH, CORNER_RADIUS - STRAP_WIDTH)


def _lines(spec: PanelSpec, pitch: float) -> tuple[Region, ...]:
    """Straps along rows and columns, from edge to edge of the bounding box and past it."""
    cols, rows = strap_lines(spec)
    wide, deep = spec.cols * pitch + 2 * pitch, spec.rows * pitch + 2 * pitch
    half = STRAP_WIDTH / 2
    return (
        *(RegionMove(Rect(STRAP_WIDTH, deep), x=(c + 0.5) * pitch - half, y=-pitch) for c in cols),
        *(RegionMove(Rect(wide, STRAP_WIDTH), x=-pitch, y=(r + 0.5) * pitch - half) for r in rows),
    )


def _diagonals(spec: PanelSpec, pitch: float) -> tuple[Region, ...]:
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
    wide, reach = stub_width(pitch), pitch / 2
    half = wide / 2
    found: list[Region] = []
    for col, row in spec.cones:
        x, y = (col + 0.5) * pitch, (row + 0.5) * pitch
        found += [
            RegionMove(Rect(wide, reach), x=x - half, y=y - (reach if step < 0 else 0))
            for step in (-1, 1)
            if (col, row + step) not in there
        ]
        found += [
            RegionMove(Rect(reach, wide), x=x - (reach if step < 0 else 0), y=y - half)
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
    along, deep = land_size(spec, pitch)
    plate = RegionMove(Rect(along, deep), x=-along / 2)
    return tuple(_at_slot(spec, pitch, slot, plate) for slot in spec.slots)


def slot_holes(spec: PanelSpec, pitch: float, spread: float = 0.0) -> tuple[Region, ...]:
    """The slots, as holes.

    Args:
        spec: the panel.
        pitch: cell size, mm.
        spread: by which they are wider, so that a first layer that spreads leaves the clearance, mm.
    """
    hole = tongue(-OVERSHOOT, CLEARANCE + spread)
    return tuple(_at_slot(spec, pitch, slot, hole) for slot in spec.slots)
