from __future__ import annotations

from collections import defaultdict
from itertools import combinations

from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.ground.findings import Severity
from nookwright.making.schedule.model import Bedful, Slot, Way
from nookwright.making.spools import LEFT_ON_G, plan_spools
from nookwright.survey.making_wishes import Spool
from nookwright.survey.models import Material

GREY = Material(id="grey", colour="#888888", density_g_cm3=1.24, price_per_kg=20, spool_g=500)


def bedful(name: str, mass_g: float, *, visible: tuple[str, ...] = ()) -> Bedful:
    return Bedful(name, "grey", (Way("one", 60, 60, 60),), mass_g, mass_g, spaces=visible, visible=visible)


def row(bedfuls: list[Bedful], *, printer: str = "one") -> list[Slot]:
    """One after another, an hour each."""
    return [
        Slot(60 * n, 60 * n + 10, 60 * n + 60, 60 * n + 60, printer, one.id, changes=False, night=False)
        for n, one in enumerate(bedfuls)
    ]


@settings(max_examples=40)
@given(
    st.lists(st.tuples(st.integers(1, 480), st.integers(0, 200), st.sampled_from("ab")), min_size=1, max_size=8),
    st.lists(st.tuples(st.integers(0, 600), st.sampled_from(("", "x", "y"))), max_size=4),
)
def test_no_spool_gives_more_than_it_has_nor_to_two_at_once(
    wanted: list[tuple[int, int, str]], there: list[tuple[int, str]]
) -> None:
    """Every bedful has a spool that can finish it, whatever is there."""
    bedfuls = {f"b{n}": bedful(f"b{n}", mass, visible=(space,)) for n, (mass, _, space) in enumerate(wanted)}
    slots = [
        Slot(at, at + 5, at + 60, at + 60, "one", f"b{n}", changes=False, night=False)
        for n, (_, at, _) in enumerate(wanted)
    ]
    spools = tuple(
        Spool(id=f"s{n}", material="grey", left_g=left, batch=batch) for n, (left, batch) in enumerate(there)
    )
    plan = plan_spools(slots, bedfuls, (GREY,), spools)
    holds = {spool.id: spool.left_g - LEFT_ON_G for spool in spools}
    taken: dict[str, float] = defaultdict(float)
    for use in plan.uses:
        taken[use.spool] += bedfuls[use.bedful].high_g
    assert {use.bedful for use in plan.uses} == set(bedfuls)
    assert all(mass <= holds.get(spool, 500 - LEFT_ON_G) for spool, mass in taken.items())
    for one, other in combinations(slots, 2):
        if one.work < other.end and other.work < one.end:
            assert plan.spool_of(one.bedful) != plan.spool_of(other.bedful)
    new = {use.spool for use in plan.uses if use.batch == "new"}
    assert len(new) == sum(purchase.spools - purchase.spare for purchase in plan.purchases)
    for space in "ab":
        batches = {use.batch for use in plan.uses if space in bedfuls[use.bedful].visible}
        assert (len(batches) > 1) == any(one.space == space for one in plan.mixed)


def test_as_few_spools_are_bought_as_will_do() -> None:
    """Where the first spool that fits would buy a second one, another order needs one."""
    bedfuls = [bedful("b1", 200), bedful("b2", 240), bedful("b3", 280), bedful("b4", 240)]
    plan = plan_spools(
        row(bedfuls), {one.id: one for one in bedfuls}, (GREY,), (Spool(id="s1", material="grey", left_g=500),)
    )
    assert [purchase.spools for purchase in plan.purchases] == [1]
    assert plan.purchases[0].price == 10.0


def test_what_is_seen_of_one_space_comes_from_one_batch_where_it_can() -> None:
    """Two rests of one batch rather than one rest of each."""
    bedfuls = [bedful("b1", 90, visible=("a",)), bedful("b2", 90, visible=("a",)), bedful("b3", 90, visible=("b",))]
    spools = tuple(
        Spool(id=name, material="grey", left_g=110, batch=batch)
        for name, batch in (("s1", "x"), ("s2", "y"), ("s3", "x"))
    )
    plan = plan_spools(row(bedfuls), {one.id: one for one in bedfuls}, (GREY,), spools)
    batch = {use.bedful: use.batch for use in plan.uses}
    assert batch["b1"] == batch["b2"] == "x"
    assert plan.mixed == ()


def test_a_space_of_two_batches_is_named() -> None:
    """Before anything is printed."""
    bedfuls = [bedful("b1", 90, visible=("a",)), bedful("b2", 90, visible=("a",))]
    spools = tuple(Spool(id=name, material="grey", left_g=110) for name in ("s1", "s2"))
    plan = plan_spools(row(bedfuls), {one.id: one for one in bedfuls}, (GREY,), spools)
    assert [(one.space, one.batches) for one in plan.mixed] == [("a", ("s1", "s2"))]
    assert [finding.code for finding in plan.findings] == ["colour-differs"]


def test_what_is_there_is_used_up_before_what_is_bought() -> None:
    """So that the new spool is needed as late as can be."""
    bedfuls = [bedful("b1", 300), bedful("b2", 300)]
    plan = plan_spools(
        row(bedfuls), {one.id: one for one in bedfuls}, (GREY,), (Spool(id="s1", material="grey", left_g=400),)
    )
    assert plan.spool_of("b1") == "s1"
    assert plan.purchases[0].by == 60


def test_a_bedful_that_no_spool_can_finish_stops_the_kit() -> None:
    """It would end in the air."""
    bedfuls = [bedful("b1", 490), bedful("b2", 100)]
    plan = plan_spools(row(bedfuls), {one.id: one for one in bedfuls}, (GREY,), ())
    assert [(one.code, one.severity, one.subject) for one in plan.findings] == [
        ("bedful-over-spool", Severity.STOP, "b1")
    ]
    assert [use.bedful for use in plan.uses] == ["b2"]


def test_a_spare_spool_is_bought_where_failures_would_empty_the_rest() -> None:
    """Five per cent of 480 g do not fit on what is left of 485."""
    bedfuls = [bedful("b1", 240), bedful("b2", 240)]
    by_id = {one.id: one for one in bedfuls}
    assert plan_spools(row(bedfuls), by_id, (GREY,), ()).purchases[0].spare == 0
    bought = plan_spools(row(bedfuls), by_id, (GREY,), (), spoilage=0.05).purchases[0]
    assert (bought.spools, bought.spare) == (2, 1)
