"""Everything that is looked at in the schedule of printing: it is what a person acts on for weeks.

It is made after the rest of the kit is proven, so it is looked at by itself once it is there.
"""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from nookwright.checks.record.claims import Wrong, said_once
from nookwright.checks.schedule.costs import wrong_costs
from nookwright.checks.schedule.ends import wrong_ends
from nookwright.checks.schedule.slots import loads_of, wrong_slots
from nookwright.checks.schedule.spools import wrong_spools
from nookwright.ground.findings import Severity

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.exchange.kit import Kit
    from nookwright.ground.findings import Finding
    from nookwright.survey.models import Room


def check_schedule(kit: Kit, room: Room) -> tuple[Finding, ...]:
    """Check the schedule of a kit, with its spools, purchases and costs; nothing where there is none yet.

    Args:
        kit: the kit, its references sound.
        room: with printers, hours, spools and prices.
    """
    if not (kit.printing.slots or kit.printing.unplaced or kit.printing.cost):
        return ()
    unknown = tuple(_unknown(kit, room))
    if unknown:
        return tuple(said_once("schedule-wrong", Severity.STOP, unknown))
    return (
        *said_once("schedule-wrong", Severity.STOP, (*wrong_slots(kit, room), *wrong_ends(kit, room))),
        *said_once("purchase-wrong", Severity.STOP, wrong_spools(kit, room)),
        *said_once("cost-wrong", Severity.WARN, wrong_costs(kit, room)),
    )


def _unknown(kit: Kit, room: Room) -> Iterator[Wrong]:
    """What the schedule names and the kit or the room do not have."""
    plan = kit.printing
    known = {
        "bedful": {*loads_of(kit)},
        "printer": {one.id for one in room.printer},
        "space": {one.id for one in room.space},
        "material": {one.id for one in room.material},
    }
    named: list[tuple[str, str]] = [
        *(("bedful", one.bedful) for one in plan.slots),
        *(("bedful", one) for one in plan.unplaced),
        *(("printer", one.printer) for one in plan.slots),
        *(("printer", one.printer) for one in plan.learned),
        *(("space", one.space) for one in plan.ready),
        *(("space", one.space) for one in plan.mixed),
        *(("material", one.material) for one in plan.purchases),
        *(("material", one.material) for one in plan.mixed),
        *(("material", one.material) for one in plan.learned),
    ]
    for what, name in dict.fromkeys(named):
        if name not in known[what]:
            yield Wrong("printing", f"The schedule names the {what} {name!r}, which there is not.")
    try:
        date.fromisoformat(plan.first or "2001-01-01")
    except ValueError:
        yield Wrong("printing", f"The schedule begins on {plan.first!r}, which is no day.")
