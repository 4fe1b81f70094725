"""Every part of a plan, and where each copy of it goes: which space, where in it, what is in it, which material."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from nookwright.layout.liner import EDGE_INSET, FillerSpec, PanelSpec, PlacedFiller, PlacedPanel, Side
from nookwright.module.seat import outer_size
from nookwright.parts.contents import Point, places_in
from nookwright.parts.cradles.cradle import Pockets, cradle, pockets_of
from nookwright.parts.liner.filler import filler
from nookwright.parts.liner.panel import panel
from nookwright.parts.trays.tray import tray
from nookwright.parts.trays.tray_frame import TrayFrame
from nookwright.parts.trays.tray_options import Grip, TrayOptions
from nookwright.sizing.ways import POCKET_CLEARANCE, PartKind
from nookwright.survey.models import Choices, FloorStyle, Lot, Room

if TYPE_CHECKING:
    from nookwright.layout.model import Candidate, Placed
    from nookwright.layout.plan import Plan, SpacePlan
    from nookwright.module.module import Module
    from nookwright.parts.model import Part
    from nookwright.sizing.ways import Way

LINER_GROUP = "liner"
SPARE_GROUP = "spare"


@dataclass(frozen=True)
class TraySpec:
    """A tray, or with pockets a cradle."""

    cols: int
    rows: int
    height: float
    smooth: bool
    pockets: Pockets | None
    grip: Grip = Grip.NONE


Spec = TraySpec | PanelSpec | FillerSpec


@dataclass(frozen=True)
class Contents:
    """Things of one lot in one part: how they stand and the middle of the underside of each."""

    lot: Lot
    way: Way
    places: tuple[Point, ...]


@dataclass(frozen=True)
class Copy:
    """One copy of a part in its place.

    Attributes:
        part: what it is.
        spec: what it was made from; ``None`` for a part that was ordered.
        space: id of the space; empty for a part that was ordered and has no place.
        label: what people call it.
        material: id of the material.
        x, y, z: front left corner of its box in the space, as it lies, mm.
        quarter_turns: how it is turned about z, counter-clockwise.
        lined: whether it stands on the liner.
        contents: what is in it; ``None`` for liner and spare trays.
    """

    part: Part
    spec: Spec | None
    space: str
    label: str
    material: str
    x: float
    y: float
    z: float
    quarter_turns: int
    lined: bool
    contents: Contents | None


class Workshop:
    """Makes parts from their specs, each distinct one once."""

    def __init__(self, module: Module) -> None:
        self.module = module
        self._made: dict[Spec, Part] = {}

    def part(self, spec: Spec) -> Part:
        """The part of a spec."""
        if spec not in self._made:
            self._made[spec] = self._make(spec)
        return self._made[spec]

    def _make(self, spec: Spec) -> Part:
        if isinstance(spec, PanelSpec):
            return panel(self.module, spec)
        if isinstance(spec, FillerSpec):
            return filler(self.module, spec)
        if spec.pockets is not None:
            return cradle(self.module, cols=spec.cols, rows=spec.rows, height=spec.height, pockets=spec.pockets)
        return self._tray(spec)

    def _tray(self, spec: TraySpec) -> Part:
        """A tray with its grip; it is called by its size, whatever a hand takes it by."""
        if spec.grip is Grip.NONE:
            return tray(self.module, cols=spec.cols, rows=spec.rows, height=spec.height, smooth=spec.smooth)
        floor = FloorStyle.SMOOTH if spec.smooth else FloorStyle.SHELL
        options = TrayOptions(floor=floor, grip=spec.grip, picked_by_hand=False)
        gripped = tray(self.module, cols=spec.cols, rows=spec.rows, height=spec.height, options=options)
        return replace(gripped, name=TrayFrame(self.module, spec.cols, spec.rows, spec.height, options).called)


def design(room: Room, plan: Plan) -> tuple[Copy, ...]:
    """All copies of all parts: for each space its panels, its fillers, then what stands on them.

    Args:
        room: as surveyed.
        plan: what goes where.
    """
    workshop = Workshop(plan.module)
    copies: list[Copy] = []
    for space in plan.spaces:
        material = material_of(room, LINER_GROUP)
        copies += [_panel(workshop, space, placed, material) for placed in space.liner.panels]
        copies += [_filler(workshop, space, placed, material) for placed in space.liner.fillers]
        copies += [
            _seated(workshop, room, space, placed) for placed in plan.layout.placed if placed.space == space.space.id
        ]
    return tuple(copies)


def materials_of(room: Room) -> tuple[str, ...]:
    """The materials that anything of the room may be printed in, sorted."""
    groups = (LINER_GROUP, SPARE_GROUP, *(lot.group for lot in room.lot))
    return tuple(sorted({material_of(room, group) for group in groups}))


def material_of(room: Room, group: str) -> str:
    """The material of a group of lots: as chosen, or the first one that a printer has loaded."""
    return room.choices.colours.get(group, room.printer[0].materials[0])


def _panel(workshop: Workshop, space: SpacePlan, placed: PlacedPanel, material: str) -> Copy:
    pitch = workshop.module.pitch
    return Copy(
        part=workshop.part(placed.spec),
        spec=placed.spec,
        space=space.space.id,
        label="liner panel",
        material=material,
        x=space.floor.x0 + placed.col * pitch + EDGE_INSET + placed.spec.set_back.left,
        y=space.floor.y0 + placed.row * pitch + EDGE_INSET + placed.spec.set_back.front,
        z=0.0,
        quarter_turns=0,
        lined=False,
        contents=None,
    )


def _filler(workshop: Workshop, space: SpacePlan, placed: PlacedFiller, material: str) -> Copy:
    """A filler, turned so that its tongues point away from its wall."""
    part, floor, pitch = workshop.part(placed.spec), space.floor, workshop.module.pitch
    travel = placed.spec.travel  # of a sprung one, beyond its place while it is not pressed
    reach = part.size[1] - travel  # from the wall to the tips of the tongues
    right, back = floor.x0 + floor.cols * pitch + floor.right, floor.y0 + floor.rows * pitch + floor.back
    turns, x, y = {
        Side.FRONT: (0, placed.start, floor.y0 - floor.front - travel),
        Side.RIGHT: (1, right - reach, placed.start),
        Side.BACK: (2, placed.start, back - reach),
        Side.LEFT: (3, floor.x0 - floor.left - travel, placed.start),
    }[placed.side]
    return Copy(
        part=part,
        spec=placed.spec,
        space=space.space.id,
        label=f"filler, {placed.side}",
        material=material,
        x=x,
        y=y,
        z=0.0,
        quarter_turns=turns,
        lined=False,
        contents=None,
    )


def _seated(workshop: Workshop, room: Room, space: SpacePlan, placed: Placed) -> Copy:
    """A tray or cradle in its cells."""
    module = workshop.module
    lot = None if placed.candidate is None else next(lot for lot in room.lot if lot.id == placed.candidate.lot)
    cols, rows = (placed.rows, placed.cols) if placed.turned else (placed.cols, placed.rows)
    spec = _spec(module, placed.candidate, cols, rows, height=placed.height, choices=room.choices)
    lined = bool(space.liner.panels)
    return Copy(
        part=workshop.part(spec),
        spec=spec,
        space=space.space.id,
        label=(lot.name or lot.id) if lot else "spare",
        material=material_of(room, lot.group if lot else SPARE_GROUP),
        x=_at(space.floor.x0, placed.col, placed.cols, module.pitch),
        y=_at(space.floor.y0, placed.row, placed.rows, module.pitch),
        z=module.seat.panel if lined else 0.0,
        quarter_turns=1 if placed.turned else 0,
        lined=lined,
        contents=_contents(module, placed.candidate, lot, spec) if placed.candidate and lot else None,
    )


def _at(origin: float, first: int, cells: int, pitch: float) -> float:
    """Where a part of so many cells begins along one side, in the middle of its cells, mm."""
    return origin + first * pitch + (cells * pitch - outer_size(cells, pitch)) / 2


def _spec(
    module: Module, candidate: Candidate | None, cols: int, rows: int, *, height: float, choices: Choices
) -> TraySpec:
    grip = Grip(choices.grip.value)
    if candidate is None:
        return TraySpec(cols, rows, height, choices.floor is FloorStyle.SMOOTH, None, grip)
    way = candidate.way
    if way.kind is not PartKind.CRADLE:
        return TraySpec(cols, rows, height, way.floor is FloorStyle.SMOOTH, None, grip)
    pockets = pockets_of(
        module,
        cols=cols,
        rows=rows,
        diameter=round(way.thing.width + POCKET_CLEARANCE, 2),
        columns=way.columns,
        lines=way.rows,
        pitch=way.pitch_x,
    )
    return TraySpec(cols, rows, height, smooth=True, pockets=pockets)


def _contents(module: Module, candidate: Candidate, lot: Lot, spec: TraySpec) -> Contents:
    places = places_in(module, candidate.way, cols=spec.cols, rows=spec.rows, count=lot.count, pockets=spec.pockets)
    return Contents(lot, candidate.way, places)
