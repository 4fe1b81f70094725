"""What liner a space gets, by its wishes and by what stands on it."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.layout.filler_forms import has_room_for_spring, travel_for
from nookwright.layout.liner_levels import Level
from nookwright.layout.liner_model import FillerForm, Side
from nookwright.layout.model import Placed
from nookwright.layout.rules import held
from nookwright.layout.space_liner import LinerWish, about_liner, cones_needed, floor_for, liner_for, unheld, wish_of
from nookwright.module.choice import module_of
from nookwright.module.floor import floor_of
from nookwright.module.pattern import Pattern
from nookwright.sizing.spaces.outlines import Insets, Outline
from nookwright.sizing.usable import Usable
from nookwright.sizing.ways import LongThings
from nookwright.survey.models import ConesFor, FillerWish, LinerLevel

if TYPE_CHECKING:
    from tests.layout.conftest import Make

    from nookwright.survey.models import Room

MODULE = module_of(18.0, 6.0, 0.2, "")
LONGEST = 210.0
# 307 = 16 cells and a rest of 17.5, of which each side gets 8.7: wide enough for a tall filler.
WIDE_GAPS = Usable("drawer", 307.0, 307.0, 100.0, 0.0, ())


def placed(make: Make, col: int, row: int, cols: int, rows: int, *, height: float = 30.0, thick: float = 2.0) -> Placed:
    """A tray with things of this thickness in it."""
    candidate = make.candidate("lot", cols, rows, height=height)
    thing = replace(candidate.way.thing, height=thick)
    candidate = replace(candidate, way=replace(candidate.way, thing=thing))
    return Placed("drawer", col, row, cols, rows, turned=False, candidate=candidate, height=height)


def test_no_filler_is_tall_where_the_wall_behind_it_leans_in(make: Make) -> None:
    """2 mm at the rim of the right wall: fillers there stay low, those of the three upright walls do not."""
    leaning = replace(WIDE_GAPS, levels=(Outline(0.0, Insets()), Outline(100.0, Insets(right=2.0))))
    wish = LinerWish()
    floor = floor_for(wish, leaning, MODULE, LONGEST)
    everywhere = [placed(make, 0, 0, floor.cols, floor.rows)]
    for usable, sides in ((WIDE_GAPS, set(Side)), (leaning, set(Side) - {Side.RIGHT})):
        liner = liner_for(wish, floor, usable, MODULE, longest=LONGEST, placed=everywhere)
        assert {one.side for one in liner.fillers if one.spec.form is FillerForm.TALL} == sides


def test_no_filler_is_sprung_against_a_wall_that_stands_in_at_its_foot() -> None:
    """A spring would press on the lump."""
    lumped = replace(WIDE_GAPS, levels=(Outline(0.0, Insets(back=2.0)), Outline(100.0, Insets(back=2.0))))
    wish = LinerWish(sprung=True)
    for usable, sprung in ((WIDE_GAPS, True), (lumped, False)):
        liner = liner_for(wish, floor_for(wish, usable, MODULE, LONGEST), usable, MODULE, longest=LONGEST)
        assert any(one.spec.form is FillerForm.SPRUNG for one in liner.fillers) is sprung


def test_a_space_overrides_the_room(tiny_room: Room) -> None:
    """Each of the four keys: the room's choice counts where the space says nothing."""
    choices = tiny_room.choices.model_copy(
        update={
            "liner": LinerLevel.CROSS,
            "pattern": ConesFor.SINGLE,
            "fillers": FillerWish.PLAIN,
            "sprung_filler": True,
        }
    )
    space = tiny_room.space[0]
    assert wish_of(space, choices) == LinerWish(Level.CROSS, Pattern.EVERY_CELL, tall=False, sprung=True)
    own = space.model_copy(
        update={
            "liner": LinerLevel.FULL,
            "pattern": ConesFor.LAYOUT,
            "fillers": FillerWish.TALL,
            "sprung_filler": False,
        }
    )
    assert wish_of(own, choices) == LinerWish(Level.FULL, Pattern.UNDER_LAYOUT, tall=True, sprung=False)
    assert wish_of(space, tiny_room.choices) == LinerWish()


@pytest.mark.parametrize(
    ("wish", "smallest"),
    [
        (LinerWish(), (1, 2)),
        (LinerWish(pattern=Pattern.EVERY_CELL), (1, 1)),
        (LinerWish(pattern=Pattern.EVERY_SECOND), (2, 2)),
        (LinerWish(pattern=Pattern.UNDER_LAYOUT), (1, 1)),
        (LinerWish(Level.NONE), (1, 1)),
    ],
)
def test_the_smallest_footprint_follows_from_the_wish(wish: LinerWish, smallest: tuple[int, int]) -> None:
    """Where no cone holds anything, nothing is too small."""
    assert wish.smallest == smallest


def test_a_tall_filler_is_as_high_as_the_lowest_rim_beside_it(make: Make) -> None:
    """Of the trays that touch its stretch of the wall; the panel's thickness is added."""
    floor = floor_of(WIDE_GAPS, MODULE)
    stands = [placed(make, 0, 0, 4, 4, height=48.0), placed(make, 0, 4, 4, 2, height=30.0), placed(make, 4, 0, 4, 4)]
    liner = liner_for(LinerWish(), floor, WIDE_GAPS, MODULE, longest=LONGEST, placed=stands)
    left = [one for one in liner.fillers if one.side is Side.LEFT]
    assert [one.spec.height for one in left] == [30.6, 0.0]
    assert {one.spec.form for one in liner.fillers if one.side is Side.RIGHT} == {FillerForm.PLAIN}


@pytest.mark.parametrize(("thick", "form"), [(9.6, FillerForm.TALL), (9.8, FillerForm.PLAIN)])
def test_only_things_that_are_thinner_than_the_gap_fall_into_it(make: Make, thick: float, form: FillerForm) -> None:
    """A filler of 8.7 and a millimetre of slack."""
    floor = floor_of(WIDE_GAPS, MODULE)
    assert floor.left == 8.7
    liner = liner_for(
        LinerWish(), floor, WIDE_GAPS, MODULE, longest=LONGEST, placed=[placed(make, 0, 0, 4, 4, thick=thick)]
    )
    assert liner.fillers[0].spec.form is form


def test_plain_fillers_stay_plain(make: Make) -> None:
    """Whatever stands beside them."""
    floor = floor_of(WIDE_GAPS, MODULE)
    stands = [placed(make, 0, 0, floor.cols, floor.rows)]
    for wish, forms in ((LinerWish(), {FillerForm.TALL}), (LinerWish(tall=False), {FillerForm.PLAIN})):
        liner = liner_for(wish, floor, WIDE_GAPS, MODULE, longest=LONGEST, placed=stands)
        assert {one.spec.form for one in liner.fillers} == forms


@given(width=st.floats(200, 500), depth=st.floats(200, 500))
def test_one_side_is_sprung_where_there_is_room(width: float, depth: float) -> None:
    """At most one; none only where even all that is left, at one side, is too little; its fillers have the room."""
    usable = Usable("drawer", width, depth, 100.0, 0.0, ())
    floor = floor_for(LinerWish(sprung=True), usable, MODULE, LONGEST)
    liner = liner_for(LinerWish(sprung=True), floor, usable, MODULE, longest=LONGEST)
    sprung = [one for one in liner.fillers if one.spec.form is FillerForm.SPRUNG]
    assert len({one.side for one in sprung}) <= 1
    for one in sprung:
        assert one.spec.travel == travel_for(width if one.side.upright else depth)
        assert has_room_for_spring(one.spec, one.spec.travel)
    if not sprung:
        for length in (width, depth):
            rest = (length - 1 - 0.0015 * length) % 18.0
            assert rest < 0.2 + 1.2 + travel_for(length) + 0.5 + 2.4 + 0.1


def test_no_spring_presses_on_a_cove() -> None:
    """It would lift the liner; the finding says that none is there."""
    coved = replace(WIDE_GAPS, cove_radius=2.0)
    wish = LinerWish(sprung=True)
    liner = liner_for(wish, floor_for(wish, coved, MODULE, LONGEST), coved, MODULE, longest=LONGEST)
    assert {one.spec.form for one in liner.fillers} <= {FillerForm.PLAIN, FillerForm.TALL}
    assert [found.code for found in about_liner("drawer", wish, liner, (), thickness=0.6)] == ["filler-not-sprung"]


def test_under_the_layout_each_part_gets_two_cones(make: Make) -> None:
    """And nothing else gets any."""
    floor = floor_of(WIDE_GAPS, MODULE)
    stands = [placed(make, 0, 0, 4, 4), placed(make, 4, 0, 3, 5)]
    liner = liner_for(LinerWish(pattern=Pattern.UNDER_LAYOUT), floor, WIDE_GAPS, MODULE, longest=LONGEST, placed=stands)
    assert sum(len(panel.spec.cones) for panel in liner.panels) == 4
    assert unheld(liner, stands) == ()


def test_parts_that_meet_no_cone_are_named(make: Make) -> None:
    """In the middle of a frame one stands on nothing; one at the edge is held; both levels say what they keep."""
    floor = floor_of(WIDE_GAPS, MODULE)
    middle, edge = placed(make, 6, 6, 3, 3), placed(make, 0, 0, 3, 3)
    wish = LinerWish(Level.FRAME)
    liner = liner_for(wish, floor, WIDE_GAPS, MODULE, longest=LONGEST, placed=(middle, edge))
    assert unheld(liner, (middle, edge)) == (middle,)
    found = {one.code: one for one in about_liner("drawer", wish, liner, (middle, edge), thickness=0.6)}
    assert sorted(found) == ["liner-lean", "part-not-held"]
    assert Level.FRAME.keeps in found["liner-lean"].text
    assert "0.6 mm thick" in found["part-not-held"].remedy


def test_the_usual_liner_is_not_spoken_of(make: Make) -> None:
    """Full, with a pattern that follows from the smallest footprint, there is nothing to say."""
    floor = floor_of(WIDE_GAPS, MODULE)
    for pattern in (Pattern.EVERY_CELL, Pattern.CHESSBOARD, Pattern.EVERY_SECOND):
        wish = LinerWish(pattern=pattern)
        liner = liner_for(wish, floor, WIDE_GAPS, MODULE, longest=LONGEST)
        assert about_liner("drawer", wish, liner, [placed(make, 1, 1, 3, 3)], thickness=0.6) == ()


def test_every_part_of_a_rest_meets_a_cone(make: Make) -> None:
    """Only under the layout, each of its cells gets one; where two by two cells are held, a guard is not."""
    tray = placed(make, 0, 0, 3, 6)
    candidate = tray.candidate
    assert candidate is not None
    knife = LongThings(1, 60.0, 2.0, 20.0, bladed=True)
    rest = replace(candidate, way=replace(candidate.way, long=knife))
    shafts = replace(candidate, way=replace(candidate.way, long=replace(knife, bladed=False)))
    floor = floor_of(WIDE_GAPS, MODULE)
    assert len(cones_needed(Level.FULL, floor, [tray])) == 2
    assert len(cones_needed(Level.FULL, floor, [replace(tray, candidate=rest)])) == 18
    grid = make.grid("drawer", 10, 10, smallest=(2, 2))
    assert [held(one, grid) for one in (candidate, rest, shafts)] == [True, False, True]
    assert held(rest, make.grid("drawer", 10, 10, smallest=(1, 2)))
