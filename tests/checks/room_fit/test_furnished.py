from __future__ import annotations

from typing import TYPE_CHECKING

from tests.checks.room_fit.scene import Scene, box, tray

if TYPE_CHECKING:
    from nookwright.checks.room_fit.furnished import Furnished


def stack() -> Furnished:
    """A tray with a lid, on it another tray with a divider in it; a tray beside them."""
    scene = Scene()
    scene.put("panel", box(100, 100, 0.6), kind="panel")
    scene.put("low", tray(40, 40, 20), at=(0, 0, 0.6), on=("panel",))
    scene.put("lid", box(37, 37, 1.2), at=(1.5, 1.5, 19.4), kind="lid", on=("low",))
    scene.put("high", tray(40, 40, 20), at=(0, 0, 20.6), on=("lid",))
    scene.put("divider", box(1.2, 37, 15), at=(20, 1.5, 21.6), kind="divider", on=("high",))
    scene.put("beside", tray(40, 40, 20), at=(40.6, 0, 0.6), on=("panel",))
    scene.fill("high", (5, 5, 5), (10, 10, 1.0))
    return scene.built()


def test_what_carries_a_part_carries_what_stands_on_it() -> None:
    """The divider stands on all four below it; the lid carries three, the tray beside nothing."""
    space = stack()
    assert space.by_id["divider"].below == {"high", "lid", "low", "panel"}
    assert [one.id for one in space.riders(space.by_id["lid"])] == ["high", "divider"]
    assert space.riders(space.by_id["beside"]) == ()


def test_things_are_with_the_part_that_holds_them() -> None:
    """One die, in the upper tray, in the axes of the space."""
    space = stack()
    (die,) = space.things_in(space.by_id["high"])
    assert die.body.box[0][2] > 21.5
    assert space.things_in(space.by_id["low"]) == ()


def test_near_is_what_meets_in_plan_within_a_margin() -> None:
    """The tray 0.6 beside is near only from a margin of 0.6 on; what is above or below always is."""
    space = stack()
    low = space.by_id["low"]
    assert [one.id for one in space.near(low)] == ["panel", "lid", "high", "divider"]
    assert "beside" in [one.id for one in space.near(low, 0.7)]
    assert [one.lot.id for one in space.things_near(low)] == ["dice"]
    assert space.things_near(space.by_id["beside"]) == ()


def test_a_space_with_nothing_in_it_has_nothing_near() -> None:
    """An empty drawer, and a tray alone in one, are no special cases."""
    assert Scene().built().stood == ()
    alone = Scene().put("only", tray(40, 40, 20)).built()
    assert alone.near(alone.stood[0]) == ()
    assert alone.things_near(alone.stood[0]) == ()
