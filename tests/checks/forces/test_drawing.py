from __future__ import annotations

import pytest
from tests.checks.forces.scene import FLOOR, Scene, cube, matrix

from nookwright.checks.forces.drawing import ballast_levels, drawn_from
from nookwright.checks.forces.stands import Loads
from nookwright.ground.findings import Severity


def dispenser(mass_g: float, *, full_g: float = 20.0, dispenses: str = "gloves", **pull: object) -> Scene:
    """A tray of 107 x 107 with a lid and ten things in it."""
    scene = Scene(kind="shelf")
    scene.panel()
    scene.tray("box", 6, 6, cell=(2, 2), height=54, mass_g=mass_g - 30)
    scene.part("lid", "lid", cube((100, 100, 2)), matrix(40, 40, 52), mass_g=30, on=("box",))
    at = tuple((53.7, 53.7, FLOOR + 4 * n) for n in range(10))
    keys = {"keep": "dispenser", "dispenses": dispenses, "pull": pull}
    scene.things("gloves", "box", at, (90, 90, 4), mass_g=full_g / 10, stance="in a dispenser", keys=keys)
    return scene


@pytest.mark.parametrize(("mass_g", "lifts"), [(605, True), (620, False)])
def test_a_pull_of_4_n_asks_for_610_g(mass_g: float, lifts: bool) -> None:  # noqa: FBT001
    """4 N by the acceleration of fall, with a reserve of 1.5: 612 g with nothing in it, lid included."""
    found = dispenser(mass_g).found("dispenser-lifts")
    assert [one.subject for one in found] == (["box"] if lifts else [])
    if lifts:
        assert found[0].against is not None
        assert found[0].against.limit == pytest.approx(612, abs=3)
        assert found[0].against.computed == pytest.approx(605)


def test_what_lifts_when_it_is_full_is_a_warning() -> None:
    """Lighter than the pull when it is full; heavier, but without the reserve; heavy until hardly anything is left."""
    light, short, late = dispenser(300), dispenser(420, full_g=10), dispenser(420, full_g=300)
    (found,) = light.found("dispenser-lifts")
    assert found.severity is Severity.WARN
    assert "even when it is full" in found.text
    (found,) = short.found("dispenser-lifts")
    assert found.severity is Severity.NOTE
    assert "little reserve" in found.text
    (found,) = late.found("dispenser-lifts")
    assert found.severity is Severity.NOTE
    assert "once fewer than 7 of 10 are left" in found.text


def test_sheets_are_drawn_with_half_of_it() -> None:
    """2 N: 306 g."""
    assert dispenser(300, dispenses="sheets").found("dispenser-lifts")
    assert dispenser(315, dispenses="sheets").found("dispenser-lifts") == []


def test_who_measured_the_pull_or_put_ballast_in_says_so() -> None:
    """A pull of 1 N; a plate of 320 g below the stack; a plate of 300 is too light."""
    assert dispenser(300).found("dispenser-lifts")
    assert dispenser(300, force_n=1.0).found("dispenser-lifts") == []
    assert dispenser(300, ballast_g=320.0).found("dispenser-lifts") == []
    assert dispenser(300, ballast_g=300.0).found("dispenser-lifts")


def test_a_level_pull_tips_a_high_box_and_a_slanting_one_a_little() -> None:
    """Drawn level by 1 N at 54 mm the box must weigh F h by its arm of 53.7; drawn straight up it needs F."""
    scene = dispenser(600)
    loads = Loads(scene.kit(), scene.surveyed(), scene.shapes)
    stand = loads.stands["here"][0]
    arm = min(stand.mass.centre[0] - stand.low[0], stand.high[0] - stand.mass.centre[0])
    level, up = drawn_from(stand, 1.0, 0.0), drawn_from(stand, 1.0, 90.0)
    assert level.least_g == pytest.approx(1000 / 9.80665 * 54 / arm, rel=0.03)
    assert up.least_g == pytest.approx(1000 / 9.80665, rel=0.03)
    assert up.needs_g == pytest.approx(1.5 * up.least_g)
    assert drawn_from(stand, 1.0, 45.0).least_g > up.least_g


def test_ballast_is_said_as_steel_and_as_sand() -> None:
    """500 g over 100 x 100: steel of 7.85 g/cm3 is 6.4 mm, sand of 1.53 is 32.7 mm."""
    steel, sand = ballast_levels(110.0, 110.0, 500.0)
    assert steel == pytest.approx(500 / 7.852e-3 / 1e4, rel=0.001)
    assert sand == pytest.approx(500 / 1.5296e-3 / 1e4, rel=0.001)
    (found,) = dispenser(300).found("dispenser-lifts")
    assert "steel plate" in found.remedy
    assert "mm of dry sand" in found.remedy


def test_a_plain_tray_is_not_drawn_from() -> None:
    """The same light box with the same things, lying."""
    scene = dispenser(100)
    scene.places["gloves"][0]["stance"] = "lying"
    assert scene.found("dispenser-lifts") == []
