"""Rough sizes in a room file."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nookwright.survey.load import check_room

if TYPE_CHECKING:
    from pathlib import Path

ROOM = """\
format = 1
[room]
name = "a room"
[[space]]
id = "drawer"
kind = "drawer"
width = 400
depth = 300
height = 90
floor_height = 0
load_kg = 9
[[printer]]
id = "p"
bed_width = 220
bed_depth = 220
bed_height = 200
materials = ["pla"]
[[material]]
id = "pla"
colour = "#ffffff"
density_g_cm3 = 1.24
[[lot]]
id = "things"
count = 2
rough = true
"""
SIZES = 'shape = "box"\nwidth = 50\nheight = 30\nmass_g = 20\n'


def test_a_rough_lot_loads(tmp_path: Path) -> None:
    """One size of each, to 5 mm."""
    file = tmp_path / "room.toml"
    file.write_text(ROOM + SIZES + "depth = 40\n", encoding="utf-8")
    found, faults = check_room(file)
    assert not faults
    assert found is not None
    assert found.lot[0].rough


@pytest.mark.parametrize(
    ("more", "key", "remedy"),
    [
        (SIZES + "depth = [40.2, 40.4]\n", "depth", "Delete `rough` once"),
        (SIZES + 'depth = 40\ninstrument = "caliper"\n', "instrument", "Delete `rough` once"),
        (SIZES + 'depth = [40.1, 40.2]\nmeasured = "all"\n', "measured", "Delete `rough` once"),
        ('standard = "R6"\n', "rough", "Delete `rough`: the limits"),
    ],
)
def test_rough_and_measured_at_once_is_a_contradiction(tmp_path: Path, more: str, key: str, remedy: str) -> None:
    """Named with its line, and what to do."""
    file = tmp_path / "room.toml"
    file.write_text(ROOM + more, encoding="utf-8")
    _, faults = check_room(file)
    mine = [fault for fault in faults if fault.key.endswith(key) and fault.remedy.startswith(remedy)]
    assert len(mine) == 1
    line = file.read_text(encoding="utf-8").splitlines()[mine[0].line - 1]
    assert line.startswith(key)


@pytest.mark.parametrize("typed", ['"yes"', "1", "[]"])
def test_rough_is_yes_or_no(tmp_path: Path, typed: str) -> None:
    """Nothing else."""
    file = tmp_path / "room.toml"
    file.write_text(ROOM.replace("rough = true", f"rough = {typed}") + SIZES + "depth = 40\n", encoding="utf-8")
    room, faults = check_room(file)
    assert room is None
    assert any("rough" in fault.key for fault in faults)
