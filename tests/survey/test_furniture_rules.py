from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from tests.conftest import TINY_ROOM

from nookwright.survey.furniture import Stands
from nookwright.survey.load import check_room

if TYPE_CHECKING:
    from pathlib import Path

    from nookwright.ground.errors import Fault
    from nookwright.survey.models import Room


def checked(folder: Path, *, space: str = "", lot: str = "", end: str = "") -> tuple[Room | None, tuple[Fault, ...]]:
    """A room whose first space, first lot and end say more."""
    text = TINY_ROOM.replace("[[space]]\n", f"[[space]]\n{space}\n", 1).replace("[[lot]]\n", f"[[lot]]\n{lot}\n", 1)
    file = folder / "room.toml"
    file.write_text(f"{text}\n{end}", encoding="utf-8")
    return check_room(file)


def test_a_drawer_says_how_it_runs_and_what_it_is_in(tmp_path: Path) -> None:
    """Soft close, its speed, its chest; lengths as people type them."""
    piece = '[[furniture]]\nid = "chest"\nstands = "free-standing"\nmass_kg = 28\ndepth = "48 cm"\n'
    room, faults = checked(tmp_path, space='soft_close = true\nshut_m_s = 0.8\nfurniture = "chest"', end=piece)
    assert faults == ()
    assert room is not None
    space, (chest,) = room.space[0], room.furniture
    assert (space.soft_close, space.shut_m_s, space.furniture) == (True, 0.8, "chest")
    assert (chest.stands, chest.mass_kg, chest.depth, chest.height) == (Stands.FREE, 28, 480, None)


def test_what_is_left_out_is_usual(tmp_path: Path) -> None:
    """No damper, half a metre a second, nothing known of the furniture, a pull straight up."""
    room, _ = checked(tmp_path)
    assert room is not None
    space, lot = room.space[0], room.lot[0]
    assert (space.soft_close, space.shut_m_s, space.furniture, room.furniture) == (False, 0.5, None, ())
    assert (lot.pull.force_n, lot.pull.up_deg, lot.pull.ballast_g) == (None, 90, 0)


@pytest.mark.parametrize(
    ("space", "lot", "end", "key", "allowed"),
    [
        ('furniture = "chst"', "", '[[furniture]]\nid = "chest"\nstands = "built in"\n', "furniture", "the id of a"),
        ('furniture = "chest"', "", "", "furniture", "the id of a [[furniture]]"),
        ("", "[lot.pull]\nforce_n = 3\n", "", "pull", "a pull only beside"),
        ("shut_m_s = 9", "", "", "shut_m_s", "a number"),
        ("", "", '[[furniture]]\nid = "chest"\nstands = "glued"\n', "stands", 'one of "free-standing"'),
        ("", "", '[[furniture]]\nid = "a"\nstands = "built in"\n' * 2, "id", "an id that no other furniture has"),
    ],
)
def test_what_cannot_be_is_refused(  # noqa: PLR0917 - columns of a table
    tmp_path: Path, space: str, lot: str, end: str, key: str, allowed: str
) -> None:
    """Each is one fault at its own key, with what is allowed and what to do."""
    room, faults = checked(tmp_path, space=space, end=end) if not lot else checked_lot(tmp_path, lot)
    assert room is None
    assert [fault.key.rpartition(".")[2] for fault in faults] == [key]
    assert faults[0].allowed.startswith(allowed)
    assert faults[0].remedy


def checked_lot(folder: Path, table: str) -> tuple[Room | None, tuple[Fault, ...]]:
    """A room whose first lot has a table of its own."""
    head, mark, tail = TINY_ROOM.partition("[[lot]]")
    keys, end, rest = tail.partition("\n\n")
    file = folder / "room.toml"
    file.write_text(f"{head}{mark}{keys}\n{table}{end}{rest}", encoding="utf-8")
    return check_room(file)


def test_only_drawers_have_dampers(tmp_path: Path) -> None:
    """A shelf with soft close is a slip."""
    file = tmp_path / "room.toml"
    text = TINY_ROOM.replace('kind = "drawer"', 'kind = "shelf"\nsoft_close = true', 1)
    file.write_text(text, encoding="utf-8")
    room, faults = check_room(file)
    assert room is None
    assert [(fault.key.rpartition(".")[2], fault.allowed) for fault in faults] == [
        ("soft_close", "soft_close only for a drawer")
    ]
