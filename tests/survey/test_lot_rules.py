"""How things were made and measured, as a room file says it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nookwright.survey.load import check_room
from nookwright.survey.readings import Published

if TYPE_CHECKING:
    from pathlib import Path

    from nookwright.ground.errors import Fault
    from nookwright.survey.models import Room

ROOM = """format = 1
[room]
name = "A"
[[space]]
id = "s"
kind = "drawer"
width = 400
depth = 400
height = 90
floor_height = 0
load_kg = 20
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
[[process]]
id = "our-turner"
tolerance = 0.2
[[standard]]
designation = "Cup 80"
shape = "round"
diameter = [78, 80]
source = "the potter's list"
"""
JARS = '[[lot]]\nid = "jars"\nshape = "round"\ndiameter = 50\nheight = 60\nmass_g = 90\ncount = 6\n'


def loaded(folder: Path, text: str) -> tuple[Room | None, tuple[Fault, ...]]:
    """The room of a text, or its faults."""
    path = folder / "room.toml"
    path.write_text(text, encoding="utf-8")
    return check_room(path)


def test_keys_of_making_and_measuring_are_read(tmp_path: Path) -> None:
    """How a lot was made, with what it was measured, and what its pocket is for."""
    keys = 'made = "our-turner"\nmeasured = "sample"\ninstrument = "rule"\npurpose = "locate"\nfit = "easy"\n'
    room, faults = loaded(tmp_path, ROOM + JARS + keys)
    assert not faults
    assert room is not None
    assert (room.lot[0].made, room.lot[0].instrument.value) == ("our-turner", "rule")


def test_an_own_standard_fills_a_lot_in(tmp_path: Path) -> None:
    """Its largest is the limit; what it leaves open, height and mass, the lot gives."""
    lot = '[[lot]]\nid = "cups"\nstandard = "cup80"\nheight = 95\nmass_g = 280\ncount = 6\n'
    room, faults = loaded(tmp_path, ROOM + lot)
    assert not faults
    assert room is not None
    assert room.lot[0].diameter == Published(floor=(80.0,))
    assert not isinstance(room.lot[0].height, Published)


def test_an_own_standard_goes_before_a_built_in_one(tmp_path: Path) -> None:
    """A room file may know better than the tables, case and blanks aside."""
    own = (
        '[[standard]]\ndesignation = "r 6"\nshape = "round"\ndiameter = 14.2\nheight = 50\nmass_g = 23\nsource = "x"\n'
    )
    room, faults = loaded(tmp_path, ROOM + own + '[[lot]]\nid = "cells"\nstandard = "R6"\ncount = 6\n')
    assert not faults
    assert room is not None
    assert room.lot[0].diameter is not None
    assert (room.lot[0].diameter.largest, room.lot[0].mass_g) == (14.2, 23.0)


BATTERIES = '[[lot]]\nid = "jars"\nstandard = "R6"\ncount = 6\n'


@pytest.mark.parametrize(
    ("lot", "key", "word"),
    [
        (JARS + 'made = "moulded glas"\n', "lot.jars.made", '"moulded glass"'),
        (JARS + 'made = "poured"\n', "lot.jars.made", "[[process]]"),
        (JARS + 'measured = "all"\n', "lot.jars.diameter", "each of the 6 things"),
        (JARS + 'keep = "tray"\npurpose = "locate"\n', "lot.jars.purpose", "no pockets"),
        (JARS + 'keep = "tray"\nfit = "held"\n', "lot.jars.fit", "no pockets"),
        (BATTERIES + 'made = "paper"\n', "lot.jars.made", "limits of the standard"),
        (BATTERIES + 'measured = "all"\n', "lot.jars.measured", "limits of the standard"),
        (JARS + '[[process]]\nid = "b"\n', "process.b.tolerance", "percent"),
        (JARS + '[[process]]\nid = "our-turner"\npercent = 1\n', "process.our-turner.id", "no other process"),
        (JARS + '[[standard]]\ndesignation = "x"\nshape = "flat"\nsource = "y"\n', "standard[2].width", "largest"),
        (
            JARS + '[[standard]]\ndesignation = "x"\nshape = "flat"\nwidth = 1\nheight = 2\nsource = "y"\n',
            "standard[2].height",
            'for the shape "flat"',
        ),
        (
            JARS + '[[standard]]\ndesignation = "CUP 80"\nshape = "round"\ndiameter = 2\nsource = "y"\n',
            "standard[2].designation",
            "Rename",
        ),
    ],
)
def test_contradictions_are_named_with_key_and_remedy(tmp_path: Path, lot: str, key: str, word: str) -> None:
    """Each contradiction is found at its key, in a line of the file, with a way out."""
    room, faults = loaded(tmp_path, ROOM + lot)
    assert room is None
    found = [fault for fault in faults if fault.key == key]
    assert found, faults
    assert word in f"{found[0].allowed} {found[0].remedy}"
    assert found[0].line > 0
