"""The place for the record of what is printed: a line for each load of a bed, and what noting it will do.

Nothing is written here yet: the record is the table ``prints.csv`` that a person keeps beside the room file, and a kit
that was built says which loads it found in it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.documents import words
from nookwright.studio.pages.frame import text
from nookwright.studio.pages.make_prints import loads_of
from nookwright.studio.pages.tables import table

if TYPE_CHECKING:
    from nookwright.exchange.kit import Kit

_HEAD = ("Load", "Planned time", "Planned mass", "Printed", "Took", "Weighed")
_DOES = (
    "What is noted as done is not planned again, what failed is; times and grams of the rest follow what your printers "
    "really did."
)


def draw_record(kit: Kit | None, room_file: str) -> None:
    """The record.

    Args:
        kit: built of the room as it is; nothing where there is none.
        room_file: name of the file.
    """
    text("What is printed", "h2")
    if kit is None:
        text("There is nothing to record before the kit is built; then each load of a bed has its line here.", "p")
        text(_DOES, "p")
        return
    loads = loads_of(kit)
    noted = sum(load.noted for load in loads)
    said = f"{noted} of {len(loads)} loads are noted as printed." if noted else "Nothing is recorded yet."
    text(said, "p").props("data-recorded")
    text(
        f"Until it can be typed here, the record is a table prints.csv beside {room_file}, a row a print, with the "
        "columns when, bedful, outcome, time and mass_g. Build the kit again after noting.",
        "p",
    )
    text(_DOES, "p")
    trials = {one.id: one for one in kit.first.bedfuls}
    rows = []
    for load in loads:
        made = load.bed or trials.get(load.id)
        planned = (words.duration(made.time_s), words.grams(made.mass_g)) if made is not None else ("", "")
        rows.append((load.id, *planned, "noted" if load.noted else "not yet", "\u2013", "\u2013"))
    table("Record of prints", _HEAD, rows, numbers=(1, 2))
