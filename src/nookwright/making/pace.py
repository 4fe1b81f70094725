"""How far printers get by when: what the hours of each allow, so that the work is shared out by days, not by hours.

A printer runs while someone is there, and goes on through an absence for as long as a usual bedful lasts. One that is
lent for a fortnight, or silent every night, is given less. When a bedful really ends says the schedule.
"""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass
from itertools import accumulate
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.ground.times import MINUTE_S
from nookwright.making.schedule.hours import beginning_of, hours_of
from nookwright.making.schedule.spans import both, gaps, joined, length

if TYPE_CHECKING:
    from collections.abc import Mapping

    from nookwright.making.schedule.hours import Hours
    from nookwright.making.schedule.spans import Spans
    from nookwright.survey.models import Room

BRIDGED_MIN = Fact(480, unit="min", kind=Kind.CHOICE, source="A bedful takes about eight hours; so long it runs alone.")
DAYS = Fact(120, unit="d", kind=Kind.CHOICE, source="That are looked at; then days go on like these.")


@dataclass(frozen=True)
class Pace:
    """When so many seconds of printing are done on a printer.

    Attributes:
        spans: in which it prints, in minutes from midnight of the first day; none for one that always does.
    """

    spans: Spans = ()

    def done_s(self, work_s: float) -> float:
        """When so much is printed, s from midnight of the first day.

        Args:
            work_s: seconds of printing.

        >>> Pace(((600, 660), (720, 780))).done_s(5400.0) / 3600
        12.5
        """
        if not self.spans:
            return work_s
        left, whole = work_s / MINUTE_S, length(self.spans)
        rounds, left = divmod(left, whole)
        if rounds and not left:
            rounds, left = rounds - 1, whole
        sums = list(accumulate(end - first for first, end in self.spans))
        at = min(bisect_left(sums, left), len(sums) - 1)
        return float((rounds * self.spans[-1][1] + self.spans[at][1] - (sums[at] - left)) * MINUTE_S)


ALWAYS = Pace()


def paces_of(room: Room) -> Mapping[str, Pace]:
    """The pace of every printer of a room, by its id; one that nobody ever looks after is left out.

    Args:
        room: as surveyed, with its hours.
    """
    hours = hours_of(room.making, room.printer, beginning_of(room.making), days=int(DAYS))
    found = {one.printer: _spans(one) for one in hours}
    return {printer: Pace(spans) for printer, spans in found.items() if spans}


def _spans(hours: Hours) -> Spans:
    """When a printer prints."""
    looked_after = both(hours.there, hours.runs)
    if not looked_after:
        return ()
    last = max(end for _, end in hours.runs)
    absences = gaps(looked_after, looked_after[0][0], last)
    alone = ((first, min(end, first + int(BRIDGED_MIN))) for first, end in absences)
    bridged = (span for one in alone for span in both((one,), hours.runs) if span[0] == one[0])
    return joined((*looked_after, *bridged))
