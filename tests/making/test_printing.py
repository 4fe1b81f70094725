from __future__ import annotations

from typing import TYPE_CHECKING, Any

from nookwright.making.printing import plan_printing, rules_of
from nookwright.making.records import Outcome, PrintRecord
from nookwright.making.schedule.effort import INSTANT
from nookwright.making.schedule.model import Bedful, Way
from nookwright.survey.making_wishes import Alone, Making, Order, Running, Spool, Week

if TYPE_CHECKING:
    from nookwright.survey.models import Room


def bedfuls(count: int = 6, *, hours: float = 5.0) -> tuple[Bedful, ...]:
    way = Way("small", hours * 3600, hours * 3000, hours * 4000)
    return tuple(
        Bedful(f"b{n}", ("white", "red")[n % 2], (way,), 100.0, 110.0, spaces=("drawer",)) for n in range(count)
    )


def codes(room: Room, some: tuple[Bedful, ...], *records: PrintRecord, **others: Any) -> list[str]:  # noqa: ANN401
    return [one.code for one in plan_printing(room, some, records, effort=INSTANT, **others).findings]


def with_making(room: Room, **keys: Any) -> Room:  # noqa: ANN401 - keys of [making]
    return room.model_copy(update={"making": Making(**keys)})


def printed(bedful: str, when: str = "2026-03-04") -> PrintRecord:
    return PrintRecord(id=bedful, when=when, printer="small", material="red", bedful=bedful, outcome=Outcome.DONE)


def test_a_room_that_says_nothing_gets_a_schedule_and_is_told_what_was_assumed(tiny_room: Room) -> None:
    """Usual hours, no dates; every bedful has a place, a spool and a price."""
    plan = plan_printing(tiny_room, bedfuls(), effort=INSTANT)
    assert len(plan.schedule.slots) == len(plan.spools.uses) == 6
    assert {"hours-assumed", "schedule-undated"} <= {one.code for one in plan.findings}
    assert dict(plan.cost.filament) == {"white": 6.0, "red": 7.5}
    assert plan.schedule.ready[0][0] == "drawer"


def test_what_is_printed_is_not_planned_again(tiny_room: Room) -> None:
    """The rest begins the day after, with what the printer has loaded."""
    room = with_making(tiny_room, start="2026-03-02 17:30")
    plan = plan_printing(room, bedfuls(), (printed("b1"), printed("old")), effort=INSTANT)
    assert "b1" not in plan.bedfuls
    assert plan.schedule.first.isoformat() == "2026-03-05"
    assert plan.hours[0].loaded == "red"
    assert {"schedule-goes-on", "print-unknown"} <= {one.code for one in plan.findings}


def test_a_bedful_without_a_place_is_a_warning(tiny_room: Room) -> None:
    """Twenty hours at a printer that must not run alone."""
    room = tiny_room.model_copy(
        update={"printer": (tiny_room.printer[0].model_copy(update={"running": Running(alone=Alone.NEVER)}),)}
    )
    assert "bedful-unplaced" in codes(room, bedfuls(1, hours=20))


def test_nights_and_failures_are_said(tiny_room: Room) -> None:
    """Where there are any."""
    assert "night-runs" in codes(tiny_room, bedfuls(6, hours=12))
    assert "spoilage" in codes(tiny_room, bedfuls(6), spoilage=0.2)
    quiet = with_making(tiny_room, there=Week(every_day=("0:00-24:00",)))
    assert not {"night-runs", "spoilage", "hours-assumed"} & set(codes(quiet, bedfuls(6)))


def test_the_price_of_making_spaces_ready_in_order_is_said(tiny_room: Room) -> None:
    """Long ones of the second space would fit the nights, and must wait for the first."""
    spaces = tuple(tiny_room.space[0].model_copy(update={"id": name}) for name in ("left", "right"))
    way = {run: Way("small", run * 3600.0, run * 3600.0, run * 3600.0) for run in (1, 9)}
    some = tuple(
        Bedful(f"b{n}", "white", (way[9 if n % 2 else 1],), 9.0, 9.0, spaces=("right" if n % 2 else "left",))
        for n in range(24)
    )
    room = tiny_room.model_copy(update={"space": spaces})
    assert "order-costs-time" in codes(room, some)
    soonest = room.model_copy(update={"making": Making(order=Order.SOONEST)})
    assert "order-costs-time" not in codes(soonest, some)


def test_rules_follow_the_room(tiny_room: Room) -> None:
    """Spaces in the order of the file, minutes in the dryer rounded up."""
    materials = (tiny_room.material[0].model_copy(update={"drying_h": 4.01}), tiny_room.material[1])
    room = tiny_room.model_copy(update={"material": materials, "spool": (Spool(id="s", material="red", left_g=1),)})
    assert rules_of(room).drying_min == (("white", 241),)
    assert rules_of(room).spaces == ("drawer",)
    plan = plan_printing(room, bedfuls(), effort=INSTANT)
    assert [(one.material, one.end - one.begin) for one in plan.dryings] == [("white", 241)]
