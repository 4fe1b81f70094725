from __future__ import annotations

import pytest
from tests.checks.room_fit.scene import Scene, box, tray

from nookwright.checks.room_fit.trays_grip import can_be_taken, check_trays_grip


def among(high: float, *, sides: tuple[str, ...] = ("left", "right", "front", "back"), size: float = 60.0) -> Scene:
    """A tray of 30 high, with neighbours of some height 0.6 off its sides."""
    scene = Scene(size=(300, 300)).put("tray", tray(size, size, 30), at=(100, 100, 0))
    far = 100 + size + 0.6
    corner = {"left": (59.4, 100), "right": (far, 100), "front": (100, 59.4), "back": (100, far)}
    for side in sides:
        width, depth = (40, size) if side in ("left", "right") else (size, 40)
        scene.put(side, tray(width, depth, high), at=(*corner[side], 0))
    return scene


def taken(scene: Scene) -> bool:
    space = scene.built()
    return can_be_taken(space, space.by_id["tray"])


def full(scene: Scene, gap: float, *, size: float = 60.0, high: float = 29.0) -> Scene:
    """The same with one thing that fills the tray but for a gap along its walls."""
    side = size - 2.4 - 2 * gap
    return scene.fill("tray", (side, side, high), (size / 2, size / 2, 1.0))


def test_an_empty_tray_among_its_like_is_spread_from_inside() -> None:
    """Neighbours as high as it: fingers go in."""
    assert taken(among(30))


@pytest.mark.parametrize(("gap", "free"), [(8.1, True), (7.9, False), (1.0, False)])
def test_a_full_tray_needs_room_for_fingertips(gap: float, free: bool) -> None:  # noqa: FBT001
    """Full to the rim, among its like: from 8 mm along its walls on."""
    assert taken(full(among(30), gap)) is free


def test_things_well_below_the_rim_are_not_in_the_way() -> None:
    """They end 7 below it."""
    assert taken(full(among(30), 1.0, high=22))
    assert not taken(full(among(30), 1.0, high=24))


def test_low_neighbours_let_fingers_outside() -> None:
    """Full to the rim, neighbours 7 lower: it is pressed from outside. One lower one is not enough, for it is full."""
    assert taken(full(among(23), 1.0))
    assert not taken(full(among(25), 1.0))
    assert taken(full(among(30, sides=("left", "right")), 1.0))
    assert not taken(full(among(30, sides=("left", "right", "front")), 1.0))


def test_thumb_and_finger_take_one_wall() -> None:
    """Free outside on one side, and there 9 mm inside; full to the walls on the other three."""
    scene = among(30, sides=("left", "right", "front"))
    assert taken(scene.fill("tray", (55.6, 47.6, 29), (30, 26, 1.0)))
    full_behind = among(30, sides=("left", "right", "front"))
    assert not taken(full_behind.fill("tray", (55.6, 47.6, 29), (30, 34, 1.0)))


@pytest.mark.parametrize(("high", "size", "free"), [(44, 60, True), (46, 60, False), (46, 105, True)])
def test_a_hand_must_get_down_to_it(high: float, size: float, free: bool) -> None:  # noqa: FBT001
    """Neighbours 14 higher are no matter, 16 higher are, unless it is as wide as a hand."""
    assert taken(among(high, size=size)) is free


def test_a_wall_of_the_space_counts_as_a_high_neighbour() -> None:
    """A full tray in a corner, 0.6 off two walls, with nothing on the other sides: no two opposite ones are free."""
    scene = Scene(size=(300, 300)).put("tray", tray(60, 60, 30), at=(0.6, 0.6, 0))
    assert not taken(full(scene, 1.0))
    assert taken(full(Scene(size=(300, 300)).put("tray", tray(60, 60, 30), at=(20, 20, 0)), 1.0))


def test_what_stands_on_it_is_put_aside() -> None:
    """A lid in it and a tray on that."""
    scene = among(30).put("lid", box(57, 57, 1.2), at=(101.5, 101.5, 28.8), kind="lid", on=("tray",))
    scene.put("upper", tray(60, 60, 20), at=(100, 100, 30), on=("lid",)).fill("upper", (50, 50, 40), (30, 30, 1.0))
    assert taken(scene)


def test_a_divider_along_a_wall_is_in_the_way() -> None:
    """Dividers 3 mm off all four walls of an empty tray, up to its rim."""
    scene = among(30)
    for number, (width, depth, x, y) in enumerate(
        ((50, 1, 5, 4.2), (50, 1, 5, 54.8), (1, 50, 4.2, 5), (1, 50, 54.8, 5))
    ):
        scene.put(f"divider-{number}", box(width, depth, 28.5), at=(100 + x, 100 + y, 1), kind="divider", on=("tray",))
    assert not taken(scene)


def test_hard_ones_of_a_space_are_one_note_and_cradles_are_not_looked_at() -> None:
    """Two trays, full to the rim, tight in a space; a cradle between them."""
    scene = Scene(size=(182.4, 61.2))
    for number, kind in enumerate(("tray", "cradle", "tray")):
        scene.put(f"{kind}-{number}", tray(60, 60, 30), at=(0.6 + 60.6 * number, 0.6, 0), kind=kind)
        scene.fill(f"{kind}-{number}", (57, 57, 29), (30, 30, 1.0), name=f"lot-{number}")
    (finding,) = check_trays_grip((scene.built(),))
    assert finding.code == "tray-hard-to-grip"
    assert finding.text.endswith("outside or inside: tray-0; tray-2.")
