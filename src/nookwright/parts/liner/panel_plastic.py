"""Plastic of a panel in closed form, from its cells alone: frame, straps, pads, cones, plates around slots.

For any pattern, any missing cells and edges off a cove. It leaves out slits, and where bands along a cove, plates and
straps cross: on a panel of 4 x 4 cells and less with bands all round it is up to a tenth high, in a lean pattern to a
third; on one of 2 x 2 cells with a slot on every side it is 7 % low; otherwise it is good to a twentieth. Such panels
weigh a gram or two.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact
from nookwright.ground.sources import Kind as SourceKind
from nookwright.layout.liner import EDGE_INSET, Cell, PanelSpec, Side, Slot
from nookwright.module.estimates import Plastic, frustum_mm3
from nookwright.module.floor import CORNER_RADIUS
from nookwright.module.pattern import Pattern
from nookwright.module.seat import PAD_RADIUS, STRAP_WIDTH
from nookwright.parts.liner.keys import HEAD, LENGTH, NECK
from nookwright.parts.liner.panel_members import land_size, strap_lines, stub_width

if TYPE_CHECKING:
    from nookwright.module.module import Module
    from nookwright.module.seat import Seat


PAD_MORE = Fact(
    8 * PAD_RADIUS**2 * math.tan(math.pi / 8) - (4 * PAD_RADIUS * STRAP_WIDTH - STRAP_WIDTH**2),
    unit="mm2",
    kind=SourceKind.CALCULATED,
    source="Octagon of the pad, less the two straps that cross in it.",
)
FIRST_LAYER_INSET = Fact(
    0.3,
    unit="mm",
    kind=SourceKind.CALCULATED,
    source="The first layer spreads 0.1 to 0.25; a panel is nearly all first layer.",
)
FIRST_STEP = Fact(
    0.2,
    unit="mm",
    kind=SourceKind.CALCULATED,
    source="Half of the first layer up to layers of 0.4 lies in it, and only one layer of a printer from 0.14 up.",
)


@dataclass(frozen=True)
class _Edge:
    """The edge of a panel: sides of cells, convex corners less concave ones, cells."""

    sides: int
    corners: int
    cells: int

    def area(self, inset: float, pitch: float) -> float:
        """Area inside, drawn in by an inset, mm2."""
        return self.cells * pitch**2 - self.sides * pitch * inset + self.corners * inset**2


def panel_plastic(module: Module, spec: PanelSpec) -> Plastic:
    """Plastic of any panel.

    Args:
        module: the household's module.
        spec: the panel.
    """
    seat, pitch = module.seat, module.pitch
    edge = _edge(spec)
    inside = edge.area(EDGE_INSET + STRAP_WIDTH, pitch)
    frame = edge.area(float(EDGE_INSET), pitch) - inside
    corners = edge.corners * (1 - math.pi / 4) * (CORNER_RADIUS**2 - (CORNER_RADIUS - STRAP_WIDTH) ** 2)
    area = frame + _straps(spec, pitch) + _pads(spec) + _lands(spec, pitch) + _bands(spec, pitch) - corners
    drawn_in = (edge.sides * pitch + len(spec.slots) * (2 * LENGTH + HEAD)) * FIRST_LAYER_INSET
    cone = frustum_mm3(seat.cone_base, seat.cone_top, seat.cone_height)
    count = len(spec.cones)
    return Plastic(
        body_mm3=area * seat.panel - drawn_in * first_step(seat) + count * cone,
        sparse_mm3=0.0,
        first_mm2=area - drawn_in,
        height=seat.panel + (seat.cone_height if count else 0.0),
        hops=count * seat.cone_height / seat.layer,
    )


def first_step(seat: Seat) -> float:
    """Height of the drawn-in edge, mm: the first layer of every printer and no second, whatever layers they share."""
    return min(seat.layer, float(FIRST_STEP))


def _edge(spec: PanelSpec) -> _Edge:
    there = set(spec.cells)
    sides = sum(near not in there for c, r in there for near in ((c + 1, r), (c - 1, r), (c, r + 1), (c, r - 1)))
    corners = 0
    for c in range(spec.cols + 1):
        for r in range(spec.rows + 1):
            around = ((c - 1, r - 1), (c, r - 1), (c - 1, r), (c, r))
            count = sum(cell in there for cell in around)
            diagonal = count == 2 and ((around[0] in there) is (around[3] in there))  # noqa: PLR2004 - two of four
            corners += {1: 1, 3: -1}.get(count, 2 if diagonal else 0)
    return _Edge(sides, corners, len(there))


def _straps(spec: PanelSpec, pitch: float) -> float:
    """Area of the straps inside the frame, mm2."""
    if spec.pattern is Pattern.CHESSBOARD:
        return _diagonals(spec, pitch)
    cols, rows = strap_lines(spec)
    there = set(spec.cells)
    reach = EDGE_INSET + STRAP_WIDTH
    upright = [cell for cell in there if cell[0] in cols]
    level = [cell for cell in there if cell[1] in rows]
    ends = sum((c, r + step) not in there for c, r in upright for step in (-1, 1))
    ends += sum((c + step, r) not in there for c, r in level for step in (-1, 1))
    crossings = len({*upright} & {*level})
    return float((len(upright) + len(level)) * pitch * STRAP_WIDTH - ends * reach * STRAP_WIDTH) - (
        crossings * STRAP_WIDTH**2
    )


def _diagonals(spec: PanelSpec, pitch: float) -> float:
    """Area of diagonal straps and stubs inside the frame, mm2: two straps a cone, crossing, less what the frame has."""
    there, reach = set(spec.cells), EDGE_INSET + STRAP_WIDTH
    ends = stubs = 0
    for c, r in spec.cones:
        for x in (-1, 1):
            stubs += ((c + x, r) not in there) + ((c, r + x) not in there)
            ends += sum(not {(c + x, r), (c, r + y), (c + x, r + y)} <= there for y in (-1, 1))
    length = 2 * pitch * math.sqrt(2) * len(spec.cones) - ends * reach * math.sqrt(2)
    stub = stub_width(pitch) * max(0.0, pitch / 2 - reach - PAD_RADIUS)
    return float(length * STRAP_WIDTH - len(spec.cones) * STRAP_WIDTH**2 + stubs * stub)


def _pads(spec: PanelSpec) -> float:
    """What pads add to the straps that cross in them, mm2."""
    return len(spec.cones) * PAD_MORE


def _lands(spec: PanelSpec, pitch: float) -> float:
    """What the plates around slots add to frame, straps and pads, less the slots, mm2."""
    along, deep = land_size(spec, pitch)
    cols, rows = strap_lines(spec)
    cones = set(spec.cones)
    reach = EDGE_INSET + STRAP_WIDTH
    total = -len(spec.slots) * (HEAD + NECK) / 2 * LENGTH
    for slot in spec.slots:
        line, beside = _beside(spec, slot)
        crossing, level = (rows, cols) if slot.side.upright else (cols, rows)
        covered = sum(at in crossing for at in (slot.at - 1, slot.at)) * (along - pitch + STRAP_WIDTH) / 2
        inner = (pitch - STRAP_WIDTH) / 2 if line in level else deep
        pads = sum(cell in cones for cell in beside) * PAD_MORE / 4
        if spec.pattern is Pattern.CHESSBOARD:
            covered, pads = 2 * STRAP_WIDTH, 0.0
        total += (along - covered) * (inner - reach) - pads
    return float(total)


def _beside(spec: PanelSpec, slot: Slot) -> tuple[int, tuple[Cell, Cell]]:
    """The column or row of the cells at a slot's side, and the two cells at the slot."""
    line = {Side.RIGHT: spec.cols - 1, Side.BACK: spec.rows - 1}.get(slot.side, 0)
    if slot.side.upright:
        return line, ((line, slot.at - 1), (line, slot.at))
    return line, ((slot.at - 1, line), (slot.at, line))


def _bands(spec: PanelSpec, pitch: float) -> float:
    """What bands along a cove add to the frame, straps and pads that they take the place of, mm2."""
    left, right, front, back = spec.set_back.sides
    sides = ((left, 0, 0), (right, 0, spec.cols - 1), (front, 1, 0), (back, 1, spec.rows - 1))
    return sum(_band(spec, pitch, *side) for side in sides if side[0])


def _band(spec: PanelSpec, pitch: float, moved: float, axis: int, at: int) -> float:
    """The same on one side: of the cells whose column (axis 0) or row (axis 1) is ``at``, mm2."""
    cells = [cell for cell in spec.cells if cell[axis] == at]
    reach, half = EDGE_INSET + STRAP_WIDTH, pitch / 2
    ends = [back for back in spec.set_back.sides[2 - 2 * axis : 4 - 2 * axis] if back]
    count = len(cells) - len(ends) / 4  # a square where two bands cross counts once
    lines = strap_lines(spec)
    if spec.pattern is Pattern.CHESSBOARD:
        share = STRAP_WIDTH * math.sqrt(2) / (2 * pitch)
        straps = count * pitch * (half - reach) * (1 - (1 - share) ** 2)
    else:
        across = sum(cell[1 - axis] in lines[1 - axis] for cell in cells) - len(ends) / 4
        along = at in lines[axis]
        straps = across * (half - reach - along * STRAP_WIDTH / 2) * STRAP_WIDTH
        straps += along * count * pitch * STRAP_WIDTH / 2
    pads = sum(cell in spec.cones for cell in cells) * PAD_MORE / 2
    frames = (2 - len(ends)) * STRAP_WIDTH * (half - reach)
    lost = sum(ends) * (half - EDGE_INSET - moved) / 2
    return float(count * pitch * (half - EDGE_INSET - moved - STRAP_WIDTH) - straps - pads - frames - lost)
