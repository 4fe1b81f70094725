"""loading_list.csv: what goes on which printer when, one row a bedful, for a spreadsheet or the workshop's wall."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.documents.schedule_words import clock, day
from nookwright.exchange import csv_table
from nookwright.ground.times import MINUTE_S

if TYPE_CHECKING:
    from collections.abc import Mapping

    from nookwright.exchange.calendar_file import Names
    from nookwright.exchange.csv_table import Cell
    from nookwright.making.schedule.model import Bedful, Schedule, Slot
    from nookwright.making.spools import SpoolPlan

HEAD = (
    "day",
    "change_from",
    "start_at",
    "printer",
    "bedful",
    "material",
    "change_filament",
    "spool",
    "mass_g",
    "time_min",
    "ends_about",
    "ends_at_latest",
    "spaces",
    "next_on_printer",
    "could_run_on",
)


def loading_list_csv(
    schedule: Schedule, bedfuls: Mapping[str, Bedful], names: Names, *, spools: SpoolPlan | None = None
) -> str:
    """The loading list of a schedule.

    Args:
        schedule: of the bedfuls.
        bedfuls: by id.
        names: for people.
        spools: which spool each bedful is printed from.

    Returns:
        The text of the file, with the line ends of RFC 4180 (write it without translating them).
    """
    return csv_table.table(HEAD, (_row(slot, schedule, bedfuls[slot.bedful], names, spools) for slot in schedule.slots))


def _row(slot: Slot, schedule: Schedule, bedful: Bedful, names: Names, spools: SpoolPlan | None) -> tuple[Cell, ...]:
    after = next((one for one in schedule.slots if one.printer == slot.printer and one.work >= slot.end), None)
    return (
        day(schedule, slot.work),
        clock(slot.work),
        clock(slot.begin),
        names.printer(slot.printer),
        bedful.id,
        names.material(bedful.material),
        "yes" if slot.changes else "no",
        spools.spool_of(bedful.id) if spools else "",
        round(bedful.mass_g, 1),
        round(bedful.on(slot.printer).likely_s / MINUTE_S),
        f"{day(schedule, slot.likely)} {clock(slot.likely)}",
        f"{day(schedule, slot.end)} {clock(slot.end)}",
        "; ".join(map(names.space, bedful.spaces)),
        after.bedful if after else "",
        "; ".join(map(names.printer, bedful.also_on)),
    )
