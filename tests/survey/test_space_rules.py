"""What no key of a space sees alone, and the entries for its inside as they are typed."""

from __future__ import annotations

from itertools import takewhile
from typing import TYPE_CHECKING

import pytest

from nookwright.survey.load import check_room

if TYPE_CHECKING:
    from pathlib import Path

    from nookwright.survey.models import Room

REST = """
[[lot]]
id = "a"
count = 2
standard = "R6"
[[printer]]
id = "p"
bed_width = 220
bed_depth = 220
bed_height = 220
materials = ["m"]
[[material]]
id = "m"
colour = "#888888"
density_g_cm3 = 1.24
"""


def checked(tmp_path: Path, *lines: str, units: str = "mm") -> tuple[Room | None, list[str]]:
    """A room of one drawer of 360 x 420 x 80 mm with more lines; a line for a key that is there goes before it."""
    keys = {"width": "360", "depth": "420", "height": "80", "floor_height": "0", "load_kg": "10"}
    if units == "cm":
        keys |= {"width": "36", "depth": "42", "height": "8"}
    own = takewhile(lambda line: not line.startswith("[["), lines)  # what follows is of another table
    typed = {line.split(" ", 1)[0] for line in own}
    usual = [f"{key} = {value}" for key, value in keys.items() if key not in typed]
    head = ["format = 1", "[room]", 'name = "x"', f'units = "{units}"', "[[space]]", 'id = "d"', 'kind = "drawer"']
    file = tmp_path / "room.toml"
    file.write_text("\n".join([*head, *usual, *lines, REST]), encoding="utf-8")
    room, faults = check_room(file)
    return room, [str(fault).removeprefix(str(file)) for fault in faults]


def test_all_entries_of_an_inside_load(tmp_path: Path) -> None:
    """Heights in the unit of the file or their own; readings at each of them one or many."""
    room, faults = checked(
        tmp_path,
        'width = { floor = [36, 36.1], at = { 2 = 35.9, "45 mm" = [35.8, 35.9] }, rim = "14.2 in" }',
        'instrument = "rule"',
        "lean = { left = 0.1, right = -0.2 }",
        "diagonals = [55.3, 55.4]",
        "bow = -0.1",
        "[[space.lump]]",
        'what = "a screw head"',
        'wall = "left"',
        "out = 0.3",
        "[[space.passes_under]]",
        'what = "a rail"',
        "height = [7.1, 7.2]",
        units="cm",
    )
    assert faults == []
    assert room is not None
    space = room.space[0]
    assert space.width.at == {20.0: (359.0,), 45.0: (358.0, 359.0)}
    assert space.width.levels(79.0) == (
        (0.0, (360.0, 361.0)),
        (20.0, (359.0,)),
        (45.0, (358.0, 359.0)),
        (79.0, (360.68,)),
    )
    assert (space.width.smallest, space.width.largest) == (358.0, 361.0)
    assert space.lean is not None
    assert (space.lean.left, space.lean.right, space.bow) == (1.0, -2.0, -1.0)
    assert space.passes_under[0].height.floor == (71.0, 72.0)


@pytest.mark.parametrize(
    ("lines", "key", "words"),
    [
        (["width = { floor = 360, at = { 90 = 361 } }"], "space.d.width.at", "heights below the clear height, 80 mm"),
        (['width = { floor = 360, at = { 20 = 361, "20.0" = 360 } }'], "space.d.width.at", "each height once"),
        (['width = { floor = 360, at = { "3 q" = 361 } }'], "space.d.width.at.3 q", "a height above the floor"),
        (["width = { floor = 360, at = { -2 = 361 } }"], "space.d.width.at.-2", "a height above the floor"),
        (["width = { floor = 360, at = { 20 = 0 } }"], "space.d.width.at.20", "a length of at least 0.01 mm"),
        (["width = { floor = 360, at = { 20 = nan } }"], "space.d.width.at.20", "Nan is no length"),
        (["width = { floor = 360, at = { 20 = [] } }"], "space.d.width.at.20", "Give at least one."),
        (["depth = { floor = 420, at = 20 }"], "space.d.depth.at", "a table"),
        (['instrument = "ruler"'], "space.d.instrument", 'Write "rule".'),
        (["lean = { left = 41 }"], "space.d.lean.left", "at most half the clear height, 40 mm"),
        (["lean = { left = nan }"], "space.d.lean.left", "a length"),
        (
            ["width = { floor = 360, rim = 350 }", "lean = { left = 2 }"],
            "space.d.width.rim",
            "350 mm, where 360 at the floor less a lean of 2 leaves 358",
        ),
        (["width = 50", "lean = { left = 30, right = 30 }"], "space.d.width", "walls that leave room between them"),
        (["out_of_square = -1"], "space.d.out_of_square", "at least 0"),
        (["out_of_square = 43"], "space.d.out_of_square", "at most a tenth of the depth, 42 mm"),
        (["out_of_square = 3", "diagonals = [553, 554]"], "space.d.diagonals", "either `out_of_square` or `diagonals`"),
        (["diagonals = [553]"], "space.d.diagonals", "a list; each item a length"),
        (["diagonals = [553, 653]"], "space.d.diagonals", "a mean of about 553 mm"),
        (["bow = 18.5"], "space.d.bow", "at most a twentieth of the shorter side, 18 mm"),
        (["bow = 2", 'bottom = { thickness = 3, material = "mdf" }'], "space.d.bottom", "either `bow` or `bottom`"),
        (["bottom = { thickness = 0, material = 'mdf' }"], "space.d.bottom.thickness", "at least 0.01 mm"),
        (["[[space.lump]]", "what = 'x'", "wall = 'left'", "out = 181"], "space.d.lump[1].out", "at most 180 mm"),
        (
            ["[[space.lump]]", "what = 'x'", "wall = 'back'", "out = 3", "along = 350", "length = 20"],
            "space.d.lump[1].length",
            "at most 360 mm, the end of the wall",
        ),
        (
            ["[[space.lump]]", "what = 'x'", "wall = 'back'", "out = 3", "length = 20"],
            "space.d.lump[1].length",
            "both `along` and `length`, or neither",
        ),
        (
            ["[[space.lump]]", "what = 'x'", "wall = 'back'", "out = 3", "z = 60", "height = 30"],
            "space.d.lump[1].height",
            "a reach of 90 mm",
        ),
        (["[[space.passes_under]]", "what = 'a rail'", "height = -3"], "space.d.passes_under[1].height", "0.01 mm"),
    ],
)
def test_each_fault_names_key_and_remedy(tmp_path: Path, lines: list[str], key: str, words: str) -> None:
    """One fault, at the key that is wrong, with what is allowed."""
    room, faults = checked(tmp_path, *lines)
    assert room is None
    assert len(faults) == 1, faults
    assert f": {key}: " in faults[0]
    assert words in faults[0]
