"""What a schedule is made of: bedfuls with their times, the rules between them, and where each of them is put.

Vocabulary: a bedful's *work* is what someone does at the printer before it runs: taking off the last one, cleaning,
changing the filament where it has another colour. Its *run* follows without a pause. Minutes are whole and count from
midnight of the schedule's first day.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from enum import IntEnum
from typing import TYPE_CHECKING

from nookwright.ground.times import MINUTE_S
from nookwright.survey.making_wishes import Order, PlanBy

if TYPE_CHECKING:
    from datetime import date

    from nookwright.ground.findings import Finding


class Stage(IntEnum):
    """What must be tried before what: nothing of a stage begins before all of the one before has been tried."""

    COUPON = 0  # measures a printer
    TRIAL = 1  # pilots, gauges, the bar of the seat
    KIT = 2


@dataclass(frozen=True)
class Way:
    """One printer that may print a bedful, and how long it takes there, heating up included.

    Attributes:
        printer: id.
        likely_s: the estimate.
        low_s, high_s: its interval.
    """

    printer: str
    likely_s: float
    low_s: float
    high_s: float

    def minutes(self, by: PlanBy) -> int:
        """The whole minutes that a schedule counts with, rounded up; at least one."""
        seconds = self.likely_s if by is PlanBy.LIKELY else max(self.high_s, self.likely_s)
        return max(1, math.ceil(seconds / MINUTE_S))


@dataclass(frozen=True)
class Bedful:
    """One load of a bed, as the schedule sees it.

    Attributes:
        id: unique among the bedfuls.
        material: id.
        ways: the printers that may print it; at least one.
        mass_g: the estimate, brim and purge included.
        high_g: the upper end of its interval.
        stage: what it is for.
        spaces: the spaces that it has pieces for, by id; none for parts that are made to order.
        visible: the spaces of these in which its colour is seen.
        night: whether it may run through a night with nobody there.
        also_on: ids of other printers that could print it as it is; the schedule does not use them.
    """

    id: str
    material: str
    ways: tuple[Way, ...]
    mass_g: float
    high_g: float
    stage: Stage = Stage.KIT
    spaces: tuple[str, ...] = ()
    visible: tuple[str, ...] = ()
    night: bool = True
    also_on: tuple[str, ...] = ()

    def on(self, printer: str) -> Way:
        """How long it takes on one of its printers.

        Raises:
            KeyError: the printer is none of them.
        """
        for way in self.ways:
            if way.printer == printer:
                return way
        raise KeyError(printer)


@dataclass(frozen=True)
class Rules:
    """What holds between bedfuls.

    Attributes:
        order: whether spaces are wanted one after another; see ``staged``.
        spaces: ids of the spaces, the first to be ready first.
        plan_by: which length of a print counts.
        people: how many beds can be changed at the same time.
        drying_min: before a material is printed first, by its id; those that need none are left out.
    """

    order: Order = Order.SPACES
    spaces: tuple[str, ...] = ()
    plan_by: PlanBy = PlanBy.SURE
    people: int = 1
    drying_min: tuple[tuple[str, int], ...] = ()

    def rank(self, bedful: Bedful) -> int:
        """The place of the first space that waits for a bedful; those that no space waits for come last.

        In the instant answer ranks never go down from one bedful to the next, on each printer and within a stage.
        """
        if self.order is Order.SOONEST:
            return 0
        places = [self.spaces.index(one) for one in bedful.spaces if one in self.spaces]
        return min(places, default=len(self.spaces))


@dataclass(frozen=True, order=True)
class Slot:
    """Where one bedful is put.

    Attributes:
        work: minute at which someone begins to change the bed.
        begin: minute at which the print begins.
        likely: minute at which it ends by its estimate.
        end: minute at which it ends at the latest, as planned.
        printer, bedful: ids.
        changes: whether the filament is changed before it.
        night: whether it runs through a night with nobody there.
    """

    work: int
    begin: int
    likely: int
    end: int
    printer: str
    bedful: str
    changes: bool
    night: bool


@dataclass(frozen=True)
class Unplaced:
    """A bedful that no hours allow, with the reason and what can be done."""

    bedful: str
    reason: str
    remedy: str


@dataclass(frozen=True)
class Schedule:
    """A schedule, and what is proven of it.

    Attributes:
        first: its first day.
        dated: whether that is a day of the calendar; if not, it is a Monday that stands for any.
        begin: minute at which it begins.
        slots: in order of time.
        unplaced: bedfuls that no hours allow.
        end: minute at which the last print ends.
        bound: minute before which no schedule under the same rules can end.
        quick: minute at which the instant answer ended, which the search began with.
        ready: space and the minute at which all its pieces are printed, in order of time.
        by: space and the minute by which it had to be ready, in order of time; empty where no space comes first.
        findings: what there is to say.
    """

    first: date
    dated: bool
    begin: int
    slots: tuple[Slot, ...]
    unplaced: tuple[Unplaced, ...]
    end: int
    bound: int
    quick: int
    ready: tuple[tuple[str, int], ...] = ()
    by: tuple[tuple[str, int], ...] = ()
    findings: tuple[Finding, ...] = field(default=())

    @property
    def minutes(self) -> int:
        """From its beginning to its end."""
        return self.end - self.begin

    @property
    def gap(self) -> float:
        """By which share of its length it could be shorter at most; 0 where it is proven to end as early as any."""
        return (self.end - self.bound) / self.minutes if self.minutes else 0.0

    @property
    def proven(self) -> bool:
        """Whether no schedule under the same rules ends earlier."""
        return self.bound >= self.end
