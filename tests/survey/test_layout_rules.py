"""Wishes of the layout that name what is not there, or that contradict each other: each with its key and what to do."""

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
{choices}
[[space]]
id = "bench"
kind = "{kind}"
width = 400
depth = 400
height = 90
floor_height = 0
load_kg = 20
{space}
[[lot]]
id = "jars"
group = "glass"
shape = "box"
width = 50
depth = 50
height = 60
mass_g = 90
count = 6
{jars}
[[lot]]
id = "lids"
group = "glass"
shape = "box"
width = 50
depth = 50
height = 10
mass_g = 9
count = 6
{lids}
[[lot]]
id = "pens"
shape = "box"
width = 150
depth = 10
height = 10
mass_g = 9
count = 6
{pens}
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
{more}
"""
BOX = '[[box]]\nid = "tin"\nwidth = 120\ndepth = 80\nheight = 40\nmass_g = 30\nowned = 1\n'


def checked(folder: Path, **parts: str) -> tuple[Room | None, tuple[Fault, ...], list[str]]:
    """A room of a drawer and three lots with more lines here and there; its faults, and its lines."""
    usual = {"choices": "", "kind": "drawer", "space": "", "jars": "", "lids": "", "pens": "", "more": ""}
    file = folder / "room.toml"
    file.write_text(ROOM.format(**(usual | parts)), encoding="utf-8")
    room, faults = check_room(file)
    return room, faults, file.read_text(encoding="utf-8").splitlines()


def place(**keys: str) -> str:
    """A place of the jars on the bench with more keys."""
    lines = {"lot": '"jars"', "space": '"bench"'} | keys
    return "\n".join(["[[place]]", *(f"{key} = {value}" for key, value in lines.items())])


def test_wishes_that_fit_each_other_load(tmp_path: Path) -> None:
    """Order by lots and groups, places with and without a corner, a shared tray, an own box, a drawer that stops."""
    room, faults, _ = checked(
        tmp_path,
        choices='[choices]\norder = ["glass", "pens"]\nrest = "fenced"',
        space="pulls_out = 300",
        lids='shares = "jars"',
        pens='box = "tin"',
        more=f"{BOX}{place(x='12', y='30', width='71', depth='53')}",
    )
    assert faults == ()
    assert room is not None
    assert (room.place[0].x, room.place[0].printed) == (12.0, False)


@pytest.mark.parametrize(
    ("parts", "line", "allowed", "remedy"),
    [
        ({"choices": '[choices]\norder = ["glas"]'}, 'order = ["glas"]', "a lot or a group", 'Write "glass"'),
        ({"more": place(lot='"jar"')}, 'lot = "jar"', "the id of a lot", 'Write "jars"'),
        ({"more": place(space='"benhc"')}, 'space = "benhc"', "the id of a space", 'Write "bench"'),
        ({"lids": 'shares = "jugs"'}, 'shares = "jugs"', "the id of another lot", "Write"),
        ({"lids": 'shares = "lids"'}, 'shares = "lids"', "the id of another lot", "Write"),
        ({"pens": 'box = "tim"', "more": BOX}, 'box = "tim"', "the id of a [[box]]", 'Write "tin"'),
        (
            {"jars": 'shares = "pens"', "lids": 'shares = "jars"'},
            'shares = "jars"',
            "does not share another one's tray",
            'Write "pens"',
        ),
        (
            {"lids": 'shares = "jars"\nbox = "tin"', "more": BOX},
            'shares = "jars"',
            'no shares beside box = "tin"',
            "Delete `box`",
        ),
        (
            {"lids": 'shares = "jars"\nkeep = "cradle"'},
            'shares = "jars"',
            'no shares beside keep = "cradle"',
            "Delete `keep`",
        ),
        ({"kind": "shelf", "space": "pulls_out = 300"}, "pulls_out = 300", "only for drawers", 'say kind = "drawer"'),
    ],
)
def test_a_wish_that_cannot_be_is_named_with_its_line(
    tmp_path: Path, parts: dict[str, str], line: str, allowed: str, remedy: str
) -> None:
    """One fault, at the line of the key, with what is allowed and what to do."""
    room, faults, lines = checked(tmp_path, **parts)
    assert room is None
    (fault,) = faults
    assert lines[fault.line - 1] == line
    assert allowed in fault.allowed
    assert remedy in fault.remedy


@pytest.mark.parametrize(("given", "missing"), [("x", "y"), ("y", "x"), ("width", "depth"), ("depth", "width")])
def test_half_a_corner_and_half_a_size_are_named(tmp_path: Path, given: str, missing: str) -> None:
    """Both or neither."""
    _, faults, _ = checked(tmp_path, more=place(**{given: "30"}))
    (fault,) = faults
    assert fault.key.endswith(missing)
    assert (fault.found, f"`{missing} = ...`" in fault.remedy) == ("nothing", True)
    assert given in fault.allowed


def test_a_lot_has_one_place(tmp_path: Path) -> None:
    """The second is named, and a third not once more."""
    _, faults, lines = checked(tmp_path, more="\n".join([place(), place(printed="true"), place()]))
    (fault,) = faults
    assert lines[fault.line - 2] == "[[place]]"
    assert (fault.allowed, fault.remedy) == ("one [[place]] a lot", "Delete one of them.")


def test_all_that_is_wrong_is_named_at_once(tmp_path: Path) -> None:
    """An order, a place and a share, in order of lines."""
    _, faults, _ = checked(
        tmp_path, choices='[choices]\norder = ["glas"]', lids='shares = "jugs"', more=place(space='"bank"')
    )
    assert [fault.key.rpartition(".")[2] for fault in sorted(faults)] == ["order[1]", "shares", "space"]
