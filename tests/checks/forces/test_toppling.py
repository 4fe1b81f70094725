from __future__ import annotations

import math

import pytest
from tests.checks.forces.scene import FLOOR, PANEL, Key, Scene, cube, matrix

from nookwright.ground.findings import Severity


def tower(rows: int = 1, *, cell: tuple[int, int] = (0, 5), up: float = 60.0, **space: Key) -> Scene:
    """A tray some cells deep with a slab high up in it, free before and behind."""
    scene = Scene(**space)
    scene.panel()
    scene.tray("tower", 4, rows, cell=cell, height=90, mass_g=20)
    middle = (4 * 9.0 - 0.3, rows * 9.0 - 0.3)
    scene.things("slab", "tower", ((*middle, up),), (60, rows * 18 - 4.0, 10), mass_g=400)
    return scene


def neighbour(scene: Scene, gap: float, height: float, *, behind: bool = True, name: str = "n") -> Scene:
    """The same with a broad heavy block beside the tower."""
    low, high = 0.55 + 5 * 18, 0.55 + 6 * 18 - 0.6
    y = high + gap if behind else low - gap - 70
    scene.part(name, "tray", cube((71, 70, height)), matrix(0.55, y, PANEL), mass_g=900)
    return scene


def toppling(scene: Scene) -> list[str]:
    """What topples or leaves its cones."""
    return [one.code for one in scene.findings() if one.code in {"slam-topples", "slam-unseats"} and one.subject != "n"]


def test_a_slim_high_part_topples() -> None:
    """One cell deep, its middle 60 high: said once, with its speed and the usual one."""
    (found,) = tower().found("slam-topples")
    assert (found.subject, found.severity) == ("tower", Severity.WARN)
    assert found.against is not None
    assert found.against.computed == 0.5
    assert 0.1 < found.against.limit < 0.3


def test_deep_or_low_or_gentle_it_stands() -> None:
    """Four cells deep; its slab on the floor; a slow drawer; a shelf that is only knocked against."""
    assert toppling(tower(4, up=40.0)) == []
    assert toppling(tower(2, up=FLOOR)) == []
    assert toppling(tower(2, shut_m_s=0.2)) == []
    assert toppling(tower(2, kind="shelf")) == []


@pytest.mark.parametrize(
    ("gap", "height", "backed"), [(1.9, 80, True), (2.1, 80, False), (1.0, 66, True), (1.0, 60, False)]
)
def test_a_neighbour_backs_it(gap: float, height: float, backed: bool) -> None:  # noqa: FBT001
    """Within 2 mm and above its centre of mass, about 62; on both sides, since a drawer throws both ways."""
    scene = neighbour(tower(), gap, height)
    assert toppling(scene) == ["slam-topples"]
    both = neighbour(scene, gap, height, behind=False, name="m")
    assert ("slam-topples" not in toppling(both)) is backed


def test_the_wall_backs_it() -> None:
    """Against the back wall it still topples to the front; between two walls it does not."""
    assert toppling(tower(1, cell=(0, 11), depth=216.5)) == ["slam-topples"]
    scene = Scene(depth=18.5)
    scene.tray("tower", 4, 1, height=90, mass_g=20)
    scene.things("slab", "tower", ((35.7, 8.7, 60),), (60, 14, 10), mass_g=400)
    assert toppling(scene) == []


def test_a_neighbour_that_topples_itself_backs_nothing() -> None:
    """Two towers 1 mm apart, free before and behind: to the back already both go over."""
    scene = tower()
    scene.tray("second", 4, 1, cell=(0, 6), height=90, mass_g=20)
    scene.things("plate", "second", ((35.7, 8.7, 60),), (60, 14, 10), mass_g=400)
    found = scene.found("slam-topples")
    assert {one.subject for one in found} == {"tower", "second"}
    assert all("to the back" in one.text for one in found)


def test_soft_close_helps_to_the_back_only() -> None:
    """Two cells deep it begins to lift at 0.52 g: shut softly it stands, pulled open hard it topples."""
    (found,) = tower(2, soft_close=True, up=30.0).found("slam-topples")
    assert "to the front" in found.text
    scene = tower(2, soft_close=True, up=30.0)
    scene.part("n", "tray", cube((71, 70, 80)), matrix(0.55, 0.55 + 90 - 71, PANEL), mass_g=900)
    assert toppling(scene) == []


def test_a_part_that_comes_back_may_still_leave_its_cones() -> None:
    """Eight sockets or only two at its front: pushed to the back, these two lift by more than cones are high."""
    scene = Scene()
    scene.panel()
    scene.tray("long", 4, 3, cell=(0, 4), height=60, mass_g=20)
    scene.things("slab", "long", ((35.7, 26.7, 26),), (60, 48, 10), mass_g=400)
    assert toppling(scene) == []
    two = Scene()
    two.panel()
    block = cube((71.4, 53.4, 60)) - cube((8, 8, 3.5), (4.7, 4.7, -0.1)) - cube((8, 8, 3.5), (40.7, 4.7, -0.1))
    two.tray("long", 4, 3, cell=(0, 4), solid=block, mass_g=20)
    two.things("slab", "long", ((35.7, 26.7, 26),), (60, 48, 10), mass_g=400)
    (found,) = two.found("slam-unseats")
    assert found.against is not None
    assert found.against.computed > found.against.limit == pytest.approx(3.0)
    assert math.isfinite(found.against.computed)
