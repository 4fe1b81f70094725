from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from tests.conftest import TINY_ROOM

from nookwright.survey.load import check_room

if TYPE_CHECKING:
    from pathlib import Path

    from nookwright.ground.errors import Fault
    from nookwright.survey.models import Room


def checked(folder: Path, more: str) -> tuple[Room | None, tuple[Fault, ...]]:
    """A room whose printer says more of its bed."""
    head, mark, tail = TINY_ROOM.partition("[[printer]]")
    first, end, rest = tail.partition("\n\n")
    file = folder / "room.toml"
    file.write_text(f"{head}{mark}{first}\n{more}{end}{rest}", encoding="utf-8")
    return check_room(file)


def test_a_bed_says_where_nothing_may_lie_and_how_far_pieces_are_apart(tmp_path: Path) -> None:
    """Lengths as people type them; what is not said has a default."""
    more = 'spacing = "0.5 cm"\n\n[[printer.keep_out]]\nx = 0\ny = 20\nwidth = "1 in"\ndepth = 30\nwhy = "clip"\n'
    room, faults = checked(tmp_path, f"{more}\n[printer.one_by_one]\nradius = 45\nheight = 30\n")
    assert faults == ()
    assert room is not None
    printer = room.printer[0]
    assert printer.spacing == 5
    assert [(zone.x, zone.y, zone.width, zone.depth, zone.why) for zone in printer.keep_out] == [
        (0, 20, 25.4, 30, "clip")
    ]
    assert printer.one_by_one is not None
    assert (printer.one_by_one.radius, printer.one_by_one.height) == (45, 30)


def test_a_bed_that_says_nothing_is_free_and_all_pieces_grow_together(tmp_path: Path) -> None:
    """With 3 mm between pieces."""
    room, _ = checked(tmp_path, "")
    assert room is not None
    printer = room.printer[0]
    assert (printer.spacing, printer.keep_out, printer.one_by_one) == (3, (), None)


@pytest.mark.parametrize(
    ("more", "key", "allowed"),
    [
        ("[[printer.keep_out]]\nx = 900\ny = 0\nwidth = 5\ndepth = 5\n", "x", "up to 120 mm"),
        ("[[printer.keep_out]]\nx = 100\ny = 0\nwidth = 25\ndepth = 5\n", "width", "up to 20 mm"),
        ("[[printer.keep_out]]\nx = 0\ny = 120\nwidth = 5\ndepth = 11\n", "depth", "up to 10 mm"),
        ("[printer.profile]\nbrim = 6\n", "brim", "a length up to the margin of the bed, 5 mm"),
        ("[printer.profile.skirt]\ndistance = 4.2\n", "skirt", "brim, distance and lines (0.96 mm) together up to"),
        ("[printer.profile.skirt]\nloops = 9\n", "skirt", "brim, distance and lines (4.32 mm) together up to"),
        ("[printer.profile]\nbrim = 3\n[printer.profile.skirt]\n", "skirt", "brim, distance and lines (0.96 mm)"),
        ("[printer.one_by_one]\nradius = 40\nheight = 2000\n", "height", "a length up to bed_height"),
    ],
)
def test_what_no_bed_can_do_is_refused(tmp_path: Path, more: str, key: str, allowed: str) -> None:
    """Each is one fault, at its own key, with what is allowed and what to do."""
    room, faults = checked(tmp_path, f"\n{more}")
    assert room is None
    (fault,) = faults
    assert fault.key.endswith(key)
    assert fault.allowed.startswith(allowed)
    assert fault.remedy


@pytest.mark.parametrize("line", ["spacing = -1", "one_by_one = 3", "keep_out = 3"])
def test_what_is_no_bed_is_refused_by_the_models(tmp_path: Path, line: str) -> None:
    """The rules pass over it, the models speak."""
    room, faults = checked(tmp_path, line)
    assert room is None
    assert len(faults) == 1


def test_a_skirt_has_lines_and_a_distance(tmp_path: Path) -> None:
    """A table that says nothing is the usual one; without it there is none."""
    room, faults = checked(tmp_path, "\n[printer.profile.skirt]\nloops = 3\n")
    assert faults == ()
    assert room is not None
    skirt = room.printer[0].profile.skirt
    assert skirt is not None
    assert (skirt.loops, skirt.distance) == (3, 2)
    bare, _ = checked(tmp_path, "")
    assert bare is not None
    assert bare.printer[0].profile.skirt is None
