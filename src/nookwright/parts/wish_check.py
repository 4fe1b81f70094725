"""What is wrong with the trays that a room file wishes for: by their texts, and once it is known where they stand.

Every fault names its line, as those of the rest of the room file do.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.ground.errors import RecipeError
from nookwright.ground.findings import Finding, Severity
from nookwright.parts.design import extras_for
from nookwright.parts.trays.extras import sheets_of
from nookwright.parts.trays.name_strip import least_strip_width
from nookwright.parts.trays.wishes import faces_front, strip_length, text_of, wishes_of
from nookwright.parts.workshop import TraySpec, Workshop, frame_of, spec_of
from nookwright.survey.load import read_toml
from nookwright.survey.tray_wishes import TrayWishes

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from nookwright.ground.errors import Fault
    from nookwright.layout.model import Placed
    from nookwright.layout.plan import Plan
    from nookwright.parts.workshop import Seated
    from nookwright.survey.models import Lot, Room
    from nookwright.survey.typed import Typed


def text_faults(path: Path, room: Room) -> tuple[Fault, ...]:
    """Texts of name strips with characters that are not drawn.

    Args:
        path: the room file.
        room: what it holds.
    """
    typed, faults = read_toml(path)
    if typed is None:
        return faults
    return tuple(fault for number, lot in enumerate(room.lot) for fault in _text(typed, number, lot, room))


def _text(typed: Typed, number: int, lot: Lot, room: Room) -> Iterator[Fault]:
    text = text_of(lot, wishes_of(lot, room.choices))
    if not text:
        return
    try:
        least_strip_width(text, strip_length(room.printer))
    except RecipeError as error:
        key = ("tray", "text") if lot.tray.text else ("name",) if lot.name else ("id",)
        yield typed.fault(
            ("lot", number, *key), found=f'"{text}" on a name strip', allowed=str(error),
            remedy="Give another text for the strip: `text = ...` in the table of the tray.",
        )  # fmt: skip


def tray_faults(path: Path, room: Room, plan: Plan) -> tuple[Fault, ...]:
    """Trays that cannot be made as they were wished for, in the place that they were given.

    Args:
        path: the room file.
        room: what it holds.
        plan: what goes where.
    """
    typed, faults = read_toml(path)
    if typed is None:
        return faults
    numbers = {lot.id: number for number, lot in enumerate(room.lot)}
    workshop = Workshop(plan.module)
    found = []
    for placed in plan.layout.placed:
        if placed.candidate:
            number = numbers[placed.candidate.lot]
            found += list(_impossible(typed, number, room, workshop, placed))
    return tuple(sorted(set(found)))


def _impossible(typed: Typed, number: int, room: Room, workshop: Workshop, placed: Placed) -> Iterator[Fault]:
    lot = room.lot[number]
    try:
        spec = _spec(workshop, room, lot, placed)
        if isinstance(spec, TraySpec) and spec.options:
            workshop.part(spec)
            frame = frame_of(workshop.module, spec)
            sheets_of(frame)
            extras_for(frame, lot, room.choices)
    except RecipeError as error:
        where = ("lot", number, "tray") if lot.tray != TrayWishes() else ("choices", "tray")
        yield typed.fault(
            where, found="a tray that cannot be made so", allowed=str(error), remedy="Change its options."
        )


def _spec(workshop: Workshop, room: Room, lot: Lot, placed: Placed) -> Seated:
    cols, rows = (placed.rows, placed.cols) if placed.turned else (placed.cols, placed.rows)
    wet = any(space.wet for space in room.space if space.id == placed.space)
    return spec_of(workshop.module, placed.candidate, lot, cols, rows, height=placed.height, room=room, wet=wet)


def turned_fronts(room: Room, plan: Plan) -> tuple[Finding, ...]:
    """Trays with a front that the layout had to turn aside.

    Args:
        room: as surveyed.
        plan: what goes where.
    """
    lots = {lot.id: wishes_of(lot, room.choices) for lot in room.lot}
    found = []
    for placed in plan.layout.placed:
        wishes = lots[placed.candidate.lot] if placed.candidate else None
        if wishes and placed.candidate and placed.turned and faces_front(wishes):
            text = f"Its tray lies turned in {placed.space}: the front faces the right wall."
            remedy = "Build as it is, or make room in the space so that it need not be turned."
            found.append(Finding("front-turned", Severity.NOTE, placed.candidate.lot, text, remedy))
    return tuple(found)
