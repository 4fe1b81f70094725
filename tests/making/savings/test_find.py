from __future__ import annotations

from dataclasses import replace
from itertools import combinations, pairwise
from typing import TYPE_CHECKING

import pytest

from nookwright.making.savings.find import cheapest, savings
from nookwright.making.savings.keys import Key, Table, applied
from nookwright.making.savings.liners import Liners
from nookwright.making.savings.model import LEAST_G, Leaves, Saving
from nookwright.making.savings.rise import finer_rise
from nookwright.survey.models import FillerWish, LinerLevel, Rest
from nookwright.survey.tray_wishes import StripWish

if TYPE_CHECKING:
    from nookwright.build import Designed


def saving(leaves: Leaves, mass_g: float, missed: float, *keys: Key) -> Saving:
    """A saving that was made up."""
    return Saving(leaves, f"{leaves}, {mass_g:g} g", mass_g, 60 * mass_g, "something", missed, keys)


def test_the_cheapest_is_what_is_missed_least_for_each_gram(found: tuple[Saving, ...]) -> None:
    """In that order, none of less than 5 g, each with words for what it gives up."""
    assert all(a.missed_per_g <= b.missed_per_g + 1e-9 for a, b in pairwise(found))
    assert all(one.mass_g >= LEAST_G and one.time_s > 0 and one.gives_up and one.missed > 0 for one in found)


def test_every_part_of_the_room_is_asked(found: tuple[Saving, ...]) -> None:
    """Liner, fillers, what is free, floors, growth, strips, dividers, rise: all are there in these two drawers."""
    wanted = {Leaves.LINER, Leaves.FILLERS, Leaves.REST, Leaves.FLOORS, Leaves.GROWTH, Leaves.STRIPS, Leaves.RISE}
    assert {one.leaves for one in found} >= wanted


def test_the_few_can_all_be_had(found: tuple[Saving, ...]) -> None:
    """Three, none of which clashes with another, and none is passed over that would not."""
    few = cheapest(found)
    assert len(few) == 3
    assert few[0] == found[0]
    assert not any(a.clashes(b) for a, b in combinations(few, 2))
    passed = found[: found.index(few[-1])]
    assert all(any(one.clashes(taken) for taken in few) for one in passed if one not in few)


def test_two_that_change_one_key_clash() -> None:
    """Or that leave out the same; two of different kinds in different tables do not."""
    opened, spaced = (Key(Table.CHOICES, "rest", Rest.OPEN), Key(Table.SPACE, "rest", Rest.OPEN, "a"))
    rest, growth = saving(Leaves.REST, 50, 1, opened), saving(Leaves.GROWTH, 80, 2, opened)
    assert rest.clashes(growth)
    assert rest.clashes(saving(Leaves.REST, 40, 1, spaced))
    assert not growth.clashes(saving(Leaves.REST, 40, 1, spaced))
    assert cheapest([rest, growth], 3) == (rest,)


def test_what_is_left_out_already_is_not_offered_again(bench: Designed) -> None:
    """Spaces open, no odds and ends, no strips: nothing of that is among the savings, the liner still is."""
    lean = bench.room.model_copy(
        update={
            "choices": bench.room.choices.model_copy(
                update={
                    "rest": Rest.OPEN,
                    "odds_and_ends": False,
                    "fillers": FillerWish.PLAIN,
                    "tray": bench.room.choices.tray.model_copy(update={"strip": StripWish.NONE}),
                }
            ),
            "lot": tuple(lot.model_copy(update={"grow_percent": 0.0}) for lot in bench.room.lot),
        }
    )
    lean = applied(lean, [Key(Table.SPACE, "rest", Rest.OPEN, "lower")])
    kept = tuple(copy for copy in bench.copies if copy.contents)
    left = {one.leaves for one in savings(lean, bench.plan, kept)}
    assert not left & {Leaves.REST, Leaves.ODDS, Leaves.STRIPS, Leaves.GROWTH}
    assert Leaves.LINER in left


def test_a_printed_rise_is_not_talked_about(bench: Designed) -> None:
    """Nor is a finer one offered than the finest that is tried."""
    assert next(finer_rise(bench.room, bench.plan)).mass_g > 0
    printed = applied(bench.room, [Key(Table.MODULE, "kept_rise", 6.0)])
    assert not list(finer_rise(printed, bench.plan))
    fine = replace(bench.plan, module=replace(bench.plan.module, rise=3.0))
    assert not list(finer_rise(bench.room, fine))


def test_sparse_is_offered_only_where_all_stay_held(bench: Designed) -> None:
    """A part of one cell's width, set down between the sparse cones, keeps its space out of the offer."""
    others = bench.plan.layout.in_space("upper")
    narrow = replace(others[0], space="lower", col=1, row=1, cols=1, rows=3)
    plan = replace(bench.plan, layout=replace(bench.plan.layout, placed=(narrow, *others)))
    for one, where in ((bench.plan, [""]), (plan, ["upper"])):
        found = Liners(bench.room, one).savings()
        (sparse,) = (saving for saving in found if saving.text.startswith("Sparse liner"))
        assert [key.of for key in sparse.keys] == where
        assert sparse.keys[0].value is LinerLevel.SPARSE


def test_numbers_are_those_of_the_material(bench: Designed) -> None:
    """The same room in a material of twice the density saves twice the grams in the same time."""
    heavy = tuple(one.model_copy(update={"density_g_cm3": 2.54}) for one in bench.room.material)
    light = {one.text: one for one in savings(bench.room, bench.plan, bench.copies)}
    for one in savings(bench.room.model_copy(update={"material": heavy}), bench.plan, bench.copies):
        if one.text in light:
            assert one.mass_g == pytest.approx(2 * light[one.text].mass_g)
            assert one.time_s == pytest.approx(light[one.text].time_s)
