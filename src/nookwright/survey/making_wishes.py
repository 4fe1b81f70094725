"""How the printing is done, as a room file says it: when someone is there, what printers may do alone, spools, costs.

Times are those of the clock on the wall. Nothing is worked out here; which names and times there are says
``making_rules``.
"""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated

from pydantic import Field

from nookwright.ground.frozen import Model
from nookwright.survey.cutting_wishes import PrintedOn, Sawing

STRETCH = r"^[0-2]?[0-9]:[0-5][0-9]-[0-2]?[0-9]:[0-5][0-9]$"
DAY = r"^[0-9]{4}-[0-9]{2}-[0-9]{2}$"
MOMENT = r"^[0-9]{4}-[0-9]{2}-[0-9]{2}( [0-2]?[0-9]:[0-5][0-9])?$"
DAYS_AWAY = r"^[0-9]{4}-[0-9]{2}-[0-9]{2}( to [0-9]{4}-[0-9]{2}-[0-9]{2})?$"

Id = Annotated[str, Field(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$")]
Stretch = Annotated[str, Field(pattern=STRETCH)]
Moment = Annotated[str, Field(pattern=MOMENT)]
DaysAway = Annotated[str, Field(pattern=DAYS_AWAY)]
Minutes = Annotated[float, Field(ge=0, le=600)]


class Weekday(StrEnum):
    """A day of the week, in the order of ISO 8601."""

    MONDAY = "monday"
    TUESDAY = "tuesday"
    WEDNESDAY = "wednesday"
    THURSDAY = "thursday"
    FRIDAY = "friday"
    SATURDAY = "saturday"
    SUNDAY = "sunday"


class Alone(StrEnum):
    """When a printer may run with nobody there."""

    NEVER = "never"
    BY_DAY = "by day"
    ALWAYS = "day and night"


class Order(StrEnum):
    """What comes first."""

    SPACES = "space by space"  # a drawer is usable as early as can be, then the next
    SOONEST = "all done soonest"  # whatever ends earliest; spaces are ready when they are


class PlanBy(StrEnum):
    """Which length of a print the schedule counts with."""

    SURE = "sure"  # the upper end of its interval: the next change is not planned before it has ended
    LIKELY = "likely"


class Week(Model):
    """Stretches of the day through a week; a day that is named goes before weekdays, weekends and every day."""

    every_day: tuple[Stretch, ...] | None = Field(default=None, description="On all days that are not named below.")
    weekdays: tuple[Stretch, ...] | None = Field(default=None, description="Monday to Friday.")
    weekends: tuple[Stretch, ...] | None = Field(default=None, description="Saturday and Sunday.")
    monday: tuple[Stretch, ...] | None = Field(default=None, description="On Mondays; an empty list for none.")
    tuesday: tuple[Stretch, ...] | None = Field(default=None, description="The same.")
    wednesday: tuple[Stretch, ...] | None = Field(default=None, description="The same.")
    thursday: tuple[Stretch, ...] | None = Field(default=None, description="The same.")
    friday: tuple[Stretch, ...] | None = Field(default=None, description="The same.")
    saturday: tuple[Stretch, ...] | None = Field(default=None, description="The same.")
    sunday: tuple[Stretch, ...] | None = Field(default=None, description="The same.")

    def on(self, day: Weekday) -> tuple[str, ...]:
        """The stretches of a day of the week; the narrowest key that says something about it counts."""
        weekend = day in (Weekday.SATURDAY, Weekday.SUNDAY)
        for said in (getattr(self, day), self.weekends if weekend else self.weekdays, self.every_day):
            if said is not None:
                return tuple(said)
        return ()


class Making(Model):
    """The table ``[making]``: when the printing begins, and who is there to change beds."""

    start: Moment | None = Field(
        default=None, description="When it begins, such as '2026-03-02 17:30'; without it the schedule has no dates."
    )
    there: Week = Field(
        default_factory=lambda: Week(weekdays=("6:45-7:45", "17:30-22:30"), weekends=("9:00-22:30",)),
        description="When someone is there to change beds.",
    )
    away: tuple[DaysAway, ...] = Field(
        default=(), description="Days on which nobody is there: '2026-03-07', '2026-03-09 to 2026-03-12'."
    )
    night: Stretch = Field(default="22:00-6:00", description="What counts as night.")
    people: int = Field(default=1, ge=1, le=20, description="How many beds can be changed at the same time.")
    order: Order = Field(default=Order.SPACES, description="What comes first.")
    plan_by: PlanBy = Field(default=PlanBy.SURE, description="Which length of a print counts in the schedule.")
    currency: str = Field(default="", max_length=8, description="What prices are in; said beside them.")
    printed_on: tuple[PrintedOn, ...] = Field(
        default=(), description="One table for parts that go to one printer, or that are never cut."
    )
    sawing: Sawing = Field(default_factory=Sawing, description="What long fillers and fences may be sawn from.")


class Running(Model):
    """The table ``[printer.running]``: what one printer may do when, and what a change of its bed takes."""

    there: Week | None = Field(default=None, description="When someone is at this printer, if not as in [making].")
    alone: Alone = Field(default=Alone.ALWAYS, description="When it may run with nobody there.")
    quiet: Week | None = Field(default=None, description="When it must not run at all, for the sake of quiet.")
    away: tuple[DaysAway, ...] = Field(
        default=(), description="Days on which it does not print at all, since it is lent or broken, as in [making]."
    )
    setup_min: Minutes = Field(default=10.0, description="Minutes to take a bedful off, clean and start the next.")
    colour_change_min: Minutes = Field(default=8.0, description="Minutes more to change the filament.")
    power_w: float = Field(default=120.0, ge=0, le=5000, description="Mean power while it prints.")
    loaded: Id | None = Field(default=None, description="Material that it has loaded now, by id.")


class Spool(Model):
    """One ``[[spool]]``: filament that is there, also what is left of it."""

    id: Id = Field(description="Short name without blanks, to be written on the spool.")
    material: Id = Field(description="What is on it, by id.")
    left_g: float = Field(ge=0, le=20_000, description="Grams left on it, without the empty spool.")
    batch: str = Field(default="", description="Batch as printed on it; spools of one batch look the same.")


class Costs(Model):
    """The table ``[costs]``: what printing costs besides filament; labour and margin only for an offer."""

    electricity_kwh: float = Field(default=0.0, ge=0, description="Price of a kilowatt hour.")
    machine_h: float = Field(default=0.0, ge=0, description="Wear and upkeep for an hour of printing.")
    offer: bool = Field(default=False, description="Whether labour and margin are counted too, for an offer.")
    labour_h: float = Field(default=0.0, ge=0, description="Price of an hour of work; only for an offer.")
    labour_min: Minutes = Field(default=0.0, description="Minutes of work besides changing beds; only for an offer.")
    margin_percent: float = Field(default=0.0, ge=0, le=500, description="On top of everything; only for an offer.")
