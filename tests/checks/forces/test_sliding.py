from __future__ import annotations

import pytest
from tests.checks.forces.scene import FLOOR, Key, Scene, cube, matrix

from nookwright.checks.forces.sliding import reserve_words
from nookwright.checks.weights import weight_n
from nookwright.ground.findings import Severity


def loaded(mass_g: float, *, cones: bool = True, cells: int = 5, **space: Key) -> Scene:
    """A tray with one tightest socket in the middle of a drawer, with a low heavy slab in it."""
    scene = Scene(**space)
    scene.panel(cones=cones)
    scene.tray("a", cells, cells, cell=(3, 3), mass_g=20)
    middle = cells * 9.0
    scene.things("slab", "a", ((middle, middle, FLOOR),), (60, 60, 6), mass_g=mass_g)
    return scene


@pytest.mark.parametrize(("mass_g", "slides"), [(1290, False), (1310, True), (2600, True)])
def test_one_cone_holds_65_newtons(mass_g: float, slides: bool) -> None:  # noqa: FBT001
    """1.32 kg at 5 g; a part that is heavier slides, both ways, and is said once."""
    found = loaded(mass_g).found("slam-slides")
    assert [(one.subject, one.severity) for one in found] == ([("a", Severity.WARN)] if slides else [])
    if slides:
        assert found[0].against is not None
        assert found[0].against.limit == pytest.approx(64.8, abs=0.1)
        assert found[0].against.computed == pytest.approx(weight_n(mass_g + 20, 5), rel=1e-6)


def test_more_tightest_sockets_hold_more() -> None:
    """Of six by six cells the twelve in the middle are alike, and six of them stand on a cone: 389 N."""
    assert loaded(7900, cells=6).found("slam-slides") == []
    assert loaded(7930, cells=6).found("slam-slides")


def test_a_shelf_is_not_slammed() -> None:
    """Twice the mass on a shelf: nothing of a slam is said, the reserve neither."""
    assert [one.code for one in loaded(2600, kind="shelf").findings() if one.code.startswith("slam")] == []


def test_without_cones_it_slides_to_the_next_stop() -> None:
    """A light tray on a bare plate in the middle of a drawer."""
    (found,) = loaded(50, cones=False).found("slam-slides")
    assert "no cone" in found.text
    assert found.against is not None
    assert found.against.limit == 0


@pytest.mark.parametrize(("gap", "slides"), [(3.9, False), (4.1, True)])
def test_without_cones_a_tray_between_walls_stays(gap: float, slides: bool) -> None:  # noqa: FBT001
    """Four trays in a row on the bare floor; the space leaves some mm."""
    scene = Scene(depth=4 * 54.0 - 0.05 + gap)
    for number in range(4):
        scene.tray(f"t{number}", 3, 3, cell=(0, 3 * number), mass_g=100)
    assert bool(scene.found("slam-slides")) is slides


def test_what_one_part_cannot_bear_the_next_one_must() -> None:
    """One behind the other: to the back the heavier one slides, to the front it pushes the lighter one along."""
    scene = Scene()
    scene.panel()
    for number, mass_g in enumerate((1250, 1400)):
        scene.tray(f"t{number}", 5, 5, cell=(1 - number, 1 + 5 * number), mass_g=20)
        scene.things(f"slab{number}", f"t{number}", ((44.7, 44.7, FLOOR),), (60, 60, 6), mass_g=mass_g - 20)
    subjects = {one.subject for one in scene.found("slam-slides")}
    assert subjects == {"t0", "t1"}
    alone = Scene()
    alone.panel()
    alone.tray("t0", 5, 5, cell=(1, 1), mass_g=20)
    alone.things("slab0", "t0", ((44.7, 44.7, FLOOR),), (60, 60, 6), mass_g=1230)
    assert alone.found("slam-slides") == []


@pytest.mark.parametrize(("strip", "slides"), [(True, False), (False, True)])
def test_a_liner_needs_a_strip_to_the_wall(strip: bool, slides: bool) -> None:  # noqa: FBT001
    """A panel of 180 in a drawer of 216: 36 mm behind it, with a strip or without."""
    scene = Scene()
    scene.panel(12, 10)
    if strip:
        scene.part("strip", "filler", cube((210, 34, 2.6)), matrix(1, 181), mass_g=5)
    found = scene.found("slam-liner-slides")
    assert [one.subject for one in found] == (["panel"] if slides else [])
    if slides:
        assert found[0].against is not None
        assert found[0].against.computed == pytest.approx(216.5 - 180.25)


@pytest.mark.parametrize(("height", "rides"), [(2.1, False), (1.9, True)])
def test_a_low_strip_is_ridden_over(height: float, rides: bool) -> None:  # noqa: FBT001
    """A panel is 0.6 thick; a strip beside it that is not 2 mm high holds it by little."""
    scene = Scene()
    scene.panel(12, 10)
    scene.part("strip", "filler", cube((210, 34, height)), matrix(1, 181), mass_g=5)
    assert [one.subject for one in scene.found("slam-liner-rides-over")] == (["panel"] if rides else [])


def test_the_reserve_is_said_once_with_the_hardest_loaded_part() -> None:
    """For dry, dusty and oily cones."""
    (note,) = loaded(1290).found("slam-reserve")
    assert note.severity is Severity.NOTE
    assert "dry without limit, dusty 3.1 times, oily 1.2 times" in note.text
    assert note.against is not None
    assert note.against.computed < note.against.limit


def test_a_soft_stop_leaves_more_reserve() -> None:
    """A tenth of the slam, ten times the reserve."""
    assert reserve_words(75.0, 0.5) == "dry without limit, dusty 31.0 times, oily 12.2 times"
