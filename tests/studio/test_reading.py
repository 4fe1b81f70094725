"""Reading a room's text while it is edited, against reading it as if nothing had been read before."""

from __future__ import annotations

from typing import TYPE_CHECKING

from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.studio.reading import Reader
from nookwright.studio.room_text import with_table, with_value, without_table
from nookwright.survey.load import check_text
from nookwright.survey.models import Room
from nookwright.survey.rooms import demo_path

if TYPE_CHECKING:
    from pathlib import Path

with demo_path() as _path:
    DEMO = _path.read_text(encoding="utf-8")
EDITS = (
    lambda text: with_value(text, ("lot", "hex-keys-2-5", "count"), 3),
    lambda text: with_value(text, ("lot", "hex-keys-2-5", "count"), -3),
    lambda text: with_value(text, ("lot", "hex-keys-2-5", "near"), ["nobody"]),
    lambda text: with_value(text, ("lot", 0, "colour"), "red"),
    lambda text: with_value(text, ("room", "name"), "Another"),
    lambda text: with_value(text, ("room", "units"), "cm"),
    lambda text: with_value(text, ("space", 0, "width"), "wide"),
    lambda text: with_value(text, ("space", 0, "load_kg"), 9),
    lambda text: with_value(text, ("choices", "layout"), "tightest"),
    lambda text: with_value(text, ("nonsense", "x"), 1),
    lambda text: with_table(text, ("place",), {"lot": "hex-keys-2-5", "space": "bench-left", "x": 3}),
    lambda text: with_table(text, ("place",), {"lot": "hex-keys-2-5", "space": "bench-left", "x": 3, "y": 4}),
    lambda text: with_table(text, ("lump",), {"x": 1}),
    lambda text: without_table(text, ("lot", "hex-keys-2-5")),
    lambda text: text + "[[lot]\n",
    lambda text: text.replace("[[lot]]", "[lot]", 1),
    lambda text: text.replace("format = 1", "format = 2"),
)


@settings(max_examples=25, deadline=None)
@given(st.lists(st.tuples(st.sampled_from(EDITS), st.booleans()), min_size=1, max_size=4))
def test_what_was_read_before_changes_nothing_of_what_is_found(edits: list[tuple[object, bool]]) -> None:
    """The same room, or the same faults on the same lines, after edits of every kind, sound or not."""
    reader, text = Reader(), DEMO
    assert reader.check("room.toml", text) == check_text("room.toml", text)
    for edit, stays in edits:
        try:
            new = edit(text)  # type: ignore[operator]
        except (KeyError, ValueError):
            continue
        assert reader.check("room.toml", new) == check_text("room.toml", new)
        text = new if stays else text


def test_a_gesture_has_its_own_tables_checked_and_no_others() -> None:
    """What was sound before is not looked at again; the first reading looks at all."""
    reader = Reader()
    room, _ = reader.check("room.toml", DEMO)
    assert room is not None
    assert reader.checked == sum(len(value) for _, value in room if isinstance(value, tuple))
    at_first = reader.checked
    reader.check("room.toml", with_value(DEMO, ("lot", "hex-keys-2-5", "count"), 3))
    reader.check("room.toml", DEMO.replace("[room]", "# a word more\n[room]"))
    assert reader.checked == at_first + 2  # the lot there, and back


def test_a_room_has_no_rules_of_its_own_that_tables_do_not_have() -> None:
    """Or tables that were sound one by one would not make a sound room."""
    rules = Room.__pydantic_decorators__
    assert not any((rules.model_validators, rules.field_validators, rules.root_validators, rules.validators))


def test_a_table_beside_the_room_file_is_read_from_there(tmp_path: Path) -> None:
    """A coupon's readings may lie in a file of their own, which has no part in what is remembered."""
    printer = DEMO[DEMO.index("[[printer]]") :].split('id = "', 1)[1].split('"', 1)[0]
    text = with_table(DEMO, ("coupon",), {"printer": printer, "material": "x", "layer": 0.2, "csv": "readings.csv"})
    reader, file = Reader(), str(tmp_path / "room.toml")
    assert reader.check(file, text) == check_text(file, text)
    (tmp_path / "readings.csv").write_text("nonsense", encoding="utf-8")
    assert reader.check(file, text) == check_text(file, text)
