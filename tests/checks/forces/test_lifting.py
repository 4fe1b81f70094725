from __future__ import annotations

import pytest
from tests.checks.forces.scene import FLOOR, Scene, cradle_solid

from nookwright.ground.findings import Severity


def cradle(fit: str, mass_g: float, *, count: int = 1) -> Scene:
    """Light cradles with a heavy thing in a pocket of some fit."""
    scene = Scene(kind="shelf")
    scene.panel()
    pocket = dict.fromkeys(("measured", "limit", "printer", "clearance", "size", "confidence"), 1.0)
    scene.sizes["rods"] = [
        {"dimension": "diameter", "readings": (20,), "published": False, "limit": 20, "confidence": 0.95, "process": "",
         "tolerance": 0.1, "source": "", "pocket": pocket | {"fit": fit, "calibrated": False}}
    ]  # fmt: skip
    for n in range(count):
        name = f"c{n}"
        solid = cradle_solid(3, 3, 30, 21)
        scene.tray(name, 3, 3, cell=(3 * n, 0), kind="cradle", solid=solid, mass_g=mass_g - n)
        scene.things("rods", name, ((26.7, 26.7, FLOOR),), (20, 20, 40), mass_g=400, round_axis="z")
    return scene


@pytest.mark.parametrize(
    ("fit", "mass_g", "lifts"),
    [
        ("held", 450, True),
        ("held", 465, False),
        ("close", 70, True),
        ("close", 80, False),
        ("easy", 10, False),
        ("falls in", 10, False),
    ],
)
def test_a_pocket_that_holds_takes_a_light_cradle_along(fit: str, mass_g: float, lifts: bool) -> None:  # noqa: FBT001
    """3 N and a reserve of 1.5 are 459 g; a close pocket rubs with 0.5 N: 76 g. The last thing does not count."""
    found = cradle(fit, mass_g).found("cradle-lifts")
    assert [one.severity for one in found] == ([Severity.NOTE] if lifts else [])


def test_cradles_that_lift_are_one_finding_with_the_lightest() -> None:
    """Three of them."""
    (found,) = cradle("held", 100, count=3).found("cradle-lifts")
    assert found.subject == "c2"
    assert "So do 2 others" in found.text


@pytest.mark.parametrize(("mass_g", "others_g", "lifts"), [(1000, 0, True), (120, 0, False), (1000, 400, False)])
def test_a_heavy_tray_takes_a_light_liner_along(mass_g: float, others_g: float, lifts: bool) -> None:  # noqa: FBT001
    """A jam of 0.38 of its weight against the panel's 60 g (or 30) and what else stands on it; weak jams let go."""
    scene = Scene(kind="shelf")
    scene.panel()
    scene.tray("heavy", 4, 4, mass_g=mass_g)
    scene.parts["panel"]["mass_g"] = 60.0 if mass_g > 200 else 30.0
    if others_g:
        scene.tray("other", 4, 4, cell=(6, 6), mass_g=others_g)
    found = scene.found("liner-lifts")
    assert [(one.subject, one.severity) for one in found] == ([("here", Severity.NOTE)] if lifts else [])
    if lifts:
        assert found[0].against is not None
        assert found[0].against.computed == pytest.approx(0.38 * 1000 * 9.80665e-3, rel=0.02)
        assert found[0].against.limit == pytest.approx(60 * 9.80665e-3, rel=0.01)


def test_without_cones_nothing_jams() -> None:
    """A bare plate."""
    scene = Scene(kind="shelf")
    scene.panel(cones=False)
    scene.tray("heavy", 4, 4, mass_g=1000)
    assert scene.codes() == []
