from __future__ import annotations

import pytest
from tests.checks.room_fit.scene import Scene, box, tray, ways

from nookwright.checks.room_fit.things_out import check_things_out, round_things
from nookwright.ground.findings import Finding, Severity


def of(scene: Scene) -> list[Finding]:
    return check_things_out((scene.built(),), ways())


def lipped(reach: float) -> Scene:
    """A tray of 40 whose rim stands in by so much on one side, 25 above its floor, with a die of 20 below it."""
    body = tray(40, 40, 30) + box(reach, 40, 2, at=(1.2, 0, 26))
    return Scene().put("tray", body).fill("tray", (20, 20, 20), (12.2, 20, 1.0))


def test_things_in_a_plain_tray_come_out() -> None:
    """Dice that touch each other, the walls and the floor: they rub, and no more."""
    scene = Scene().put("tray", tray(42.4, 22.4, 30)).fill("tray", (20, 20, 20), (11.2, 11.2, 1.0), (31.2, 11.2, 1.0))
    assert of(scene) == []


@pytest.mark.parametrize(("reach", "stuck"), [(0.9, False), (1.1, False), (1.9, False), (2.1, True), (3.0, True)])
def test_a_thing_below_a_lip_is_stuck(reach: float, stuck: bool) -> None:  # noqa: FBT001
    """The die stands 1 mm off the wall: a lip of 0.9 lets it pass, one of 1.9 when moved aside by 1, none larger."""
    findings = of(lipped(reach))
    assert [(one.code, one.severity, one.subject) for one in findings] == [
        ("thing-stuck", Severity.STOP, "dice")
    ] * stuck
    for finding in findings:
        assert finding.against is not None
        assert finding.against.computed == pytest.approx(5.0, abs=0.05)
        assert "meets that part after 5.0" in finding.text


def test_what_cannot_be_moved_aside_is_stuck() -> None:
    """The same under a lip of 1.1 where another wall stands 0.5 mm off on the other side."""
    scene = lipped(1.1)
    scene.put("post", box(5, 10, 30, at=(0, 0, 0)), at=(22.7, 15, 1.2))
    assert [one.code for one in of(scene)] == ["thing-stuck"]


def test_round_things_are_as_round_as_they_are() -> None:
    """A cork of 20 on its way past a peg in a corner, which its box would meet."""
    post = tray(24, 24, 30) + box(2, 2, 4, at=(1.2, 1.2, 20))
    assert of(Scene().put("tray", post).fill("tray", (20, 20, 15), (12, 12, 1.0), round_axis="z")) == []
    assert len(of(Scene().put("tray", post).fill("tray", (20, 20, 15), (12, 12, 1.0)))) == 1


def test_lids_and_what_stands_on_them_are_put_aside() -> None:
    """Things under a lid with a tray on it come out; a divider over them does not go away."""
    scene = Scene().put("tray", tray(40, 40, 30)).fill("tray", (20, 20, 20), (20, 20, 1.0))
    scene.put("lid", box(37, 37, 1.2), at=(1.5, 1.5, 28), kind="lid", on=("tray",))
    scene.put("upper", tray(40, 40, 20), at=(0, 0, 30), on=("lid",))
    space = scene.built()
    assert [one.id for one in round_things(space, space.lying[0])] == ["tray"]
    assert of(scene) == []
    scene.put("divider", box(30, 2, 3), at=(5, 19, 24), kind="divider", on=("tray",))
    assert [one.code for one in of(scene)] == ["thing-stuck"]


def test_things_in_plastic_are_a_matter_of_other_checks() -> None:
    """A die that is 0.5 deep in a wall: what shares room is found where room that is shared is looked for."""
    assert of(Scene().put("tray", tray(40, 40, 30)).fill("tray", (20, 20, 20), (10.7, 20, 1.0))) == []


def test_a_neighbour_that_reaches_over_things_is_in_their_way() -> None:
    """Its flange over the next tray, 5 above its rim."""
    scene = Scene().put("tray", tray(40, 40, 30)).fill("tray", (20, 20, 20), (27, 20, 1.0))
    scene.put("wide", tray(40, 40, 40) + box(8, 40, 2, at=(-6, 0, 35)), at=(41, 0, 0))
    (finding,) = of(scene)
    assert "meets wide" in finding.text
