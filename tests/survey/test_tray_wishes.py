"""``[lot.tray]`` and ``[choices.tray]``: what they mean, and every contradiction with its line."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.survey.load import check_room, load_room
from nookwright.survey.tray_wishes import FrontWish, StripWish, TrayDefaults, TrayWishes, settled

if TYPE_CHECKING:
    from pathlib import Path

    from nookwright.ground.errors import Fault

HEAD = """\
format = 1
[room]
name = "Small"
units = "cm"
[choices.tray]
"""
REST = """
[[space]]
id = "drawer"
kind = "drawer"
width = 30
depth = 40
height = 6
floor_height = 70
load_kg = 10
[[lot]]
id = "pens"
shape = "box"
width = 14
depth = 1
height = 1
count = 12
mass_g = 9
{keep}
[lot.tray]
{tray}
[[printer]]
id = "one"
bed_width = 20
bed_depth = 20
bed_height = 20
materials = ["grey"]
[[material]]
id = "grey"
colour = "#808080"
density_g_cm3 = 1.24
"""
TRAY_LINE = 24


def file_of(tmp_path: Path, tray: str, room: str = "", keep: str = "") -> Path:
    """A room file with wishes for one lot, and for all."""
    path = tmp_path / "room.toml"
    path.write_text(HEAD + room + REST.format(tray=tray, keep=keep))
    return path


def faults_of(tmp_path: Path, tray: str, **other: str) -> tuple[Fault, ...]:
    """What is wrong with it."""
    return check_room(file_of(tmp_path, tray, **other))[1]


def test_wishes_are_read_in_the_unit_of_the_file(tmp_path: Path) -> None:
    """An inlay of 0.2 cm is 2 mm; a text may carry its own unit."""
    path = file_of(tmp_path, 'inlay = 0.2\ncolumns_at = [4, "80 mm"]\nbelow_rim = 0', room='front = "swept"')
    room = load_room(path)
    tray = room.lot[0].tray
    assert (tray.inlay, tray.columns_at, tray.below_rim) == (2.0, (40.0, 80.0), 0.0)
    assert room.choices.tray.front is FrontWish.SWEPT
    assert tray.front is None


def test_a_lot_without_a_table_has_no_wishes(tmp_path: Path) -> None:
    """An empty table is as good as none."""
    assert load_room(file_of(tmp_path, "")).lot[0].tray == TrayWishes()


# What is typed, below which key the fault stands, and a part of what is allowed or of the remedy.
CONTRADICTIONS = [
    ('text = "Pens"', "text", 'printed" or "inlaid'),
    ('text = "Pens"\nstrip = "plain"', "text", 'printed" or "inlaid'),
    ("strip_height = 2", "strip_height", "where there is a strip"),
    ("low_share = 0.4", "low_share", 'front is "low"'),
    ('front = "low"\nstrip = "printed"', "strip", "Leave out one"),
    ("columns = 2\ncolumns_at = [4]", "columns_at", "either `columns` or `columns_at`"),
    ("rows = 2\nrows_at = [4]", "rows_at", "either `rows` or `rows_at`"),
    ('dividers = "fixed"', "dividers", "where the tray is divided"),
    ("below_rim = 0.5", "below_rim", "where the tray is divided"),
    ("columns = 2\ncard = 0.1", "card", 'dividers = "card"'),
    ('columns = 2\ndividers = "card"', "dividers", "Add a line `card"),
    ('columns = 2\nrows = 2\ndividers = "removable"', "dividers", '"fixed" where columns and rows cross'),
    ('columns = 2\ndividers = "removable"\nfront = "swept"', "dividers", "no room for slots"),
    ('columns = 2\ndividers = "removable"\nfront = "low"', "dividers", "no room for slots"),
    ('columns_at = [4]\ndividers = "removable"\nstrip = "plain"', "dividers", "no room for slots"),
    ("columns_at = [8, 4]", "columns_at", "ascend"),
    ("rows_at = [4, 4]", "rows_at", "ascend"),
    ("columns = 13", "columns", "at most one for each of the 12 things"),
    ("columns = 4\nrows = 4", "columns", "at most one for each of the 12 things"),
    ('front = "swept-up"', "front", 'Write "swept"'),
    ("columns = 1", "columns", "at least 2"),
    ("inlay = 2", "inlay", "at most 12 mm"),
    ("dividors = 2", "dividors", "Write dividers"),
    ('inlay = "1,234"', "inlay", "may mean 1234 or 1.234"),
]


@pytest.mark.parametrize(("tray", "key", "said"), CONTRADICTIONS, ids=[tray for tray, _, _ in CONTRADICTIONS])
def test_each_contradiction_has_one_fault_with_its_line(tmp_path: Path, tray: str, key: str, said: str) -> None:
    """Its key, the line that it stands in, what is allowed and what to do."""
    (fault,) = faults_of(tmp_path, tray)
    assert fault.key.startswith(f"lot.pens.tray.{key}")
    line = next(number for number, text in enumerate(tray.splitlines()) if text.startswith(f"{key} "))
    assert fault.line == TRAY_LINE + 1 + line
    assert said in f"{fault.allowed} {fault.remedy}"
    assert fault.found
    assert fault.remedy.endswith(".")


GUEST = """
[[lot]]
id = "rubbers"
shape = "box"
width = 4
depth = 1
height = 1
count = 2
mass_g = 9
shares = "pens"
"""


@pytest.mark.parametrize(
    ("tray", "said"),
    [
        ('dividers = "removable"', ""),
        ('dividers = "card"\ncard = 0.1', ""),
        ("below_rim = 0.5", ""),
        ('dividers = "removable"\nrows = 2', '"fixed" where columns and rows cross'),
        ('dividers = "removable"\nstrip = "plain"', "no room for slots"),
    ],
)
def test_a_tray_that_lots_share_is_divided_between_them(tmp_path: Path, tray: str, said: str) -> None:
    """They stand side by side, so what parts them is a column."""
    path = file_of(tmp_path, tray)
    path.write_text(path.read_text() + GUEST)
    faults = check_room(path)[1]
    assert [one.key for one in faults] == ["lot.pens.tray.dividers"] * bool(said)
    assert all(said in one.allowed for one in faults)


def test_a_cradle_has_no_tray(tmp_path: Path) -> None:
    """The fault stands at the table's head."""
    (fault,) = faults_of(tmp_path, "inlay = 0.1", keep='keep = "cradle"')
    assert (fault.key, fault.line) == ("lot.pens.tray", TRAY_LINE)
    assert "keep" in fault.found


def test_what_the_room_wishes_for_can_contradict_a_lot(tmp_path: Path) -> None:
    """Said at the lot, which is the one that can give way; the room's own contradictions at the room."""
    (fault,) = faults_of(tmp_path, 'columns = 2\ndividers = "removable"', room='front = "swept"')
    assert fault.key == "lot.pens.tray.dividers"
    (fault,) = faults_of(tmp_path, "", room='front = "low"\nstrip = "printed"')
    assert (fault.key, fault.line) == ("choices.tray.strip", 7)
    assert faults_of(tmp_path, 'front = "plain"\ncolumns = 2\ndividers = "removable"', room='front = "swept"') == ()


def test_text_is_a_colour_and_no_group(tmp_path: Path) -> None:
    """``[choices.colours]`` may name a material for lettering; no group of lots may be called so."""
    path = file_of(tmp_path, "", room='[choices.colours]\ntext = "grey"')
    assert load_room(path).choices.colours == {"text": "grey"}
    (fault,) = faults_of(tmp_path, "", keep='group = "text"')
    assert fault.key == "lot.pens.group"


def _value(wishes: TrayDefaults, name: str) -> Any:  # noqa: ANN401 - any wish
    return getattr(wishes, name)


DEFAULTS = st.builds(
    TrayDefaults,
    front=st.sampled_from([None, *FrontWish]),
    strip=st.sampled_from([None, *StripWish]),
    inlay=st.sampled_from([None, 0.0, 2.0]),
)


@given(room=DEFAULTS, own=DEFAULTS)
def test_what_a_lot_says_goes_before_the_room(room: TrayDefaults, own: TrayDefaults) -> None:
    """Each key by itself; what neither says stays open."""
    found = settled(TrayWishes.model_validate(own.model_dump()), room)
    for name in TrayDefaults.model_fields:
        said = _value(own, name)
        assert _value(found, name) == (_value(room, name) if said is None else said)
