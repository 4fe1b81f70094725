"""Service paths in a room file: what is fixed to the building, spaces that are kept free, and what contradicts them."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nookwright.survey.load import check_room

if TYPE_CHECKING:
    from pathlib import Path

    from nookwright.ground.errors import Fault
    from nookwright.survey.models import Room

ROOM = """format = 1
[room]
name = "A"
[choices.homes]
glass = [{homes}]
[[space]]
id = "bench"
kind = "{kind}"
width = 400
depth = 400
height = 90
floor_height = 0
load_kg = 20
[[space.blocked]]
reason = "pipe"
service = true
width = 40
depth = 40
{box}
[[space]]
id = "shaft"
kind = "shelf"
width = 400
depth = 400
height = 90
floor_height = 0
load_kg = 20
{shaft}
[[lot]]
id = "jars"
group = "glass"
shape = "box"
width = 50
depth = 50
height = 60
mass_g = 90
count = 6
food = true
[[place]]
lot = "jars"
space = "{place}"
[[printer]]
id = "p"
bed_width = 220
bed_depth = 220
bed_height = 200
materials = ["m"]
[[material]]
id = "m"
colour = "#808080"
density_g_cm3 = 1.24
"""


def checked(folder: Path, **parts: str) -> tuple[Room | None, tuple[Fault, ...], list[str]]:
    """The room with more lines here and there; its faults, and its lines."""
    usual = {"kind": "drawer", "box": "stays = true", "shaft": "", "place": "bench", "homes": '"bench", "shaft"'}
    file = folder / "room.toml"
    file.write_text(ROOM.format(**(usual | parts)), encoding="utf-8")
    room, faults = check_room(file)
    return room, faults, file.read_text(encoding="utf-8").splitlines()


def test_paths_that_make_sense_load(tmp_path: Path) -> None:
    """A pipe that stays, a shaft that is kept free, jars for food on the bench."""
    room, faults, _ = checked(tmp_path, shaft="kept_free = true")
    assert faults == ()
    assert room is not None
    assert (room.space[0].blocked[0].stays, room.space[1].kept_free, room.lot[0].food) == (True, True, True)


@pytest.mark.parametrize(
    ("parts", "line", "allowed", "remedy"),
    [
        ({"kind": "shelf"}, "stays = true", "only in drawers", "Delete `stays`"),
        ({"shaft": "kept_free = true", "place": "shaft"}, 'space = "shaft"', "not kept free", "another space"),
        ({"shaft": "kept_free = true", "homes": '"shaft"'}, 'glass = ["shaft"]', '"bench"', "another space"),
    ],
)
def test_what_contradicts_itself_is_a_fault(
    tmp_path: Path, parts: dict[str, str], line: str, allowed: str, remedy: str
) -> None:
    """Named with its line, what is allowed, and what to do."""
    room, faults, lines = checked(tmp_path, **parts)
    assert room is None
    (fault,) = faults
    assert lines[fault.line - 1] == line
    assert allowed in fault.allowed
    assert remedy in fault.remedy
