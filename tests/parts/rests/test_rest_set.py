from __future__ import annotations

from itertools import combinations, pairwise
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from manifold3d import Manifold, OpType

from nookwright.ground.errors import RecipeError
from nookwright.module.choice import module_of
from nookwright.module.seat import outer_size
from nookwright.parts.rests.rest_plan import dowel_height
from nookwright.parts.rests.rest_set import Blade, Held, RestPlan, RestSet, Shaft, rest_set
from nookwright.parts.rests.rest_slots import BladeSlot
from nookwright.parts.rests.rest_span import STEEL, WOOD, Dowel, DowelStuff, support_cells

if TYPE_CHECKING:
    from tests.parts.conftest import Bench

MODULE = module_of(18.0, 6.0, 0.2, "")
KNIVES = RestSet(150.0, (Blade(2.0, 25.0), Blade(2.5, 34.0, 8.0)))
LONG = RestSet(230.0, (Blade(1.2, 20.0), Shaft(12.0)), 3, 1)
RODS = RestSet(240.0, (Shaft(10.0), Shaft(22.0, proud=True)), 2, 1, Dowel(5.0, DowelStuff.STEEL))


def standing(bench: Bench, asked: RestSet) -> list[Manifold]:
    """All parts in their places, supports first."""
    plan = RestPlan(MODULE, asked)
    parts = rest_set(MODULE, asked)
    places = [(0, cell) for cell in plan.cells] + [(column, row) for _, column, row in plan.guards]
    return [bench.solid(part, x=18.0 * x, y=18.0 * y) for part, (x, y) in zip(parts, places, strict=True)]


@pytest.mark.parametrize("asked", [KNIVES, LONG])
def test_a_blade_is_free_nowhere_along_its_length(bench: Bench, asked: RestSet) -> None:
    """A strip beside its back and one beside its edge are plastic on both sides, gaps of a part's play left out."""
    plan = RestPlan(MODULE, asked)
    whole = Manifold.batch_boolean(standing(bench, asked), OpType.Add)
    for slot in plan.slots:
        if isinstance(slot, BladeSlot):
            edge = slot.bottom(0.0, MODULE.seat.dome, MODULE.seat.layer)
            for z in (edge + 0.5, edge + slot.blade_height + 1.0):
                for side in (-1, 1):
                    x = slot.x + side * (slot.width / 2 + 0.3)
                    strip = Manifold.cube([0.1, asked.length, 0.1]).translate([x - 0.05, 0, z])
                    assert bench.shared_mm3(whole, strip) > 0.97 * strip.volume()


@pytest.mark.parametrize("asked", [KNIVES, LONG, RODS])
def test_the_dowels_pass_through_supports_and_past_guards(bench: Bench, asked: RestSet) -> None:
    """A bar of the length that is given ends inside the outer faces and touches nothing; parts do not meet."""
    plan, bodies = RestPlan(MODULE, asked), standing(bench, asked)
    radius, length = asked.dowel.diameter / 2, plan.dowel_length
    far = 18.0 * plan.cells[-1] + outer_size(asked.rows, 18.0)
    assert far - 4.0 < length < far - 2.0
    for x in plan.dowels_at:
        bar = Manifold.cylinder(length, radius, radius, 64).rotate([-90, 0, 0])
        bar = bar.translate([x, (far - length) / 2, dowel_height(MODULE, asked.dowel)])
        assert all(bench.shared_mm3(bar, body) < 1e-3 for body in bodies)
    assert all(bench.shared_mm3(one, other) < 1e-3 for one, other in combinations(bodies, 2))


@pytest.mark.parametrize("length", [150.0, 158.3, 158.5, 161.0])
def test_a_blade_has_its_tip_inside_and_no_cell_to_spare(length: float) -> None:
    """The last support reaches 3 mm past the tip; a cell earlier it would not."""
    plan = RestPlan(MODULE, RestSet(length, KNIVES.things))
    last = plan.cells[-1] + KNIVES.rows
    assert outer_size(last, 18.0) >= length + 3.0 > outer_size(last - 1, 18.0)


@pytest.mark.parametrize("asked", [KNIVES, LONG, RODS])
def test_hands_have_a_cell_between_things(asked: RestSet) -> None:
    """From slot to slot a whole cell stays free and more."""
    slots = RestPlan(MODULE, asked).slots
    assert all(b.x - b.half - (a.x + a.half) >= 18.0 for a, b in pairwise(slots))


def test_rods_lie_where_they_sag_least_and_need_no_guard() -> None:
    """On the points of a plain rest, with supports only."""
    plan = RestPlan(MODULE, RODS)
    assert plan.cells == support_cells(240.0, 2, pitch=18.0, rows=1)
    assert plan.guards == ()
    assert len(rest_set(MODULE, RODS)) == 2


def test_a_support_says_where_it_stands_and_what_to_saw() -> None:
    """In its name and its parameters; all supports are one part, guards are called so."""
    parts = rest_set(MODULE, LONG)
    assert {part.recipe.digest for part in parts[:3]} == {parts[0].recipe.digest}
    assert parts[0].name.endswith("two dowels d8 l230")
    found = dict(parts[0].parameters)
    assert found["stand_at"] == (0.0, 108.0, 216.0)
    assert found["dowel_length"] == 230.0
    assert all(part.name.startswith("guard ") for part in parts[3:])


held = st.one_of(
    st.builds(Blade, st.floats(0.3, 5), st.floats(3, 60), st.floats(0, 20)),
    st.builds(Shaft, st.floats(3, 40), st.booleans()),
)
dowels = st.one_of(
    st.sampled_from(WOOD).map(Dowel), st.sampled_from(STEEL).map(lambda size: Dowel(size, DowelStuff.STEEL))
)


@settings(max_examples=60)
@given(st.floats(20, 400), st.lists(held, min_size=1, max_size=4), st.integers(2, 4), st.integers(1, 3), dowels)
def test_any_set_is_refused_or_whole(length: float, things: list[Held], supports: int, rows: int, dowel: Dowel) -> None:
    """As many supports as asked for; guards fill every gap under each blade exactly, none where there is no blade."""
    asked = RestSet(length, tuple(things), supports, rows, dowel)
    try:
        parts, plan = rest_set(MODULE, asked), RestPlan(MODULE, asked)
    except RecipeError:
        return
    blades = sum(isinstance(thing, Blade) for thing in things)
    free = plan.cells[-1] - plan.cells[0] - (supports - 1) * rows
    assert sum(guard.rows for guard, _, _ in plan.guards) == blades * free
    assert len(parts) == supports + len(plan.guards)
    assert all(outer_size(guard.rows, 18.0) <= 160.0 for guard, _, _ in plan.guards)


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        (RestSet(150.0, ()), "holds something"),
        (RestSet(150.0, (Shaft(10.0),), 1), "two supports or more"),
        (RestSet(30.0, (Blade(2.0, 20.0),)), "stand in cells of their own"),
        (RestSet(30.0, (Shaft(10.0),)), "stand in cells of their own"),
        (RestSet(150.0, (Shaft(1.0),)), "can be gripped"),
        (RestSet(150.0, (Blade(0.1, 20.0),)), "thickness and a height"),
    ],
)
def test_what_holds_nothing_is_refused(asked: RestSet, words: str) -> None:
    """Before any kernel sees it: the rule, what is allowed, what to do."""
    with pytest.raises(RecipeError, match=rf"{words}.*allowed: .*\. [A-Z]"):
        rest_set(MODULE, asked)
