"""What a gesture costs where many parts stand: counted, because seconds depend on the machine."""

from __future__ import annotations

import json
import tomllib
from typing import TYPE_CHECKING

import pytest

from nookwright.studio import reading, room_text
from nookwright.studio.planned import Planned
from nookwright.studio.sheets import Footprint, Item, Wanted
from nookwright.studio.state import Studio
from nookwright.studio.toml_values import typed

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

LOTS = 60
LOT = """
[[lot]]
id = "cube-{n:02}"
name = "Cubes {n}"
shape = "box"
width = 14
depth = 15
height = 16
count = 2
mass_g = 5
"""


def item(number: int) -> Item:
    """One of many small trays, in rows of six."""
    name = f"cube-{number:02}"
    return Item(
        id=name, lot=name, name=f"Cubes {number}", kind="tray", space="drawer", col=number % 6, row=number // 6,
        cols=1, rows=1, height=21.0, tall=21.0, mass_g=5.0,
    )  # fmt: skip


@pytest.fixture
def many(studio: Studio, tmp_path: Path) -> Studio:
    """The tiny room with many lots more, as if they were planned in a deeper drawer, all of them written down."""
    assert studio.planned is not None
    file = tmp_path / "many" / "room.toml"
    file.parent.mkdir()
    text = studio.desk.text + "".join(LOT.format(n=n) for n in range(LOTS))
    file.write_text(text, encoding="utf-8")
    made = Studio(file, tmp_path / "many")
    assert made.faults == ()
    items = tuple(item(number) for number in range(LOTS))
    sizes = (Footprint(cols=1, rows=1, height=21.0, tall=21.0, may_turn=True),)
    lots = tuple(Wanted(lot=one.lot, name=one.name, sizes=sizes, refused={}) for one in items)
    drawer = studio.planned.sheets.spaces[0].model_copy(update={"cols": 6, "rows": 12, "blocked": (), "height": 60.0})
    sheets = studio.planned.sheets.model_copy(update={"spaces": (drawer,), "items": items, "lots": lots})
    made.planned = Planned("", sheets, studio.planned.kit, studio.planned.folder)
    assert made.arrange("first", lambda now: now.moved("cube-00", "drawer", 0, 11))
    return made


def journal_line(studio: Studio) -> dict[str, object]:
    """What was appended last."""
    line = studio.file.with_name("room.toml.journal").read_text(encoding="utf-8").splitlines()[-1]
    found: dict[str, object] = json.loads(line)
    return found


def test_a_move_has_one_table_checked_and_one_chapter_read(many: Studio, monkeypatch: pytest.MonkeyPatch) -> None:
    """However many lots there are; the first move in a space, which writes places of all, has been made."""
    read: list[str] = []
    real: Callable[[str], dict[str, object]] = tomllib.loads

    def loads(text: str) -> dict[str, object]:
        read.append(text)
        return real(text)

    checked = many._reader.checked
    monkeypatch.setattr(tomllib, "loads", loads)
    many.arrange("moved", lambda now: now.moved("cube-00", "drawer", 1, 11))
    assert many._reader.checked - checked == 1
    assert {text.count("[[") for text in read} <= {0, 1}  # never the whole file
    assert sum(map(len, read)) < 2000


def test_a_move_and_its_way_back_do_not_look_where_lines_are(many: Studio, monkeypatch: pytest.MonkeyPatch) -> None:
    """Only what is wrong needs its line."""

    def located(_: str) -> None:
        raise AssertionError("looked for lines")

    monkeypatch.setattr(reading, "locate", located)
    many.arrange("moved", lambda now: now.moved("cube-00", "drawer", 1, 11))
    many.undo()
    many.redo()
    assert many.faults == ()


def test_a_move_is_a_short_line_in_the_journal(many: Studio) -> None:
    """Of what changed, not of all places; taken back and made again the text is the same."""
    before = many.desk.text
    many.arrange("moved", lambda now: now.moved("cube-00", "drawer", 1, 11))
    after, line = many.desk.text, journal_line(many)
    assert line["did"] == "moved"
    assert len(str(line["removed"])) + len(str(line["added"])) < 20
    many.undo()
    assert many.desk.text == before
    many.redo()
    assert many.desk.text == after


def test_a_fault_that_came_meanwhile_is_still_found_after_a_move(many: Studio) -> None:
    """What was sound before is remembered; what is not is said each time, on its line."""
    many.edit("count", room_text.with_value(many.desk.text, ("lot", "cube-07", "count"), -1))
    wrong = many.faults
    assert [fault.key for fault in wrong] == ["lot.cube-07.count"]
    many.arrange("moved", lambda now: now.moved("cube-00", "drawer", 1, 11))
    assert [fault.key for fault in many.faults] == ["lot.cube-07.count"]
    assert many.desk.text.splitlines()[many.faults[0].line - 1] == f"count = {typed(-1)}"
