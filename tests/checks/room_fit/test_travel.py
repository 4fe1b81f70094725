from __future__ import annotations

import pytest
from tests.checks.room_fit.scene import Scene, box, tray

from nookwright.checks.room_fit.travel import check_travel, lowest_passed
from nookwright.ground.findings import Finding, Severity


def drawer(top: float, **read: object) -> Scene:
    """A drawer of 60 with a tray on cones so high that seats and layers counted it reaches to the top."""
    scene = Scene(read=read, planned={"height": 58.0})
    return scene.put("tray", tray(40, 40, (top - 0.3) / 1.003 - 0.6), at=(0, 0, 0.6))


def of(scene: Scene) -> list[Finding]:
    return check_travel((scene.built(),))


@pytest.mark.parametrize(
    ("top", "severity"), [(57.9, None), (58.1, Severity.WARN), (60.3, Severity.WARN), (60.6, Severity.STOP)]
)
def test_a_part_may_be_as_high_as_what_was_kept_for_readings_that_err(top: float, severity: Severity | None) -> None:
    """58 are reckoned with, 60 were read: above the one a warning, above the other as drawn, 0.5 less, a stop."""
    findings = of(drawer(top))
    assert [one.severity for one in findings] == ([severity] if severity else [])
    assert all(one.code == "hits-on-travel" and one.subject == "tray" for one in findings)


def test_the_lowest_thing_that_is_passed_decides_and_is_named() -> None:
    """A rail at 50 on the way under which the drawer goes; a mat of 2 takes as much off."""
    scene = drawer(49.0, passes_under=[{"what": "the rail", "height": 50}, {"what": "a lip", "height": 55}], mat=2)
    assert lowest_passed(scene.built()) == (48, "the rail")
    (finding,) = of(scene)
    assert finding.severity is Severity.STOP
    assert "on its way under the rail" in finding.text


def test_things_count_that_stand_out_of_their_tray() -> None:
    """A jar of 55 in a tray of 20, on a floor 1 above its underside: the jar hits, and is named."""
    scene = Scene(planned={"height": 55.0}).put("tray", tray(40, 40, 20), at=(0, 0, 0.6))
    scene.fill("tray", (30, 30, 55), (20, 20, 1.0), round_axis="z", name="jar")
    (finding,) = of(scene)
    assert (finding.subject, finding.severity) == ("jar", Severity.WARN)
    assert finding.text.startswith("Its tallest thing may stand 57.")


def test_a_stack_counts_each_of_its_seats() -> None:
    """Tray, lid, tray: two seats of 0.3, for the lid lies flush, and 0.3 % of the height; a tray alone has one."""
    scene = Scene(planned={"height": 50.0}).put("low", tray(40, 40, 24))
    scene.put("lid", box(37, 37, 1.2), at=(1.5, 1.5, 22.8), kind="lid", on=("low",))
    scene.put("high", tray(40, 40, 25), at=(0, 0, 24), on=("lid",))
    assert of(scene) == []
    scene.planned["height"] = 49.7
    (finding,) = of(scene)
    assert finding.severity is Severity.WARN
    assert finding.against is not None
    assert finding.against.computed == pytest.approx(49 * 1.003 + 2 * 0.3)
    assert of(Scene(planned={"height": 49.7}).put("alone", tray(40, 40, 49))) == []


@pytest.mark.parametrize(("read", "severity"), [(49.8, Severity.WARN), (49.7, Severity.STOP)])
def test_a_stack_stops_where_its_seats_reach_what_was_read(read: float, severity: Severity) -> None:
    """49 as drawn, 49.75 with two seats and uneven layers: a stop where 49.7 were read, though it is lower as drawn."""
    scene = Scene(height=read, planned={"height": 49.0}).put("low", tray(40, 40, 24))
    scene.put("high", tray(40, 40, 25), at=(0, 0, 24), on=("low",))
    assert [one.severity for one in of(scene)] == [severity]


def test_the_others_are_counted() -> None:
    """Two trays too high: one finding, of the higher one."""
    scene = drawer(59.0).put("other", tray(40, 40, 58.0), at=(50, 0, 0.6))
    (finding,) = of(scene)
    assert "Too high there is 1 more" in finding.text


def pipe(**changes: object) -> dict[str, object]:
    return {"blocked": [{"reason": "pipe", "service": True, "low": (80, 60, 0), "high": (100, 80, 60)} | changes]}


@pytest.mark.parametrize(
    ("where", "changes", "noted"),
    [
        ((70, 90, 0.6), {}, True),  # behind it
        ((10, 90, 0.6), {}, False),  # beside its way
        ((70, 10, 0.6), {}, False),  # before it
        ((70, 90, 0.6), {"service": False}, False),  # a part of the drawer
        ((70, 90, 0.6), {"low": (80, 60, 40)}, False),  # passes above
    ],
)
def test_what_stands_behind_a_pipe_is_noted(
    where: tuple[float, float, float],
    changes: dict[str, object],
    noted: bool,  # noqa: FBT001
) -> None:
    """A pipe that stays comes towards what is behind it while the drawer is pulled out; a shelf is not pulled."""
    scene = Scene(planned=pipe(**changes)).put("tray", tray(40, 40, 20), at=where)
    assert [one.code for one in of(scene)] == ["behind-what-stays"] * noted
    scene.kind = "shelf"
    assert of(scene) == []
