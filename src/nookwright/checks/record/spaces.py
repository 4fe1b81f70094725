"""Whether spaces stand in kit.json as they come out of their readings: inside, cells, blocked places, liner.

A space that is reckoned larger than it was read is a stop, and looked at elsewhere; here is everything that is merely
other than it should be: room that is lost, cells that are counted twice, a margin that misleads whoever reads the plan.
What this does not know: which parts of a floor were left out of the layout on purpose.
"""

from __future__ import annotations

from itertools import product
from typing import TYPE_CHECKING

from nookwright.checks.record.claims import WRITTEN, Wrong, figure, said_once, words
from nookwright.ground.findings import Severity
from nookwright.module.choice import module_of
from nookwright.module.floor import Axis, floor_of
from nookwright.module.pattern import Pattern
from nookwright.module.seat import drawn_layer
from nookwright.sizing.usable import usable_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.exchange.kit import Kit, KitSpace
    from nookwright.ground.findings import Finding
    from nookwright.module.floor import Floor
    from nookwright.module.module import Module
    from nookwright.sizing.usable import Usable
    from nookwright.survey.models import Room


def check_spaces(kit: Kit, room: Room) -> Iterator[Finding]:
    """One finding about everything in spaces that is other than it comes out.

    Args:
        kit: the kit, its references sound.
        room: as surveyed.
    """
    yield from said_once("space-record", Severity.WARN, _wrong(kit, room))


def _wrong(kit: Kit, room: Room) -> Iterator[Wrong]:
    surveyed = {space.id: space for space in room.space}
    layers = tuple(printer.layer for printer in kit.printers)
    module = module_of(kit.module.pitch, kit.module.rise, drawn_layer(layers), "")
    for space in kit.spaces:
        usable = usable_of(surveyed[space.id], room.found)
        yield from _inside(space, usable)
        yield from _blocked(space, usable)
        yield from _cells(space, usable, module)
        yield from _liners(space, kit)


def _inside(space: KitSpace, usable: Usable) -> Iterator[Wrong]:
    """Width and depth by height, clear height, corners, margins, bow."""
    levels = usable.outlines
    yield from figure(space.id, "Heights at which its inside is known", len(space.usable), len(levels))
    for said, true in zip(space.usable, levels, strict=False):
        inset = true.insets
        at = f"At a height of {true.z:g} mm"
        for what, stated, right in (
            ("is", said.z, true.z),
            ("it is wide", said.width, max(0.0, usable.width - inset.left - inset.right)),
            ("it is deep", said.depth, max(0.0, usable.depth - inset.front - inset.back)),
            ("its left wall stands in by", said.x, inset.left),
            ("its front stands in by", said.y, inset.front),
        ):
            yield from figure(space.id, f"{at} {what}", stated, right, unit="mm", off=WRITTEN)
    for what, stated, right in (
        ("Its clear height", space.height, usable.height),
        ("Its corners have a radius of", space.corner_radius, usable.corner_radius),
        ("The edge of its floor has a radius of", space.cove_radius, usable.cove_radius),
        ("Its floor sags by", space.bow, usable.bow.sag),
        *zip(
            ("Taken off its width", "Taken off its depth", "Taken off its height"),
            space.margins,
            usable.margins,
            strict=True,
        ),
    ):
        yield from figure(space.id, what, stated, right, unit="mm", off=WRITTEN)


def _blocked(space: KitSpace, usable: Usable) -> Iterator[Wrong]:
    """What nothing may enter, by the room file and its doubt."""
    said = [(box.reason, box.service, *box.low, *box.high) for box in space.blocked]
    true = [(box.reason, box.service, box.x0, box.y0, box.z0, box.x1, box.y1, box.z1) for box in usable.blocked]
    yield from figure(space.id, "Places that are blocked", len(said), len(true))
    for one, other in zip(said, true, strict=False):
        yield from words(space.id, "A place is blocked by", one[:2], other[:2])
        for stated, right in zip(one[2:], other[2:], strict=True):
            yield from figure(
                space.id, f"{other[0]}: an edge lies at", float(stated), float(right), unit="mm", off=WRITTEN
            )


def _cells(space: KitSpace, usable: Usable, module: Module) -> Iterator[Wrong]:
    """Cells: as many, and blocked, as one of the ways to lay a liner into the space has them."""
    floors = [
        floor_of(usable, module, lined=lined, one_sided=side)
        for lined, side in product((True, False), (None, Axis.X, Axis.Y))
    ]
    if not any(_same(space, floor) for floor in floors):
        said, true = (
            _told(space.cols, space.rows, space.cell_origin),
            _told(floors[0].cols, floors[0].rows, (floors[0].x0, floors[0].y0)),
        )
        blocked = f"{len(space.blocked_cells)} of them blocked"
        text = (
            f"Its cells are {said}, {blocked}, by kit.json; by its readings {true}, {len(floors[0].blocked)} blocked."
        )
        yield Wrong(space.id, text)


def _told(cols: int, rows: int, origin: tuple[float, float]) -> str:
    """Cells in words."""
    return f"{cols} x {rows} from {origin[0]:g}, {origin[1]:g} mm"


def _same(space: KitSpace, floor: Floor) -> bool:
    """Whether a space has the cells of a floor."""
    near = max(abs(space.cell_origin[0] - floor.x0), abs(space.cell_origin[1] - floor.y0)) <= WRITTEN
    return near and (space.cols, space.rows, space.blocked_cells) == (floor.cols, floor.rows, floor.blocked)


def _liners(space: KitSpace, kit: Kit) -> Iterator[Wrong]:
    """The levels of liner that a space could have: each once, one of them chosen, and that one lying there."""
    if not space.liners:
        lined = {part.id for part in kit.parts if part.kind == "panel"}
        if any(one.space == space.id and one.part in lined for one in kit.placements):
            yield Wrong(space.id, "It has a liner, and kit.json does not say which others it could have had.")
        return
    chosen = [one for one in space.liners if one.chosen]
    yield from figure(space.id, "Levels of liner that were chosen", len(chosen), 1)
    levels = [(one.level, one.pattern) for one in space.liners]
    if len(set(levels)) < len(levels):
        yield Wrong(space.id, "A level of liner is listed twice.")
    patterns = {one.value for one in Pattern}
    for one in space.liners:
        if one.pattern not in patterns:
            yield Wrong(space.id, f"Cones of a liner stand {one.pattern!r}, which no liner has.")
