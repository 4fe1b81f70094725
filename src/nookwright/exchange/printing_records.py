"""The plan of printing as kit.json says it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.exchange.calendar_file import Names
from nookwright.exchange.printing_models import (
    KitCost,
    KitLearned,
    KitMixed,
    KitPrinting,
    KitPurchase,
    KitReady,
    KitSlot,
)
from nookwright.exchange.rounding import rounded
from nookwright.ground.times import MINUTE_S

if TYPE_CHECKING:
    from nookwright.making.costs import Cost
    from nookwright.making.expected import Expected, Learned
    from nookwright.making.printing import Printing
    from nookwright.making.schedule.model import Slot
    from nookwright.making.spools import Purchase
    from nookwright.survey.models import Room

CHART, LOADING_LIST, CALENDAR = "schedule.svg", "loading_list.csv", "schedule.ics"


def names_of(room: Room) -> Names:
    """What people call printers, materials and spaces."""
    printers, materials, spaces = (
        {one.id: one.name for one in some} for some in (room.printer, room.material, room.space)
    )
    return Names(room.room.name, printers, materials, spaces)


def printing_record(printing: Printing, expected: Expected) -> KitPrinting:
    """How the kit is printed.

    Args:
        printing: the plan.
        expected: what was learned before it.
    """
    schedule, spools = printing.schedule, printing.spools
    return KitPrinting(
        first=schedule.first.isoformat() if schedule.dated else "",
        begin_s=_s(schedule.begin),
        end_s=_s(schedule.end),
        bound_s=_s(schedule.bound),
        gap=rounded(schedule.gap),
        slots=tuple(_slot(one, spools.spool_of(one.bedful)) for one in schedule.slots),
        unplaced=tuple(one.bedful for one in schedule.unplaced),
        ready=tuple(KitReady(space=space, at_s=_s(at)) for space, at in schedule.ready),
        purchases=tuple(_purchase(one) for one in spools.purchases),
        mixed=tuple(KitMixed(space=one.space, material=one.material, batches=one.batches) for one in spools.mixed),
        learned=tuple(_learned(one) for one in expected.learned),
        spoilage=rounded(expected.spoilage),
        cost=_cost(printing.cost),
        chart=CHART if schedule.slots else "",
        loading_list=LOADING_LIST if schedule.slots else "",
        calendar=CALENDAR if schedule.slots and schedule.dated else "",
    )


def _s(minutes: float) -> float:
    return float(minutes * MINUTE_S)


def _slot(one: Slot, spool: str) -> KitSlot:
    return KitSlot(
        bedful=one.bedful,
        printer=one.printer,
        change_s=_s(one.work),
        start_s=_s(one.begin),
        likely_s=_s(one.likely),
        end_s=_s(one.end),
        filament=one.changes,
        night=one.night,
        spool=spool,
    )


def _purchase(one: Purchase) -> KitPurchase:
    return KitPurchase(
        material=one.material,
        spools=one.spools,
        spool_g=rounded(one.spool_g),
        spare=one.spare,
        by_s=_s(one.by),
        price=rounded(one.price),
    )


def _learned(one: Learned) -> KitLearned:
    return KitLearned(
        printer=one.printer,
        material=one.material,
        slowness=rounded(one.factors.slowness),
        start_s=rounded(one.factors.start_s),
        heaviness=rounded(one.factors.heaviness),
        timed=one.factors.timed,
        weighed=one.factors.weighed,
        fails=rounded(one.factors.spoilage.share),
    )


def _cost(cost: Cost) -> KitCost:
    return KitCost(
        filament=rounded(sum(price for _, price in cost.filament)),
        electricity=rounded(cost.electricity),
        machine=rounded(cost.machine),
        spoiled=rounded(cost.spoiled),
        labour=rounded(cost.labour),
        margin=rounded(cost.margin),
        total=rounded(cost.total),
        energy_kwh=rounded(cost.energy_kwh),
        printing_h=rounded(cost.printing_h),
    )
