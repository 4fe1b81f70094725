"""How a room begins: a file that loads but for what only its owner knows, and one next step at every moment."""

from __future__ import annotations

import tomllib
from typing import TYPE_CHECKING

import pytest

from nookwright.ground.errors import FolderError
from nookwright.studio.beginning import Step, begin, begun_text, completed, next_step
from nookwright.studio.room_text import with_table, with_value
from nookwright.survey.load import check_text

if TYPE_CHECKING:
    from pathlib import Path

    from nookwright.studio.toml_values import Value

SPACE: dict[str, Value] = {"id": "bench", "name": "Bench drawer", "kind": "drawer", "floor_height": 750, "load_kg": 10}
LOT: dict[str, Value] = {"id": "cups", "name": "Cups", "count": 2}


def step(text: str) -> Step:
    """What to do next in a text."""
    _, faults = check_text("room.toml", text)
    try:
        return next_step(tomllib.loads(text), faults)
    except tomllib.TOMLDecodeError:
        return next_step({}, faults)


def test_a_begun_file_lacks_nothing_but_spaces_and_things(tmp_path: Path) -> None:
    """Its name is that of its folder; what was there already is left alone."""
    file = tmp_path / "tea-corner" / "room.toml"
    begin(file)
    text = file.read_text(encoding="utf-8")
    assert tomllib.loads(text)["room"]["name"] == "Tea corner"
    assert "# Assumed: correct its bed, inside which all parts are printed.\n[[printer]]" in text
    _, faults = check_text(str(file), text)
    assert {fault.key for fault in faults} == {"space", "lot"}
    file.write_text("mine", encoding="utf-8")
    begin(file)
    assert file.read_text(encoding="utf-8") == "mine"


def test_a_file_that_cannot_be_begun_is_refused_in_words(tmp_path: Path) -> None:
    """A folder, or a place under a file."""
    with pytest.raises(FolderError, match=r"found a folder; allowed: a room file"):
        begin(tmp_path)
    (tmp_path / "note").write_text("", encoding="utf-8")
    with pytest.raises(FolderError, match=r"cannot be written"):
        begin(tmp_path / "note" / "room.toml")


def test_a_name_with_quotation_marks_is_kept() -> None:
    """As it was given."""
    assert tomllib.loads(begun_text('The "long" bench'))["room"]["name"] == 'The "long" bench'


@pytest.mark.parametrize(
    "text", ["", "[room]\nname = 'a'\n", "format = 1\n\n[[printer]]\nid = 'p'\nmaterials = ['blue']\n"]
)
def test_what_every_room_has_is_filled_in_once(text: str) -> None:
    """What stands there stays; a material that a printer names is the one that comes."""
    full = completed(text)
    data = tomllib.loads(full)
    assert data["format"] == 1
    assert data["room"]["name"]
    assert [one["id"] for one in data["material"]] == data["printer"][0]["materials"]
    assert completed(full) == full
    assert step(text).makes
    assert not step(full).makes


def test_each_step_leads_to_the_next() -> None:
    """From a begun file to one that can be planned; a wrong value is named as wrong, not as missing."""
    text = begun_text("Bench")
    assert step(text).add == "space"
    text = with_table(text, ("space",), SPACE)
    assert step(text).words.startswith("Measure Bench drawer inside and type its width, depth and height.")
    assert step(text).at == ("space", "bench")
    for side in ("width", "depth", "height"):
        text = with_value(text, ("space", "bench", side), 60)
    assert step(text).add == "lot"
    text = with_table(text, ("lot",), LOT)
    assert step(text).words.startswith("Choose the shape of Cups")
    text = with_value(text, ("lot", "cups", "standard"), "LR6")
    assert step(text) == Step(
        "Nothing is missing: the layout is made by itself. Still assumed: Printer and PLA.", done=True
    )
    wrong = with_value(text, ("space", "bench", "width"), "6 paces")
    assert step(wrong).words == "Bench drawer: width cannot be used as it stands; beside the field is said why."
    assert step("[room\n").words.startswith("Line 1 of the room file cannot be read")


def test_what_is_merely_missing_is_to_be_filled_in() -> None:
    """It is named, with what it belongs to, and nothing is said to be wrong; the button leads there."""
    text = begun_text("Bench")
    text = with_table(text, ("space",), {**SPACE, "width": 60, "depth": 60, "height": 60})
    text = with_table(text, ("lot",), {**LOT, "standard": "LR6"})
    text = with_value(text, ("lot", "cups", "count"), None)
    assert step(text) == Step("Cups: count still to fill in.", "To Cups", at=("lot", "cups"))
    text = with_value(text, ("space", "bench", "load_kg"), None)
    text = with_value(text, ("space", "bench", "floor_height"), None)
    assert step(text).words == "Bench drawer: floor height and load still to fill in."


def test_what_is_usual_is_as_large_in_a_room_of_inches() -> None:
    """A bed of 220 mm is one of 220 mm, not of 220 inches."""
    text = completed('format = 1\n[room]\nname = "Shed"\nunits = "in"\n')
    assert tomllib.loads(text)["printer"][0]["bed_width"] == "220 mm"
    assert tomllib.loads(completed('format = 1\n[room]\nname = "Shed"\n'))["printer"][0]["bed_width"] == 220
