"""Lines of keys."""

from __future__ import annotations

import tomllib
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from nookwright.survey.locate import Place, locate
from nookwright.survey.rooms import demo_text

TEXT = """\
a.b = 1
["x"."y z"]
q = { a = 1, b.c = [1, # a comment
  2] }
[[space]]
id = "k"
[[space.blocked]]
x = "4"
[[space]]
  [[space.blocked]]
  [[space.blocked]]
  y = [ # another
    1, { a = 3 },
  ]
  [space.blocked.z]
  w = 1
"""


def test_every_kind_of_key_has_its_line_and_column() -> None:
    """Dotted and quoted keys, tables, lists of tables, tables of their last element, inline tables, lists."""
    found = locate(TEXT).found
    assert found["a", "b"] == Place(1, 1)
    assert found["x", "y z"] == Place(2, 2)
    assert found["x", "y z", "q", "b", "c"] == Place(3, 14)
    assert found["x", "y z", "q", "b", "c", 1] == Place(4, 3)
    assert found["space", 0] == Place(5, 3)
    assert found["space", 0, "blocked", 0, "x"] == Place(8, 1)
    assert found["space", 1, "blocked", 1, "y", 1, "a"] == Place(13, 10)
    assert found["space", 1, "blocked", 1, "z", "w"] == Place(16, 3)


def test_a_missing_key_has_the_line_of_what_encloses_it() -> None:
    """The nearest table above it; nought where there is none."""
    places = locate(TEXT)
    assert places.line(("space", 1, "width")) == 9
    assert places.line(("space", 0, "blocked", 0, "reason")) == 7
    assert places.line(("printer",)) == 0
    assert places.line(()) == 0


def paths(value: object, path: tuple[str | int, ...] = ()) -> list[tuple[str | int, ...]]:
    """Every path into a value of TOML."""
    found = [path] if path else []
    if isinstance(value, dict):
        for key, item in value.items():
            found += paths(item, (*path, key))
    if isinstance(value, list):
        for index, item in enumerate(value):
            found += paths(item, (*path, index))
    return found


def test_every_key_of_the_demo_room_has_a_line_that_names_it() -> None:
    """No key of a real file is without its line, and the line holds the key."""
    text = demo_text()
    lines = text.splitlines()
    found = locate(text).found
    for path in paths(tomllib.loads(text)):
        named = [step for step in path if isinstance(step, str)][-1]
        assert named in lines[found[path].line - 1]


keys = st.text(st.characters(codec="utf-8", exclude_categories=["Cc", "Cs"], exclude_characters='"\\'), max_size=8)


@given(st.dictionaries(keys, st.dictionaries(keys, st.integers(), min_size=1), min_size=1))
def test_any_quoted_keys_are_found(data: dict[str, dict[str, int]]) -> None:
    """Keys of any characters are found again on their own lines."""
    text = ""
    expected: dict[tuple[str, ...], int] = {}
    line = 0
    for table, pairs in data.items():
        line += 1
        text += f'["{table}"]\n'
        expected[table,] = line
        for key, value in pairs.items():
            line += 1
            text += f'"{key}" = {value}\n'
            expected[table, key] = line
    loaded: dict[str, Any] = tomllib.loads(text)
    assert loaded == data
    places = locate(text)
    assert {path: places.line(path) for path in expected} == expected
