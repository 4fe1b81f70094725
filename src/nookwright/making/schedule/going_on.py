"""Going on from what is printed: what is still to do, and what the printers have loaded."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from nookwright.making.records import Outcome

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nookwright.making.records import PrintRecord
    from nookwright.making.schedule.hours import Hours
    from nookwright.making.schedule.model import Bedful


def still_to_print(bedfuls: Sequence[Bedful], records: Sequence[PrintRecord]) -> tuple[Bedful, ...]:
    """The bedfuls that did not come out yet; one that failed is printed again.

    Args:
        bedfuls: of the whole kit.
        records: what was printed.
    """
    done = {record.bedful for record in records if record.outcome is Outcome.DONE}
    return tuple(one for one in bedfuls if one.id not in done)


def unknown_prints(bedfuls: Sequence[Bedful], records: Sequence[PrintRecord]) -> tuple[PrintRecord, ...]:
    """Prints of bedfuls that this kit does not have: of an earlier one, or slips of the pen."""
    known = {one.id for one in bedfuls}
    return tuple(record for record in records if record.bedful not in known)


def loaded_now(hours: Sequence[Hours], records: Sequence[PrintRecord]) -> tuple[Hours, ...]:
    """The hours with the material that each printer printed last, where the room file does not say it.

    Args:
        hours: of the printers.
        records: what was printed, in order of time.
    """
    last = {record.printer: record.material for record in sorted(records, key=lambda one: one.when) if record.material}
    return tuple(one if one.loaded else replace(one, loaded=last.get(one.printer, "")) for one in hours)
