"""Edits of a room file's text, against the same edits of its values."""

from __future__ import annotations

import copy
import tomllib
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.studio import room_text
from nookwright.studio.room_text import with_table, with_tables, with_value, without_table, without_tables
from nookwright.studio.toml_values import Value, key, typed
from nookwright.survey.rooms import demo_path

TEXT = """# head
format = 1   # first

[room]
name = 'shed'
# of the room
tags = [
  "a",  # one
  "b",
]

# ---- spaces

[[space]]
id = "left"     # by the door
width = { floor = [1, 2], rim = 3 }  # read twice

[[space.blocked]]
reason = "pipe"

# the right one
[[space]]
id = "right"
height.rim = 4

[choices]
layout = "calm"

# ---- places

[[place]]
lot = "x"
"""
VALUES = st.recursive(
    st.one_of(st.booleans(), st.integers(-(10**6), 10**6), st.floats(-1e6, 1e6), st.text(max_size=6)),
    lambda inner: st.one_of(st.lists(inner, max_size=3), st.dictionaries(st.text(max_size=4), inner, max_size=2)),
    max_leaves=5,
)
PATHS = st.sampled_from(
    [
        ("format",),
        ("units",),
        ("room", "name"),
        ("room", "tags"),
        ("room", "new"),
        ("space", "left", "width"),
        ("space", "left", "width", "rim"),
        ("space", "left", "width", "new"),
        ("space", "left", "depth"),
        ("space", "left", "blocked", 0, "reason"),
        ("space", "left", "blocked", 0, "x"),
        ("space", "left", "lean", "left"),
        ("space", "right", "height", "rim"),
        ("space", "right", "height", "floor"),
        ("space", "right", "id"),
        ("place", 0, "space"),
        ("choices", "rest"),
        ("choices", "colours", "liner"),
        ("making", "start"),
    ]
)


def changed(data: dict[str, Any], path: tuple[str | int, ...], value: object) -> dict[str, Any]:
    """The values after an edit, by plain steps through them."""
    new = copy.deepcopy(data)
    at: Any = new
    for step in path[:-1]:
        if isinstance(at, list):
            at = at[step] if isinstance(step, int) else next(one for one in at if one.get("id") == step)
        else:
            at = at.setdefault(step, {}) if value is not None else at.get(step, {})
    if value is None:
        at.pop(path[-1], None)
    else:
        at[path[-1]] = value
    return new


def comments(text: str) -> list[str]:
    """Every comment of a text that has no number sign in a string."""
    return sorted(line[line.index("#") :] for line in text.splitlines() if "#" in line)


@given(VALUES)
def test_a_value_is_read_back_as_it_is(value: Value) -> None:
    """By the reader of the standard library, under any key."""
    assert tomllib.loads(f"{key('a b')} = {typed(value)}") == {"a b": value}


@pytest.mark.parametrize("value", [float("nan"), float("inf"), "\ud800"])
def test_what_toml_cannot_say_is_refused(value: float | str) -> None:
    """No text of it is made."""
    with pytest.raises(ValueError, match=r"measured|surrogates"):
        typed(value)


@settings(max_examples=150)
@given(PATHS, st.one_of(st.none(), st.integers(0, 9), st.sampled_from(["word", [1, 2], {"a": 1}])))
def test_a_value_is_set_and_all_else_stays(path: tuple[str | int, ...], value: Value | None) -> None:
    """Of the values only that one differs, and every comment is still there where lines were not taken out."""
    after = with_value(TEXT, path, value)
    wanted = changed(tomllib.loads(TEXT), path, value)
    if value is None and path == ("space", "right", "height", "rim"):
        wanted["space"][1].pop("height")  # a dotted key leaves no empty table behind
    assert tomllib.loads(after) == wanted
    if value is not None and path != ("room", "tags"):
        assert comments(after) == comments(TEXT)
    if value is None:
        assert set(after.splitlines()) <= {*TEXT.splitlines(), *after.splitlines()}


@given(st.lists(st.tuples(PATHS, st.integers(0, 9)), max_size=6))
def test_edits_one_after_another(edits: list[tuple[tuple[str | int, ...], int]]) -> None:
    """In any order each finds what it is about, until its space has another id."""
    text, data = TEXT, tomllib.loads(TEXT)
    for path, value in edits:
        if path in {("space", "right", "id"), ("space", "left", "width"), ("format",)}:
            continue
        text, data = with_value(text, path, value), changed(data, path, value)
        assert tomllib.loads(text) == data


@pytest.mark.parametrize(
    "path", [("lot",), ("place",), ("space",), ("space", "left", "blocked"), ("space", "right", "lump")]
)
def test_a_table_comes_after_the_last_of_its_list(path: tuple[str | int, ...]) -> None:
    """Before the headline of what follows, with a blank line before it; and it can be taken out without a trace."""
    before = tomllib.loads(TEXT)
    after = with_table(TEXT, path, {"id": "new", "mass_g": 1.5, "reason": 'a "pipe"'})
    at: Any = before
    for step in path[:-1]:
        at = next(one for one in at if one["id"] == step) if isinstance(at, list) else at[step]
    at.setdefault(path[-1], []).append({"id": "new", "mass_g": 1.5, "reason": 'a "pipe"'})
    assert tomllib.loads(after) == before
    assert comments(after) == comments(TEXT)
    assert tomllib.loads(without_table(after, (*path, "new"))) == tomllib.loads(TEXT)


def test_a_headline_stays_where_it_is() -> None:
    """What is added to a list stands before the headline of the next section; what is taken out leaves it."""
    after = with_table(TEXT, ("space",), {"id": "third"})
    assert after.index("third") < after.index("# ---- places")
    assert "# ---- places" in without_table(TEXT, ("space", "right"))
    assert "# the right one" not in without_table(TEXT, ("space", "right"))


def test_a_space_goes_with_all_that_is_in_it() -> None:
    """Its tables within are taken out too."""
    assert tomllib.loads(without_table(TEXT, ("space", "left")))["space"] == [{"id": "right", "height": {"rim": 4}}]


@pytest.mark.parametrize(
    "path", [("space", "none", "width"), ("place", 7, "lot"), ("space", "left", "blocked", 3, "x")]
)
def test_what_is_not_there_is_not_edited(path: tuple[str | int, ...]) -> None:
    """An id or number that the file does not have is refused."""
    with pytest.raises(KeyError):
        with_value(TEXT, path, 1)
    with pytest.raises(KeyError):
        without_table(TEXT, path[:-1])


def test_a_list_in_one_line_takes_no_tables() -> None:
    """TOML forbids it; the text is not spoilt."""
    with pytest.raises(ValueError, match=r".+"):
        with_table("place = [{ lot = 'a' }]\n", ("place",), {"lot": "b"})


def test_line_ends_are_those_of_the_text() -> None:
    """A file from another system stays what it is."""
    after = with_table(with_value(TEXT.replace("\n", "\r\n"), ("room", "new"), 1), ("lot",), {"id": "a"})
    assert after.count("\n") == after.count("\r\n") > TEXT.count("\n")


def test_an_empty_file_can_be_begun() -> None:
    """And one whose last line has no end goes on in a line of its own."""
    assert with_value("", ("format",), 1) == "format = 1\n"
    assert with_table("format = 1", ("lot",), {"id": "a"}) == 'format = 1\n\n[[lot]]\nid = "a"\n'


def test_the_demo_can_be_edited_everywhere() -> None:
    """Lots get a count, spaces a load, all lots are taken out: all else of the demo stays, its comments too."""
    with demo_path() as path:
        text = path.read_text(encoding="utf-8")
    data = tomllib.loads(text)
    for name, keys in (("lot", ("count", "new_key")), ("space", ("load_kg", "width"))):
        for table in data[name]:
            for one in keys:
                after = with_value(text, (name, table["id"], one), 7)
                assert tomllib.loads(after) == changed(data, (name, table["id"], one), 7)
                assert len(comments(after)) == len(comments(text))
    gone = text
    for table in data["lot"]:
        gone = without_table(gone, ("lot", table["id"]))
    assert tomllib.loads(gone) == {name: value for name, value in data.items() if name != "lot"}


def test_many_places_at_once() -> None:
    """Those that are there are changed where they stand, with their comments; new ones come after the last."""
    text = TEXT + "printed = true  # since spring\nx = 1\n"
    places: dict[str, dict[str, Value | None]] = {
        "y": {"space": "left", "x": 2.5},
        "x": {"space": "right", "x": 7.0, "printed": None},
        "z": {"space": "left"},
    }
    after = with_tables(text, "place", "lot", places)
    assert tomllib.loads(after)["place"] == [
        {"lot": "x", "x": 7.0, "space": "right"},
        {"lot": "y", "space": "left", "x": 2.5},
        {"lot": "z", "space": "left"},
    ]
    assert after.startswith(TEXT)
    assert with_tables(text, "place", "lot", {}) == text


PLACES = st.dictionaries(
    st.sampled_from(["x", "y", "z", "w"]),
    st.dictionaries(st.sampled_from(["x", "space", "lot2"]), st.sampled_from([None, 1, 1.0, True, "left", [1]])),
)


@settings(max_examples=150)
@given(PLACES, PLACES, st.sampled_from(["\n", "\r\n"]), st.sampled_from(["", "# end", 'note = """\n[[place]]\n"""\n']))
def test_places_in_chapters_are_as_places_in_the_whole_text(
    first: dict[str, dict[str, Value | None]], then: dict[str, dict[str, Value | None]], end: str, tail: str
) -> None:
    """The quick way says what the plain one says, line for line but for values that are the same already."""
    text = (TEXT + tail).replace("\n", end)
    for places in (first, then):
        quick, plain = with_tables(text, "place", "lot", places), room_text._with_tables(text, "place", "lot", places)
        assert tomllib.loads(quick) == tomllib.loads(plain)
        assert [line.split("=")[0] for line in quick.splitlines()] == [
            line.split("=")[0] for line in plain.splitlines()
        ]
        assert ("\r\n" in quick) == (end == "\r\n")
        text = quick


def test_what_a_place_says_already_is_left_as_it_is_typed() -> None:
    """A whole number stays one; yes is not 1."""
    text = '[[place]]\nlot = "x"\nx = 12  # from the wall\nmay_move = true\n'
    assert with_tables(text, "place", "lot", {"x": {"x": 12.0, "may_move": True}}) == text
    assert tomllib.loads(with_tables(text, "place", "lot", {"x": {"may_move": 1}}))["place"][0]["may_move"] == 1


def test_all_tables_that_say_something_are_taken_out() -> None:
    """And no other."""
    text = (
        TEXT
        + """
[[place]]
lot = "y"
may_move = true

# of z
[[place]]
lot = "z"
may_move = true
"""
    )
    assert without_tables(text, "place", {"may_move": True}).rstrip() == TEXT.rstrip()
    assert without_tables(text, "place", {"may_move": False}) == text
    assert without_tables(TEXT, "lump", {"may_move": True}) == TEXT
    with pytest.raises(ValueError, match="one line"):
        without_tables("place = [{ lot = 'a' }]\n", "place", {"lot": "a"})


def test_a_table_that_only_has_tables_in_it_gets_a_header() -> None:
    """A key of [choices] where only [choices.colours] is there: before this was written into the latter."""
    text = '[choices.colours]\nliner = "white"\n\n[[lot]]\nid = "a"\n'
    after = with_value(text, ("choices", "layout"), "tightest")
    assert tomllib.loads(after) == {
        "choices": {"colours": {"liner": "white"}, "layout": "tightest"},
        "lot": [{"id": "a"}],
    }
