"""Places of a room file in cells: what is near a cell is there, what is not is named with its line."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.build import plan_and_design
from nookwright.ground.errors import RoomError
from nookwright.ground.findings import Severity
from nookwright.ground.progress import Silent
from nookwright.layout.pins import Pin, about_slips, read_pins
from nookwright.module.seat import outer_size
from nookwright.survey.layout_wishes import Place
from nookwright.survey.load import load_room

if TYPE_CHECKING:
    from pathlib import Path

    from tests.layout.conftest import Make

    from nookwright.build import Designed
    from nookwright.layout.pins import Slip
    from nookwright.layout.place import Effort
    from nookwright.layout.plan import Plan
    from nookwright.survey.models import Room


def read(make: Make, tiny: Designed, *places: Place) -> tuple[tuple[Pin, ...], tuple[Slip, ...]]:
    """The places of the tiny room, if it had these."""
    plan = tiny.plan
    room = tiny.room.model_copy(update={"place": places})
    return read_pins(room, plan.spaces, [make.ask(lot.id, (3, 3)) for lot in room.lot], plan.module)


def edge(plan: Plan, col: int, cells: int = 1) -> float:
    """Where a part of so many cells begins along x, mm."""
    pitch = plan.module.pitch
    return plan.spaces[0].floor.x0 + col * pitch + (cells * pitch - outer_size(cells, pitch)) / 2


def front(plan: Plan) -> float:
    """Where a part of one cell in the front row begins along y, mm."""
    return plan.spaces[0].floor.y0 + (plan.module.pitch - outer_size(1, plan.module.pitch)) / 2


@given(st.integers(0, 6), st.integers(0, 3), st.integers(1, 3), st.integers(1, 2), st.floats(-1.9, 1.9))
def test_a_reading_within_two_millimetres_is_that_cell(  # noqa: PLR0917 - drawn by Hypothesis
    make: Make, tiny: Designed, col: int, row: int, cols: int, rows: int, off: float
) -> None:
    """Whatever the size; the size too is read to two millimetres."""
    plan, pitch = tiny.plan, tiny.plan.module.pitch
    y = plan.spaces[0].floor.y0 + row * pitch + (rows * pitch - outer_size(rows, pitch)) / 2
    place = Place(
        lot="dice", space="drawer", x=max(0.0, edge(plan, col, cols) + off), y=y,
        width=outer_size(cols, pitch) + off, depth=outer_size(rows, pitch) - off,
    )  # fmt: skip
    pins, slips = read(make, tiny, place)
    assert slips == ()
    assert pins == (Pin(0, "dice", "drawer", (col, row), (cols, rows)),)


def test_between_two_cells_both_are_offered(make: Make, tiny: Designed) -> None:
    """Nine millimetres off either."""
    here, there = edge(tiny.plan, 2), edge(tiny.plan, 3)
    pins, (slip,) = read(make, tiny, Place(lot="dice", space="drawer", x=here + 9, y=front(tiny.plan)))
    assert pins == ()
    assert (slip.key, slip.found, slip.allowed) == ("x", f"{here + 9:g} mm", f"{here:.1f} mm or {there:.1f} mm")


def test_all_that_lies_between_cells_is_said_at_once(make: Make, tiny: Designed) -> None:
    """A size and both edges: four slips of one place."""
    _, slips = read(make, tiny, Place(lot="dice", space="drawer", x=50, y=50, width=45, depth=63))
    assert [slip.key for slip in slips] == ["width", "depth", "x", "y"]


def test_a_size_that_no_part_has_is_named(make: Make, tiny: Designed) -> None:
    """45 mm lies between 35.4 and 53.4."""
    _, (slip,) = read(make, tiny, Place(lot="dice", space="drawer", width=53, depth=45))
    assert (slip.key, slip.found, slip.allowed) == ("depth", "45 mm", "35.4 mm or 53.4 mm")


def test_a_height_that_no_part_has_is_named(make: Make, tiny: Designed) -> None:
    """45 mm lies between seven and eight rises of six; 47 is eight of them, badly read."""
    rise = tiny.plan.module.rise
    pins, _ = read(make, tiny, Place(lot="dice", space="drawer", height=8 * rise - 1))
    assert [pin.height for pin in pins] == [8 * rise]
    _, (slip,) = read(make, tiny, Place(lot="dice", space="drawer", height=7.5 * rise))
    assert (slip.key, slip.allowed) == ("height", f"{7 * rise:g} mm or {8 * rise:g} mm")


def test_a_place_past_the_last_cell_is_named(make: Make, tiny: Designed) -> None:
    """300 mm in a drawer of 200; the last two cells are offered."""
    _, (slip,) = read(make, tiny, Place(lot="dice", space="drawer", x=300, y=front(tiny.plan)))
    assert slip.found == "300 mm"
    last = tiny.plan.spaces[0].grid.cols - 1
    assert slip.allowed == f"{edge(tiny.plan, last - 1):.1f} mm or {edge(tiny.plan, last):.1f} mm"


def test_a_lot_that_shares_a_tray_has_no_place_of_its_own(make: Make, tiny: Designed) -> None:
    """Its host has one."""
    lots = tuple(lot.model_copy(update={"shares": "notes"}) if lot.id == "dice" else lot for lot in tiny.room.lot)
    room = tiny.room.model_copy(update={"lot": lots, "place": (Place(lot="dice", space="drawer"),)})
    _, (slip,) = read_pins(room, tiny.plan.spaces, [make.ask("notes", (3, 3))], tiny.plan.module)
    assert (slip.key, '"notes"' in slip.remedy) == ("lot", True)


def test_without_a_corner_only_the_space_is_said(make: Make, tiny: Designed) -> None:
    """And whether it is printed."""
    pins, slips = read(make, tiny, Place(lot="dice", space="drawer", printed=True), Place(lot="notes", space="drawer"))
    assert slips == ()
    assert pins == (Pin(0, "dice", "drawer", printed=True), Pin(1, "notes", "drawer"))


def test_slips_stop_a_room_without_a_file(make: Make, tiny: Designed) -> None:
    """With what is allowed and what to do."""
    _, slips = read(make, tiny, Place(lot="dice", space="drawer", width=53, depth=45))
    (finding,) = about_slips(slips)
    assert (finding.severity, finding.subject) == (Severity.STOP, "dice")
    assert "35.4 mm or 53.4 mm" in finding.text


PLACE = '\n[[place]]\nlot = "dice"\nspace = "drawer"\nx = {x}\ny = {y}\nwidth = 71\ndepth = 53\n'


def planned(tiny_file: Path, folder: Path, quick: Effort, more: str) -> tuple[Room, Designed]:
    """The tiny room with more lines."""
    file = folder / "room.toml"
    file.write_text(tiny_file.read_text(encoding="utf-8") + more, encoding="utf-8")
    room = load_room(file)
    return room, plan_and_design(room, room_file=file, effort=quick, progress=Silent())


def test_a_part_stands_where_the_room_file_says(tiny_file: Path, tmp_path: Path, quick: Effort) -> None:
    """The dice at 116 by 21 mm from the corner, to two millimetres, in a tray of 71 x 53; the rest around them."""
    _, designed = planned(tiny_file, tmp_path, quick, PLACE.format(x=116, y=21))
    (dice,) = [copy for copy in designed.copies if copy.contents and copy.contents.lot.id == "dice"]
    turned = dice.quarter_turns % 2
    size = dice.size[1 if turned else 0], dice.size[0 if turned else 1]
    assert abs(dice.x - 116) <= 2
    assert abs(dice.y - 21) <= 2
    assert size == pytest.approx((71.4, 53.4))
    assert designed.plan.layout.left_out == ()


@pytest.mark.parametrize(
    ("x", "y", "key", "line"),
    [(125, 21, "x", "x = 125"), (116, 30, "y", "y = 30"), (81, 92, "x", "x = 81")],
)
def test_a_place_that_cannot_be_kept_is_a_fault_with_its_line(  # noqa: PLR0917 - one case each
    tiny_file: Path, tmp_path: Path, quick: Effort, x: int, y: int, key: str, line: str
) -> None:
    """Between cells along x, along y, and where the lock is."""
    with pytest.raises(RoomError) as caught:
        planned(tiny_file, tmp_path, quick, PLACE.format(x=x, y=y))
    (fault,) = caught.value.faults
    text = (tmp_path / "room.toml").read_text(encoding="utf-8").splitlines()
    assert (text[fault.line - 1], fault.key.endswith(key)) == (line, True)
    assert fault.remedy
