from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nookwright.build import plan_and_design
from nookwright.ground.progress import Silent
from nookwright.layout.asks import things_g
from nookwright.layout.plan import plan_room
from nookwright.survey.readings import Readings

if TYPE_CHECKING:
    from nookwright.build import Designed
    from nookwright.layout.place import Effort
    from nookwright.layout.plan import Plan
    from nookwright.survey.models import Room


def planned(room: Room, effort: Effort) -> Plan:
    """A plan for beds of 110 x 110."""
    return plan_room(room, longest=110.0, whole=(110.0, 110.0), effort=effort, progress=Silent())


def changed(room: Room, **space: object) -> Room:
    """The tiny room with keys of its drawer changed."""
    return room.model_copy(update={"space": (room.space[0].model_copy(update=space),)})


def test_every_lot_is_placed_or_named(tiny: Designed) -> None:
    """Nothing gets lost on the way to the plan."""
    plan = tiny.plan
    placed = {one.candidate.lot for one in plan.layout.placed if one.candidate}
    assert placed | {left.lot for left in plan.layout.left_out} == {lot.id for lot in tiny.room.lot}
    assert plan.space("drawer") is plan.spaces[0]


def test_no_part_lies_on_a_blocked_cell(tiny: Designed) -> None:
    """The lock stays free."""
    floor = tiny.plan.spaces[0].floor
    assert floor.blocked
    for one in tiny.plan.layout.placed:
        cells = {(one.col + i, one.row + j) for i in range(one.cols) for j in range(one.rows)}
        assert not cells & set(floor.blocked)


def test_the_clear_height_is_less_the_liner_and_a_millimetre(tiny: Designed) -> None:
    """The usable height less 0.6 of panel less 1 for what passes over."""
    plan = tiny.plan.spaces[0]
    assert plan.grid.height == pytest.approx(plan.usable.height - 0.6 - 1.0)


def test_the_load_is_less_the_liner(tiny: Designed) -> None:
    """6 kg less some tens of grams."""
    assert 5900 < tiny.plan.spaces[0].grid.load_g < 6000


def test_a_lot_that_fits_no_space_is_left_out_with_the_reason(tiny_room: Room, quick: Effort) -> None:
    """A plank of a metre has no way; the finding says what to do."""
    dice = next(lot for lot in tiny_room.lot if lot.id == "dice")
    plank = dice.model_copy(update={"id": "plank", "count": 1, "width": Readings(floor=(999.0,))})
    room = tiny_room.model_copy(update={"lot": (*tiny_room.lot, plank)})
    plan = planned(room, quick)
    assert [left.lot for left in plan.layout.left_out] == ["plank"]
    found = [finding for finding in plan.findings if finding.code == "lot-left-out"]
    assert [finding.subject for finding in found] == ["plank"]
    assert found[0].remedy


def test_a_space_without_a_floor_gets_nothing(tiny_room: Room, quick: Effort) -> None:
    """A spot under a shelf is loaded and left empty with a note, and every lot is left out."""
    plan = planned(changed(tiny_room, kind="under-shelf"), quick)
    assert plan.layout.placed == ()
    assert plan.spaces[0].liner.panels == ()
    assert {finding.code for finding in plan.findings} == {"space-empty", "lot-left-out"}


def test_a_space_that_is_kept_free_gets_nothing(tiny_room: Room, quick: Effort) -> None:
    """Whatever the layout would gain: no liner, no tray, and it is said."""
    plan = planned(changed(tiny_room, kept_free=True), quick)
    assert plan.layout.placed == ()
    assert all(not space.liner.panels and not space.liner.fillers for space in plan.spaces)
    assert {finding.code for finding in plan.findings} == {"space-kept-free", "lot-left-out"}


def test_without_a_liner_the_height_is_whole(tiny_room: Room, quick: Effort) -> None:
    """No panel, no filler, 0.6 more height."""
    plan = planned(changed(tiny_room, liner="none"), quick)
    assert (plan.spaces[0].liner.panels, plan.spaces[0].liner.fillers) == ((), ())
    assert plan.spaces[0].grid.height == pytest.approx(plan.spaces[0].usable.height - 1.0)


def test_layers_without_a_common_height_are_said(tiny_room: Room, quick: Effort) -> None:
    """0.2 and 0.28 share no height up to 0.6; the first printer's layer is taken."""
    second = tiny_room.printer[0].model_copy(update={"id": "other", "layer": 0.28})
    room = tiny_room.model_copy(update={"printer": (*tiny_room.printer, second)})
    plan = planned(room, quick)
    assert "layers-differ" in {finding.code for finding in plan.findings}
    assert plan.module.seat.layer == 0.2


def test_the_same_room_gives_the_same_plan(tiny: Designed, quick: Effort) -> None:
    """Nothing but the room and the effort decides."""
    assert plan_and_design(tiny.room, effort=quick, progress=Silent()) == tiny


@pytest.mark.parametrize(("floor_height", "reach"), [(0, 7.0), (700, 0), (1000, 0), (1300, 0), (1500, 2.0)])
def test_reach_costs_stooping_and_stretching(tiny_room: Room, quick: Effort, floor_height: float, reach: float) -> None:
    """A unit for each 100 mm below 700 or above 1300."""
    plan = planned(changed(tiny_room, floor_height=floor_height), quick)
    assert plan.spaces[0].grid.reach == pytest.approx(reach)


def test_the_mass_of_a_lot_is_that_of_all_its_things(tiny_room: Room) -> None:
    """Ten dice of 5 g; unknown masses count as nothing."""
    dice = next(lot for lot in tiny_room.lot if lot.id == "dice")
    assert things_g(dice) == 50
    assert things_g(dice.model_copy(update={"mass_g": None})) == 0
