"""The whole way with rests and dispensers: built, and proven from the files that were written."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
import trimesh

from nookwright.build import build
from nookwright.ground.findings import Severity
from nookwright.ground.progress import Silent

if TYPE_CHECKING:
    from pathlib import Path

    from nookwright.exchange.kit import Kit, LotPlace
    from nookwright.layout.place import Effort

ROOM = """format = 1
[room]
name = "Rests"
[module]
pitch = 18
[choices]
odds_and_ends = false
[choices.homes]
wide = ["drawer"]
[[space]]
id = "drawer"
kind = "drawer"
width = 420
depth = 380
height = 110
floor_height = 800
load_kg = 30
[[space]]
id = "shelf"
kind = "shelf"
width = 400
depth = 250
height = 200
floor_height = 900
load_kg = 30
[[printer]]
id = "p"
bed_width = 250
bed_depth = 220
bed_height = 200
materials = ["m"]
[[material]]
id = "m"
colour = "#808080"
density_g_cm3 = 1.24
[[lot]]
id = "bread-knife"
shape = "box"
width = 338
depth = 42.5
height = 21.6
count = 1
mass_g = 146
hazard = "blade"
grow_percent = 0
group = "wide"
[lot.blade]
length = 205
height = 33
spine = 2.1
[[lot]]
id = "saws"
shape = "box"
width = 300
depth = 30
height = 18
count = 2
mass_g = 46
hazard = "blade"
grow_percent = 0
[lot.blade]
length = 185
height = 20
spine = 1.6
handle_drop = 6
[[lot]]
id = "files"
shape = "round"
diameter = [11.8, 12.1]
height = 240
mass_g = 120
count = 3
keep = "rest"
grow_percent = 0
group = "wide"
[[lot]]
id = "napkins"
shape = "flat"
width = 120
depth = 118
thickness = [1.6, 1.8]
count = 12
made = "paper"
mass_g = 3
keep = "dispenser"
[[lot]]
id = "gloves"
shape = "box"
width = 110
depth = 90
height = 24
count = 1
made = "soft"
mass_g = 84
grow_percent = 0
keep = "dispenser"
[[lot]]
id = "bare"
shape = "box"
width = 150
depth = 30
height = 20
count = 1
mass_g = 60
hazard = "blade"
"""


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder for the room and its kit."""
    return tmp_path_factory.mktemp("rests")


@pytest.fixture(scope="module")
def kit(folder: Path, quick: Effort) -> Kit:
    """The kit of a room with knives, saws and files in rests, and two dispensers."""
    room = folder / "room.toml"
    room.write_text(ROOM, encoding="utf-8")
    return build(room, folder / "kit", progress=Silent(), effort=quick, cache=folder / "cache")


def place(kit: Kit, lot: str) -> LotPlace:
    """The only place of a lot."""
    (found,) = (one for entry in kit.lots if entry.id == lot for one in entry.places)
    return found


def test_everything_is_proven_without_a_stop(kit: Kit) -> None:
    """Nothing collides, tips, sticks out or is bare, by the files that were written."""
    assert [f"{one.subject}: {one.text}" for one in kit.findings if one.severity is Severity.STOP] == []
    assert kit.totals.lots_placed == kit.totals.lots == 6


def test_only_the_blade_that_nobody_measured_is_a_warning(kit: Kit) -> None:
    """Knife and saws are covered; the other one lies in a tray."""
    assert [one.subject for one in kit.findings if one.code == "blade-in-tray"] == ["bare"]


@pytest.mark.parametrize(
    ("lot", "words", "counts"),
    [
        ("bread-knife", "in a rest", (1, 3, 1)),
        ("saws", "in a rest", (2, 4, 2)),
        ("files", "in a rest", (3, 2, 0)),
        ("napkins", "in a dispenser", (12, 1, 0)),
        ("gloves", "in a dispenser", (1, 1, 0)),
    ],
)
def test_the_kit_says_how_each_lot_is_kept(kit: Kit, lot: str, words: str, counts: tuple[int, int, int]) -> None:
    """Things, parts that hold them, guards among these: two supports, and for each blade a guard; or a tray."""
    found, (things, parts, guards) = place(kit, lot), counts
    assert (found.stance, found.count, len(found.at)) == (words, things, things)
    holders = [one for one in kit.placements if one.id in (found.placement, *found.held_by)]
    names = {part.id: part.name for part in kit.parts}
    assert len(holders) == parts
    assert sum(names[one.part].startswith("guard") for one in holders) == guards
    assert len({one.space for one in holders}) == 1


def test_handles_lie_before_the_heel(kit: Kit) -> None:
    """As long as the whole is longer than the blade; a file has none."""
    knife, saw = place(kit, "bread-knife").beside, place(kit, "saws").beside
    assert knife is not None
    assert saw is not None
    assert knife.size[1] == pytest.approx(338 - 205, abs=0.2)
    assert saw.offset[2] == -6.0
    assert place(kit, "files").beside is None


def test_the_dowels_are_on_the_list(kit: Kit) -> None:
    """Two of 8 mm for each rest, as long as from face to face of its supports, less a little."""
    said = {one.subject: one.text for one in kit.findings if one.code == "dowels-to-cut"}
    assert said.keys() == {"bread-knife", "saws", "files"}
    assert "8 mm thick, 212 mm long" in said["bread-knife"]


def test_lids_lie_right_side_up_in_their_trays(kit: Kit, folder: Path) -> None:
    """Printed on their head: in their place the plate is above the lip, and flush with the front of the tray."""
    lids = [one for one in kit.placements if one.label.startswith("sliding lid")]
    assert len(lids) == 2
    parts = {part.id: part for part in kit.parts}
    trays = {one.id: one for one in kit.placements}
    for lid in lids:
        (tray,) = (trays[name] for name in lid.stands_on)
        matrix = np.array(lid.space_from_part)
        mesh = trimesh.load_mesh(folder / "kit" / parts[lid.part].stl).apply_transform(matrix)
        assert np.linalg.det(matrix[:3, :3]) == pytest.approx(1.0)
        low, high = mesh.bounds
        top = tray.space_from_part[2][3] + parts[tray.part].size[2]
        assert top - 6 < high[2] <= top
        assert mesh.center_mass[2] > high[2] - 2.0  # most of it is the plate
        assert low[2] < high[2] - 5  # the lip of the slot


def test_plans_show_rests_and_dispensers(kit: Kit, folder: Path) -> None:
    """Each support and guard has a mark; the things of a rest are drawn over all of them."""
    text = "".join((folder / "kit" / "plans" / f"{space.id}.svg").read_text(encoding="utf-8") for space in kit.spaces)
    assert "guard, bread-knife" in text
    assert "sliding lid, napkins" in text
