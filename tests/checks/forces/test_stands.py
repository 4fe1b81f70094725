from __future__ import annotations

import numpy as np
import pytest
from tests.checks.forces.scene import FLOOR, Scene, cube, matrix

from nookwright.checks.forces.stands import Loads, Stand


def stands(scene: Scene) -> dict[str, Stand]:
    """What stands, by name."""
    loads = Loads(scene.kit(), scene.surveyed(), scene.shapes)
    return {stand.name: stand for stand in loads.stands["here"]}


def test_a_stand_weighs_with_its_things_where_they_are() -> None:
    """A tray of 40 g with its middle at 35.7 and 200 g at its left wall: the middle of both lies between."""
    scene = Scene()
    scene.panel()
    scene.tray("a", 4, 4, cell=(2, 3))
    scene.things("lead", "a", ((10.0, 35.7, FLOOR),), (16, 16, 16), mass_g=200)
    one = stands(scene)["a"]
    assert one.mass.mass_g == 240
    assert one.mass.centre[0] - one.low[0] == pytest.approx((40 * 35.7 + 200 * 10) / 240, abs=0.01)
    assert one.mass.centre[2] - one.low[2] < FLOOR + 8
    assert (one.parts, one.on) == (("a",), frozenset({"panel"}))
    assert one.low[:2] == pytest.approx([0.25 + 2 * 18 + 0.3, 0.25 + 3 * 18 + 0.3])


def test_a_turned_tray_takes_its_things_along() -> None:
    """Turned by a quarter, what was at its left is at its front."""
    scene = Scene()
    scene.panel()
    scene.tray("a", 6, 3, cell=(0, 0), turned=True)
    scene.things("lead", "a", ((12.0, 26.7, FLOOR),), (16, 16, 16), mass_g=4000)
    one = stands(scene)["a"]
    assert one.high - one.low == pytest.approx([53.4, 107.4, 36.0], abs=1e-6)
    assert one.mass.centre[1] - one.low[1] == pytest.approx(12.0, abs=1.0)


def test_lids_and_what_stands_on_them_weigh_on_what_carries_them() -> None:
    """A tray below a lid below a tray: the lower carries all, the upper itself; the lid is no stand."""
    scene = Scene()
    scene.panel()
    scene.tray("low", 4, 4, mass_g=40)
    scene.part("lid", "lid", cube((71, 71, 2)), matrix(0.55, 0.55, 37), mass_g=30, on=("low",))
    scene.part("top", "tray", cube((71, 71, 20)), matrix(0.55, 0.55, 39), mass_g=20, on=("lid",))
    found = stands(scene)
    assert {name: one.mass.mass_g for name, one in found.items()} == {"low": 90, "top": 20}
    assert found["top"].on == frozenset({"lid"})


def test_supports_of_one_long_thing_are_one_stand() -> None:
    """Two rests that carry a rod: one box round both, one mass."""
    scene = Scene()
    scene.panel()
    scene.tray("near", 3, 2, cell=(0, 0), kind="rest")
    scene.tray("far", 3, 2, cell=(0, 8), kind="rest")
    scene.things("saw", "near", ((26.7, 80.0, 10.0),), (2, 180, 20), mass_g=300, held_by=("far",), stance="in a rest")
    (one,) = stands(scene).values()
    assert one.parts == ("near", "far")
    assert one.mass.mass_g == 380
    assert one.high[1] - one.low[1] == pytest.approx(8 * 18 + 35.4)


def test_a_handle_takes_its_share_of_the_mass() -> None:
    """Blade and handle of the same size: the middle lies half way between."""
    scene = Scene()
    scene.tray("a", 6, 6)
    beside = {"size": (10, 50, 10), "offset": (0, 50, 0)}
    scene.things("knife", "a", ((50.0, 30.0, FLOOR),), (10, 50, 10), mass_g=100, beside=beside)
    loads = Loads(scene.kit(), scene.surveyed(), scene.shapes)
    (mass,) = loads.things["a"]
    assert mass.mass_g == 100
    assert mass.centre[1] == pytest.approx(0.55 + 55.0)


def test_piles_and_boxes_weigh_what_is_in_them() -> None:
    """Two piles of 7 and 5, and a box of 88 g with 40 coins."""
    scene = Scene()
    scene.tray("a", 6, 6)
    scene.things("cups", "a", ((20, 20, FLOOR), (60, 20, FLOOR)), (30, 30, 60), mass_g=10, count=12, held=(7, 5))
    scene.room["box"] = [{"id": "tin", "width": 50, "depth": 40, "height": 30, "mass_g": 88, "owned": 1}]
    scene.things("coins", "a", ((40, 70, FLOOR),), (50, 40, 30), mass_g=7.5, count=40, held=(40,), box="tin")
    loads = Loads(scene.kit(), scene.surveyed(), scene.shapes)
    assert [mass.mass_g for mass in loads.things["a"]] == [120, 388]


def test_a_part_without_a_mesh_counts_as_its_box() -> None:
    """Its mesh is broken; its mass is not forgotten."""
    scene = Scene()
    scene.tray("a", 2, 2)
    loads = Loads(scene.kit(), scene.surveyed(), {})
    assert loads.shape_of("a") is None
    assert loads.of_part("a").mass_g == 40
    assert np.all(loads.of_part("a").centre > 0)
