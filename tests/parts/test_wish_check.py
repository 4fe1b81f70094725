"""Wishes for trays that cannot be had, named with their line before anything is made; fronts that lie turned."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from tests.conftest import QUICK, TINY_ROOM

from nookwright.build import check, plan_and_design
from nookwright.ground.errors import RoomError
from nookwright.ground.findings import Severity
from nookwright.ground.progress import Silent
from nookwright.layout.place import Effort
from nookwright.parts.wish_check import turned_fronts

if TYPE_CHECKING:
    from pathlib import Path


def room_file(tmp_path: Path, wishes: str, *, choices: str = "") -> Path:
    """The tiny room; its dice have wishes."""
    path = tmp_path / "room.toml"
    text = TINY_ROOM.replace("mass_g = 5\n", f"mass_g = 5\n[lot.tray]\n{wishes}\n")
    path.write_text(text.replace("[[space]]", f"{choices}\n[[space]]", 1))
    return path


def line_of(path: Path, text: str) -> int:
    """The line that a text stands in."""
    return path.read_text().splitlines().index(text) + 1


def test_a_character_that_is_not_drawn_is_named(tmp_path: Path) -> None:
    """With the line of the text, while the file is checked."""
    path = room_file(tmp_path, 'strip = "printed"\ntext = "Wüfel 試"')
    room, faults = check(path)
    assert room is None
    (fault,) = faults
    assert (fault.key, fault.line) == ("lot.dice.tray.text", line_of(path, 'text = "Wüfel 試"'))
    assert fault.remedy.endswith(".")


def test_a_text_that_no_strip_holds_is_named(tmp_path: Path) -> None:
    """The smallest bed is 130 by 120; a text of a line and a half is too long."""
    (fault,) = check(room_file(tmp_path, f'strip = "inlaid"\ntext = "{"dice and more " * 5}"'))[1]
    assert fault.key == "lot.dice.tray.text"
    assert "letters" in fault.allowed


def test_an_id_stands_for_a_missing_name(tmp_path: Path) -> None:
    """It can be drawn, so there is no fault, and the strip says it."""
    path = room_file(tmp_path, 'strip = "printed"')
    room, faults = check(path)
    assert faults == ()
    assert room is not None
    designed = plan_and_design(room, room_file=path, effort=QUICK, progress=Silent())
    (strip,) = [copy for copy in designed.copies if copy.label == "name strip, dice"]
    assert dict(strip.part.parameters)["text"] == "dice"


def test_a_tray_that_cannot_be_made_stops_the_build_with_its_line(tmp_path: Path) -> None:
    """Compartments of less than a centimetre: known once there is a module."""
    path = room_file(tmp_path, "columns_at = [5]")
    room, faults = check(path)
    assert faults == ()
    assert room is not None
    with pytest.raises(RoomError) as caught:
        plan_and_design(room, room_file=path, effort=QUICK, progress=Silent())
    (fault,) = caught.value.faults
    assert (fault.key, fault.line) == ("lot.dice.tray", line_of(path, "[lot.tray]"))
    assert "compartment" in fault.allowed


def test_a_front_that_lies_turned_is_noted(tmp_path: Path) -> None:
    """Only one with something at its front."""
    for wishes, expected in (('front = "swept"', ["dice"]), ("inlay = 1", [])):
        path = room_file(tmp_path, wishes)
        room, _ = check(path)
        assert room is not None
        plan = plan_and_design(room, effort=Effort(moves=50, tries=50, rounds=1), progress=Silent()).plan
        turned = tuple(replace(placed, turned=True) for placed in plan.layout.placed)
        notes = turned_fronts(room, replace(plan, layout=replace(plan.layout, placed=turned)))
        assert [note.subject for note in notes] == expected
        assert all(note.severity is Severity.NOTE for note in notes)
