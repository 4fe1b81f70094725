from __future__ import annotations

import pytest
from tests.checks.room_fit.scene import Scene, box, tray

from nookwright.checks.room_fit.things_grip import check_things_grip
from nookwright.ground.findings import Finding, Severity


def of(scene: Scene) -> list[Finding]:
    return check_things_grip((scene.built(),))


def sunk(gap: float, *, size: tuple[float, float, float] = (60, 60, 40), **how: str) -> Scene:
    """A thing in the middle of a tray as deep as it, with so much room on all sides."""
    width, depth = size[0] + 2 * gap + 2.4, size[1] + 2 * gap + 2.4
    scene = Scene(size=(300, 300)).put("tray", tray(width, depth, size[2] + 1), at=(20, 20, 0))
    return scene.fill("tray", size, (width / 2, depth / 2, 1.0), **how)


@pytest.mark.parametrize(("gap", "hard"), [(12.1, False), (11.9, True), (6.0, True)])
def test_a_thing_needs_room_for_a_finger(gap: float, hard: bool) -> None:  # noqa: FBT001
    """12 are enough, 11.9 are not; the note names the lot and the room."""
    findings = of(sunk(gap))
    assert [(one.code, one.severity) for one in findings] == [("thing-hard-to-grip", Severity.NOTE)] * hard
    for finding in findings:
        assert f"Beside dice a finger finds only {gap:.1f} mm" in finding.text


def test_a_head_that_stands_out_is_taken_hold_of() -> None:
    """A jar of 60 in a tight sleeve of 40; one of 45, of which 5 stand out, is not, for 8 are pinched."""
    for height, hard in ((60, False), (45, True)):
        scene = Scene().put("cradle", tray(64.4, 64.4, 41), at=(20, 20, 0), kind="cradle")
        scene.fill("cradle", (60, 60, height), (32.2, 32.2, 1.0), round_axis="z")
        assert bool(of(scene)) is hard


def test_a_neighbour_counts_where_a_head_stands_out() -> None:
    """The same jar between two walls that are higher than it, 2 mm off, and open to the other two sides."""
    scene = Scene().put("cradle", tray(64.4, 64.4, 41), at=(60, 60, 0), kind="cradle")
    scene.fill("cradle", (60, 60, 60), (32.2, 32.2, 1.0))
    scene.put("left", box(10, 100, 80), at=(48, 50, 0)).put("right", box(10, 100, 80), at=(126.4, 50, 0))
    assert of(scene) == []
    scene.put("front", box(60, 10, 80), at=(62, 48, 0)).put("back", box(60, 10, 80), at=(62, 126.4, 0))
    assert len(of(scene)) == 1


def test_one_finger_beside_it_tips_a_thing_up() -> None:
    """1 mm on three sides and 12.1 on the fourth."""
    scene = Scene().put("tray", tray(75.5, 64.4, 41)).fill("tray", (60, 60, 40), (32.2, 32.2, 1.0))
    assert of(scene) == []


def test_it_is_enough_that_one_of_a_lot_can_be_taken() -> None:
    """Three in a row with 1 mm between them: none, until the row leaves 13 mm at its end."""
    for long, hard in ((186.4, True), (199.0, False)):
        at = [(1.2 + 30.5 + 61 * number, 32.2, 1.0) for number in range(3)]
        scene = Scene(size=(300, 300)).put("tray", tray(long, 64.4, 41), at=(20, 20, 0)).fill("tray", (60, 60, 40), *at)
        assert bool(of(scene)) is hard


@pytest.mark.parametrize("turned", [False, True])
def test_a_turned_part_turns_its_things(turned: bool) -> None:  # noqa: FBT001
    """13 mm at an end of a tray, wherever that end points."""
    body, at = tray(90, 64.4, 41), (32.2, 32.2, 1.0)
    rows = ((0, -1, 0, 100), (1, 0, 0, 20), (0, 0, 1, 0), (0, 0, 0, 1)) if turned else None
    scene = Scene(size=(300, 300)).put("tray", body, at=(20, 20, 0), matrix_=rows).fill("tray", (60, 60, 40), at)
    assert of(scene) == []


@pytest.mark.parametrize(
    ("gap", "size", "hard"),
    [
        (4.1, (100, 70, 3), False),  # a nail behind a sheet
        (3.9, (100, 70, 3), True),
        (1.0, (30, 30, 30), False),  # small: shaken out
        (1.0, (40, 30, 30), True),
    ],
)
def test_sheets_and_small_things_need_less(gap: float, size: tuple[float, float, float], hard: bool) -> None:  # noqa: FBT001
    """A stack of sheets is taken by its edge, what is small is shaken out."""
    assert bool(of(sunk(gap, size=size))) is hard


def test_what_is_heaped_or_drawn_from_a_slot_is_not_looked_at() -> None:
    """Nobody picks it by its sides."""
    assert of(sunk(1.0, stance="heaped")) == []
    assert of(sunk(1.0, stance="in a dispenser")) == []


def test_a_wall_of_the_space_is_in_the_way_too() -> None:
    """A jar that stands out of its sleeve, in a corner of the space, 2 mm off both walls, open to the other sides."""
    scene = Scene(size=(64.4, 64.4)).put("cradle", tray(64.4, 64.4, 41), kind="cradle")
    assert len(of(scene.fill("cradle", (60, 60, 59), (32.2, 32.2, 1.0)))) == 1
    scene = Scene(size=(120, 120)).put("cradle", tray(64.4, 64.4, 41), kind="cradle")
    assert of(scene.fill("cradle", (60, 60, 59), (32.2, 32.2, 1.0))) == []


def test_all_hard_lots_of_a_space_are_one_note() -> None:
    """The worst is named first, then all."""
    scene = (
        sunk(6.0)
        .put("other", tray(70, 70, 41), at=(120, 20, 0))
        .fill("other", (60, 60, 40), (35, 35, 1.0), name="nuts")
    )
    (finding,) = of(scene)
    assert "Beside nuts a finger finds only 3.8 mm" in finding.text
    assert finding.text.endswith("So it is beside dice.")
