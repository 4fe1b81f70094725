"""Every part of a plan, and where each copy of it goes: which space, where in it, what is in it, which material."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from nookwright.ground.tolerances import GRID
from nookwright.layout.liner import EDGE_INSET, PlacedFiller, PlacedPanel, Side
from nookwright.module.seat import outer_size
from nookwright.parts.contents import Point, held_in, places_in, shared_places
from nookwright.parts.lids.sliding_lid import place as sliding_lid_place
from nookwright.parts.lids.sliding_rim import SlidingSpec
from nookwright.parts.placing import deck_lid_at, fence_corner, fence_spec, fence_turns
from nookwright.parts.rests.rest_placed import lying_in, rest_parts
from nookwright.parts.trays.extras import extras_of, sheets_of
from nookwright.parts.trays.tray_options import Grip
from nookwright.parts.trays.wishes import (
    lettering_of,
    text_of,
    wishes_of,
)
from nookwright.parts.workshop import Seated, SlidingLid, Spec, TraySpec, Workshop, frame_of, spec_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nookwright.layout.model import Candidate, Placed
    from nookwright.layout.plan import Plan
    from nookwright.layout.spaces import SpacePlan
    from nookwright.module.module import Module
    from nookwright.parts.model import Part
    from nookwright.parts.trays.extras import Extra, Sheet
    from nookwright.parts.trays.tray_frame import TrayFrame
    from nookwright.sizing.ways import Way
    from nookwright.survey.models import Choices, Lot, Room

LINER_GROUP = "liner"
SPARE_GROUP = "spare"


@dataclass(frozen=True)
class Contents:
    """Things of one lot in one part: how they stand and the middle of the underside of each.

    Attributes:
        lot: whose things they are.
        way: how they stand.
        places: the middle of the underside of each thing, pile, heap or box.
        held: how many things each of these places holds; empty where each holds one.
    """

    lot: Lot
    way: Way
    places: tuple[Point, ...]
    held: tuple[int, ...] = ()

    @property
    def count(self) -> int:
        """How many things there are."""
        return sum(self.held) if self.held else len(self.places)


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
        upright: it was printed lying and stands on the edge that was its front; turned after that.
        flipped: it was printed on its head and lies the right way up; turned after that.
        sheets: to be cut for it.
        others: what else is in it, of lots that share it.
        rest_of: id of the lot whose things lie in it and in other parts; empty where one part holds them.
        made_for: ids of the lots of the tray that it belongs to, of a lid, a divider or a name strip.
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
    upright: bool = False
    flipped: bool = False
    sheets: tuple[Sheet, ...] = ()
    others: tuple[Contents, ...] = ()
    rest_of: str = ""
    made_for: tuple[str, ...] = ()

    @property
    def holds(self) -> tuple[Contents, ...]:
        """All that is in it, lot by lot."""
        return (self.contents, *self.others) if self.contents else ()

    @property
    def size(self) -> tuple[float, float, float]:
        """Its box as it stands, before it is turned, mm."""
        width, depth, height = self.part.size
        return (width, height, depth) if self.upright else (width, depth, height)


def design(room: Room, plan: Plan) -> tuple[Copy, ...]:
    """All copies of all parts: for each space its panels, its fillers, what stands on them, and what goes into that.

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
        here = plan.layout.in_space(space.space.id)
        seated = _named(
            [(copy, one) for one in here if not one.fence for copy in _set_down(workshop, room, space, one)]
        )
        copies += [*seated, *(extra for copy in seated for extra in _extras(workshop, room, copy))]
        copies += [_fence(workshop, room, space, one) for one in here if one.fence]
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


def _set_down(workshop: Workshop, room: Room, space: SpacePlan, placed: Placed) -> tuple[Copy, ...]:
    """What is placed as one: a part, or all parts of a rest."""
    if placed.candidate and placed.candidate.way.long:
        return _rest(workshop, room, space, placed)
    return (_seated(workshop, room, space, placed),)


def _rest(workshop: Workshop, room: Room, space: SpacePlan, placed: Placed) -> tuple[Copy, ...]:
    """The supports and guards of a rest, each in its own cells; the things are counted with the first support."""
    module, candidate, lined = workshop.module, placed.candidate, bool(space.liner.panels)
    if candidate is None or candidate.way.long is None:
        return ()
    way, things = candidate.way, candidate.way.long
    lot, copies = next(lot for lot in room.lot if lot.id == candidate.lot), []
    for number, spec in enumerate(rest_parts(module, things)):
        col, row, cols, rows = spec.col, spec.row, spec.cols, spec.rows
        if placed.turned:
            col, row, cols, rows = placed.cols - row - rows, col, rows, cols
        part = workshop.part(spec)
        contents = None if number else Contents(lot, way, lying_in(module, things, lot.count))
        copies.append(
            Copy(
                part=part,
                spec=spec,
                space=space.space.id,
                label=f"{'guard, ' if part.name.startswith('guard') else ''}{lot.name or lot.id}",
                material=material_of(room, lot.group),
                x=_at(space.floor.x0, placed.col + col, cols, module.pitch),
                y=_at(space.floor.y0, placed.row + row, rows, module.pitch),
                z=module.seat.panel if lined else 0.0,
                quarter_turns=1 if placed.turned else 0,
                lined=lined,
                contents=contents,
                rest_of=lot.id,
                made_for=(lot.id,),
            )
        )
    return tuple(copies)


def _seated(workshop: Workshop, room: Room, space: SpacePlan, placed: Placed) -> Copy:
    """A tray or cradle in its cells."""
    module = workshop.module
    lot = None if placed.candidate is None else next(lot for lot in room.lot if lot.id == placed.candidate.lot)
    cols, rows = (placed.rows, placed.cols) if placed.turned else (placed.cols, placed.rows)
    wet = space.space.wet
    spec = spec_of(module, placed.candidate, lot, cols, rows, height=placed.height, room=room, wet=wet)
    if placed.decked and isinstance(spec, TraySpec):
        spec = replace(spec, grip=Grip.NONE, options=None, decked=True)
    lined = bool(space.liner.panels)
    contents = _contents(module, placed.candidate, room, spec) if placed.candidate and lot else ()
    return Copy(
        part=workshop.part(spec),
        spec=spec,
        space=space.space.id,
        label=", ".join(one.lot.name or one.lot.id for one in contents) if contents else placed.label or "spare",
        material=material_of(room, lot.group if lot else SPARE_GROUP),
        x=_at(space.floor.x0, placed.col, placed.cols, module.pitch),
        y=_at(space.floor.y0, placed.row, placed.rows, module.pitch),
        z=(module.seat.panel if lined else 0.0) + placed.raised,
        quarter_turns=1 if placed.turned else 0,
        lined=lined and not placed.level,
        contents=contents[0] if contents else None,
        sheets=sheets_of(frame_of(module, spec)) if isinstance(spec, TraySpec) and spec.options else (),
        others=contents[1:],
    )


def _named(seated: Sequence[tuple[Copy, Placed]]) -> list[Copy]:
    """Parts with their names; of one that stands on a lid it says what is below."""
    below = {(one.col, one.row): copy.label for copy, one in seated if one.decked}
    return [
        replace(copy, label=f"{copy.label}, above {below[one.col, one.row]}") if one.level else copy
        for copy, one in seated
    ]


def _deck_lid(workshop: Workshop, tray_copy: Copy, spec: TraySpec) -> Copy:
    """The deck lid of a tray, in its rim."""
    deck, (x, y, z) = deck_lid_at(workshop.module, spec.cols, spec.rows, spec.height)
    return replace(
        tray_copy,
        part=workshop.part(deck),
        spec=deck,
        label=f"deck lid, {tray_copy.label}",
        x=tray_copy.x + x,
        y=tray_copy.y + y,
        z=tray_copy.z + z,
        lined=False,
        contents=None,
        made_for=tuple(one.lot.id for one in tray_copy.holds),
        others=(),
        sheets=(),
    )


def _sliding_lid(workshop: Workshop, tray_copy: Copy, spec: SlidingSpec) -> Copy:
    """The closed lid of a dispenser, in its grooves; it was printed on its head."""
    part = workshop.part(SlidingLid(spec))
    x, y, z = sliding_lid_place(workshop.module, spec)
    if tray_copy.quarter_turns % 2:
        x, y = tray_copy.size[1] - y - part.size[1], x
    return replace(
        tray_copy,
        part=part,
        spec=SlidingLid(spec),
        label=f"sliding lid, {tray_copy.label}",
        x=tray_copy.x + x,
        y=tray_copy.y + y,
        z=tray_copy.z + z + GRID,  # faces that touch would share what files round
        lined=False,
        contents=None,
        made_for=tuple(one.lot.id for one in tray_copy.holds),
        flipped=True,
    )


def _fence(workshop: Workshop, room: Room, space: SpacePlan, placed: Placed) -> Copy:
    """A fence in its cells, turned so that its wall stands where it should."""
    module, spec = workshop.module, fence_spec(placed)
    part, lined = workshop.part(spec), bool(space.liner.panels)
    x, y = fence_corner(module, placed, part)
    return Copy(
        part=part,
        spec=spec,
        space=space.space.id,
        label=placed.label,
        material=material_of(room, SPARE_GROUP),
        x=_at(space.floor.x0, placed.col, placed.cols, module.pitch) + x,
        y=_at(space.floor.y0, placed.row, placed.rows, module.pitch) + y,
        z=module.seat.panel if lined else 0.0,
        quarter_turns=fence_turns(placed),
        lined=lined,
        contents=None,
    )


def _at(origin: float, first: int, cells: int, pitch: float) -> float:
    """Where a part of so many cells begins along one side, in the middle of its cells, mm."""
    return origin + first * pitch + (cells * pitch - outer_size(cells, pitch)) / 2


def _extras(workshop: Workshop, room: Room, copy: Copy) -> tuple[Copy, ...]:
    """What was printed on its own for a tray, in its place in it."""
    if isinstance(copy.spec, TraySpec) and copy.spec.decked:
        return (_deck_lid(workshop, copy, copy.spec),)
    if isinstance(copy.spec, SlidingSpec):
        return (_sliding_lid(workshop, copy, copy.spec),)
    if not (isinstance(copy.spec, TraySpec) and copy.spec.options and copy.contents):
        return ()
    module = workshop.module
    frame = frame_of(module, copy.spec)
    return tuple(_in_tray(copy, frame, extra) for extra in extras_for(frame, copy.contents.lot, room.choices))


def extras_for(frame: TrayFrame, lot: Lot, choices: Choices) -> tuple[Extra, ...]:
    """The printed extras of a lot's tray.

    Args:
        frame: the tray.
        lot: what is in it.
        choices: of the room.
    """
    wishes = wishes_of(lot, choices)
    return extras_of(frame, text_of(lot, wishes), lettering_of(wishes))


def _in_tray(tray_copy: Copy, frame: TrayFrame, extra: Extra) -> Copy:
    """An extra in its tray, which may be turned."""
    turned = tray_copy.quarter_turns % 2
    long, thick = extra.part.size[0], extra.part.size[2]
    deep = long if extra.quarter_turns % 2 else thick
    across, back = (frame.depth - extra.y - deep, extra.x) if turned else (extra.x, extra.y)
    return replace(
        tray_copy,
        part=extra.part,
        spec=None,
        label=f"{extra.part.kind}, {tray_copy.label}",
        x=tray_copy.x + across,
        y=tray_copy.y + back,
        z=tray_copy.z + extra.z,
        quarter_turns=(tray_copy.quarter_turns + extra.quarter_turns) % 4,
        lined=False,
        contents=None,
        made_for=tuple(one.lot.id for one in tray_copy.holds),
        upright=True,
        sheets=(),
    )


def _contents(module: Module, candidate: Candidate, room: Room, spec: Seated) -> tuple[Contents, ...]:
    """What is in the part of a candidate, lot by lot."""
    way, cols, rows = candidate.way, spec.cols, spec.rows
    lots = [next(lot for lot in room.lot if lot.id == name) for name in way.lots or (candidate.lot,)]
    if way.compartments:
        places = shared_places(module, way, cols=cols, rows=rows, counts=[lot.count for lot in lots])
        each = zip(lots, way.compartments, places, strict=True)
        return tuple(Contents(lot, one, at, held_in(one, len(at), lot.count)) for lot, one, at in each)
    pockets = spec.pockets if isinstance(spec, TraySpec) else None
    at = places_in(module, way, cols=cols, rows=rows, count=lots[0].count, pockets=pockets)
    return (Contents(lots[0], way, at, held_in(way, len(at), lots[0].count)),)
