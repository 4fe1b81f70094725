"""The whole way with every way to keep a lot: built, and proven from the files that were written."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nookwright.build import build
from nookwright.ground.findings import Severity
from nookwright.ground.progress import Silent

if TYPE_CHECKING:
    from nookwright.exchange.kit import Kit, LotPlace
    from nookwright.layout.place import Effort

ROOM = """format = 1
[room]
name = "Ways"
[module]
pitch = 18
[choices]
odds_and_ends = false
[[space]]
id = "drawer"
kind = "drawer"
width = 560
depth = 380
height = 150
floor_height = 800
load_kg = 30
[[printer]]
id = "p"
bed_width = 450
bed_depth = 350
bed_height = 200
materials = ["m"]
[[material]]
id = "m"
colour = "#808080"
density_g_cm3 = 1.24
[[box]]
id = "tin"
width = 70
depth = 50
height = 40
wall = 0.5
foot_radius = 8
mass_g = 80
owned = 1
[[box]]
id = "jar"
width = 60
depth = 60
foot_radius = 30
height = 70
wall = 3
mass_g = 210
price = 1.5
lid = true
[[lot]]
id = "bands"
shape = "loose"
volume_ml = 80
mass_g = 60
count = 1
[[lot]]
id = "bowls"
shape = "round"
diameter = [80, 80.4]
height = 45
nests_by = 14
mass_g = 120
count = 5
grow_percent = 0
[[lot]]
id = "phials"
shape = "round"
diameter = [24, 24.1]
height = 45
mass_g = 20
count = 23
keep = "cradle"
grow_percent = 0
[[lot]]
id = "tea"
shape = "loose"
volume_ml = 70
mass_g = 30
count = 1
box = "tin"
[[lot]]
id = "sugar"
shape = "loose"
volume_ml = 60
mass_g = 50
count = 1
box = "jar"
[[lot]]
id = "chalk"
shape = "round"
diameter = 10
height = 80
mass_g = 10
count = 6
[lot.tray]
strip = "printed"
[[lot]]
id = "sticks"
shape = "box"
width = 60
depth = 9
height = 9
mass_g = 5
count = 8
shares = "chalk"
[[lot]]
id = "screws"
shape = "round"
diameter = 8.5
height = 20
mass_g = 5
count = 40
shares = "chalk"
"""


@pytest.fixture(scope="module")
def kit(tmp_path_factory: pytest.TempPathFactory, quick: Effort) -> Kit:
    """The kit of a room with bulk, nested bowls, phials in a cradle, two boxes and a tray of three lots."""
    folder = tmp_path_factory.mktemp("ways")
    room = folder / "room.toml"
    room.write_text(ROOM, encoding="utf-8")
    return build(room, folder / "kit", progress=Silent(), effort=quick, cache=folder / "cache")


def place(kit: Kit, lot: str) -> LotPlace:
    """The only place of a lot."""
    (found,) = (one for entry in kit.lots if entry.id == lot for one in entry.places)
    return found


def test_everything_is_proven_without_a_stop(kit: Kit) -> None:
    """Nothing collides, sticks out, is lost or overloads, by the files that were written."""
    assert [f"{one.subject}: {one.text}" for one in kit.findings if one.severity is Severity.STOP] == []
    assert kit.totals.lots_placed == kit.totals.lots == 8


@pytest.mark.parametrize(
    ("lot", "words", "held"),
    [
        ("bands", "heaped", (1,)), ("bowls", "nested", (5,)), ("tea", "in a box", (1,)), ("screws", "heaped", (40,)),
        ("sticks", "lying", ()), ("phials", "upright", ()),
    ],
)  # fmt: skip
def test_the_kit_says_how_each_lot_is_kept(kit: Kit, lot: str, words: str, held: tuple[int, ...]) -> None:
    """One heap, one pile and one box stand for all of their things."""
    found = place(kit, lot)
    assert (found.stance, found.held) == (words, held)
    assert len(found.at) == (len(held) or found.count)


def test_boxes_stand_on_shoes_and_are_on_the_list(kit: Kit) -> None:
    """Their own size is drawn; the one that is not there yet has its price, and both weigh on the drawer."""
    kinds = {part.id: part.kind.value for part in kit.parts}
    assert (place(kit, "tea").size, place(kit, "sugar").round_axis) == ((70, 50, 40), "z")
    assert {kinds[place(kit, lot).part] for lot in ("tea", "sugar")} == {"shoe"}
    assert [(one.id, one.count, one.buy, one.price) for one in kit.boxes] == [("tin", 1, 0, 0), ("jar", 1, 1, 1.5)]
    (space,) = kit.spaces
    things = sum(lot.mass_g for lot in kit.lots)
    assert space.load_g == pytest.approx(kit.totals.mass_g + things + 80 + 210, abs=0.1)
    assert "boxes-to-buy" in {one.code for one in kit.findings}


def test_a_shared_tray_is_one_part_with_a_place_for_each_lot(kit: Kit) -> None:
    """Two dividers, called after all three; the strip is the tray's."""
    places = [place(kit, lot) for lot in ("chalk", "sticks", "screws")]
    assert len({one.placement for one in places}) == 1
    (part,) = (one for one in kit.parts if one.id == places[0].part)
    assert "3 columns" in part.name
    labels = {one.label for one in kit.placements if one.id == places[0].placement}
    assert labels == {"chalk, sticks, screws"}


def test_phials_stand_in_staggered_pockets(kit: Kit) -> None:
    """Twenty-three of them take fewer cells so; every second row is moved on by half a pocket and a wall."""
    (part,) = (one for one in kit.parts if one.id == place(kit, "phials").part)
    pocket, moved = (part.parameters[key] for key in ("pocket", "moved"))
    assert isinstance(pocket, float)
    assert moved == pytest.approx((pocket + 1.2) / 2, abs=1e-3)
