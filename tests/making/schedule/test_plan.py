from __future__ import annotations

from itertools import permutations, product
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.making.schedule.rules import DAY, DAYS, breaches, minutes, some_bedfuls, some_hours, some_rules

from nookwright.making.schedule.effort import INSTANT, Effort
from nookwright.making.schedule.hours import Beginning, Hours
from nookwright.making.schedule.model import Bedful, Rules, Stage, Way
from nookwright.making.schedule.plan import schedule_of
from nookwright.survey.making_wishes import Order, PlanBy

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

QUICK = Effort(steps=0.3, puts=2000, passed=200_000)
EXACT = Effort(steps=5, puts=2000, passed=0)
ALWAYS = ((0, 100_000),)


def bedful(name: str, minutes_: float, *, material: str = "grey", **others: object) -> Bedful:
    """A bedful for the printer ``one`` of so many minutes."""
    way = Way("one", minutes_ * 60, minutes_ * 60, minutes_ * 60)
    return Bedful(name, material, (way,), 50.0, 55.0, **others)  # type: ignore[arg-type]


@settings(max_examples=40)
@given(some_hours("one"), some_hours("two"), some_rules(), some_bedfuls(("one", "two"), most=6))
def test_every_schedule_keeps_every_rule(one: Hours, two: Hours, rules: Rules, bedfuls: tuple[Bedful, ...]) -> None:
    """Searched or at once: all bedfuls are placed or named, and nothing is broken.

    No two at once on a printer, no start with nobody there, no run at forbidden hours, stages kept, no space late.
    """
    for effort in (INSTANT, QUICK):
        schedule = schedule_of(bedfuls, (one, two), rules, effort=effort)
        assert list(breaches(schedule, bedfuls, (one, two), rules, strict=effort is INSTANT)) == []


@settings(max_examples=40)
@given(some_hours("one"), some_hours("two"), some_rules(), some_bedfuls(("one", "two"), most=6))
def test_what_is_proven_at_once_holds_for_what_is_searched(
    one: Hours, two: Hours, rules: Rules, bedfuls: tuple[Bedful, ...]
) -> None:
    """Also where what is tried first could be done earlier than the instant answer does it."""
    at_once = schedule_of(bedfuls, (one, two), rules, effort=INSTANT)
    searched = schedule_of(bedfuls, (one, two), rules, effort=Effort(steps=2, puts=100, passed=0))
    if not searched.unplaced:
        assert at_once.bound <= searched.end


def test_trials_that_could_be_done_earlier_let_the_kit_begin_earlier_in_the_bound() -> None:
    """Trials of 60, 60, 50, 50, 40 and 40 min on two printers: 150 at best."""
    ways = {
        run: tuple(Way(name, run * 60.0, run * 60.0, run * 60.0) for name in ("one", "two")) for run in (40, 50, 60)
    }
    trials = [
        Bedful(f"t{n}", "grey", ways[run], 1.0, 1.0, stage=Stage.TRIAL)
        for n, run in enumerate((60, 60, 50, 50, 40, 40))
    ]
    hours = tuple(Hours(name, ALWAYS, ALWAYS, setup_min=0, change_min=0, loaded="grey") for name in ("one", "two"))
    kit = Bedful("kit", "grey", ways[40], 1.0, 1.0)
    schedule = schedule_of((*trials, kit), hours, Rules(order=Order.SOONEST, people=2), effort=INSTANT)
    best = schedule_of((*trials, kit), hours, Rules(order=Order.SOONEST, people=2), effort=EXACT)
    assert best.end == 150 + 30 + 40
    assert schedule.bound <= best.end


@settings(max_examples=12)
@given(some_hours("one"), some_hours("two"), some_rules(), st.data())
def test_schedules_of_many_bedfuls_keep_every_rule_too(
    one: Hours, two: Hours, rules: Rules, data: st.DataObject
) -> None:
    """More than the exact model takes, so that prices are set, ends aimed at and exchanges tried."""
    bedfuls = data.draw(some_bedfuls(("one", "two"), most=14, stages=False).filter(lambda some: len(some) > 8))
    schedule = schedule_of(bedfuls, (one, two), rules, effort=QUICK)
    assert list(breaches(schedule, bedfuls, (one, two), rules)) == []


def ends_of_all_orders(bedfuls: Sequence[Bedful], hours: Sequence[Hours], by: Mapping[str, int]) -> Iterator[int]:
    """The end of every way to share bedfuls out and to put them in a row in which no space is late."""
    for share in product(*[[way.printer for way in one.ways] for one in bedfuls]):
        rows = []
        for one in hours:
            mine = [some for some, printer in zip(bedfuls, share, strict=True) if printer == one.printer]
            found = [ends_of_row(row, one) for row in permutations(mine)]
            in_time = [row for row in found if row is not None and not late(row, bedfuls, by)]
            rows.append([max(row.values(), default=0) for row in in_time])
        if all(rows):
            yield max(min(row) for row in rows)


def late(ends: Mapping[str, int], bedfuls: Sequence[Bedful], by: Mapping[str, int]) -> bool:
    """Whether a space waits too long for a bedful."""
    return any(ends[some.id] > by[space] for some in bedfuls if some.id in ends for space in some.spaces if space in by)


def ends_of_row(row: Sequence[Bedful], hours: Hours) -> Mapping[str, int] | None:
    """When each of a row of bedfuls ends, as early as can be, minute by minute; nothing where the hours end before."""
    ends: dict[str, int] = {}
    there, runs, nights = minutes(hours.there), minutes(hours.runs), minutes(hours.nights)
    free, loaded = 0, hours.loaded
    for some in row:
        work = hours.setup_min + (hours.change_min if some.material != loaded else 0)
        run = some.on(hours.printer).minutes(PlanBy.SURE)
        may = runs - (set() if some.night else nights)
        begins = (
            at
            for at in range(free, DAYS * DAY)
            if {at, *range(at, at + work)} <= there and set(range(at + work, at + work + run)) <= may
        )
        at = next(begins, None)
        if at is None:
            return None
        free, loaded = at + work + run, some.material
        ends[some.id] = free
    return ends


@settings(max_examples=25)
@given(some_hours("one"), some_hours("two"), st.sampled_from(Order), st.data())
def test_few_bedfuls_end_as_early_as_the_best_of_all_orders(
    one: Hours, two: Hours, order: Order, data: st.DataObject
) -> None:
    """The exact model agrees with trying out everything, and proves it; where spaces come first, none may be late."""
    rules = Rules(order=order, spaces=("left", "right", "shelf"), people=2)
    bedfuls = data.draw(some_bedfuls(("one", "two"), most=4, stages=False))
    schedule = schedule_of(bedfuls, (one, two), rules, effort=EXACT)
    placed = [some for some in bedfuls if some.id in {slot.bedful for slot in schedule.slots}]
    best = min(ends_of_all_orders(placed, (one, two), dict(schedule.by)), default=0)
    assert (schedule.end, schedule.bound) == (best, best)


@settings(max_examples=15)
@given(some_hours("one"), st.data())
def test_bounds_of_many_never_pass_what_is_possible(one: Hours, data: st.DataObject) -> None:
    """The bound that prices give stays below the best of all orders of equals on one printer."""
    rules = Rules(order=Order.SOONEST, people=1)
    some = data.draw(some_bedfuls(("one",), most=1, stages=False))[0]
    alike = [Bedful(f"b{n}", some.material, some.ways, 1.0, 1.0, night=some.night) for n in range(9)]
    schedule = schedule_of(alike, (one,), rules, effort=QUICK)
    if not schedule.unplaced:
        assert schedule.bound <= schedule.end
        ends = ends_of_row(alike, one)
        assert ends is not None
        assert schedule.end == max(ends.values())


def test_the_same_bedfuls_give_the_same_schedule() -> None:
    """Nothing depends on the clock or on chance."""
    bedfuls = tuple(bedful(f"b{n}", 20 + 13 * n % 90, material=("grey", "blue")[n % 2]) for n in range(12))
    hours = (Hours("one", tuple((day * 400, day * 400 + 120) for day in range(40)), ALWAYS),)
    schedules = {schedule_of(bedfuls, hours, Rules(), effort=QUICK) for _ in range(3)}
    assert len(schedules) == 1


def test_a_search_never_ends_later_than_the_instant_answer() -> None:
    """The instant answer is where the search begins."""
    bedfuls = tuple(bedful(f"b{n:02d}", 30 + 37 * n % 200) for n in range(20))
    hours = (Hours("one", tuple((day * 1440 + 400, day * 1440 + 800) for day in range(60)), ALWAYS),)
    at_once = schedule_of(bedfuls, hours, Rules(), effort=INSTANT)
    searched = schedule_of(bedfuls, hours, Rules(), effort=QUICK)
    assert searched.end <= at_once.end == searched.quick


def test_the_night_gets_what_is_lost_cheaply() -> None:
    """Of two bedfuls of one length, the light one runs with nobody there."""
    hours = (Hours("one", ((0, 200), (1440, 1640)), ((0, 2880),), nights=((200, 1440),), setup_min=10),)
    heavy = Bedful("heavy", "grey", (Way("one", 9000, 9000, 9000),), 400.0, 400.0)
    light = Bedful("light", "grey", (Way("one", 9000, 9000, 9000),), 20.0, 20.0)
    schedule = schedule_of((light, heavy), hours, Rules(order=Order.SOONEST))
    nights = {slot.bedful for slot in schedule.slots if slot.night}
    assert nights == {"light"}


def test_spaces_are_ready_in_their_order() -> None:
    """The last bedful of a space says when it is ready."""
    bedfuls = (bedful("b1", 60, spaces=("right",)), bedful("b2", 60, spaces=("left",)), bedful("b3", 30))
    hours = (Hours("one", ALWAYS, ALWAYS, setup_min=10, loaded="grey"),)
    schedule = schedule_of(bedfuls, hours, Rules(spaces=("left", "right")))
    assert schedule.ready == (("left", 70), ("right", 140))
    assert [slot.bedful for slot in schedule.slots] == ["b2", "b1", "b3"]


def test_a_later_space_waits_where_an_earlier_one_would_be_late() -> None:
    """The long one first would end all at 610; but the short one's drawer could be ready at 110, not a day later."""
    hours = (Hours("one", ((0, 20), (500, 520), (1000, 1020)), ((0, 2000),), setup_min=10, loaded="grey"),)
    bedfuls = (bedful("short", 100, spaces=("left",)), bedful("long", 480, spaces=("right",)))
    schedule = schedule_of(bedfuls, hours, Rules(spaces=("left", "right")), effort=EXACT)
    assert schedule.ready == (("left", 110), ("right", 990))
    assert schedule.by == (("left", 500 + 60), ("right", 1000 + 60))
    assert schedule.proven
    assert schedule_of(bedfuls, hours, Rules(order=Order.SOONEST), effort=EXACT).end == 610


def test_a_later_space_fills_what_an_earlier_one_leaves() -> None:
    """One after another it would end at 1030; the short one goes in before, and the first drawer is no later."""
    hours = (Hours("one", ((0, 60), (500, 560), (1000, 1060)), ((0, 2000),), setup_min=10, loaded="grey"),)
    first = tuple(bedful(f"b{number}", 100, spaces=("left",)) for number in range(2))
    bedfuls = (*first, bedful("c", 20, spaces=("right",)))
    rules = Rules(spaces=("left", "right"))
    assert schedule_of(bedfuls, hours, rules, effort=INSTANT).end == 1030
    schedule = schedule_of(bedfuls, hours, rules, effort=EXACT)
    assert dict(schedule.ready) == {"left": 610, "right": 30}
    assert schedule.proven


def test_what_is_tried_first_is_tried_before_the_rest() -> None:
    """Half an hour of someone's time lies between the last trial and the first bedful of the kit."""
    bedfuls = (bedful("kit", 60), bedful("pilot", 60, stage=Stage.TRIAL), bedful("coupon", 60, stage=Stage.COUPON))
    hours = (Hours("one", ALWAYS, ALWAYS, setup_min=10, loaded="grey"),)
    schedule = schedule_of(bedfuls, hours, Rules())
    assert [(slot.bedful, slot.work) for slot in schedule.slots] == [("coupon", 0), ("pilot", 100), ("kit", 200)]
    assert schedule.proven


@pytest.mark.parametrize(
    ("runs", "there", "words"),
    [
        (((0, 100),), ((0, 100),), "its printers may run 1.7 h without a break"),
        (((0, 400),), ((300, 400),), "nobody is there"),
    ],
)
def test_what_no_hours_allow_is_named_with_its_reason(runs: object, there: object, words: str) -> None:
    """A bedful that cannot run is no part of the schedule, and says why."""
    hours = (Hours("one", there, runs, setup_min=10),)  # type: ignore[arg-type]
    schedule = schedule_of((bedful("long", 200),), hours, Rules())
    assert schedule.slots == ()
    assert [one.bedful for one in schedule.unplaced] == ["long"]
    assert words in schedule.unplaced[0].reason
    assert schedule.unplaced[0].remedy


def test_what_comes_last_is_left_out_where_the_hours_end() -> None:
    """The rest of the schedule stands."""
    hours = (Hours("one", ((0, 100),), ((0, 100),), setup_min=10, loaded="grey"),)
    schedule = schedule_of((bedful("b1", 60), bedful("b2", 60)), hours, Rules())
    assert [slot.bedful for slot in schedule.slots] == ["b1"]
    assert [one.bedful for one in schedule.unplaced] == ["b2"]


def test_nothing_to_print_is_a_schedule_too() -> None:
    """It ends when it begins, and that is proven."""
    schedule = schedule_of((), (Hours("one", ALWAYS, ALWAYS),), Rules(), beginning=Beginning(minute=77))
    assert (schedule.end, schedule.gap, schedule.proven) == (77, 0.0, True)


def test_two_bedfuls_of_one_name_are_refused() -> None:
    """Ids tell bedfuls apart on the chart, in the calendar and in prints.csv."""
    with pytest.raises(ValueError, match="different ids"):
        schedule_of((bedful("b", 1), bedful("b", 1)), (Hours("one", ALWAYS, ALWAYS),), Rules())
