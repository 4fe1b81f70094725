"""The JSON Schema of the room file, made from the models, and what a key may hold in words.

Editors complete and check a room file with the schema; the error messages and the reference in the docs take their
words from it too, so that all three say the same.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, Any

from nookwright.survey.making_wishes import DAYS_AWAY, MOMENT, STRETCH
from nookwright.survey.models import Room

if TYPE_CHECKING:
    from nookwright.survey.locate import Path

Node = dict[str, Any]

TITLE = "Room file of nookwright, format 1"
_DIALECT = "https://json-schema.org/draft/2020-12/schema"
_LIMITS = {"ge": "minimum", "gt": "exclusiveMinimum", "le": "maximum", "lt": "exclusiveMaximum"}
_LIMIT_WORDS = {
    "exclusiveMinimum": "more than",
    "minimum": "at least",
    "exclusiveMaximum": "less than",
    "maximum": "at most",
}
_PATTERN_WORDS = {
    "^[a-z0-9]+(-[a-z0-9]+)*$": "a short name of lower case letters, digits and single hyphens",
    "^([a-z0-9]+(-[a-z0-9]+)*)?$": "a short name of lower case letters, digits and single hyphens",
    "^#[0-9a-fA-F]{6}$": "a colour as #rrggbb",
    STRETCH: "two times of a day such as 17:30-22:30",
    MOMENT: "a day as 2026-03-02, or with a time as 2026-03-02 17:30",
    DAYS_AWAY: "a day as 2026-03-07, or two as 2026-03-09 to 2026-03-12",
}
_READINGS = {"Readings": "floor and rim", "SideReadings": "floor, at and rim"}
_TYPE_WORDS = {
    "string": "a text",
    "integer": "a whole number",
    "number": "a number",
    "boolean": "true or false",
    "object": "a table",
}


@cache
def room_schema() -> Node:
    """The JSON Schema (draft 2020-12) of a room file as it is typed; not to be changed by the caller."""
    schema = {"$schema": _DIALECT, **Room.model_json_schema(mode="validation"), "title": TITLE}
    _tidy(schema)
    return schema


def _tidy(node: object) -> None:
    """Drop titles that only repeat the key, and put the limits of a length where a validator reads them."""
    if isinstance(node, list):
        for item in node:
            _tidy(item)
    if not isinstance(node, dict):
        return
    if isinstance(node.get("title"), str) and ("anyOf" in node or node.get("type") != "object"):
        node.pop("title") if node["title"] not in {*_READINGS, TITLE} else None
    limits = {name: node.pop(name) for name in _LIMITS if isinstance(node.get(name), int | float)}
    if limits.get("ge", 0) >= 0 and limits and "anyOf" in node:
        # The unit of a number is the file's, so only limits at nought can be checked without knowing it.
        node["anyOf"][0] |= {"exclusiveMinimum": 0} if limits.get("ge", 0) > 0 else {"minimum": 0}
    for value in node.values():
        _tidy(value)


def node_at(path: Path) -> Node | None:
    """The part of the schema that describes a path, or ``None`` where there is no such key."""
    node: Node | None = room_schema()
    for step in path:
        node = _step(_object_of(node), step) if node is not None else None
    return _sole(_object_of(node)) if node is not None else None


def _sole(node: Node) -> Node:
    """A table that may be left out, as that table."""
    branches = _branches(node)
    if "anyOf" not in node or len(branches) != 1:
        return node
    return {**branches[0], **{key: value for key, value in node.items() if key != "anyOf"}}


def _step(node: Node, step: str | int) -> Node | None:
    """One step down: a key of a table, or an item of a list."""
    if isinstance(step, int):
        items = [branch["items"] for branch in _branches(node) if "items" in branch]
        return items[0] if items else None
    for branch in _branches(node):
        if step in branch.get("properties", {}):
            found: Node = branch["properties"][step]
            return found
        if isinstance(branch.get("additionalProperties"), dict):
            other: Node = branch["additionalProperties"]
            return other
    return None


def _object_of(node: Node) -> Node:
    """The node itself, or what it refers to, with the description that stands beside the reference."""
    if "$ref" in node:
        target: Node = room_schema()["$defs"][node["$ref"].rpartition("/")[2]]
        beside = {key: value for key, value in node.items() if key != "$ref"}
        return {**target, **beside}
    return node


def _branches(node: Node) -> list[Node]:
    """The ways in which a value may be typed, without the null that stands for a key left out."""
    node = _object_of(node)
    if "anyOf" not in node:
        return [] if node.get("type") == "null" else [node]
    return [branch for inner in node["anyOf"] for branch in _branches(inner)]


def keys_at(path: Path) -> tuple[str, ...]:
    """The keys that a table at a path may hold."""
    node = node_at(path)
    return tuple(key for branch in _branches(node or {}) for key in branch.get("properties", {}))


def in_words(node: Node) -> str:
    """What a value may be, in words.

    >>> in_words({"type": "integer", "exclusiveMinimum": 0})
    'a whole number, more than 0'
    """
    node = _object_of(node)
    if not node:
        return "another value"
    if node.get("title") in _READINGS:
        return f"a length, a list of lengths, or a table with {_READINGS[node['title']]}; each more than 0"
    branches = _branches(node)
    if is_length(node):
        many = any(branch.get("type") == "array" for branch in branches)
        return ", ".join(["a length, or a list of lengths" if many else "a length", *_limits(branches[0])])
    if len(branches) != 1:
        return " or ".join(in_words(branch) for branch in branches)
    return _simple_words(branches[0])


def is_length(node: Node) -> bool:
    """Whether a value is a length or readings of one."""
    kinds = {branch.get("type") for branch in _branches(node)}
    return {"number", "string"} <= kinds


def choices(node: Node) -> tuple[str, ...]:
    """The values of a choice; empty where a value is none."""
    return tuple(str(value) for branch in _branches(node) for value in branch.get("enum", ()))


def _simple_words(node: Node) -> str:
    """What a value of one type may be."""
    if "const" in node:
        return f"{node['const']}"
    if "enum" in node:
        return "one of " + ", ".join(f'"{value}"' for value in node["enum"])
    if "pattern" in node:
        return _PATTERN_WORDS[node["pattern"]]
    if node.get("type") == "array":
        return "a list; each item " + in_words(node["items"])
    if node.get("type") == "string" and node.get("minLength"):
        return "a text that is not empty"
    return ", ".join([_TYPE_WORDS[node["type"]], *_limits(node)])


def _limits(node: Node) -> list[str]:
    """The limits of a number in words."""
    return [f"{words} {node[key]:g}" for key, words in _LIMIT_WORDS.items() if key in node]
