"""Loading a room file."""

from __future__ import annotations

import hashlib
import tomllib
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from nookwright.ground.errors import Fault, RoomError
from nookwright.survey.load import check_room, load_room, room_sha256
from nookwright.survey.models import Shape
from nookwright.survey.rooms import demo_text

TWELVE = Path(__file__).parent / "twelve-mistakes.toml"

GOOD = """\
format = 1
[room]
name = "Small"
[choices.colours]
tools = "grey"
liner = "grey"
[[space]]
id = "drawer"
kind = "drawer"
width = 300
depth = 400
height = 60
floor_height = 700
load_kg = 10
[[space.blocked]]
reason = "a pipe"
x = 100
width = 50
depth = 50
[[lot]]
id = "pens"
group = "tools"
shape = "round"
diameter = [10, 10.2]
height = 140
count = 12
mass_g = 9
near = ["cells"]
[[lot]]
id = "cells"
standard = "AA"
count = 4
[[printer]]
id = "one"
bed_width = 200
bed_depth = 200
bed_height = 200
materials = ["grey"]
[[material]]
id = "grey"
colour = "#808080"
density_g_cm3 = 1.24
"""


def faults_of(tmp_path: Path, text: str | bytes) -> tuple[Fault, ...]:
    """The faults of a file with this text."""
    path = tmp_path / "room.toml"
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    room, faults = check_room(path)
    assert (room is None) == bool(faults)
    return faults


def fault_of(tmp_path: Path, old: str, new: str) -> Fault:
    """The one fault that the good file gets by one change."""
    assert GOOD.count(old) == 1, old
    faults = faults_of(tmp_path, GOOD.replace(old, new))
    assert len(faults) == 1, faults
    return faults[0]


def test_a_good_file_is_a_room_without_faults(tmp_path: Path) -> None:
    """The base of the tests below is sound; lots of a published size have its shape, size and mass."""
    path = tmp_path / "room.toml"
    path.write_text(GOOD)
    cells = load_room(path).lot[1]
    assert cells.diameter is not None
    assert (cells.standard, cells.shape, cells.diameter.largest, cells.mass_g) == ("AA", Shape.ROUND, 14.5, 24.0)


def test_twelve_mistakes_get_twelve_messages() -> None:
    """A file with 12 different mistakes of key, type, value, unit and reference gets 12 messages in one run."""
    room, faults = check_room(TWELVE)
    assert room is None
    assert [(fault.line, fault.key) for fault in faults] == [
        (9, "choices.colours.fixings"),
        (13, "space.bench.kind"),
        (14, "space.bench.width"),
        (16, "space.bench.hieght"),
        (19, "space.bench.load_kg"),
        (22, "space.bench.id"),
        (30, "space.bench.blocked[1]"),
        (39, "lot.keys.standard"),
        (45, "lot.cells.shape"),
        (48, "lot.jars.height"),
        (52, "lot.jars.count"),
        (54, "lot.jars.near[1]"),
    ]
    for fault in faults:
        assert fault.file == str(TWELVE)
        assert fault.found
        assert fault.allowed
        assert fault.remedy.endswith(".")


def test_all_faults_are_raised_at_once() -> None:
    """The error carries every fault, and its text shows all of them with file and line."""
    with pytest.raises(RoomError) as caught:
        load_room(TWELVE)
    assert len(caught.value.faults) == 12
    assert str(caught.value).count(f"{TWELVE}:") == 12


# What is changed, into what; then the line, the key, the beginning of what is found, and a part of the remedy.
MISTAKES = [
    ("width = 300", "widht = 300\nwidth = 300", 10, "space.drawer.widht", 'the unknown key "widht"', "Write width"),
    ('kind = "drawer"', 'kind = "shelve"', 9, "space.drawer.kind", '"shelve"', 'Write "shelf"'),
    ("width = 300", 'width = "1,234"', 10, "space.drawer.width", '"1,234"', "may mean 1234 or 1.234"),
    ("width = 300", 'width = "30 parsec"', 10, "space.drawer.width", '"30 parsec"', "'parsec', which we do not"),
    ("width = 300", "width = [300,\n 0]", 11, "space.drawer.width[2]", "0", "Check the unit"),
    ("width = 300", "width = []", 10, "space.drawer.width", "[]", "at least one"),
    ("width = 300", "width = { rim = 300 }", 10, "space.drawer.width.floor", "nothing", "`floor = ...`"),
    ("width = 300", "width = 1979-05-27", 10, "space.drawer.width", "1979-05-27", "not a date or time"),
    ("depth = 400\n", "", 7, "space.drawer.depth", "nothing", "`depth = ...`"),
    ("load_kg = 10", "load_kg = nan", 14, "space.drawer.load_kg", "nan", "Check the unit"),
    ("load_kg = 10", 'load_kg = "10"', 14, "space.drawer.load_kg", '"10"', "without quotation marks"),
    ("load_kg = 10", "load_kg = true", 14, "space.drawer.load_kg", "true", "of that kind"),
    ("count = 12", "count = 12.0", 26, "lot.pens.count", "12.0", "whole number without"),
    ("count = 12", "count = 0", 26, "lot.pens.count", "0", "Check the unit"),
    ("count = 12", "count = 1" + "0" * 40, 26, "lot.pens.count", "1" + "0" * 40, "whole number"),
    ('name = "Small"', 'name = ""', 3, "room.name", '""', "Fill it in"),
    ('name = "Small"', "name = 3", 3, "room.name", "3", "Put it in quotation marks"),
    ("format = 1", "format = 2", 1, "format", "2", "version of the format"),
    ('id = "pens"', 'id = "my pens"', 21, "lot.my pens.id", '"my pens"', "in that form"),
    ('near = ["cells"]', 'near = "cells"', 28, "lot.pens.near", '"cells"', "square brackets"),
    ('near = ["cells"]', 'near = ["sells"]', 28, "lot.pens.near[1]", '"sells"', 'Write "cells"'),
    ('near = ["cells"]', 'near = ["pens"]', 28, "lot.pens.near[1]", '"pens"', "Write one of them"),
    ("mass_g = 9\n", "", 20, "lot.pens.mass_g", "nothing", "mass of one thing"),
    ("height = 140\n", "", 20, "lot.pens.height", "nothing", "needs diameter and height"),
    ("height = 140", "height = 140\nwidth = 3", 26, "lot.pens.width", "3", "Delete `width`"),
    ("mass_g = 9", 'mass_g = 9\nstands = ["on-edge"]', 28, "lot.pens.stands[1]", '"on-edge"', "another shape"),
    ('standard = "AA"', 'standard = "A 4 4"', 31, "lot.cells.standard", '"A 4 4"', '"A4"'),
    ('standard = "AA"', 'standard = "AA"\nheight = 50', 32, "lot.cells.height", "50", "Delete `height`"),
    ('standard = "AA"\n', "mass_g = 9\n", 29, "lot.cells.shape", "neither shape nor standard", "`standard = ...`"),
    ('id = "cells"', 'id = "cells"\ngroup = "liner"', 31, "lot.cells.group", '"liner"', "Rename"),
    ("x = 100", "x = 260", 15, "space.drawer.blocked[1]", "x + width = 310 mm", "front left corner"),
    ("x = 100", "x = 100\nz = 60", 15, "space.drawer.blocked[1]", "z + height = 60 mm", "front left corner"),
    ('materials = ["grey"]', 'materials = ["gray", "grey"]', 38, "printer.one.materials[1]", '"gray"', '"grey"'),
    ('tools = "grey"', 'tools = "blue"', 5, "choices.colours.tools", '"blue"', "or add what it names"),
    ('tools = "grey"', 'tolls = "grey"', 5, "choices.colours.tolls", '"tolls"', 'Write "tools"'),
    (
        "[choices.colours]",
        '[choices.homes]\ntools = ["drawer", "drawr"]\n[choices.colours]',
        5,
        "choices.homes.tools[2]",
        '"drawr"',
        'Write "drawer"',
    ),
    (
        "[choices.colours]",
        '[choices.homes]\ntolls = ["drawer"]\n[choices.colours]',
        5,
        "choices.homes.tolls",
        '"tolls"',
        'Write "tools"',
    ),
    ('colour = "#808080"', 'colour = "grey"', 41, "material.grey.colour", '"grey"', "in that form"),
    ("[[printer]]", "[printer]", 33, "printer", '{ id = "one"', "[[printer]] with two brackets"),
]


@pytest.mark.parametrize("mistake", MISTAKES)
def test_one_mistake_gets_one_message(tmp_path: Path, mistake: tuple[str, str, int, str, str, str]) -> None:
    """Each mistake alone gets one message with its line, its key, what was found and what to do."""
    old, new, line, key, found, remedy = mistake
    fault = fault_of(tmp_path, old, new)
    assert (fault.line, fault.key) == (line, key)
    assert fault.found.startswith(found)
    assert remedy in fault.remedy
    assert fault.allowed


def test_a_double_id_is_named_at_the_second(tmp_path: Path) -> None:
    """Two lots of one id: the second is named."""
    faults = faults_of(tmp_path, GOOD.replace('id = "cells"', 'id = "pens"').replace('near = ["cells"]\n', ""))
    assert [(fault.line, fault.key, fault.found) for fault in faults] == [(29, "lot.pens.id", '"pens"')]


def test_a_colour_that_no_printer_loads_is_named(tmp_path: Path) -> None:
    """A material of the file that no printer may print cannot be the colour of a group."""
    blue = '[[material]]\nid = "blue"\ncolour = "#0000ff"\ndensity_g_cm3 = 1.24\n'
    faults = faults_of(tmp_path, GOOD.replace('tools = "grey"', 'tools = "blue"') + blue)
    assert [(fault.key, fault.allowed) for fault in faults] == [
        ("choices.colours.tools", "a material that a printer may print")
    ]


def test_references_are_checked_where_models_are_broken(tmp_path: Path) -> None:
    """A broken lot still counts as a lot, and its own references are still checked."""
    text = GOOD.replace("count = 12", "count = []").replace('near = ["cells"]', 'near = ["sells"]')
    assert [fault.key for fault in faults_of(tmp_path, text)] == ["lot.pens.count", "lot.pens.near[1]"]
    text = GOOD.replace("count = 4", "count = []")
    assert [fault.key for fault in faults_of(tmp_path, text)] == ["lot.cells.count"]


def test_what_a_standard_leaves_open_must_be_given(tmp_path: Path) -> None:
    """A packaging module states width and depth; height and mass are the lot's own."""
    text = GOOD.replace('standard = "AA"', 'standard = "400x300"')
    assert [fault.key for fault in faults_of(tmp_path, text)] == ["lot.cells.height", "lot.cells.mass_g"]
    assert not faults_of(tmp_path, text.replace("count = 4", "count = 4\nheight = 120\nmass_g = 900"))


def test_numbers_are_in_the_unit_of_the_file(tmp_path: Path) -> None:
    """The same room in inches, save for the defaults, which are in mm."""
    path = tmp_path / "room.toml"
    path.write_text(GOOD.replace('name = "Small"', 'name = "Small"\nunits = "in"'))
    room = load_room(path)
    assert room.space[0].width.smallest == 300 * 25.4
    assert room.printer[0].margin == 5.0


@pytest.mark.parametrize(
    ("text", "line", "found"),
    [
        ("a = 1\nb = \n", 2, "Invalid value"),
        ("a = 1\na = 2\n", 2, "Cannot overwrite a value"),
        ('a = """x\n', 2, "Unterminated"),
        ("a = " + "[" * 5000, 1, "values within values without end"),
        ("a = 1" + "0" * 5000, 1, "Exceeds the limit"),
        (b"a = 1\nb = '\xff'\n", 2, "bytes that are no UTF-8"),
    ],
)
def test_a_file_that_is_no_toml_has_one_fault_with_its_line(
    tmp_path: Path, text: str | bytes, line: int, found: str
) -> None:
    """A syntax error is reported alone."""
    (fault,) = faults_of(tmp_path, text)
    assert fault.line == line
    assert fault.found.startswith(found)


def test_an_empty_file_lacks_all_that_must_be_there(tmp_path: Path) -> None:
    """Six tables and keys are named, without a line."""
    faults = faults_of(tmp_path, b"")
    assert [fault.key for fault in faults] == ["format", "lot", "material", "printer", "room", "space"]
    assert {fault.line for fault in faults} == {0}


def test_a_path_that_cannot_be_read_is_a_fault(tmp_path: Path) -> None:
    """A folder, a missing file and an impossible name."""
    for path in (tmp_path, tmp_path / "none.toml", Path("a\0b")):
        room, (fault,) = check_room(path)
        assert room is None
        assert (fault.line, fault.key) == (0, "the file")


def test_a_byte_order_mark_is_passed_over(tmp_path: Path) -> None:
    """Some editors begin a file with one."""
    assert not faults_of(tmp_path, b"\xef\xbb\xbf" + GOOD.encode())


def test_the_hash_of_a_room_is_that_of_its_bytes(tmp_path: Path) -> None:
    """The sha256 of the file, line ends and all."""
    path = tmp_path / "room.toml"
    path.write_bytes(b"a = 1\r\n")
    assert room_sha256(path) == hashlib.sha256(b"a = 1\r\n").hexdigest()


odd_values = st.sampled_from(
    [
        *["0", "-1", "1e999", "nan", "true", '"x"', '"1,234"', "[]", "[[[]]]", "{}", "{ a = 1 }", "1979-05-27"],
        *["[" * 250 + "]" * 250, '"\\u0000"', '["on-edge"]', "07:32:00", "''", '["R6", 3]', "0x" + "F" * 5000],
        "{ floor = [1, '2 zz'], rim = {} }",
    ]
)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(st.data())
def test_any_value_at_any_key_ends_in_a_room_or_in_faults(tmp_path: Path, data: st.DataObject) -> None:
    """Whatever stands at some keys, all is said in our own words and nothing is raised."""
    lines = GOOD.splitlines()
    for _ in range(data.draw(st.integers(1, 5))):
        index = data.draw(st.integers(0, len(lines) - 1))
        key, equals, _ = lines[index].partition(" = ")
        lines[index] = f"{key} = {data.draw(odd_values)}" if equals else lines[index]
    for fault in faults_of(tmp_path, "\n".join(lines)):
        assert fault.found
        assert fault.allowed
        assert fault.remedy
        assert "\n" not in str(fault)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(st.data())
def test_any_lines_left_out_or_doubled_end_in_a_room_or_in_faults(tmp_path: Path, data: st.DataObject) -> None:
    """Whatever lines are there, in whatever order, nothing is raised; what is no TOML has one fault."""
    lines = data.draw(st.lists(st.sampled_from(GOOD.splitlines()), max_size=40))
    text = "\n".join(lines)
    faults = faults_of(tmp_path, text)
    try:
        tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        assert [fault.key for fault in faults] == ["the syntax"]


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(st.binary() | st.text().map(str.encode))
def test_any_bytes_end_in_faults(tmp_path: Path, content: bytes) -> None:
    """No file of any content raises anything."""
    assert faults_of(tmp_path, content)


def test_the_demo_room_has_no_fault(tmp_path: Path) -> None:
    """The room that comes with the program loads, from any path."""
    assert not faults_of(tmp_path, demo_text())


@pytest.mark.parametrize("depth", range(50, 600, 25))
def test_values_within_values_end_in_faults_at_any_depth(tmp_path: Path, depth: int) -> None:
    """However deep lists and tables are nested, the key is named, or the syntax where the reader gives up."""
    for value in ("[" * depth + "]" * depth, "{ a = " * depth + "1" + " }" * depth):
        (fault,) = faults_of(tmp_path, GOOD.replace("count = 12", f"count = {value}"))
        assert fault.key in {"lot.pens.count", "the syntax"}
