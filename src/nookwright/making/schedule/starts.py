"""When someone may begin to change a bed for a bedful, by the hours alone.

The whole change lies in one stretch in which someone is there; the run that follows lies in one stretch in which the
printer may run, and keeps off nights with nobody there if the bedful must.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from nookwright.making.schedule.spans import Spans, both, fitting, meet, shifted, without

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from nookwright.making.schedule.hours import Hours
    from nookwright.making.schedule.model import Bedful, Rules


@dataclass(frozen=True)
class Starts:
    """When each bedful may begin on each of its printers, see ``at``."""

    hours: Mapping[str, Hours]
    rules: Rules
    _known: dict[tuple[str, int, bool, bool], Spans] = field(default_factory=dict, compare=False, repr=False)

    def at(self, bedful: Bedful, printer: str, *, change: bool) -> Spans:
        """When the change of bed may begin.

        Args:
            bedful: the next one.
            printer: id of one of its printers.
            change: whether the filament is changed too.
        """
        run = self.run(bedful, printer)
        key = (printer, run, change, bedful.night)
        if key not in self._known:
            hours, work = self.hours[printer], self.work(printer, change=change)
            runs = hours.runs if bedful.night else without(hours.runs, hours.nights)
            self._known[key] = both(fitting(hours.there, max(1, work)), shifted(fitting(runs, run), -work))
        return self._known[key]

    def work(self, printer: str, *, change: bool) -> int:
        """Minutes of a change of bed."""
        hours = self.hours[printer]
        return hours.setup_min + (hours.change_min if change else 0)

    def run(self, bedful: Bedful, printer: str) -> int:
        """Minutes of a run, as planned."""
        return bedful.on(printer).minutes(self.rules.plan_by)

    def at_night(self, begin: int, end: int, printer: str) -> bool:
        """Whether a run from a minute to another goes through a night with nobody there."""
        return meet(self.hours[printer].nights, begin, end)

    def possible(self, bedful: Bedful) -> bool:
        """Whether the hours allow a bedful at all, filament changed."""
        return any(self.at(bedful, way.printer, change=True) for way in bedful.ways if way.printer in self.hours)


def starts_of(hours: Sequence[Hours], rules: Rules) -> Starts:
    """The starts of all bedfuls under some hours.

    Args:
        hours: of the printers.
        rules: which length of a print counts.
    """
    return Starts({one.printer: one for one in hours}, rules)
