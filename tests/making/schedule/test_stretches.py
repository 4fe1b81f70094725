from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st
from tests.making.schedule.rules import SPACES, some_bedfuls, some_hours

from nookwright.making.schedule.hours import Hours
from nookwright.making.schedule.model import Bedful, Rules, Way
from nookwright.making.schedule.quick import quick_slots
from nookwright.making.schedule.search import exact
from nookwright.making.schedule.starts import starts_of
from nookwright.making.schedule.stretches import plan_stretches
from nookwright.survey.making_wishes import Order


@settings(max_examples=40)
@given(some_hours("one"), some_hours("two"), st.sampled_from(Order), st.data())
def test_no_schedule_ends_before_the_bound_of_stretches(
    one: Hours, two: Hours, order: Order, data: st.DataObject
) -> None:
    """Of few bedfuls, whose best schedule the exact model knows."""
    starts = starts_of((one, two), Rules(order=order, spaces=SPACES, people=data.draw(st.integers(1, 2))))
    some = data.draw(some_bedfuls(("one", "two"), most=5, stages=False))
    bedfuls = [bedful for bedful in some if starts.possible(bedful)]
    loaded = {"one": one.loaded, "two": two.loaded}
    quick = quick_slots(bedfuls, starts, 0, loaded)
    if not quick:
        return
    best = exact(bedfuls, starts, 0, quick=quick, bound=0, effort=5.0, loaded=loaded)
    end = max(slot.end for slot in best.slots)
    assert best.bound == end
    assert plan_stretches(bedfuls, starts, 0, quick=quick, bound=0, effort=5.0).bound <= end


def test_what_fits_a_stretch_to_the_minute_is_planned_in_it() -> None:
    """Twice 10 min of work and 40 of run fill 100 min; a third bedful waits for the next stretch."""
    hours = Hours("one", ((0, 100), (1000, 1100)), ((0, 100), (1000, 1100)), setup_min=10, change_min=0)
    bedfuls = [_bedful(f"b{number}", 40) for number in range(3)]
    assert _bound(bedfuls, hours) == 1050


def test_a_run_through_an_absence_takes_its_part_of_the_next_stretch() -> None:
    """210 min from 10 end at 220, so that one of 80 more cannot end by 300."""
    hours = Hours("one", ((0, 20), (200, 300), (1000, 1100)), ((0, 300), (1000, 1100)), setup_min=10, change_min=0)
    assert _bound([_bedful("long", 210), _bedful("b1", 80)], hours) == 1090
    assert _bound([_bedful("long", 210), _bedful("b1", 70)], hours) == 300


def _bedful(name: str, run: int) -> Bedful:
    return Bedful(name, "grey", (Way("one", run * 60.0, run * 60.0, run * 60.0),), 1.0, 1.0)


def _bound(bedfuls: list[Bedful], hours: Hours) -> int:
    starts = starts_of((hours,), Rules(order=Order.SPACES))
    quick = quick_slots(bedfuls, starts, 0, {"one": "grey"})
    assert quick is not None
    return plan_stretches(bedfuls, starts, 0, quick=quick, bound=0, effort=5.0).bound
