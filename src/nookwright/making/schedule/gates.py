"""What bedfuls wait for besides printers: what is tried before, and what is dried."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.making.schedule.spans import Spans, first_from, fitting, joined

if TYPE_CHECKING:
    from nookwright.making.schedule.starts import Starts

TRYING_MIN = Fact(
    30, unit="min", kind=Kind.CHOICE, source="To try pilots and gauges, type in what was found, build again."
)


def someone_there(starts: Starts) -> Spans:
    """When someone is at any of the printers."""
    return joined(span for hours in starts.hours.values() for span in hours.there)


def trying(starts: Starts) -> Spans:
    """When someone may begin to try what was printed."""
    return fitting(someone_there(starts), int(TRYING_MIN))


def tried(starts: Starts, end: int) -> int | None:
    """When what ended at a minute has been tried; ``None`` where nobody ever comes."""
    begin = first_from(trying(starts), end)
    return None if begin is None else begin + int(TRYING_MIN)


def dried(starts: Starts, begin: int) -> dict[str, int]:
    """The minute at which each material that must be dried can be printed, begun as soon as someone is there.

    Args:
        starts: hours and rules.
        begin: minute at which the schedule begins.
    """
    first = first_from(someone_there(starts), begin)
    return {name: (begin if first is None else first) + minutes for name, minutes in starts.rules.drying_min}
