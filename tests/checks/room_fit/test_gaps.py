from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.checks.room_fit.scene import Scene, box, matrix, tray, ways

from nookwright.checks.room_fit.gaps import check_gaps
from nookwright.checks.room_fit.printed import Largest
from nookwright.ground.findings import Finding, Severity

USUAL = Largest(0.002, 0.16, 0.26, (0.0, 0.05, 0.15))
NEEDED = 0.002 * 80 + 0.16  # of two trays of 80, each larger by 0.2 % and 0.16: half of each to either side


def found(scene: Scene, largest: Largest = USUAL) -> list[Finding]:
    space = scene.built()
    return check_gaps((space,), {one.part.id: largest for one in space.stood}, ways())


def two(gap: float, *, turns: int = 0) -> Scene:
    """Two trays of 80 with a gap between them, the second one turned."""
    scene = Scene().put("a", tray(80, 60, 30))
    size = 80 if turns % 2 == 0 else 60
    x = 80 + gap + (0 if turns == 0 else size)
    return scene.put("b", tray(80, 80, 30), matrix_=matrix(x if turns == 0 else 80 + gap + 80, 0, 0, turns))


@pytest.mark.parametrize("turns", [0, 1])
@pytest.mark.parametrize(("gap", "met"), [(NEEDED + 0.01, False), (NEEDED - 0.01, True), (NEEDED / 2, True)])
def test_trays_need_what_both_may_grow(gap: float, met: bool, turns: int) -> None:  # noqa: FBT001
    """Two trays of 80 need 0.32; at a hair more they are let be, at a hair less and at half of it not, turned too."""
    findings = found(two(gap, turns=turns))
    assert [one.code for one in findings] == ["gap-too-small"] * met
    if met:
        (finding,) = findings
        assert finding.severity is Severity.STOP
        assert finding.against is not None
        assert finding.against.computed == pytest.approx(gap, abs=1e-6)
        assert finding.against.limit == pytest.approx(NEEDED)


def test_parts_grow_both_ways() -> None:
    """Trays of 60 by 80, one behind the other: 80 deep they need as much as trays of 80 beside each other."""
    for gap, met in ((NEEDED + 0.01, False), (NEEDED - 0.01, True)):
        behind = Scene().put("a", tray(60, 80, 30)).put("b", tray(60, 80, 30), at=(0, 80 + gap, 0))
        assert bool(found(behind)) is met


def test_as_drawn_only_what_touches_is_too_near() -> None:
    """With printers that err in nothing a gap of 0.01 is enough."""
    assert found(two(0.01), Largest()) == []


def test_boxes_that_meet_are_no_parts_that_do() -> None:
    """A square in the corner that an L leaves free: 1 mm away from both its legs, well inside its box."""
    ell = box(80, 80, 30) - box(50, 50, 30, at=(30, 30, 0))
    assert found(Scene().put("ell", ell).put("in-it", box(40, 40, 30), at=(31, 31, 0))) == []
    (finding,) = found(Scene().put("ell", ell).put("in-it", box(40, 40, 30), at=(30.1, 31, 0)))
    assert finding.against is not None
    assert finding.against.computed == pytest.approx(0.1)


def test_what_is_meant_to_touch_may() -> None:
    """Lids in their trays, what stands on lids, fillers at panels, tongues under trays, fence to fence."""
    scene = Scene().put("panel", box(100, 100, 0.6), kind="panel")
    scene.put("tray", tray(40, 40, 20), at=(0, 0, 0.6), on=("panel",))
    scene.put("lid", box(37.6, 37.6, 1.2), at=(1.2, 1.2, 19.4), kind="lid", on=("tray",))
    scene.put("upper", tray(40, 40, 20), at=(0, 0, 20.6), on=("lid",))
    scene.put("filler", box(10, 100, 0.6) + box(2, 100, 2.6, at=(8, 0, 0)), at=(100, 0, 0), kind="filler")
    scene.put("tongue", box(60, 20, 0.6), at=(20, 100, 0), kind="filler")
    scene.put("over-it", tray(40, 40, 20), at=(20, 100.6, 0.6))
    scene.put("fence", box(50, 3, 20), at=(120, 0, 0.6), kind="fence").put(
        "more", box(50, 3, 20), at=(120, 3, 0.6), kind="fence"
    )
    assert found(scene) == []


def test_a_tall_filler_must_keep_off_a_tray() -> None:
    """Its wall beside a tray, 0.1 away: both may grow into it."""
    scene = (
        Scene()
        .put("tray", tray(80, 80, 30), at=(0, 0, 0.6))
        .put("tall", box(8, 80, 30), at=(80.1, 0, 0), kind="filler")
    )
    (finding,) = found(scene)
    assert "stand 0.10 mm apart" in finding.text


def test_like_findings_are_one_with_the_worst() -> None:
    """Three trays in a row, 0.1 and 0.2 apart: one finding, of 0.1, that counts two."""
    scene = (
        Scene()
        .put("a", tray(50, 60, 30))
        .put("b", tray(50, 60, 30), at=(50.2, 0, 0))
        .put("c", tray(50, 60, 30), at=(100.3, 0, 0))
    )
    (finding,) = found(scene)
    assert finding.text.startswith("b and c stand 0.10 mm apart")
    assert "2 pairs" in finding.text


def test_parts_in_each_other_are_a_matter_of_other_checks() -> None:
    """Two trays whose walls share 0.5."""
    assert found(two(-0.5)) == []


@given(
    places=st.lists(st.tuples(st.floats(0, 60), st.floats(0, 60)), min_size=2, max_size=5),
    grown=st.floats(0.0, 0.01),
)
@settings(max_examples=40, deadline=None)
def test_boxes_anywhere_are_judged_by_their_gaps(places: list[tuple[float, float]], grown: float) -> None:
    """Random boxes of 12: found just where growing both about their middles makes their rectangles meet."""
    scene = Scene()
    for number, (x, y) in enumerate(places):
        scene.put(str(number), box(12, 12, 5), at=(x, y, 0))
    more = 12 * grown
    margins = [max(abs(a[0] - b[0]), abs(a[1] - b[1])) - 12 - more for i, a in enumerate(places) for b in places[:i]]
    nested = any(max(abs(a[0] - b[0]), abs(a[1] - b[1])) < 12 for i, a in enumerate(places) for b in places[:i])
    if nested or any(abs(margin) < 1e-3 for margin in margins):
        return  # what is inside each other is a matter of other checks
    assert bool(found(scene, Largest(grown))) is (min(margins) < 0)
