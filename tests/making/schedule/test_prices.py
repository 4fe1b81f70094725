from __future__ import annotations

from hypothesis import example, given, settings
from hypothesis import strategies as st
from tests.making.schedule.rules import DAY, DAYS, SPACES, some_bedfuls, some_hours

from nookwright.making.schedule.aim import aimed, asked_of, hands_busy
from nookwright.making.schedule.bound import bound_of
from nookwright.making.schedule.decode import Decoder
from nookwright.making.schedule.hours import Hours
from nookwright.making.schedule.model import Bedful, Rules, Slot, Way
from nookwright.making.schedule.prices import bound_of_choice, kinds_of, priced
from nookwright.making.schedule.quick import quick_slots
from nookwright.making.schedule.search import exact
from nookwright.making.schedule.staged import ends_by, order_of, promised, ready_by
from nookwright.making.schedule.starts import starts_of
from nookwright.making.schedule.tables import tables_of
from nookwright.survey.making_wishes import Order


def _bedful(name: str, run: int, material: str = "grey", printers: tuple[str, ...] = ("one",)) -> Bedful:
    ways = tuple(Way(printer, run * 60.0, run * 60.0, run * 60.0) for printer in printers)
    return Bedful(name, material, ways, 1.0, 1.0)


def _every_day(first: int, end: int) -> tuple[tuple[int, int], ...]:
    return tuple((day * DAY + first, day * DAY + end) for day in range(DAYS))


@settings(max_examples=60)
@given(
    one=some_hours("one"),
    two=some_hours("two"),
    order=st.sampled_from(Order),
    people=st.integers(1, 2),
    some=some_bedfuls(("one", "two"), most=6, stages=False),
)
@example(  # the first, which either may print, brings the blue filament in the evening before the last
    one=Hours("one", _every_day(0, 31), _every_day(0, 150), setup_min=0, change_min=4),
    two=Hours("two", ((0, DAYS * DAY),), ((0, DAYS * DAY),), setup_min=0, change_min=0),
    order=Order.SPACES,
    people=1,
    some=(
        _bedful("b0", 5, "blue", ("one", "two")),
        *(_bedful(f"b{number}", 5) for number in range(1, 5)),
        _bedful("b5", 144, "blue"),
    ),
)
def test_no_schedule_ends_before_the_bound_of_prices(
    one: Hours, two: Hours, order: Order, people: int, some: tuple[Bedful, ...]
) -> None:
    """Of few bedfuls, whose best schedule the exact model knows; with minutes by which spaces must be ready, too."""
    starts = starts_of((one, two), Rules(order=order, spaces=SPACES, people=people))
    bedfuls = [bedful for bedful in some if starts.possible(bedful)]
    loaded = {"one": one.loaded, "two": two.loaded}
    quick = quick_slots(bedfuls, starts, 3, loaded)
    if not quick:
        return
    by = ends_by(bedfuls, promised(ready_by(bedfuls, quick), starts)) if order is Order.SPACES else {}
    best = exact(bedfuls, starts, 3, quick=quick, bound=3, effort=5.0, loaded=loaded, by=by)
    end, latest = max(slot.end for slot in best.slots), max(slot.end for slot in quick)
    assert best.bound == end
    tables = tables_of(bedfuls, starts, 3, loaded)
    assert bound_of_choice(tables, 3, end=latest, bound=3, passed=400_000, by=by) <= end


def test_prices_prove_what_minutes_do_not() -> None:
    """A stretch of 100 min takes one of 60 with its change of bed, not one and a half of them.

    In 460 min with somebody there are 3 x 140 to be done, so minutes alone would do; but only one fits each stretch.
    """
    there = tuple((start, start + 100) for start in range(0, 2000, 200))
    hours = Hours("one", there, there, setup_min=10, change_min=0, loaded="grey")
    assert _bound([_bedful(f"b{number}", 60) for number in range(6)], hours) == 1070


def test_prices_see_that_a_short_one_fits_beside() -> None:
    """60 and 15 with twice 10 lie in one stretch."""
    there = tuple((start, start + 100) for start in range(0, 2000, 200))
    hours = Hours("one", there, there, setup_min=10, change_min=0, loaded="grey")
    runs = (60, 60, 60, 15, 15, 15)
    assert _bound([_bedful(f"b{number}", run) for number, run in enumerate(runs)], hours) <= 495


def test_a_run_through_an_absence_takes_its_part_of_the_next_stretch() -> None:
    """210 min from 10 end at 220, so that one of 80 more cannot end by 300."""
    hours = Hours("one", ((0, 20), (200, 300), (1000, 1100)), ((0, 300), (1000, 1100)), setup_min=10, change_min=0)
    assert _bound([_bedful("long", 210), _bedful("b1", 80)], hours) == 1090
    assert _bound([_bedful("long", 210), _bedful("b1", 70)], hours) == 300


def test_a_change_of_filament_takes_its_minutes() -> None:
    """10 of work and 35 of run, and 8 more for what is not loaded."""
    hours = Hours("one", ((0, 100),), ((0, 100),), setup_min=10, change_min=8, loaded="grey")
    assert _bound([_bedful("b1", 35)], hours) == 45
    assert _bound([_bedful("b1", 35, "blue")], hours) == 53


def test_a_printer_that_fits_only_with_its_filament_is_one_to_choose() -> None:
    """145 min of 150 leave no time for a change of filament, and the other printer is seen to later."""
    one = Hours("one", _every_day(0, 31), _every_day(0, 150), setup_min=0, change_min=8, loaded="grey")
    two = Hours("two", _every_day(100, 131), _every_day(0, DAY), setup_min=0, change_min=0)
    starts = starts_of((one, two), Rules(order=Order.SOONEST))
    tables = tables_of([_bedful("b1", 145, printers=("one", "two"))], starts, 3, {"one": "grey"})
    assert bound_of_choice(tables, 3, end=1000, bound=3, passed=400_000, by={}) == 148


def test_only_a_change_of_filament_lasts_until_a_run_may_begin() -> None:
    """A change of bed that takes no time begins while someone is there; the run, at the minute at which they leave."""
    hours = Hours("one", ((0, 31), (240, 271)), ((31, 400),), setup_min=0, change_min=4, loaded="grey")
    starts = starts_of((hours,), Rules(order=Order.SOONEST))
    blue = _bedful("b1", 10, "blue")
    slots = quick_slots([blue], starts, 0, {"one": "grey"})
    assert bound_of([blue], starts, 0) == 41
    assert [slot.end for slot in slots or ()] == [41]


def test_a_minute_by_which_something_must_be_done_moves_the_rest() -> None:
    """The long one would take the night; what must be ready in the morning takes it instead."""
    hours = Hours("one", ((0, 20), (500, 520), (1000, 1020)), ((0, 2000),), setup_min=10, change_min=0, loaded="grey")
    bedfuls = [_bedful("long", 480), _bedful("short", 100)]
    assert _bound(bedfuls, hours) == 610
    assert _bound(bedfuls, hours, {"short": 200}) == 990


@settings(max_examples=40)
@given(some_hours("one"), some_hours("two"), st.integers(1, 2), st.data())
def test_what_is_aimed_at_keeps_hours_hands_and_minutes(
    one: Hours, two: Hours, people: int, data: st.DataObject
) -> None:
    """Every bedful stays on its printer, none begins with busy hands, none is late, and the end is never later."""
    starts = starts_of((one, two), Rules(spaces=SPACES, people=people))
    some = data.draw(some_bedfuls(("one", "two"), most=9, stages=False))
    bedfuls = [bedful for bedful in some if starts.possible(bedful)]
    loaded = {"one": one.loaded, "two": two.loaded}
    quick = quick_slots(bedfuls, starts, 0, loaded)
    if not quick:
        return
    latest = max(slot.end for slot in quick)
    by = ends_by(bedfuls, promised(ready_by(bedfuls, quick), starts))
    tables = tables_of(bedfuls, starts, 0, loaded)
    asked = asked_of(tables, order_of(quick), 0, end=latest, passed=200_000, by=by)
    decoder = Decoder({bedful.id: bedful for bedful in bedfuls}, starts, 0, loaded)
    slots = aimed(decoder, tables, asked, quick, least=0)
    assert {slot.bedful: slot.printer for slot in slots} == {slot.bedful: slot.printer for slot in quick}
    assert max(slot.end for slot in slots) <= latest
    for slot in slots:
        bedful = decoder.bedfuls[slot.bedful]
        spans = starts.at(bedful, slot.printer, change=slot.changes)
        assert any(first <= slot.work < end for first, end in spans)
        assert slot.begin - slot.work == starts.work(slot.printer, change=slot.changes)
        assert slot.end <= by.get(slot.bedful, slot.end)
        assert sum(other.work <= slot.work < other.begin for other in slots) <= people


def test_the_bound_itself_is_reached_where_an_order_does() -> None:
    """Nights of 480 min and evenings of 100: long ones at night, short ones in the evening, and none is lost."""
    there = tuple((day * 600, day * 600 + 120) for day in range(12))
    hours = Hours("one", there, ((0, 7200),), setup_min=10, change_min=0, loaded="grey")
    bedfuls = [_bedful(f"n{day}", 470 - day) for day in range(8)] + [_bedful(f"e{day}", 85) for day in range(8)]
    starts = starts_of((hours,), Rules(order=Order.SOONEST))
    bad = {"one": tuple(one.id for one in sorted(bedfuls, key=lambda one: one.id))}
    decoder = Decoder({one.id: one for one in bedfuls}, starts, 0, {"one": "grey"})
    puts = decoder.puts(bad)
    assert puts is not None
    slots = decoder.slots(puts)
    tables = tables_of(bedfuls, starts, 0, {"one": "grey"})
    asked = asked_of(tables, bad, 0, end=max(put.end for put in puts), passed=10_000_000, by={})
    found = aimed(decoder, tables, asked, slots, least=0)
    assert max(slot.end for slot in found) <= asked[0].priced.bound + 5
    assert max(slot.end for slot in found) < max(slot.end for slot in slots) - 400


def test_hands_are_busy_while_all_of_them_work() -> None:
    """Of two people one is free until both change a bed."""
    slots = [Slot(*at, 90, 90, "a", "1", changes=False, night=False) for at in ((0, 10), (5, 20))]
    assert hands_busy(slots, 1) == ((0, 20),)
    assert hands_busy(slots, 2) == ((5, 10),)
    assert hands_busy(slots, 3) == ()


def _bound(bedfuls: list[Bedful], hours: Hours, by: dict[str, int] | None = None) -> int:
    starts = starts_of((hours,), Rules(order=Order.SOONEST))
    tables = tables_of(bedfuls, starts, 0, {"one": "grey"})
    kinds = kinds_of(tables, [0], list(range(len(bedfuls))), end=1999, by=by or {})
    return priced(kinds, 0, end=1999, bound=0, passed=20_000_000).bound
