"""The plan of printing as files of a kit: the chart, the loading list, and a calendar where there are dates."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.documents.loading_list import loading_list_csv
from nookwright.documents.schedule_chart import Look, schedule_svg
from nookwright.exchange.calendar_file import calendar_bytes
from nookwright.exchange.printing_records import CALENDAR, CHART, LOADING_LIST, names_of

if TYPE_CHECKING:
    from pathlib import Path

    from nookwright.making.printing import Printing
    from nookwright.survey.models import Room


def write_printing(folder: Path, room: Room, printing: Printing) -> None:
    """Write what there is to write of a plan of printing; nothing where nothing is to print.

    Args:
        folder: of the kit.
        room: as surveyed.
        printing: the plan.
    """
    schedule, names = printing.schedule, names_of(room)
    if not schedule.slots:
        return
    look = Look(names, {one.id: one.colour for one in room.material}, printing.hours)
    (folder / CHART).write_text(schedule_svg(schedule, printing.bedfuls, look), encoding="utf-8", newline="\n")
    text = loading_list_csv(schedule, printing.bedfuls, names, spools=printing.spools)
    (folder / LOADING_LIST).write_text(text, encoding="utf-8", newline="")
    if schedule.dated:
        data = calendar_bytes(schedule, printing.bedfuls, names, spools=printing.spools, drying=printing.dryings)
        (folder / CALENDAR).write_bytes(data)
