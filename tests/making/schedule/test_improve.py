from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st
from tests.making.schedule.rules import some_bedfuls, some_hours, some_rules

from nookwright.making.schedule.decode import Decoder
from nookwright.making.schedule.hours import Hours
from nookwright.making.schedule.improve import improved
from nookwright.making.schedule.model import Bedful, Rules
from nookwright.making.schedule.quick import quick_slots
from nookwright.making.schedule.staged import order_of, puts_of
from nookwright.making.schedule.starts import starts_of
from nookwright.making.schedule.stretches import plan_stretches
from nookwright.survey.making_wishes import Order


@settings(max_examples=30)
@given(some_hours("one"), some_hours("two"), some_rules(), st.data())
def test_exchanges_never_make_a_schedule_worse(one: Hours, two: Hours, rules: Rules, data: st.DataObject) -> None:
    """They keep every bedful, and the best that was found."""
    starts = starts_of((one, two), rules)
    some = data.draw(some_bedfuls(("one", "two"), most=8, stages=False))
    bedfuls = {bedful.id: bedful for bedful in some if starts.possible(bedful)}
    quick = quick_slots(tuple(bedfuls.values()), starts, 0, {})
    if quick is None or not bedfuls:
        return
    decoder = Decoder(bedfuls, starts, 0, {})
    better = improved(decoder, order_of(quick), tries=80, bound=0)
    first = decoder.puts(order_of(quick))
    assert better is not None
    assert first is not None
    assert sorted(put.bedful for put in better) == sorted(bedfuls)
    assert decoder.worth(better).rank <= decoder.worth(first).rank


@settings(max_examples=30)
@given(some_hours("one"), some_rules(), st.data())
def test_an_order_is_put_as_the_rules_of_thumb_put_it(one: Hours, rules: Rules, data: st.DataObject) -> None:
    """Two ways to the same minutes: rule by rule, and by the quick decoder."""
    starts = starts_of((one,), rules)
    some = [bedful for bedful in data.draw(some_bedfuls(("one",), most=6, stages=False)) if starts.possible(bedful)]
    quick = quick_slots(some, starts, 0, {"one": one.loaded})
    if quick is not None:
        decoder = Decoder({bedful.id: bedful for bedful in some}, starts, 0, {"one": one.loaded})
        assert decoder.puts(order_of(quick) or {"one": ()}) == list(puts_of(quick))


def test_a_plan_of_stretches_finds_what_no_rule_of_thumb_does() -> None:
    """Three stretches take seven bedfuls only in one way, and the printer must not run alone.

    60 and 40 lie in the one of 100 minutes, two of 50 in the other, 70 and 20 in that of 90.
    """
    hours = Hours(
        "one", ((0, 100), (200, 300), (400, 490)), ((0, 100), (200, 300), (400, 490)), setup_min=0, change_min=0
    )
    runs = (60, 50, 40, 50, 70, 20)
    bedfuls = [_bedful(f"b{n}", run) for n, run in enumerate(runs)]
    bedfuls.append(_bedful("far", 90, printer="two"))
    beside = Hours("two", ((0, 5000),), ((0, 5000),), setup_min=0)
    late = Hours("one", (*hours.there, (4000, 4200)), (*hours.runs, (4000, 4200)), setup_min=0, change_min=0)
    starts = starts_of((late, beside), Rules(order=Order.SOONEST, people=2))
    quick = quick_slots(bedfuls, starts, 0, {})
    assert quick is not None
    planned = plan_stretches(bedfuls, starts, 0, quick=quick, bound=0, effort=5.0)
    decoder = Decoder({one.id: one for one in bedfuls}, starts, 0, {})
    ends = [decoder.worth(puts).end for order in planned.orders if (puts := decoder.puts(order)) is not None]
    assert planned.bound == 490
    assert min(ends) == 490


def _bedful(name: str, run: int, *, printer: str = "one") -> Bedful:
    from nookwright.making.schedule.model import Way

    return Bedful(name, "grey", (Way(printer, run * 60.0, run * 60.0, run * 60.0),), 1.0, 1.0)
