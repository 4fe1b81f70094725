"""A first room file."""

from __future__ import annotations

from pathlib import Path

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from nookwright.survey.answers import Answers, Thing, parse_name, read_answers
from nookwright.survey.load import load_room
from nookwright.survey.models import Shape
from nookwright.survey.new import room_text
from nookwright.survey.standards import all_standards

EXAMPLE = Path(__file__).parents[2] / "examples" / "answers.toml"


def test_the_file_holds_the_answers(tmp_path: Path) -> None:
    """Drawer, bed, material and things come back when the file is loaded; masses are assumed from the size."""
    path = tmp_path / "room.toml"
    path.write_text(room_text(read_answers(EXAMPLE)), encoding="utf-8")
    room = load_room(path)
    (drawer,), (printer,), (material,) = room.space, room.printer, room.material
    assert room.room.name == "Desk drawer"
    assert [readings.smallest for readings in (drawer.width, drawer.depth, drawer.height)] == [362, 420, 62]
    assert (printer.bed_width, printer.bed_depth, printer.bed_height) == (220, 220, 250)
    assert (material.id, material.name, material.density_g_cm3) == ("pla-grey", "PLA grey", 1.24)
    assert [(lot.id, lot.count) for lot in room.lot] == [
        ("aa-cells", 24),
        ("hex-keys", 2),
        ("glue-sticks", 6),
        ("notebooks", 2),
        ("bulldog-clips", 20),
    ]
    assert room.lot[3].mass_g == 372.96  # 210 x 148 x 12 mm of water


def test_what_was_assumed_is_said_beside_it() -> None:
    """Nobody was asked for load, height in the room and mass."""
    lines = room_text(read_answers(EXAMPLE)).splitlines()
    for key in ("floor_height", "load_kg", "mass_g"):
        assert all("assumed" in line for line in lines if line.startswith(key))
        assert any(line.startswith(key) for line in lines)


def test_the_same_answers_give_the_same_text() -> None:
    """Byte for byte."""
    assert room_text(read_answers(EXAMPLE)) == room_text(read_answers(EXAMPLE))


names = st.text(min_size=1, max_size=60).filter(lambda text: parse_name_or_none(text) is not None)
lengths = st.floats(0.01, 5000)


def parse_name_or_none(text: str) -> str | None:
    """The name, where there is one."""
    try:
        return parse_name(text)
    except ValueError:
        return None


@st.composite
def things(draw: st.DrawFn) -> Thing:
    """Any thing that could be answered."""
    name, count = parse_name(draw(names)), draw(st.integers(1, 10_000))
    closed = [size for size in all_standards() if not size.left_open]
    if draw(st.booleans()):
        size = draw(st.sampled_from(closed))
        return Thing(name, size.shape, (), size.designation, count)
    if draw(st.booleans()):
        return Thing(name, Shape.ROUND, (draw(lengths), draw(lengths)), "", count)
    return Thing(name, Shape.BOX, (draw(lengths), draw(lengths), draw(lengths)), "", count)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(
    name=names,
    sides=st.tuples(lengths, lengths, lengths),
    material=st.sampled_from(["PLA", "PETG white", "ABS, red", "ASA-black", "TPU"]),
    content=st.lists(things(), min_size=1, max_size=6),
)
def test_any_answers_make_a_file_without_faults(
    tmp_path: Path, name: str, sides: tuple[float, float, float], material: str, content: list[Thing]
) -> None:
    """Whatever was answered: names of any characters, names used twice, the smallest and the largest sizes."""
    path = tmp_path / "room.toml"
    answers = Answers(parse_name(name), sides, sides, material, tuple(content))
    path.write_text(room_text(answers), encoding="utf-8")
    room = load_room(path)
    assert room.room.name == parse_name(name)
    assert [(lot.name, lot.count) for lot in room.lot] == [(thing.name, thing.count) for thing in content]
    assert len({lot.id for lot in room.lot}) == len(content)
