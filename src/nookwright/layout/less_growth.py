"""What a lot would take with less room to grow: its candidates made again, for the reasons why it is left out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.layout.asks import things_g
from nookwright.layout.candidates import candidates_of
from nookwright.layout.search.easing import Less
from nookwright.sizing.tray_needs import PLAIN
from nookwright.sizing.ways import ways_of
from nookwright.sizing.ways.household import hosts_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from nookwright.layout.model import Candidate
    from nookwright.module.module import Module
    from nookwright.sizing.lot_sizes import Terms
    from nookwright.sizing.tray_needs import TrayNeeds
    from nookwright.sizing.ways import Limits
    from nookwright.survey.models import Lot, Room

STEP_PERCENT = Fact(5.0, unit="%", kind=Kind.CHOICE, source="Room to grow that is left off at a time, down to none.")


@dataclass(frozen=True)
class LessGrowth:
    """Knows what lots would take with less room to grow.

    Attributes:
        room: as surveyed.
        module: the household's module.
        limits: the largest insides of the room.
        needs: by id of a lot, what the options of its tray take.
        terms: by which things and pockets are sized.
    """

    room: Room
    module: Module
    limits: Limits
    needs: Mapping[str, TrayNeeds]
    terms: Terms

    def __call__(self, name: str) -> Less | None:
        """All that less room to grow would make of a lot; ``None`` where it is kept in a box or with other lots.

        Args:
            name: its id.
        """
        lot = next(one for one in self.room.lot if one.id == name)
        if lot.box or name in hosts_of(self.room):
            return None
        last, steps = self._candidates(lot), []
        for percent in _less_than(lot.grow_percent):
            found = self._candidates(lot.model_copy(update={"grow_percent": percent}))
            if found and found != last:
                steps.append((percent, found))
                last = found
        return Less(lot.grow_percent, tuple(steps))

    def _candidates(self, lot: Lot) -> tuple[Candidate, ...]:
        ways = ways_of(lot, self.limits, self.needs.get(lot.id, PLAIN), self.terms)
        return candidates_of(lot.id, ways, self.module, things_g(lot), weights=self.room.choices.weights)


def _less_than(percent: float) -> Iterator[float]:
    """Smaller room to grow, step by step, down to none."""
    while percent > 0:
        percent = max(0.0, percent - STEP_PERCENT)
        yield percent
