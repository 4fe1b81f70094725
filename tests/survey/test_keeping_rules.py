"""How things are kept, as a room file says it: what contradicts itself, with key and remedy."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nookwright.survey.load import check_room
from nookwright.survey.models import Keep, Shape

if TYPE_CHECKING:
    from pathlib import Path

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
[[box]]
id = "tin"
width = 80
depth = 80
height = 60
mass_g = 50
"""
BULK = 'shape = "loose"\nvolume_ml = 200\n'
BOWLS = 'shape = "round"\ndiameter = 120\nheight = 50\nnests_by = 12\n'
CARDS = 'shape = "flat"\nwidth = 90\ndepth = 60\nthickness = 1\n'


def file_of(folder: Path, *lots: str) -> Path:
    """A room file with these lots, called a, b and so on."""
    path = folder / "room.toml"
    tables = (f'[[lot]]\nid = "{"abc"[number]}"\nmass_g = 9\ncount = 4\n{one}' for number, one in enumerate(lots))
    path.write_text(ROOM + "\n".join(tables), encoding="utf-8")
    return path


def test_bulk_nested_things_and_shared_trays_are_read(tmp_path: Path) -> None:
    """Volumes, piles, heaps and who shares with whom."""
    room, faults = check_room(file_of(tmp_path, BULK, BOWLS, 'shape = "round"\ndiameter = 8\nheight = 9\n'
                                                             'keep = "loose"\nshares = "a"\n'))  # fmt: skip
    assert faults == ()
    assert room is not None
    assert (room.lot[0].shape, room.lot[0].volume_ml) == (Shape.LOOSE, 200)
    assert room.lot[1].nests_by == 12
    assert (room.lot[2].keep, room.lot[2].shares) == (Keep.LOOSE, "a")


@pytest.mark.parametrize(
    ("lots", "key", "remedy"),
    [
        (['shape = "loose"\n'], "volume_ml", "measuring jug"),
        ([BOWLS + "volume_ml = 3\n"], "volume_ml", 'shape = "loose"'),
        ([BULK + "width = 30\n"], "width", "Delete `width`"),
        ([BULK + 'stands = ["upright"]\n'], "stands", "Delete it."),
        ([BULK + 'keep = "cradle"\n'], "keep", "Delete it."),
        ([CARDS + 'keep = "loose"\n'], "keep", "stand on edge"),
        ([BOWLS + 'keep = "loose"\n'], "nests_by", "`keep`"),
        ([CARDS + "nests_by = 1\n"], "nests_by", "another shape"),
        ([BOWLS.replace("12", "51")], "nests_by", "a pile of two"),
        ([BOWLS.replace("nests_by = 12", 'nests_by = "5.1 cm"')], "nests_by", "a pile of two"),
        ([BOWLS + 'stands = ["lying"]\n'], "stands", "`nests_by`"),
        ([BOWLS + 'keep = "cradle"\n'], "nests_by", "`keep`"),
        ([BULK, BULK + 'shares = "a"\n[lot.tray]\ninlay = 2\n'], "tray", '"a"'),
        ([BULK + "[lot.tray]\ncolumns = 2\n", BULK + 'shares = "a"\n'], "columns", "rows"),
        ([BULK + 'box = "tin"\n', BULK + 'shares = "a"\n'], "box", "share"),
        ([BOWLS.replace("nests_by = 12\n", 'keep = "cradle"\n'), BULK + 'shares = "a"\n'], "keep", "share"),
    ],
)
def test_a_contradiction_names_its_key_and_what_to_do(tmp_path: Path, lots: list[str], key: str, remedy: str) -> None:
    """Each by itself, and nothing else is said."""
    room, faults = check_room(file_of(tmp_path, *lots))
    assert room is None
    (fault,) = faults
    assert key in str(fault)
    assert remedy in str(fault)


def test_a_published_size_of_bulk_is_refused(tmp_path: Path) -> None:
    """A standard has dimensions; a lot says its volume itself."""
    path = file_of(tmp_path, BULK)
    own = '\n[[standard]]\ndesignation = "Gravel"\nshape = "loose"\nsource = "us"\n'
    path.write_text(path.read_text(encoding="utf-8") + own, encoding="utf-8")
    _, (fault,) = check_room(path)
    assert "a shape with dimensions" in str(fault)
