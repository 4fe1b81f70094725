"""The JSON Schema of the room file, and what a key may hold in words."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from nookwright.survey.rooms import demo_text
from nookwright.survey.schema import choices, in_words, is_length, keys_at, node_at, room_schema

EXAMPLES = Path(__file__).parents[2] / "examples"


def errors_in(data: dict[str, Any]) -> list[str]:
    """The places at which the schema refuses a file."""
    return sorted(error.json_path for error in Draft202012Validator(room_schema()).iter_errors(data))


def test_the_schema_is_a_schema() -> None:
    """It is valid by the dialect that it names."""
    Draft202012Validator.check_schema(room_schema())


def test_the_schema_takes_rooms_that_load() -> None:
    """The demo room and the example in inches."""
    assert errors_in(tomllib.loads(demo_text())) == []
    assert errors_in(tomllib.loads((EXAMPLES / "sewing-corner.toml").read_text(encoding="utf-8"))) == []


def test_a_wall_may_lean_out() -> None:
    """A sign tells which way; it is not an error of the schema either."""
    data = tomllib.loads(demo_text())
    data["space"][0]["lean"] = {"left": -2, "right": "3 mm"}
    assert errors_in(data) == []


def test_the_schema_refuses_what_an_editor_should_mark() -> None:
    """Unknown keys, wrong choices, wrong types, impossible figures and names."""
    data = tomllib.loads(demo_text())
    data["spaces"] = []
    data["space"][0] |= {"kind": "drawr", "widht": 3, "width": 0, "mat": -1, "load_kg": -3, "id": "Bench"}
    data["lot"][0] |= {"count": 1.5}
    del data["printer"][0]["bed_width"]
    assert errors_in(data) == [
        "$",
        "$.lot[0].count",
        "$.printer[0]",
        "$.space[0]",
        "$.space[0].id",
        "$.space[0].kind",
        "$.space[0].load_kg",
        "$.space[0].mat",
        "$.space[0].width",
    ]


@pytest.mark.parametrize(
    ("path", "words"),
    [
        (("format",), "1"),
        (("room",), "a table"),
        (("room", "units"), 'one of "mm", "cm", "in"'),
        (("space",), "a list; each item a table"),
        (("space", 0, "mat"), "a length, at least 0"),
        (("space", 0, "lean", "left"), "a length"),
        (("space", 0, "width", "rim"), "a length, or a list of lengths, more than 0"),
        (("space", 0, "blocked", 0, "height"), "a length, more than 0"),
        (("space", 0, "children"), "true or false"),
        (("lot", 0, "count"), "a whole number, more than 0, at most 10000"),
        (("lot", 0, "near"), "a list; each item a short name of lower case letters, digits and single hyphens"),
        (("material", 0, "density_g_cm3"), "a number, more than 0.5, less than 9"),
        (("material", 0, "colour"), "a colour as #rrggbb"),
        (("room", "name"), "a text that is not empty"),
    ],
)
def test_what_a_key_may_hold_is_said_in_words(path: tuple[str | int, ...], words: str) -> None:
    """The words of messages and of the reference."""
    node = node_at(path)
    assert node is not None
    assert in_words(node) == words


def test_a_path_that_no_file_has_is_not_described() -> None:
    """Unknown keys, items of what is no list."""
    assert node_at(("space", 0, "widht")) is None
    assert node_at(("room", 0)) is None
    assert keys_at(("room", "name")) == ()
    assert in_words({}) == "another value"


def test_keys_lengths_and_choices_are_told_apart() -> None:
    """What messages ask of the schema."""
    assert keys_at(("space", 0, "width")) == ("floor", "rim", "at")
    assert keys_at(("room",)) == ("name", "units")
    assert is_length(node_at(("space", 0, "width")) or {})
    assert not is_length(node_at(("space", 0, "load_kg")) or {})
    assert choices(node_at(("lot", 0, "hazard")) or {}) == ("blade",)
    assert choices(node_at(("lot", 0, "count")) or {}) == ()
