"""What was found in trials, as a room file says it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nookwright.survey.load import check_room
from nookwright.survey.origins import Says
from nookwright.survey.trials import Axis

if TYPE_CHECKING:
    from pathlib import Path

    from nookwright.ground.errors import Fault
    from nookwright.survey.models import Room

ROOM = """format = 1
[room]
name = "A"
[[space]]
id = "drawer"
kind = "drawer"
width = {width}
depth = 300
height = 90
floor_height = 0
load_kg = 20
[[lot]]
id = "jars"
shape = "round"
diameter = 50
height = 60
mass_g = 90
count = 6
[[lot]]
id = "cards"
shape = "flat"
width = 90
depth = 60
thickness = 0.4
mass_g = 2
count = 6
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


def loaded(folder: Path, found: str, width: str = "400") -> tuple[Room | None, tuple[Fault, ...]]:
    """The room with what was found, or its faults."""
    path = folder / "room.toml"
    path.write_text(ROOM.format(width=width) + f"[[found]]\n{found}\n", encoding="utf-8")
    return check_room(path)


def test_gauges_pilots_and_the_seat_are_read(tmp_path: Path) -> None:
    """Each in a table of its own; lengths may be typed as people do."""
    room, faults = loaded(
        tmp_path,
        'gauge = "jars"\nsizes = [50.1, "5.04 cm"]\nsays = ["tight", "goes in"]\n'
        '[[found]]\nspace = "drawer"\naxis = "width"\npilot = 398.4\nloose = 1.2\n'
        '[[found]]\nseat = "loose"',
    )
    assert faults == ()
    assert room is not None
    gauge, pilot, seat = room.found
    assert (gauge.gauge, gauge.sizes, gauge.says) == ("jars", (50.1, 50.4), (Says.TIGHT, Says.GOES_IN))
    assert (pilot.space, pilot.axis, pilot.pilot, pilot.loose, pilot.tight) == ("drawer", Axis.WIDTH, 398.4, 1.2, None)
    assert seat.seat is Says.LOOSE


@pytest.mark.parametrize(
    ("found", "key", "says"),
    [
        ("sizes = [50]", "found[1]", "neither gauge nor space nor seat"),
        ('gauge = "jars"\nseat = "tight"\nsizes = [50]\nsays = ["tight"]', "found[1]", "gauge and seat"),
        ('gauge = "jar"\nsizes = [50]\nsays = ["tight"]', "found[1].gauge", '"jar"'),
        ('gauge = "cards"\nsizes = [50]\nsays = ["tight"]', "found[1].gauge", '"cards"'),
        ('gauge = "jars"\nsays = ["tight"]', "found[1].sizes", "nothing"),
        ('gauge = "jars"\nsizes = [50, 51]\nsays = ["tight"]', "found[1].says", '["tight"]'),
        ('gauge = "jars"\nsizes = [50.2, 502]\nsays = ["tight", "goes in"]', "found[1].sizes[2]", "502"),
        ('gauge = "jars"\nsizes = [50]\nsays = ["tight"]\nloose = 1', "found[1].loose", "1"),
        ('gauge = "jars"\nsizes = [50]\nsays = ["snug"]', "found[1].says[1]", '"snug"'),
        ('space = "drawers"\naxis = "width"\npilot = 398\nloose = 1', "found[1].space", '"drawers"'),
        ('space = "drawer"\npilot = 398\nloose = 1', "found[1].axis", "nothing"),
        ('space = "drawer"\naxis = "width"\nloose = 1', "found[1].pilot", "nothing"),
        ('space = "drawer"\naxis = "width"\npilot = 398', "found[1]", "neither tight nor loose"),
        ('space = "drawer"\naxis = "width"\npilot = 398\nloose = 1\ntight = 1', "found[1]", "both tight and loose"),
        ('space = "drawer"\naxis = "width"\npilot = 298\nloose = 1', "found[1].pilot", "298"),
        ('space = "drawer"\naxis = "width"\npilot = 398\nloose = 120', "found[1].loose", "120"),
        ('space = "drawer"\naxis = "width"\npilot = 398\ntight = -0.5', "found[1].tight", "-0.5"),
        ('space = "drawer"\naxis = "width"\npilot = nan\ntight = 0.5', "found[1].pilot", "nan"),
        ('seat = "wobbly"', "found[1].seat", '"wobbly"'),
    ],
)
def test_every_fault_names_its_key_and_what_was_found(tmp_path: Path, found: str, key: str, says: str) -> None:
    """One fault each, with a remedy."""
    room, faults = loaded(tmp_path, found)
    assert room is None
    assert [(fault.key, fault.found) for fault in faults] == [(key, says)]
    assert faults[0].remedy
    assert faults[0].line > ROOM.count("\n")


@pytest.mark.parametrize("width", ["[400, 401]", "{{ floor = 400, rim = 402 }}", '"40 cm"'])
def test_a_pilot_is_held_against_the_reading_however_that_is_typed(tmp_path: Path, width: str) -> None:
    """A list, a table, another unit."""
    found = 'space = "drawer"\naxis = "width"\npilot = {}\nloose = 1.2'
    assert loaded(tmp_path, found.format(398.4), width.replace("{{", "{").replace("}}", "}"))[1] == ()
    (fault,) = loaded(tmp_path, found.format(39.84), width.replace("{{", "{").replace("}}", "}"))[1]
    assert fault.key == "found[1].pilot"
