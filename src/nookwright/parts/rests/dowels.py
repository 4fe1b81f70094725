"""What is cut for rests besides what is printed: the dowels that tie their supports together."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.ground.findings import Finding, Severity
from nookwright.parts.rests.rest_placed import dowels_of

if TYPE_CHECKING:
    from nookwright.layout.plan import Plan
    from nookwright.survey.models import Room


def about_dowels(room: Room, plan: Plan) -> tuple[Finding, ...]:
    """The dowels of every rest, to be cut before it is put together.

    Args:
        room: as surveyed.
        plan: what goes where.
    """
    names = {lot.id: lot.name or lot.id for lot in room.lot}
    found = []
    for one in plan.layout.placed:
        if one.candidate and one.candidate.way.long:
            diameter, length = dowels_of(plan.module, one.candidate.way.long)
            text = f"Two wood dowels {diameter:g} mm thick, {length:g} mm long, tie the supports of its rest."
            remedy = (
                f"Cut them before the rest of {names[one.candidate.lot]} is put together; push them through the holes."
            )
            found.append(Finding("dowels-to-cut", Severity.NOTE, one.candidate.lot, text, remedy))
    return tuple(found)
