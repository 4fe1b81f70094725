from __future__ import annotations

import pytest
from tests.checks.room_fit.scene import Scene, box, tray, ways

from nookwright.checks.room_fit.printed import Largest
from nookwright.checks.room_fit.ways_out import check_ways_out
from nookwright.ground.findings import Finding, Severity

USUAL = Largest(0.002, 0.16, 0.26, (0.0, 0.05, 0.15))


def of(*scenes: Scene, largest: Largest = USUAL) -> list[Finding]:
    spaces = tuple(scene.built() for scene in scenes)
    return check_ways_out(spaces, {one.part.id: largest for space in spaces for one in space.stood}, ways())


def divided(thick: float, *, slot: float = 4.0, lip: bool = False) -> Scene:
    """A tray with a slot across it between two walls, and a divider in it; a lip over the slot keeps it in."""
    body = tray(60, 40, 30) + box(30, 40, 28, at=(0, 0, 0)) + box(60 - 30 - slot, 40, 28, at=(30 + slot, 0, 0))
    if lip:
        body += box(1, 40, 2, at=(30, 0, 26))
    scene = Scene().put("tray", body)
    return scene.put("divider", box(thick, 36, 24), at=(30 + (slot - thick) / 2, 2, 1.0), kind="divider", on=("tray",))


def test_a_divider_with_play_comes_out() -> None:
    """3 in a slot of 4, and 0.8 at each end."""
    assert of(divided(3.0)) == []


def test_a_divider_that_is_held_by_a_lip_is_stuck() -> None:
    """A lip of 1 mm, 1 mm above it, over the slot of a divider of 3.4: it meets after that 1 mm."""
    (finding,) = of(divided(3.4, lip=True))
    assert (finding.code, finding.severity, finding.subject) == ("insert-stuck", Severity.STOP, "divider")
    assert finding.against is not None
    assert finding.against.computed == pytest.approx(1.0, abs=0.05)


@pytest.mark.parametrize(("play", "sticks"), [(0.5, False), (0.3, True), (0.15, True)])
def test_a_divider_may_stick_where_prints_err_by_more_than_its_play(play: float, sticks: bool) -> None:  # noqa: FBT001
    """0.2 likely and 0.16 by chance are 0.36: a play of 0.5 is enough, 0.3 is not; it says so, and how much."""
    findings = of(divided(4.0 - play))
    assert [one.code for one in findings] == ["insert-may-stick"] * sticks
    for finding in findings:
        assert finding.severity is Severity.NOTE
        assert finding.against is not None
        assert finding.against.computed == pytest.approx(0.2 + (2 * 0.11**2) ** 0.5, abs=0.01)
        assert finding.against.limit == pytest.approx(play, abs=0.03)


def test_dividers_that_may_stick_are_one_finding() -> None:
    """Two spaces, two dividers: the tighter one, and one more."""
    (finding,) = of(divided(3.7), divided(3.8))
    assert "So may 1 other" in finding.text
    assert finding.against is not None
    assert finding.against.limit == pytest.approx(0.2, abs=0.03)


def test_a_lid_in_a_rim_comes_off() -> None:
    """A deck lid in a ledge with 0.5 to each side; what stands on it is put aside before."""
    rim = tray(60, 60, 30) - box(57.4, 57.4, 2, at=(1.3, 1.3, 28.8))
    scene = Scene().put("tray", rim).put("lid", box(56.4, 56.4, 1.2), at=(1.8, 1.8, 28.8), kind="lid", on=("tray",))
    scene.put("upper", tray(60, 60, 20), at=(0, 0, 30), on=("lid",))
    assert of(scene) == []


def test_a_tray_under_its_neighbour_is_shut_in() -> None:
    """A neighbour with a flange that reaches 3 mm over it, 5 mm above its rim: it meets after 5 mm."""
    scene = Scene().put("low", tray(40, 40, 20))
    scene.put("wide", tray(40, 40, 30) + box(6, 40, 2, at=(-4, 0, 25)), at=(41, 0, 0))
    findings = of(scene)
    assert [(one.code, one.subject) for one in findings] == [("part-shut-in", "low")]
    assert findings[0].against is not None
    assert findings[0].against.computed == pytest.approx(5.0, abs=0.05)


def test_trays_in_each_other_are_a_matter_of_other_checks() -> None:
    """A neighbour whose wall is 0.5 deep in that of a tray."""
    assert of(Scene().put("low", tray(40, 40, 20)).put("other", tray(40, 40, 20), at=(39.5, 0, 0))) == []


def test_a_tray_under_a_wall_that_leans_in_is_shut_in() -> None:
    """The right wall stands in by 10 at the top: a low tray at its foot is inside, and does not come up."""
    levels = [{"z": 0.0, "width": 200, "depth": 150}, {"z": 60.0, "width": 190, "depth": 150}]
    shut = Scene(planned={"usable": levels}).put("tray", tray(40, 40, 20), at=(155, 0, 0))
    (finding,) = of(shut)
    assert (finding.code, finding.severity) == ("part-shut-in", Severity.STOP)
    assert "the right wall reaches 5.00 mm in over it" in finding.text
    assert of(Scene(planned={"usable": levels}).put("tray", tray(40, 40, 20), at=(149, 0, 0))) == []
    shelf = Scene(kind="shelf", planned={"usable": levels}).put("tray", tray(40, 40, 20), at=(155, 0, 0))
    assert of(shelf) == []  # it comes out to the front


@pytest.mark.parametrize(("low", "shut"), [((30, 0, 40), True), ((30, 0, 10), False), ((50, 0, 40), False)])
def test_a_tray_under_a_pipe_is_shut_in(low: tuple[float, float, float], shut: bool) -> None:  # noqa: FBT001
    """A pipe 20 above its rim; one that reaches below the rim collides, which is found elsewhere; one beside it."""
    pipe = {"reason": "pipe", "service": False, "low": low, "high": (80, 40, 60)}
    findings = of(Scene(planned={"blocked": [pipe]}).put("tray", tray(40, 40, 20)))
    assert [one.code for one in findings] == ["part-shut-in"] * shut


def on_cones(top: float, **changes: object) -> Scene:
    """A tray on a liner whose cones reach 3 mm up into it."""
    scene = Scene(kind=str(changes.pop("kind", "shelf")), read=changes)
    scene.put("panel", box(100, 100, 0.6) + box(3, 3, 3, at=(20, 20, 0.6)), kind="panel")
    return scene.put("tray", tray(40, 40, top - 0.6), at=(0, 0, 0.6), on=("panel",))


@pytest.mark.parametrize(
    ("scene", "codes"),
    [
        (on_cones(56.9), []),
        (on_cones(57.1), ["no-room-to-lift"]),
        (on_cones(57.1, kind="drawer"), []),
        (on_cones(57.1, kind="drawer", pulls_out=30), ["no-room-to-lift"]),
        (on_cones(57.1, kind="drawer", pulls_out=41), []),
    ],
)
def test_below_a_shelf_a_part_must_come_off_its_cones(scene: Scene, codes: list[str]) -> None:
    """60 clear and cones of 3: up to 57 it comes off. A drawer is open above as far as it is pulled out."""
    assert [one.code for one in of(scene)] == codes


def test_things_that_are_in_the_way_are_taken_out_first() -> None:
    """A low tray with a tall jar: a note, for the jar can be taken out; a part itself too high is a stop."""
    scene = on_cones(20.0).fill("tray", (20, 20, 58), (20, 20, 1.0), round_axis="z")
    (finding,) = of(scene)
    assert (finding.code, finding.severity) == ("no-room-to-lift", Severity.NOTE)
    (finding,) = of(on_cones(59.0))
    assert finding.severity is Severity.STOP


@pytest.mark.parametrize(
    ("high", "kind", "codes"), [(59.0, "shelf", ["no-room-to-lift"]), (59.0, "drawer", []), (58.0, "shelf", [])]
)
def test_below_a_shelf_a_lid_must_come_off_its_rim(high: float, kind: str, codes: list[str]) -> None:
    """1.2 deep in a rim of 59 it needs 60.2, under 60; in one of 58 it comes off. A drawer is open above."""
    rim = tray(60, 60, high) - box(57.4, 57.4, 2, at=(1.3, 1.3, high - 1.2))
    scene = Scene(kind=kind).put("tray", rim)
    scene.put("lid", box(56.4, 56.4, 1.2), at=(1.8, 1.8, high - 1.2), kind="lid", on=("tray",))
    findings = of(scene)
    assert [(one.code, one.severity) for one in findings] == [(code, Severity.NOTE) for code in codes]
