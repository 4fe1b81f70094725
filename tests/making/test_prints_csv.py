from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.making.prints_csv import FILE, read_prints, read_table
from nookwright.making.records import Outcome

if TYPE_CHECKING:
    from pathlib import Path

    from nookwright.survey.models import Room

GOOD = """\
when,bedful,outcome,printer,material,time,mass_g,note
2026-03-02,b1,done,small,white,3:25,84.5,
2026-03-03,b2,failed,small,red,95,,"came loose, after an hour"
2026-03-04,b2,,,,,,
"""


def test_a_table_is_read_line_by_line(tiny_room: Room) -> None:
    """Hours and minutes or minutes, grams, and what is empty is left open."""
    records, faults = read_table("prints.csv", GOOD, tiny_room)
    assert faults == ()
    first, second, third = records
    assert (first.time_s, first.mass_g, first.outcome) == (12_300.0, 84.5, Outcome.DONE)
    assert (second.time_s, second.mass_g, second.outcome) == (5700.0, None, Outcome.FAILED)
    assert (third.printer, third.time_s, third.id) == ("", None, "line-4")


def test_a_german_or_french_spreadsheet_gives_the_same(tiny_room: Room) -> None:
    """Semicolons, decimal commas, days with points, a byte order mark."""
    text = (
        GOOD.replace(",", ";").replace("84.5", "84,5").replace("loose;", "loose,").replace("2026-03-02", "02.03.2026")
    )
    assert read_table("prints.csv", text, tiny_room) == read_table("prints.csv", GOOD, tiny_room)


def test_no_table_means_that_nothing_was_printed(tiny_room: Room, tmp_path: Path) -> None:
    """And the table is looked for beside the room file, with or without a mark at its beginning."""
    room_file = tmp_path / "room.toml"
    assert read_prints(room_file, tiny_room) == ((), ())
    (tmp_path / FILE).write_text("\ufeff" + GOOD, encoding="utf-8")
    records, faults = read_prints(room_file, tiny_room)
    assert (len(records), faults) == (3, ())


@pytest.mark.parametrize(
    ("old", "new", "line", "key", "words"),
    [
        ("2026-03-02,b1", "03/05/2026,b1", 2, "when", "2026-03-05 or 05.03.2026"),
        ("2026-03-02,b1", "2026-02-30,b1", 2, "when", "2026-03-05"),
        ("b1,done", ",done", 2, "bedful", "the id of a bedful"),
        ("failed", "broken", 3, "outcome", "done or failed"),
        ("small,white", "smal,white", 2, "printer", "Write small instead"),
        ("small,white", "small,green", 2, "material", "white, red"),
        ("3:25", "3:75", 2, "time", "1:35"),
        ("3:25", "long", 2, "time", "minutes such as 95"),
        ("84.5", "84.5 g", 2, "mass_g", "grams such as 84.5"),
        ("84.5", '"1,250"', 2, "mass_g", "1250 or 1.250"),
        ("note\n", "notes\n", 1, "the head of the table", "Write note instead"),
        ("when,", "day,", 1, "the head of the table", "Add a column when"),
    ],
)
def test_a_fault_names_line_column_value_and_what_is_allowed(  # noqa: PLR0917 - one row of a table
    old: str, new: str, line: int, key: str, words: str, tiny_room: Room
) -> None:
    """Each is found, and nothing is guessed."""
    assert old in GOOD
    _, faults = read_table("prints.csv", GOOD.replace(old, new, 1), tiny_room)
    assert (line, key) in [(fault.line, fault.key) for fault in faults]
    assert any(words in str(fault) for fault in faults)


def test_all_faults_come_at_once(tiny_room: Room) -> None:
    """And the lines without one are still read."""
    text = GOOD.replace("3:25", "x").replace("failed", "y")
    records, faults = read_table("prints.csv", text, tiny_room)
    assert [fault.line for fault in faults] == [2, 3]
    assert [record.id for record in records] == ["line-4"]


def test_an_id_that_is_there_twice_is_a_fault(tiny_room: Room) -> None:
    """Two prints of one id would count once."""
    text = "id,when,bedful\np1,2026-03-02,b1\np1,2026-03-03,b2\n"
    _, faults = read_table("prints.csv", text, tiny_room)
    assert [(fault.line, fault.key) for fault in faults] == [(3, "id")]


def test_bytes_that_are_no_text_are_a_fault(tiny_room: Room, tmp_path: Path) -> None:
    """Not an error of a library."""
    (tmp_path / FILE).write_bytes(b"when;bedful\n\xff\xfe")
    _, faults = read_prints(tmp_path / "room.toml", tiny_room)
    assert [fault.found for fault in faults] == ["bytes that are no UTF-8"]


@given(st.text(alphabet="when,bedful;\t\n0123456789.:\"'-x\0", max_size=80))
def test_any_text_ends_in_records_or_in_faults(text: str) -> None:
    """Whatever a person saves under that name."""
    records, faults = read_table("prints.csv", text, _ROOM)
    assert isinstance(records, tuple)
    assert all(fault.remedy for fault in faults)


class _Nothing:
    printer: tuple[object, ...] = ()
    material: tuple[object, ...] = ()


_ROOM: Room = _Nothing()  # type: ignore[assignment]
