"""Pilots: for each space a few small prints that prove its sizes before the rest is printed.

A strip of liner across the width and one along the depth, each with the fillers of its ends, prove both sides, square,
bow, seat and colour; one small tray that is needed there anyway proves the rest. What a person finds goes into the room
file, and every remaining piece follows. A pilot is light and soon printed: what does not fit into that is left out, the
tray first, then the strip along the shorter side, and it says so.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from nookwright.cutting.cut import cut_all, longest_strip_in
from nookwright.cutting.loose_keys import loose_keys
from nookwright.ground.sources import Fact, Kind
from nookwright.layout.liner import plan_liner
from nookwright.layout.liner_model import FillerForm, Side
from nookwright.module.pattern import Pattern
from nookwright.parts.design import LINER_GROUP, design, material_of
from nookwright.parts.workshop import TraySpec
from nookwright.survey.trials import Axis

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from nookwright.layout.liner_model import Cell, Liner, PlacedPanel
    from nookwright.layout.plan import Plan
    from nookwright.layout.spaces import SpacePlan
    from nookwright.parts.design import Copy
    from nookwright.parts.model import Part
    from nookwright.survey.models import Room

MOST_PILOT_G = Fact(60.0, unit="g", kind=Kind.CHOICE, source="What a pilot of one space may weigh: a few per cent.")
MOST_PILOT_S = Fact(7200.0, unit="s", kind=Kind.CHOICE, source="Two hours: printed in an evening, tried the same day.")
STRIP = Fact(2, unit="cells", kind=Kind.CHOICE, source="Width of a strip: the least panel that holds together.")


@dataclass(frozen=True)
class Strip:
    """One strip of liner with the fillers of its ends.

    Attributes:
        axis: the side of the space that it lies along.
        length: from wall to wall as drawn, fillers included, mm.
        room: usable side of the space by what is known, mm.
        copies: panel and fillers.
        whole: whether it goes from wall to wall; something in the way is left free.
    """

    axis: Axis
    length: float
    room: float
    copies: tuple[Copy, ...]
    whole: bool

    @property
    def expected_gap(self) -> float:
        """The gap that is left where the readings are right, mm."""
        return self.room - self.length


@dataclass(frozen=True)
class Pilot:
    """What proves one space.

    Attributes:
        space: id of the space.
        strips: of liner, with the fillers of their ends.
        tray: one that is needed there anyway; it is one of the kit's own.
        left_out: what would have been too heavy or too slow, in words.
        mass_g, time_s: of all its prints, in closed form.
    """

    space: str
    strips: tuple[Strip, ...]
    tray: Copy | None
    left_out: tuple[str, ...]
    mass_g: float
    time_s: float

    @property
    def copies(self) -> tuple[Copy, ...]:
        """Everything that is printed for it, but loose keys."""
        return (*(copy for strip in self.strips for copy in strip.copies), *((self.tray,) if self.tray else ()))


def pilots(room: Room, plan: Plan, copies: Sequence[Copy]) -> tuple[Pilot, ...]:
    """A pilot for every space that has a liner or a tray, in the order of the room file.

    Args:
        room: as surveyed.
        plan: what goes where.
        copies: all copies of all parts that have a place.
    """
    found = (_pilot(room, plan, space, copies) for space in plan.spaces)
    return tuple(pilot for pilot in found if pilot.copies)


def keys_of(pilot: Pilot, room: Room, plan: Plan) -> tuple[Copy, ...]:
    """The loose keys that hold the pieces of strips that are longer than a bed.

    Args:
        pilot: of a space.
        room: as surveyed.
        plan: what goes where.
    """
    cut, _ = cut_all(pilot.copies, plan.module, room.printer, room=room)
    return loose_keys(pilot.copies, cut, plan.module)


def _pilot(room: Room, plan: Plan, space: SpacePlan, copies: Sequence[Copy]) -> Pilot:
    """The most that is light and soon printed; where nothing is, the least."""
    strips = tuple(_strips(room, plan, space))
    name = space.space.id
    choices = [Pilot(name, strips, tray, (), 0.0, 0.0) for tray in _trays(copies, space, room)]
    without = ("a tray",) if choices else ()
    choices.append(Pilot(name, strips, None, without, 0.0, 0.0))
    if len(strips) > 1:
        longest = max(strips, key=lambda strip: strip.room)
        other = next(strip for strip in strips if strip is not longest)
        choices.append(Pilot(name, (longest,), None, (*without, f"the strip along the {other.axis}"), 0.0, 0.0))
    weighed = [_weighed(room, pilot) for pilot in choices]
    light = (pilot for pilot in weighed if pilot.mass_g <= MOST_PILOT_G and pilot.time_s <= MOST_PILOT_S)
    return next(light, weighed[-1])


def _weighed(room: Room, pilot: Pilot) -> Pilot:
    density = {material.id: material.density_g_cm3 for material in room.material}
    layer = max(printer.layer for printer in room.printer)
    return replace(
        pilot,
        mass_g=sum(copy.part.plastic.mass_g(density[copy.material]) for copy in pilot.copies),
        time_s=sum(copy.part.plastic.time_s(layer) for copy in pilot.copies),
    )


def _trays(copies: Iterable[Copy], space: SpacePlan, room: Room) -> list[Copy]:
    """The trays and cradles of a space, the lightest first; those with things in them before spare ones.

    Parts of one shape are one part of the kit, named after the first of them, and so they are here.
    """
    density = {material.id: material.density_g_cm3 for material in room.material}
    first: dict[str, Part] = {}
    for copy in copies:
        first.setdefault(copy.part.recipe.digest, copy.part)
    mine = [
        replace(copy, part=first[copy.part.recipe.digest])
        for copy in copies
        if copy.space == space.space.id and isinstance(copy.spec, TraySpec)
    ]
    return sorted(
        mine,
        key=lambda copy: (copy.contents is None, copy.part.plastic.mass_g(density[copy.material]), copy.part.name),
    )


def _strips(room: Room, plan: Plan, space: SpacePlan) -> Iterable[Strip]:
    """The strips of a space that has a liner."""
    floor, usable = space.floor, space.usable
    if not space.liner.panels:
        return
    for axis, cells, room_mm, ends in (
        (Axis.WIDTH, _lane(space, along_x=True), usable.width, (Side.LEFT, Side.RIGHT)),
        (Axis.DEPTH, _lane(space, along_x=False), usable.depth, (Side.FRONT, Side.BACK)),
    ):
        if not cells:
            continue
        liner = _only(room, plan, space, cells, ends)
        full = floor.cols if axis is Axis.WIDTH else floor.rows
        before, after = (floor.left, floor.right) if axis is Axis.WIDTH else (floor.front, floor.back)
        met = {filler.side for filler in liner.fillers}
        length = len(cells) / STRIP * plan.module.pitch
        length += (before if ends[0] in met else 0.0) + (after if ends[1] in met else 0.0)
        wanted = {side for side, width in zip(ends, (before, after), strict=True) if width}
        whole = len(cells) == full * STRIP and met == wanted
        lone = replace(plan, spaces=(replace(space, liner=liner),), layout=replace(plan.layout, placed=()))
        yield Strip(axis, round(length, 6), room_mm, design(room, lone), whole)


def _lane(space: SpacePlan, *, along_x: bool) -> tuple[Cell, ...]:
    """The cells of a strip: two rows or columns beside each other, the longest free stretch nearest to the middle."""
    floor = space.floor
    across, along = (floor.rows, floor.cols) if along_x else (floor.cols, floor.rows)
    free = {cell for panel in space.liner.panels for cell in _cells(panel)}
    best: tuple[tuple[int, float], tuple[Cell, ...]] = ((0, 0.0), ())
    for first in range(across - int(STRIP) + 1):
        lanes = range(first, first + int(STRIP))
        run = _longest([all(_at(lane, at, along_x) in free for lane in lanes) for at in range(along)])
        cells = tuple(sorted(_at(lane, at, along_x) for lane in lanes for at in run))
        rank = (len(run), -abs(first + STRIP / 2 - across / 2))
        if len(run) >= STRIP and rank > best[0]:
            best = (rank, cells)
    return best[1]


def _cells(panel: PlacedPanel) -> tuple[Cell, ...]:
    """The cells of a placed panel, in the space's columns and rows."""
    return tuple((col + panel.col, row + panel.row) for col, row in panel.spec.cells)


def _at(lane: int, at: int, along_x: bool) -> Cell:  # noqa: FBT001 - an axis
    return (at, lane) if along_x else (lane, at)


def _longest(free: Sequence[bool]) -> range:
    """The longest stretch that is free; the first of equals."""
    best, start = range(0), 0
    for at, good in enumerate((*free, False)):
        if not good:
            if at - start > len(best):
                best = range(start, at)
            start = at + 1
    return best


def _only(room: Room, plan: Plan, space: SpacePlan, cells: tuple[Cell, ...], ends: tuple[Side, Side]) -> Liner:
    """The liner of these cells alone, with plain fillers at its ends and nowhere else."""
    pattern = space.wish.pattern
    liner = plan_liner(
        space.floor,
        space.usable,
        plan.module.pitch,
        longest_strip_in(room, material_of(room, LINER_GROUP)),
        pattern=Pattern.CHESSBOARD if pattern is Pattern.UNDER_LAYOUT else pattern,
        only=cells,
    )
    fillers = tuple(one for one in liner.fillers if one.side in ends and one.spec.form is FillerForm.PLAIN)
    there = {filler.side for filler in fillers}
    panels = tuple(
        replace(panel, spec=replace(panel.spec, slots=tuple(slot for slot in panel.spec.slots if slot.side in there)))
        for panel in liner.panels
    )
    return replace(liner, panels=panels, fillers=fillers)
