from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.making.schedule.rules import SPACES, some_bedfuls, some_hours, some_rules

from nookwright.making.schedule import walks
from nookwright.making.schedule.decode import Decoder
from nookwright.making.schedule.effort import PUTS
from nookwright.making.schedule.hours import Hours
from nookwright.making.schedule.improve import improved
from nookwright.making.schedule.model import Bedful, Rules, Way
from nookwright.making.schedule.quick import quick_slots
from nookwright.making.schedule.staged import ends_by, order_of, puts_of, ready_by
from nookwright.making.schedule.starts import starts_of
from nookwright.making.schedule.tables import tables_of
from nookwright.survey.making_wishes import Order

if TYPE_CHECKING:
    import pytest


@settings(max_examples=40)
@given(some_hours("one"), some_hours("two"), some_rules(), st.data())
def test_exchanges_never_make_a_schedule_worse(one: Hours, two: Hours, rules: Rules, data: st.DataObject) -> None:
    """They keep every bedful and the best that was found; spaces stay one after another where that is asked for."""
    starts = starts_of((one, two), rules)
    some = data.draw(some_bedfuls(("one", "two"), most=8, stages=False))
    bedfuls = {bedful.id: bedful for bedful in some if starts.possible(bedful)}
    loaded = {"one": one.loaded, "two": two.loaded}
    quick = quick_slots(tuple(bedfuls.values()), starts, 0, loaded)
    if quick is None or not bedfuls:
        return
    decoder = Decoder(bedfuls, starts, 0, loaded)
    tables = tables_of(tuple(bedfuls.values()), starts, 0, loaded)
    strict = data.draw(st.booleans())
    by_spaces = rules.order is Order.SPACES
    order = improved(tables, order_of(quick), puts=3000, strict=strict, ready=by_spaces)
    better, first = decoder.puts(order), decoder.puts(order_of(quick))
    assert better is not None
    assert first is not None
    assert sorted(put.bedful for put in better) == sorted(bedfuls)
    assert decoder.worth(better).rank <= decoder.worth(first).rank
    if strict:
        ranks = {printer: [rules.rank(bedfuls[name]) for name in names] for printer, names in order.items()}
        assert all(row == sorted(row) for row in ranks.values())


@settings(max_examples=40)
@given(some_hours("one"), some_hours("two"), some_rules(), st.data())
def test_an_order_is_placed_by_the_kernel_as_by_the_decoder(
    one: Hours, two: Hours, rules: Rules, data: st.DataObject
) -> None:
    """To the minute, and it is worth the same."""
    starts = starts_of((one, two), rules)
    bedfuls = [
        bedful for bedful in data.draw(some_bedfuls(("one", "two"), most=8, stages=False)) if starts.possible(bedful)
    ]
    loaded = {"one": one.loaded, "two": two.loaded}
    tables = tables_of(bedfuls, starts, 5, loaded)
    share = [data.draw(st.sampled_from([way.printer for way in bedful.ways])) for bedful in bedfuls]
    order = {name: [some.id for some, on in zip(bedfuls, share, strict=True) if on == name] for name in ("one", "two")}
    decoder = Decoder({bedful.id: bedful for bedful in bedfuls}, starts, 5, loaded)
    puts = decoder.puts(order)
    rows = np.zeros((2, len(bedfuls) + 1), np.int64)
    for at, name in enumerate(tables.printers):
        rows[at, : len(order[name])] = [tables.bedfuls.index(some) for some in order[name]]
    numbers = walks.Order(rows, np.array([len(order[name]) for name in tables.printers], np.int64))
    desk = walks.desk_for(tables.columns)
    count = walks.place(tables.columns, desk, numbers)
    if puts is None:
        assert count == -1
        return
    assert count == len(puts)
    assert [tuple(desk.put[:3, at]) for at in range(count)] == [put[:3] for put in puts]
    assert [tables.bedfuls[desk.put[walks.BEDFUL, at]] for at in range(count)] == [put.bedful for put in puts]
    never = np.full(len(tables.spaces), 1 << 40, np.int64)
    wish = walks.Wish(np.int64(0), never, np.int64(rules.order is Order.SPACES), np.float64(1))
    assert walks.weigh(tables.columns, desk, count, wish) == 0
    worth = decoder.worth(puts)
    assert np.allclose(desk.worth, [worth.end, worth.rest, worth.pull])


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


@settings(max_examples=30)
@given(some_hours("one"), some_hours("two"), st.data())
def test_no_space_becomes_late(one: Hours, two: Hours, data: st.DataObject) -> None:
    """Of orders in any sequence only those count that have every space ready by its minute."""
    starts = starts_of((one, two), Rules(spaces=SPACES))
    bedfuls = [
        bedful for bedful in data.draw(some_bedfuls(("one", "two"), most=8, stages=False)) if starts.possible(bedful)
    ]
    quick = quick_slots(bedfuls, starts, 0, {})
    if not quick:
        return
    decoder = Decoder({bedful.id: bedful for bedful in bedfuls}, starts, 0, {})
    first = decoder.puts(order_of(quick))
    assert first is not None
    ready = ready_by(bedfuls, decoder.slots(first))
    by = {space: minute + data.draw(st.integers(0, 100)) for space, minute in ready.items()}
    order = improved(tables_of(bedfuls, starts, 0, {}), order_of(quick), puts=3000, strict=False, ready=True, by=by)
    puts = decoder.puts(order)
    assert puts is not None
    ends = {put.bedful: put.end for put in puts}
    assert all(ends[name] <= minute for name, minute in ends_by(bedfuls, by).items())


def test_an_earlier_end_is_no_reason_to_be_late() -> None:
    """The long one first would end at 610, the short one first ends at 990; but somebody waits for the short one."""
    there = ((0, 20), (500, 520), (1000, 1020))
    hours = Hours("one", there, ((0, 2000),), setup_min=10, change_min=0, loaded="grey")
    bedfuls = [
        Bedful(name, "grey", (Way("one", run * 60.0, run * 60.0, run * 60.0),), 1.0, 1.0, spaces=(space,))
        for name, run, space in (("short", 100, "left"), ("long", 480, "right"))
    ]
    tables = tables_of(bedfuls, starts_of((hours,), Rules(spaces=SPACES)), 0, {"one": "grey"})
    first = {"one": ("short", "long")}

    def best(*, strict: bool, by: dict[str, int]) -> dict[str, tuple[str, ...]]:
        return {**improved(tables, first, puts=600, strict=strict, ready=False, by=by)}  # type: ignore[dict-item]

    assert best(strict=False, by={}) == {"one": ("long", "short")}
    assert best(strict=False, by={"left": 609}) == first
    assert best(strict=True, by={}) == first


def test_exchanges_find_what_no_rule_of_thumb_does() -> None:
    """Three stretches take six bedfuls only in one way, and the printer must not run alone.

    60 and 40 lie in the one of 100 minutes, two of 50 in the other, 70 and 20 in that of 90.
    """
    hours = Hours(
        "one", ((0, 100), (200, 300), (400, 490)), ((0, 100), (200, 300), (400, 490)), setup_min=0, change_min=0
    )
    late = Hours("one", (*hours.there, (4000, 4200)), (*hours.runs, (4000, 4200)), setup_min=0, change_min=0)
    runs = (60, 50, 40, 50, 70, 20)
    bedfuls = [
        Bedful(f"b{n}", "grey", (Way("one", run * 60.0, run * 60.0, run * 60.0),), 1.0, 1.0)
        for n, run in enumerate(runs)
    ]
    starts = starts_of((late,), Rules(order=Order.SOONEST))
    quick = quick_slots(bedfuls, starts, 0, {})
    assert quick is not None
    assert max(slot.end for slot in quick) > 490
    decoder = Decoder({one.id: one for one in bedfuls}, starts, 0, {})
    order = improved(tables_of(bedfuls, starts, 0, {}), order_of(quick), puts=20_000, strict=False, ready=False)
    puts = decoder.puts(order)
    assert puts is not None
    assert decoder.worth(puts).end == 490


def test_few_bedfuls_are_not_walked_for_long(monkeypatch: pytest.MonkeyPatch) -> None:
    """Three have six orders on one printer; forty are walked as long as may be, and so are more than a float counts."""
    tried: list[int] = []

    def counted(*given: Any) -> None:  # noqa: ANN401 - whatever the kernel takes
        tried.append(given[7])

    monkeypatch.setattr(walks, "walk", counted)
    starts = starts_of((Hours("one", ((0, 1_000_000),), ((0, 1_000_000),)),), Rules())
    for count in (3, 40, 200):  # 171! is more than a float holds
        bedfuls = [Bedful(f"b{n}", "grey", (Way("one", 600.0, 600.0, 600.0),), 1.0, 1.0) for n in range(count)]
        quick = quick_slots(bedfuls, starts, 0, {})
        assert quick is not None
        improved(tables_of(bedfuls, starts, 0, {}), order_of(quick), puts=int(PUTS), strict=False, ready=False)
    assert tried == [2000] * 3 + [int(PUTS) // (3 * 40)] * 3 + [int(PUTS) // (3 * 200)] * 3
