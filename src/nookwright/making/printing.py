"""From bedfuls to a plan of printing: schedule, spools, dryer, costs, and what there is to say of them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.ground.findings import Finding, Severity
from nookwright.ground.times import DAY_MIN, HOUR_MIN
from nookwright.making.costs import SPOILAGE, Cost, cost_of
from nookwright.making.drying import Drying, dryings
from nookwright.making.schedule.effort import INSTANT, USUAL, Effort
from nookwright.making.schedule.gates import someone_there
from nookwright.making.schedule.going_on import loaded_now, still_to_print, unknown_prints
from nookwright.making.schedule.hours import Hours, beginning_of, hours_of
from nookwright.making.schedule.model import Bedful, Rules, Schedule
from nookwright.making.schedule.plan import schedule_of
from nookwright.making.schedule.starts import starts_of
from nookwright.making.spools import SpoolPlan, plan_spools
from nookwright.survey.making_wishes import Making, Order

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from nookwright.making.records import PrintRecord
    from nookwright.making.schedule.hours import Beginning
    from nookwright.survey.models import Room


@dataclass(frozen=True)
class Printing:
    """Everything that is planned of the printing of a kit.

    Attributes:
        bedfuls: those that are still to print, by id.
        hours: of the printers.
        schedule: which goes where and when.
        spools: what each is printed from, and what must be bought.
        dryings: what goes into the dryer when.
        cost: of what is still to print.
        findings: of all of them.
    """

    bedfuls: Mapping[str, Bedful]
    hours: tuple[Hours, ...]
    schedule: Schedule
    spools: SpoolPlan
    dryings: tuple[Drying, ...]
    cost: Cost
    findings: tuple[Finding, ...]


def rules_of(room: Room) -> Rules:
    """What holds between the bedfuls of a room; spaces come in the order of the room file."""
    return Rules(
        order=room.making.order,
        spaces=tuple(space.id for space in room.space),
        plan_by=room.making.plan_by,
        people=room.making.people,
        drying_min=tuple((one.id, -int(-one.drying_h * HOUR_MIN // 1)) for one in room.material if one.drying_h),
    )


def plan_printing(
    room: Room,
    bedfuls: Sequence[Bedful],
    records: Sequence[PrintRecord] = (),
    *,
    spoilage: float = float(SPOILAGE),
    effort: Effort = USUAL,
) -> Printing:
    """Plan the printing of what is not printed yet.

    Args:
        room: as surveyed, with hours, spools and costs.
        bedfuls: of the whole kit, trials among them.
        records: what was printed, see ``prints_csv``.
        spoilage: share of bedfuls that fail.
        effort: of the search for a schedule.
    """
    left = still_to_print(bedfuls, records)
    begins = beginning_of(room.making, [record.when for record in records])
    hours = loaded_now(hours_of(room.making, room.printer, begins), records)
    rules = rules_of(room)
    schedule = schedule_of(left, hours, rules, beginning=begins, effort=effort)
    by_id = {one.id: one for one in left}
    spools = plan_spools(schedule.slots, by_id, room.material, room.spool, spoilage=spoilage)
    there = someone_there(starts_of(hours, rules))
    findings = (
        *_unplaced(schedule),
        *spools.findings,
        *_assumed(room.making, begins),
        *_unknown(unknown_prints(bedfuls, records)),
        *_price_of_order(left, hours, rules, schedule, begins),
        *_nights(schedule, by_id),
        *_spoilage(schedule, spoilage),
    )
    return Printing(
        bedfuls=by_id,
        hours=hours,
        schedule=schedule,
        spools=spools,
        dryings=dryings(schedule.slots, by_id, dict(rules.drying_min), there),
        cost=cost_of(schedule.slots, by_id, room.material, hours, room.costs, spoilage=spoilage),
        findings=findings,
    )


def _unplaced(schedule: Schedule) -> Iterator[Finding]:
    """Bedfuls that no hours allow."""
    for one in schedule.unplaced:
        yield Finding(
            "bedful-unplaced", Severity.WARN, one.bedful, f"No place in the schedule: {one.reason}.", one.remedy
        )


def _assumed(making: Making, begins: Beginning) -> Iterator[Finding]:
    """Hours that nobody gave, and a start that is missing or past."""
    if making.there == Making().there:
        yield Finding(
            "hours-assumed",
            Severity.NOTE,
            "making.there",
            "The schedule takes it that someone is there 6:45-7:45 and 17:30-22:30, at weekends 9:00-22:30.",
            "Say in [making.there] when someone can change beds.",
        )
    if not begins.dated:
        remedy = "Add start = '2026-03-02 17:30' to [making], with your own day."
        text = "The schedule has no dates and begins on any Monday; there is no calendar file."
        yield Finding("schedule-undated", Severity.NOTE, "making.start", text, remedy)
    elif making.start and not making.start.startswith(begins.first.isoformat()):
        text = f"Prints are noted after the start; the schedule goes on from {begins.first.isoformat()}."
        yield Finding("schedule-goes-on", Severity.NOTE, "making.start", text, "Set start to when you will go on.")


def _unknown(records: Sequence[PrintRecord]) -> Iterator[Finding]:
    """Prints that are of no bedful of this kit."""
    for record in records:
        text = f"The print of {record.when} is of no bedful of this kit, and counts for nothing here."
        remedy = "Leave it if it was of an earlier kit; else write the id as the kit has it."
        yield Finding("print-unknown", Severity.NOTE, record.bedful, text, remedy)


def _price_of_order(
    bedfuls: Sequence[Bedful], hours: Sequence[Hours], rules: Rules, schedule: Schedule, begins: Beginning
) -> Iterator[Finding]:
    """How much earlier all could be done if spaces were not made ready one after another."""
    if rules.order is not Order.SPACES or schedule.unplaced or not schedule.slots:
        return
    other = Rules(Order.SOONEST, rules.spaces, rules.plan_by, rules.people, rules.drying_min)
    end = schedule_of(bedfuls, hours, other, beginning=begins, effort=INSTANT).end
    if schedule.end - end >= DAY_MIN / 2:
        days = f"{(schedule.end - end) / DAY_MIN:.1f} days"
        text = f"Making space by space ready ends {days} later than printing as it fits."
        yield Finding(
            "order-costs-time", Severity.NOTE, "making.order", text, f'Say order = "{Order.SOONEST}" if you can wait.'
        )


def _nights(schedule: Schedule, bedfuls: Mapping[str, Bedful]) -> Iterator[Finding]:
    """What runs through nights with nobody there."""
    mine = [slot for slot in schedule.slots if slot.night]
    if mine:
        heaviest = max(bedfuls[slot.bedful].mass_g for slot in mine)
        text = f"{len(mine)} bedfuls run through a night with nobody there, the heaviest of {heaviest:.0f} g."
        remedy = 'Say alone = "by day" for a printer that must not; a smoke detector belongs above each printer.'
        yield Finding("night-runs", Severity.NOTE, "making", text, remedy)


def _spoilage(schedule: Schedule, spoilage: float) -> Iterator[Finding]:
    """What failures are likely to add; the schedule itself knows of none."""
    count = spoilage * len(schedule.slots)
    if count >= 1:
        hours = spoilage * sum(slot.likely - slot.begin for slot in schedule.slots) / HOUR_MIN
        text = f"About {count:.0f} of {len(schedule.slots)} bedfuls will fail, {hours:.0f} h of printing more."
        yield Finding("spoilage", Severity.NOTE, "making", text, "Note in prints.csv what failed, and build again.")
