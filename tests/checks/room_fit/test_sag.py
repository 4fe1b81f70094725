from __future__ import annotations

import pytest
from tests.checks.room_fit.scene import Scene, tray

from nookwright.checks.room_fit.printed import Largest
from nookwright.checks.room_fit.sag import check_sag
from nookwright.ground.findings import Finding, Severity

USUAL = Largest(0.002, 0.16, 0.26)
GROWN = 0.002 * 80 + 0.16


def two(gap: float, bow: float, *, height: float = 40.0, along_y: bool = False) -> Scene:
    """Two trays of 80 beside or behind each other on a floor of 200 by 200 that sags."""
    scene = Scene(size=(200, 200), planned={"bow": bow}).put("a", tray(80, 80, height))
    return scene.put("b", tray(80, 80, 30.0), at=(0, 80 + gap, 0) if along_y else (80 + gap, 0, 0))


def of(scene: Scene, *, said: tuple[str, ...] = ()) -> list[Finding]:
    space = scene.built()
    return check_sag((space,), {one.part.id: USUAL for one in space.stood}, said)


def closing(gap: float, bow: float) -> float:
    """8 b / W^2 times the distance of the middles times the height of the lower one."""
    return 8 * bow / 200**2 * (80 + gap) * 30


@pytest.mark.parametrize("along_y", [False, True])
@pytest.mark.parametrize(("bow", "meet"), [(0.9, False), (1.1, True), (2.0, True)])
def test_tops_meet_where_the_floor_sags_by_more_than_the_gap_allows(bow: float, meet: bool, along_y: bool) -> None:  # noqa: FBT001
    """0.8 apart, 0.48 of it when printed at their largest: at a sag of 1 mm that is used up, 30 high and 80.8 apart."""
    gap = 0.8
    assert closing(gap, 1.0) == pytest.approx(gap - GROWN, abs=0.01)
    findings = of(two(gap, bow, along_y=along_y))
    assert [(one.code, one.severity) for one in findings] == [("tops-meet", Severity.WARN)] * meet
    for finding in findings:
        assert finding.against is not None
        assert finding.against.computed == pytest.approx(closing(gap, bow))
        assert finding.against.limit == pytest.approx(gap - GROWN)


def test_on_a_flat_floor_and_over_a_bulge_tops_do_not_meet() -> None:
    """However far it bulges."""
    assert of(two(0.5, 0.0)) == []
    assert of(two(0.5, -5.0)) == []


def test_it_is_said_once() -> None:
    """What the layout said of a space is not said again."""
    assert of(two(0.8, 2.0), said=("it",)) == []


def test_the_worst_pair_is_named_and_the_others_are_counted() -> None:
    """Three in a row, the second gap smaller: one warning."""
    scene = Scene(size=(300, 200), planned={"bow": 5.0})
    for number, x in enumerate((0.0, 80.8, 161.4)):
        scene.put("abc"[number], tray(80, 80, 40), at=(x, 0, 0))
    (finding,) = of(scene)
    assert "the tops of b and c come together" in finding.text
    assert "So do 1 more" in finding.text
