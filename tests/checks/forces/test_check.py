from __future__ import annotations

import pytest
from tests.checks.forces.scene import FLOOR, Scene

from nookwright.checks.forces.check import check_forces


def sound() -> Scene:
    """A full drawer of trays with low things in them."""
    scene = Scene()
    scene.panel()
    for col in range(3):
        for row in range(3):
            name = f"t{col}{row}"
            scene.tray(name, 4, 4, cell=(4 * col, 4 * row))
            scene.things(f"dice-{name}", name, ((20, 20, FLOOR), (50, 50, FLOOR)), (16, 16, 16), mass_g=20)
    return scene


def test_a_sound_drawer_has_only_its_reserve_stated() -> None:
    """Nine trays on a liner from wall to wall."""
    assert [finding.code for finding in sound().findings()] == ["slam-reserve"]


def test_the_same_kit_gives_the_same_findings() -> None:
    """In the same order, with the same figures."""
    assert sound().findings() == sound().findings()


def test_a_mesh_that_is_not_sound_is_passed_over() -> None:
    """Without meshes parts count as boxes, nothing is seated and nothing is held: it is looked at all the same.

    That a part slides for lack of cones is not said of one whose cones or sockets cannot be seen.
    """
    scene = sound()
    codes = {finding.code for finding in check_forces(scene.kit(), scene.surveyed(), {})}
    assert "slam-reserve" not in codes
    bare = Scene()
    bare.panel(cones=False)
    bare.tray("slab", 2, 2, cell=(4, 4), height=20, mass_g=50)
    assert "slam-slides" in bare.codes()
    assert "slam-slides" not in {one.code for one in check_forces(bare.kit(), bare.surveyed(), {})}


def test_each_part_is_said_once_though_it_goes_both_ways() -> None:
    """A tower that topples to the back and to the front."""
    scene = Scene()
    scene.panel()
    scene.tray("tower", 4, 1, cell=(0, 5), height=90, mass_g=20)
    scene.things("slab", "tower", ((35.7, 8.7, 60),), (60, 14, 10), mass_g=400)
    assert [finding.subject for finding in scene.found("slam-topples")] == ["tower"]


@pytest.mark.parametrize(("towers", "findings"), [(3, 3), (4, 1)])
def test_many_that_do_the_same_are_one_finding(towers: int, findings: int) -> None:
    """Towers in a row, 36 mm apart, the last one the heaviest at its top: three one by one, four as the worst."""
    scene = Scene()
    scene.panel()
    for n in range(towers):
        scene.tray(f"tower{n}", 4, 1, cell=(0, 1 + 3 * n), height=90, mass_g=20)
        scene.things(f"slab{n}", f"tower{n}", ((35.7, 8.7, 60 + n),), (60, 14, 10), mass_g=400 + 10 * n)
    found = scene.found("slam-topples")
    assert len(found) == findings
    if findings == 1:
        assert found[0].subject == "tower3"
        assert "The same holds for 3 others there" in found[0].text


def test_an_empty_space_has_nothing_to_say() -> None:
    """No parts, no liner, no things."""
    assert Scene().findings() == ()
