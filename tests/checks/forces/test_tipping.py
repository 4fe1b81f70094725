from __future__ import annotations

import pytest
from tests.checks.forces.scene import FLOOR, Key, Scene

from nookwright.ground.findings import Severity


def chest(load_g: float, row: int = 0, *, stands: str = "free-standing", **piece: Key) -> Scene:
    """A drawer of 216 x 216 in a chest, loaded somewhere along its depth."""
    space = {key: piece.pop(key) for key in ("floor_height", "children", "locked", "pulls_out") if key in piece}
    scene = Scene(furniture="chest", **space)
    scene.room["furniture"] = [{"id": "chest", "stands": stands, **piece}]
    scene.panel()
    scene.tray("a", 6, 4, cell=(3, row), mass_g=10)
    scene.things("slab", "a", ((53.7, 35.7, FLOOR),), (100, 60, 6), mass_g=load_g)
    return scene


def test_the_moments_are_those_about_the_front_feet() -> None:
    """5 kg, 1 of it the drawer; 216.5 deep: 4 kg at 108.25 hold, drawer at 108.25 and load at 180 before them tip."""
    scene = chest(2000, mass_kg=5.0, drawer_kg=1.0, depth=216.5)
    (found,) = scene.found("furniture-tips")
    assert (found.subject, found.severity) == ("chest", Severity.WARN)
    load = scene.parts["panel"]["mass_g"] * (216.5 - 108.25) + 2010 * (216.5 - 0.25 - 36.0)
    assert found.against is not None
    assert found.against.computed == pytest.approx(4000 * 108.25 / (1000 * 108.25 + load), rel=0.01)
    assert found.against.limit == 1.5


@pytest.mark.parametrize("changes", [{"mass_kg": 15.0}, {"stands": "anchored"}, {"stands": "built in"}])
def test_what_is_heavy_or_fixed_does_not_tip(changes: dict[str, Key]) -> None:
    """Three times the mass; a strap; a niche."""
    assert chest(2000, **{"mass_kg": 5.0, "drawer_kg": 1.0, **changes}).found("furniture-tips") == []


def test_a_load_at_the_back_tips_less_than_one_at_the_front() -> None:
    """Of the same drawer in the same chest; a light one does not tip it at all."""
    ratios = []
    for row in (0, 4, 8):
        (found,) = chest(4000, row, mass_kg=4.0, drawer_kg=1.0).found("furniture-tips")
        assert found.against is not None
        ratios.append(found.against.computed)
    assert ratios == sorted(ratios)
    assert ratios[0] < ratios[-1]
    assert chest(100, mass_kg=4.0, drawer_kg=1.0).found("furniture-tips") == []


def test_what_stays_inside_holds() -> None:
    """Not quite half pulled out, the drawer itself has its middle behind the feet; its load before them tips."""
    (found,) = chest(4000, 0, pulls_out=100.0, mass_kg=1.5, drawer_kg=1.0).found("furniture-tips")
    tips = 4010 * (100 - 0.25 - 36) + 60 * (100 - 108.25)
    holds = 500 * 216.5 / 2 + 1000 * 8.25
    assert found.against is not None
    assert found.against.computed == pytest.approx(holds / tips, rel=0.001)


def test_a_drawer_is_weighed_by_its_boards_where_nobody_did() -> None:
    """Bottom of 3 mm hardboard, sides of 16 mm chipboard: 2.3 kg of a drawer of 216 x 216 x 120."""
    (boards,) = chest(2000, mass_kg=7.0).found("furniture-tips")
    (weighed,) = chest(2000, mass_kg=7.0, drawer_kg=(216.5**2 * 2.7e-3 + 866 * 120 * 1.05e-2) / 1000).found(
        "furniture-tips"
    )
    assert boards.against is not None
    assert weighed.against is not None
    assert boards.against.computed == pytest.approx(weighed.against.computed, rel=1e-6)


@pytest.mark.parametrize(
    ("changes", "severity"),
    [
        ({}, None),
        ({"floor_height": 600.0}, Severity.NOTE),
        ({"height": 700.0}, Severity.NOTE),
        ({"children": True}, Severity.WARN),
        ({"children": True, "locked": True}, Severity.NOTE),
        ({"children": True, "mass_kg": 60.0}, Severity.NOTE),
    ],
)
def test_tall_furniture_gets_the_usual_advice(changes: dict[str, Key], severity: Severity | None) -> None:
    """From 686 high, or where children reach; it is a warning where they reach and nothing can be worked out."""
    found = chest(2000, **changes).found("furniture-anchor")
    assert [one.severity for one in found] == ([severity] if severity else [])
    if found:
        assert "Anchor it" in found[0].remedy


def test_where_nothing_is_said_tall_drawers_are_named_once() -> None:
    """A note for the kit; none for low ones, for shelves, and once something is said."""
    for height, kind, notes in ((700.0, "drawer", 1), (100.0, "drawer", 0), (700.0, "shelf", 0)):
        scene = Scene(floor_height=height, kind=kind)
        scene.tray("a", 6, 4, mass_g=10)
        assert len(scene.found("furniture-unsaid")) == notes
    assert chest(10, floor_height=700.0, stands="built in").found("furniture-unsaid") == []
    empty = Scene(floor_height=700.0)
    assert empty.found("furniture-unsaid") == []
