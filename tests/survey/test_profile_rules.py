from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from tests.conftest import TINY_ROOM

from nookwright.survey.load import check_room

if TYPE_CHECKING:
    from pathlib import Path

    from nookwright.ground.errors import Fault
    from nookwright.survey.models import Room


def checked(folder: Path, profile: str) -> tuple[Room | None, tuple[Fault, ...]]:
    """A room whose last printer has a profile."""
    head, mark, tail = TINY_ROOM.partition("[[printer]]")
    first, end, rest = tail.partition("\n\n")
    file = folder / "room.toml"
    file.write_text(f"{head}{mark}{first}\n\n[printer.profile]\n{profile}{end}{rest}", encoding="utf-8")
    return check_room(file)


def test_a_profile_is_read(tmp_path: Path) -> None:
    """With its defaults where it says nothing."""
    room, faults = checked(tmp_path, 'infill = "grid"\nouter_mm_s = 80\nretract = "0.5 mm"\nline_width = 0.45\n')
    assert faults == ()
    assert room is not None
    profile = room.printer[0].profile
    assert (profile.infill, profile.outer_mm_s, profile.retract, profile.line_width) == ("grid", 80, 0.5, 0.45)
    assert profile.inner_mm_s == 70


@pytest.mark.parametrize("width", ["0.19", "0.81", '"1 mm"'])
def test_a_line_that_no_nozzle_lays_is_refused(tmp_path: Path, width: str) -> None:
    """With line, key, what is allowed and what to do."""
    room, faults = checked(tmp_path, f"line_width = {width}\n")
    assert room is None
    (fault,) = faults
    assert "line_width" in fault.key
    assert fault.allowed == "a length from 0.2 to 0.8 mm, for a nozzle of 0.4 and layers of 0.2"
    assert fault.remedy.startswith("Delete it")


@pytest.mark.parametrize(
    "line", ["outer_mm_s = 0", "infill_percent = 101", "walls = 0", 'infill = "honey"', "speed = 3"]
)
def test_what_no_printer_does_is_refused(tmp_path: Path, line: str) -> None:
    """Each is one fault, on its own key."""
    room, faults = checked(tmp_path, f"{line}\n")
    assert room is None
    assert len(faults) == 1
    assert line.split(maxsplit=1)[0] in f"{faults[0].key} {faults[0].found}"
