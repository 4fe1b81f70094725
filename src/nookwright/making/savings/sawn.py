"""Savings by the saw: long plain fillers and fences of wood, not printed; nothing in the room file changes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.making.savings import model
from nookwright.making.savings.model import Leaves, Saving, Weight
from nookwright.making.saw_list import saw_list
from nookwright.making.sawn import strips

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from nookwright.layout.plan import Plan
    from nookwright.making.sawn import Strip
    from nookwright.parts.design import Copy
    from nookwright.survey.models import Room

_FILLERS = "They are not keyed to the panels: hold them with double-sided tape on the floor."
_FENCES = (
    "An hour with a saw and a drill: each has a hole over every cone that it may stand on, as saw_list.csv says. "
    "Without a liner tape holds them."
)


def by_saw(room: Room, plan: Plan, copies: Sequence[Copy]) -> Iterator[Saving]:
    """What sawing saves, fillers and fences apart.

    Args:
        room: as surveyed.
        plan: what goes where.
        copies: all copies of all parts.
    """
    found = strips(copies, plan.module, room.making.sawing.bar)
    fillers, fences = [one for one in found if not one.fence], [one for one in found if one.fence]
    yield _saving(room, fillers, Leaves.FILLERS, "plain fillers", (_FILLERS, float(model.MISSED_FILLER)))
    yield _saving(room, fences, Leaves.FENCES, "fences", (_FENCES, float(model.MISSED_SAWN_FENCE)))


def _saving(room: Room, some: Sequence[Strip], leaves: Leaves, what: str, loss: tuple[str, float]) -> Saving:
    density = {one.id: one.density_g_cm3 for one in room.material}
    layer = max(printer.layer for printer in room.printer)
    copies = [copy for strip in some for copy in strip.copies]
    plastics = [(copy.part.plastic, density[copy.material]) for copy in copies]
    saved = sum((Weight(one.mass_g(dense), one.time_s(layer)) for one, dense in plastics), Weight())
    sizes = sorted({(strip.length, strip.width) for strip in some}, reverse=True)
    listed = ", ".join(f"{length:.0f} x {width:.1f}" for length, width in sizes)
    strips_of = f"{len(some)} strip{'s' if len(some) != 1 else ''} of wood"
    text = f"Saw {strips_of} in place of {len(copies)} {what}, from {_bars(room, some)}: {listed}"
    return Saving(leaves, text, saved.mass_g, saved.time_s, loss[0], loss[1])


def _bars(room: Room, some: Sequence[Strip]) -> str:
    """How many bars that takes, of all stocks together."""
    sawing, count = room.making.sawing, 0
    for stock in {(strip.width, strip.height) for strip in some}:
        lengths = [strip.length for strip in some if (strip.width, strip.height) == stock]
        count += saw_list(lengths, bar=sawing.bar, kerf=sawing.kerf).bars
    return f"{count} bar{'s' if count != 1 else ''} of {sawing.bar:.0f} mm"
