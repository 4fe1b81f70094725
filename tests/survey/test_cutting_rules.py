from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from tests.conftest import TINY_ROOM

from nookwright.parts.model import Kind
from nookwright.survey.cutting_wishes import BAR, KERF, PartWord
from nookwright.survey.load import check_room

if TYPE_CHECKING:
    from pathlib import Path

    from nookwright.ground.errors import Fault
    from nookwright.survey.models import Room

RED = '\n[[printer]]\nid = "red-one"\nbed_width = 200\nbed_depth = 200\nbed_height = 200\nmaterials = ["red"]\n'
ORDER = '\n[[part]]\nid = "stand"\nkind = "riser"\n[part.keys]\nwidth = 80\n'


def checked(folder: Path, more: str, *, after: str = "") -> tuple[Room | None, tuple[Fault, ...]]:
    """A room with wishes of cutting."""
    file = folder / "room.toml"
    file.write_text(f"{TINY_ROOM}{after}\n{more}", encoding="utf-8")
    return check_room(file)


def wish(*lines: str) -> str:
    """One ``[[making.printed_on]]``."""
    return "\n".join(["[[making.printed_on]]", *lines, ""])


def test_a_room_says_what_is_printed_where_and_what_strips_are_sawn_from(tmp_path: Path) -> None:
    """By lot, by space and kind; lengths as people type them, and their defaults."""
    more = wish('lot = "dice"', 'printer = "small"') + wish('space = "drawer"', 'kind = "tray"', "whole = true")
    room, faults = checked(tmp_path, f'{more}\n[making.sawing]\nbar = "2400 mm"\n')
    assert faults == ()
    assert room is not None
    first, second = room.making.printed_on
    assert (first.lot, first.printer, first.whole) == ("dice", "small", False)
    assert (second.space, second.kind, second.printer, second.whole) == ("drawer", PartWord.TRAY, None, True)
    assert (room.making.sawing.bar, room.making.sawing.kerf) == (2400, KERF)
    plain, _ = checked(tmp_path, "")
    assert plain is not None
    assert (plain.making.printed_on, plain.making.sawing.bar) == ((), BAR)


@pytest.mark.parametrize(
    ("lines", "key", "found", "allowed"),
    [
        (('lot = "dices"', 'printer = "small"'), "lot", '"dices"', "the id of a lot"),
        (('space = "drawr"', "whole = true"), "space", '"drawr"', "the id of a space"),
        (('part = "stand"', "whole = true"), "part", '"stand"', "there is none"),
        (('lot = "dice"', 'printer = "smal"'), "printer", '"smal"', "the id of a printer"),
        (('printer = "small"',), "lot", "nothing", "which parts it is about"),
        (('lot = "dice"',), "printer", "nothing", "a printer, or whole = true"),
        (('lot = "dice"', "whole = false"), "printer", "nothing", "a printer, or whole = true"),
        (('lot = "corks"', 'printer = "red-one"'), "printer", '"red-one"', 'a printer that may print "white"'),
        (('kind = "panel"', 'printer = "red-one"'), "printer", '"red-one"', 'a printer that may print "white"'),
    ],
)
def test_what_no_printer_can_follow_is_refused(
    tmp_path: Path, lines: tuple[str, ...], key: str, found: str, allowed: str
) -> None:
    """One fault, at its own key and line, with what is allowed and what to do."""
    _, faults = checked(tmp_path, wish(*lines), after=RED)
    (fault,) = faults
    assert fault.key == f"making.printed_on[1].{key}"
    assert fault.found == found
    assert allowed in fault.allowed
    assert fault.remedy
    text = (tmp_path / "room.toml").read_text(encoding="utf-8").splitlines()
    named = [number for number, line in enumerate(text, start=1) if line.startswith(f"{key} = ") and number > 70]
    head = text.index("[[making.printed_on]]") + 1
    assert fault.line in (named or [head])


def test_a_red_lot_may_go_to_the_red_printer(tmp_path: Path) -> None:
    """Its group has a colour of its own, which that printer has loaded."""
    _, faults = checked(tmp_path, wish('lot = "dice"', 'printer = "red-one"'), after=RED)
    assert faults == ()


def test_what_is_made_to_order_has_no_place(tmp_path: Path) -> None:
    """So a space beside it would never fit."""
    _, faults = checked(tmp_path, wish('part = "stand"', 'space = "drawer"', "whole = true"), after=ORDER)
    assert [(fault.key, "has no place" in fault.allowed) for fault in faults] == [("making.printed_on[1].part", True)]


def test_every_kind_of_part_that_is_printed_with_a_kit_can_be_named() -> None:
    """Coupons and gauges are printed before, on the printer that they measure."""
    assert {one.value for one in PartWord} == {one.value for one in Kind} - {Kind.COUPON.value, Kind.GAUGE.value}
