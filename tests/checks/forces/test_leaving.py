from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.checks.forces.scene import FLOOR, Key, Scene, cradle_solid, cube, mesh, tray_solid

from nookwright.checks.forces.walls import hold_of
from nookwright.ground.findings import Severity


def pocket(depth: float, *, wide: float = 40.0, height: float = 120.0, clearance: float = 12.0, **space: Key) -> Scene:
    """A slim bottle in a round pocket in the middle of a block, in the middle of a drawer."""
    scene = Scene(height=200, **space)
    scene.panel()
    solid = cradle_solid(6, 6, FLOOR + depth, wide + clearance)
    scene.tray("block", 6, 6, cell=(3, 3), kind="cradle", solid=solid, mass_g=200)
    scene.things("bottles", "block", ((53.7, 53.7, FLOOR),), (wide, wide, height), mass_g=150, round_axis="z")
    return scene


def piled(
    layers: int,
    *,
    mass_g: float = 40.0,
    made: str = "formed sheet",
    rim: float = 30.0,
    side: float = 40.0,
    **space: Key,
) -> Scene:
    """Flat boxes of 12 high on each other in a tray whose rim is 30 high, in the middle of a drawer."""
    scene = Scene(**space)
    scene.panel()
    scene.tray("a", 4, 4, cell=(4, 4), height=rim)
    at = tuple((35.7, 35.7, FLOOR + 12 * n) for n in range(layers))
    scene.things("tins", "a", at, (side, side, 12), mass_g=mass_g, keys={"made": made})
    return scene


@pytest.mark.parametrize("axis", [0, 1])
@pytest.mark.parametrize("sign", [1.0, -1.0])
def test_a_wall_is_as_high_as_it_is_and_as_far(axis: int, sign: float) -> None:
    """From a box of 20 in the middle of a tray of 71.4, its rim 36 high: to each side 24.5 and 31.6 deep."""
    shape = mesh(tray_solid(4, 4, 36), "tray")
    low, high = [25.7, 25.7, FLOOR], [45.7, 45.7, 64.4]
    hold = hold_of(shape, shape.box[0] + low, shape.box[0] + high, axis, sign)
    assert hold.depth == pytest.approx(36 - FLOOR, abs=0.2)
    assert hold.gap == pytest.approx(35.7 - 10 - 1.2, abs=0.01)


@settings(max_examples=40, deadline=None)
@given(height=st.floats(8.0, 80.0), tall=st.floats(6.0, 150.0))
def test_a_wall_is_found_to_a_fraction_of_a_thing(height: float, tall: float) -> None:
    """Where the wall ends below its top, to a five hundredth; else hardly deeper than the thing is high."""
    shape = mesh(tray_solid(3, 3, height), f"tray {height}")
    hold = hold_of(shape, shape.box[0] + [16, 16, FLOOR], shape.box[0] + [36, 36, FLOOR + tall], 1, 1.0)
    wall = height - FLOOR
    assert hold.depth == pytest.approx(min(tall, wall), abs=tall / (500 if wall < 0.97 * tall else 60) + 0.02)


def test_a_low_front_is_low() -> None:
    """Cut down to 12: held 7.6 deep to the front and 31.6 to the back."""
    shape = mesh(tray_solid(4, 4, 36, front=12), "tray")
    low, high = shape.box[0] + [25.7, 25.7, FLOOR], shape.box[0] + [45.7, 45.7, 44.4]
    assert hold_of(shape, low, high, 1, -1.0).depth == pytest.approx(7.6, abs=0.1)
    assert hold_of(shape, low, high, 1, 1.0).depth == pytest.approx(31.6, abs=0.1)


@pytest.mark.parametrize(("wide", "found"), [(20.0, 7.6), (60.0, 31.6)])
def test_a_notch_lets_what_is_narrower_through(wide: float, found: float) -> None:
    """In the middle of the rim, 30 wide and down to 12."""
    solid = tray_solid(5, 4, 36) - cube((30, 10, 40), (29.7, 66, 12))
    shape = mesh(solid, "notched")
    low, high = [44.7 - wide / 2, 25.7, FLOOR], [44.7 + wide / 2, 45.7, 44.4]
    hold = hold_of(shape, shape.box[0] + low, shape.box[0] + high, 1, 1.0)
    assert hold.depth == pytest.approx(found, abs=0.1)


def test_a_wall_before_one_edge_only_holds_nothing() -> None:
    """A rim that is cut down to 12 from the middle of a thing to its right: what stands at its left would turn it."""
    shape = mesh(tray_solid(5, 4, 36) - cube((45, 10, 40), (39.7, 66, 12)), "cut")
    low, high = [24.7, 25.7, FLOOR], [64.7, 45.7, 44.4]
    assert hold_of(shape, shape.box[0] + low, shape.box[0] + high, 1, 1.0).depth == pytest.approx(7.6, abs=0.1)


def test_without_a_wall_nothing_is_held() -> None:
    """Above the rim."""
    shape = mesh(tray_solid(3, 3, 20), "tray")
    hold = hold_of(shape, shape.box[0] + [16, 16, 25], shape.box[0] + [36, 36, 40], 0, 1.0)
    assert (hold.depth, math.isinf(hold.gap)) == (0, True)


def test_a_slim_bottle_needs_a_deep_pocket() -> None:
    """40 wide and 120 high, held 6 deep: it goes over the rim. What it is said to need is enough, less is not."""
    (found,) = pocket(6.0).found("slam-throws")
    assert (found.subject, found.severity) == ("bottles", Severity.WARN)
    assert found.against is not None
    needs = found.against.limit
    assert found.against.computed < needs < 60
    assert pocket(needs + 1).found("slam-throws") == []
    assert pocket(needs - 1).found("slam-throws")


def test_light_things_that_tip_out_of_a_tray_are_a_note() -> None:
    """The same bottle over a low wall: a note for 150 g in a tray, a warning for 300 g, for glass and in a cradle."""
    found = []
    for kind, mass_g, made in (("tray", 150, "soft"), ("tray", 300, "soft"), ("tray", 150, "moulded glass")):
        scene = pocket(6.0)
        scene.parts["block"]["kind"] = kind
        scene.lots["bottles"] |= {"mass_g": mass_g, "made": made}
        found += [one.severity for one in scene.found("slam-throws")]
    assert found == [Severity.NOTE, Severity.WARN, Severity.WARN]


def test_a_tight_pocket_jams_before_a_bottle_climbs_out() -> None:
    """Of the same small depth, with 1 mm of clearance in place of 12: its slack is less than a fifth of its depth."""
    shallow = 12.0
    assert pocket(shallow).found("slam-throws")
    assert pocket(shallow, clearance=1.0).found("slam-throws") == []


def test_a_broad_jar_and_a_shelf_ask_for_less() -> None:
    """80 wide it stays; a shelf gets only a knock; a slow drawer tips nothing."""
    assert pocket(6.0, wide=80.0).found("slam-throws") == []
    assert pocket(6.0, kind="shelf").found("slam-throws") == []
    assert pocket(6.0, shut_m_s=0.2).found("slam-throws") == []


def test_the_wall_of_the_drawer_catches_what_tips() -> None:
    """Its cradle fills a drawer of 54: 7 mm before it and behind it the bottle leans on a wall and comes back."""
    for depth, stays in ((54.0, True), (90.0, False)):
        scene = Scene(depth=depth, height=200)
        solid = cradle_solid(3, 3, FLOOR + 6, 52)
        scene.tray("block", 3, 3, kind="cradle", solid=solid, mass_g=200)
        scene.things("bottles", "block", ((26.7, 26.7, FLOOR),), (40, 40, 120), mass_g=150, round_axis="z")
        assert (scene.found("slam-throws") == []) is stays


@pytest.mark.parametrize(("layers", "loose"), [(2, False), (3, True)])
def test_what_lies_above_the_rim_slides_off(layers: int, loose: bool) -> None:  # noqa: FBT001
    """The third of boxes of 12 begins at 28.4, the rim is at 30: 1.6 mm of wall, less than 2."""
    found = piled(layers).found("slam-throws-upper")
    assert [(one.subject, one.severity) for one in found] == ([("here", Severity.NOTE)] if loose else [])


def test_what_is_heavy_or_breaks_is_a_warning() -> None:
    """300 g, or glass of 40 g."""
    for scene in (piled(3, mass_g=300), piled(3, made="moulded glass")):
        (found,) = scene.found("slam-throws-upper")
        assert found.severity is Severity.WARN


@pytest.mark.parametrize(("depth", "loose"), [(76.0, False), (77.0, True)])
def test_the_wall_stops_what_slides(depth: float, loose: bool) -> None:  # noqa: FBT001
    """19.75 mm or 20.75 mm behind a box of 40 that lies above its rim: its middle is carried over 20."""
    scene = Scene(depth=depth)
    scene.tray("a", 4, 4, height=30)
    scene.things("tins", "a", ((35.7, 35.7, 29.0),), (40, 40, 24))
    assert bool(scene.found("slam-throws-upper")) is loose


def test_what_is_long_slides_and_keeps_its_place() -> None:
    """Friction stops it after 64 mm; of 140 along the travel its middle is still carried."""
    scene = Scene()
    scene.panel()
    scene.tray("a", 4, 8, cell=(4, 2), height=12)
    scene.things("bars", "a", ((35.7, 71.7, 11.5),), (30, 138, 12))
    assert scene.found("slam-throws-upper") == []
    scene.places["bars"][0]["size"] = (30, 100, 12)
    assert scene.found("slam-throws-upper")


@pytest.mark.parametrize(("rim", "stays"), [(FLOOR + 3, False), (FLOOR + 6, True)])
def test_a_lying_rod_rolls_over_a_low_rim(rim: float, stays: bool) -> None:  # noqa: FBT001
    """A rod of 30 across the travel: its rim must be so high that a stop does not lift it over, about 4."""
    scene = Scene()
    scene.panel()
    scene.tray("a", 6, 4, cell=(3, 4), height=rim)
    scene.things("rods", "a", ((53.7, 35.7, FLOOR),), (90, 30, 30), round_axis="x", stance="lying")
    assert (scene.found("slam-throws") == []) is stays


def test_rows_lean_on_the_one_before_them() -> None:
    """Three slim boxes in a row: those behind do not count, the first leans on the wall."""
    scene = Scene()
    scene.panel()
    scene.tray("a", 4, 6, cell=(4, 3), height=50)
    scene.things("boxes", "a", tuple((35.7, 20.0 + 33 * n, FLOOR) for n in range(3)), (30, 32, 80))
    assert scene.found("slam-throws") == []


def test_heaps_stay_below_their_rim() -> None:
    """30 high in a tray of 36, or of 24."""
    for rim, stays in ((36.0, True), (24.0, False)):
        scene = Scene()
        scene.panel()
        scene.tray("a", 4, 4, cell=(4, 4), height=rim)
        scene.things("nuts", "a", ((35.7, 35.7, FLOOR),), (60, 60, 30), count=200, held=(200,), stance="heaped")
        assert (scene.found("slam-throws") == []) is stays


def test_what_lies_under_a_lid_stays() -> None:
    """The same heap in a dispenser."""
    scene = Scene()
    scene.panel()
    scene.tray("a", 4, 4, cell=(4, 4), height=24)
    scene.things(
        "wipes", "a", ((35.7, 35.7, FLOOR),), (60, 60, 30), stance="in a dispenser", keys={"keep": "dispenser"}
    )
    assert [one for one in scene.codes() if one.startswith("slam")] == []


@pytest.mark.parametrize(("apart", "stays"), [(8, True), (3, False)])
def test_a_long_thing_keeps_its_middle_between_its_rests(apart: int, stays: bool) -> None:  # noqa: FBT001
    """It slides 64 mm along its slots; its middle is 80 mm or 35 mm behind the outer face of the rests."""
    scene = Scene(depth=600, width=100)
    scene.tray("near", 3, 2, cell=(0, 8), kind="rest")
    scene.tray("far", 3, 2, cell=(0, 8 + apart), kind="rest")
    middle = (apart * 18 + 35.4) / 2
    scene.things("saw", "near", ((26.7, middle, 10.0),), (2, 200, 20), held_by=("far",), stance="in a rest")
    assert (scene.found("slam-throws-upper") == []) is stays


def test_a_turned_tray_is_looked_at_the_right_way() -> None:
    """A low side that is at the front as printed throws to the front, and to a side when it is turned."""
    for turned, throws in ((False, True), (True, False)):
        scene = Scene()
        scene.panel()
        solid = tray_solid(5, 5, 40, front=FLOOR + 1)
        scene.tray("a", 5, 5, cell=(4, 4), solid=solid, turned=turned)
        scene.things("tins", "a", ((44.7, 44.7, FLOOR),), (40, 40, 30))
        assert bool(scene.found("slam-throws-upper")) is throws
