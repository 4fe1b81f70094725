"""Coupons in a room file, and the table of their readings as spreadsheets save it."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.exchange.coupon_files import readings_table
from nookwright.sizing.printers.coupon import features
from nookwright.sizing.printers.slips import coupon_faults
from nookwright.survey.coupon_table import read_table
from nookwright.survey.load import check_room
from nookwright.survey.locate import locate
from nookwright.survey.origins import CouponForm
from nookwright.survey.typed import Typed

ROOM = """format = 1
room = { name = "a room" }
[[space]]
id = "drawer"
kind = "drawer"
width = 400
depth = 400
height = 60
floor_height = 700
load_kg = 20
[[lot]]
id = "cells"
count = 4
standard = "R6"
[[material]]
id = "pla"
colour = "#808080"
density_g_cm3 = 1.24
[[printer]]
id = "one"
bed_width = 220
bed_depth = 220
bed_height = 200
materials = ["pla"]
"""
COUPON = '[[coupon]]\nprinter = "one"\nmaterial = "pla"\n'
TYPED = Typed("room.toml", {"coupon": [{"csv": "readings.csv"}]}, locate(""))


def written(folder: Path, coupon: str, table: str | None = None) -> Path:
    """A room file with a coupon, and its table beside it."""
    room = folder / "room.toml"
    room.write_text(ROOM + coupon, encoding="utf-8")
    if table is not None:
        (folder / "readings.csv").write_text(table, encoding="utf-8")
    return room


def said(folder: Path, coupon: str, table: str | None = None) -> list[str]:
    """Every fault of such a room file."""
    path = written(folder, coupon, table)
    room, faults = check_room(path)
    return [str(fault).replace(str(folder) + "/", "") for fault in (coupon_faults(path, room) if room else faults)]


def test_the_table_that_is_written_can_be_filled_in_and_read(tmp_path: Path) -> None:
    """Row by row, the empty ones left out; the readings arrive in the room in mm."""
    lines = readings_table(CouponForm.SHORT).splitlines()
    lines[1] = lines[1].replace(",148.00,,,", ",148.00,148.12,148.1,")
    path = written(tmp_path, COUPON + 'csv = "readings.csv"\n', "\n".join(lines))
    room, faults = check_room(path)
    assert faults == ()
    assert room is not None
    assert {name: found.all for name, found in room.coupon[0].readings.items()} == {"long-x-1": (148.12, 148.1)}
    assert coupon_faults(path, room) == ()


@pytest.mark.parametrize(
    "text",
    [
        "\ufeffid;what;reading 1;reading 2\r\nwall;x;1,21;1,23\r\n\r\n",
        "id,what,reading 1,reading 2\nwall,x,1.21,1.23\n",
        'ID\tReading 1\tReading 2\nwall\t1.21\t"1.23 mm"\n',
        'id,what,reading 1,reading 2\nwall,"x, y",0.121 cm,1.23,\n',
    ],
    ids=["semicolons and commas", "plain", "tabs", "units and quotes"],
)
def test_spreadsheets_may_save_it_as_they_like(tmp_path: Path, text: str) -> None:
    """With another separator, a decimal comma, a byte order mark, capitals."""
    path = tmp_path / "readings.csv"
    path.write_text(text, encoding="utf-8", newline="")
    rows, faults = read_table(path, TYPED, ("coupon", 0, "csv"))
    assert faults == ()
    assert {name: row.readings for name, row in rows.items()} == {"wall": pytest.approx((1.21, 1.23))}


def test_a_wrong_cell_is_named_with_file_line_and_column(tmp_path: Path) -> None:
    """All of them at once."""
    table = "id,what,reading 1,reading 2\nwall,x,1.2o,1.2\nslot-x,x,9.9,-3\n"
    first, second = said(tmp_path, COUPON + 'csv = "readings.csv"\n', table)
    assert first.startswith('readings.csv:2: wall, reading 1, column 3: found "1.2o"; allowed: a length in mm')
    assert second.startswith('readings.csv:3: slot-x, reading 2, column 4: found "-3"')


@pytest.mark.parametrize(
    ("coupon", "table", "words"),
    [
        ('csv = "elsewhere.csv"\n', None, 'room.toml:28: coupon[1].csv: found "elsewhere.csv": no such file'),
        ('csv = "readings.csv"\n', "wall,1.2\n", "readings.csv:1: the head of the table"),
        ('csv = "readings.csv"\n', "", "readings.csv:1: the head of the table"),
        ('csv = "readings.csv"\n', "id,reading 1\nwall,1.2\nwall,1.2\n", "readings.csv:3: wall: found the same id"),
        ("", None, "room.toml:25: coupon[1]: found neither readings nor csv"),
        ('csv = "a"\nreadings = { wall = 1.2 }\n', None, "found both readings and csv"),
    ],
)
def test_a_table_that_cannot_be_used_is_a_fault(tmp_path: Path, coupon: str, table: str | None, words: str) -> None:
    """Missing, without its head, with a row twice, not named, or named besides readings."""
    assert any(words in fault for fault in said(tmp_path, COUPON + coupon, table)), said(
        tmp_path, COUPON + coupon, table
    )


def test_printers_and_materials_that_are_not_there_are_named(tmp_path: Path) -> None:
    """With the nearest that is."""
    text = '[[coupon]]\nprinter = "onne"\nmaterial = "plaa"\nreadings = { wall = 1.2 }\n'
    first, second = said(tmp_path, text)
    assert 'coupon[1].printer: found "onne"' in first
    assert 'Write "one" instead' in first
    assert 'Write "pla" instead' in second


@pytest.mark.parametrize(
    ("reading", "remedy"),
    [
        ("long-x-1 = 14.81", "The decimal point looks one place too far left"),
        ("long-x-1 = 1481", "The decimal point looks one place too far right"),
        ("long-x-1 = 5.83", "It looks like inches"),
        ("long-x-1 = 150.1", "Measure over pegs 1 of the left and the right end again"),
        ("long-x-8 = 148", "Write long-x-"),
        ("nothing-like-it = 148", "the coupon's sheet shows"),
    ],
)
def test_readings_that_cannot_be_are_suspected(tmp_path: Path, reading: str, remedy: str) -> None:
    """A slipped point, inches, another feature, an id that is none; by the line in the room file."""
    (fault,) = said(tmp_path, f"{COUPON}[coupon.readings]\n{reading}\n")
    assert fault.startswith("room.toml:29: coupon[1].readings.")
    assert remedy in fault


def test_a_slip_in_the_table_is_named_there(tmp_path: Path) -> None:
    """By its line in the table."""
    (fault,) = said(tmp_path, COUPON + 'csv = "readings.csv"\n', "id,reading 1\n\nslot-x,99.1\n")
    assert fault.startswith("readings.csv:3: slot-x: found 99.1 mm; allowed: 8.50 to 11.50 mm")


def test_lengths_in_the_room_file_have_its_unit_and_those_in_the_table_are_mm(tmp_path: Path) -> None:
    """Since the sheet and the caliper speak mm."""
    room = ROOM.replace('"a room" }', '"a room", units = "cm" }')
    path = written(tmp_path, COUPON + "readings = { wall = 0.12 }\n" + COUPON + 'csv = "readings.csv"\n', "")
    path.write_text(room + path.read_text(encoding="utf-8")[len(ROOM) :], encoding="utf-8")
    (tmp_path / "readings.csv").write_text("id,reading 1\nwall,1.2\n", encoding="utf-8")
    loaded, _ = check_room(path)
    assert loaded is not None
    assert [coupon.readings["wall"].all for coupon in loaded.coupon] == [(1.2,), (1.2,)]


@given(st.binary(max_size=200) | st.text(max_size=200).map(str.encode))
def test_any_file_ends_in_rows_or_in_faults(content: bytes) -> None:
    """Never in an error of a library below."""
    import tempfile

    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "readings.csv"
        path.write_bytes(content)
        rows, faults = read_table(path, TYPED, ("coupon", 0, "csv"))
    assert all(fault.found is not None for fault in faults)
    assert all(row.readings for row in rows.values())


def test_every_feature_can_be_typed_in(tmp_path: Path) -> None:
    """Read as drawn, each id of both forms is known."""
    for form in CouponForm:
        lines = "\n".join(f"{one.id} = {one.nominal:.2f}" for one in features(form))
        path = written(tmp_path, f'{COUPON}form = "{form}"\n[coupon.readings]\n{lines}\n')
        room, faults = check_room(path)
        assert faults == ()
        assert room is not None
        assert coupon_faults(path, room) == ()
