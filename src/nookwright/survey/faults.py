"""What the models refuse, said in our own words: what was found, what is allowed, what to do.

Each message names a key of the file as it was typed. The words for what is allowed come from the schema, so that a
message never disagrees with the reference in the docs.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from nookwright.ground.errors import Fault, LengthError
from nookwright.ground.lengths import ALLOWED_LENGTHS, read_length
from nookwright.survey.schema import choices, in_words, is_length, keys_at, node_at
from nookwright.survey.typed import MISSING, Typed, listed, nearest, show

if TYPE_CHECKING:
    from pydantic import ValidationError
    from pydantic_core import ErrorDetails

    from nookwright.survey.locate import Path

_TABLES = {"space", "lot", "process", "standard", "printer", "material"}
_LIMITS = {"greater_than_equal": ("ge", "at least"), "less_than_equal": ("le", "at most")}
_IN_RANGE = "Check the unit and the digits."


def faults_of(error: ValidationError, typed: Typed) -> tuple[Fault, ...]:
    """Every fault that a model found, one for each place."""
    details = [detail for detail in error.errors(include_url=False) if not _follows(detail, error)]
    return tuple(_fault(detail, typed) for detail in details)


def _follows(detail: ErrorDetails, error: ValidationError) -> bool:
    """Whether an error only says that a list is empty because its items are wrong, which is said already."""
    inside = len(detail["loc"])
    return detail["type"] == "too_short" and any(
        other["loc"][:inside] == detail["loc"] and len(other["loc"]) > inside
        for other in error.errors(include_url=False, include_input=False)
    )


def _fault(detail: ErrorDetails, typed: Typed) -> Fault:
    """One fault in our words."""
    kind, path = detail["type"], tuple(detail["loc"])
    if kind == "missing":
        return _missing(path, typed)
    if path[-1] == "[key]":
        return _height(path[:-1], typed)
    path = _as_typed(path, typed)
    if kind == "extra_forbidden":
        return _unknown_key(path, typed)
    node = node_at(path) or {}
    allowed = _limit(detail) if is_length(node) and kind in _LIMITS else in_words(node)
    if kind == "value_error":
        return _unread_length(path, allowed, typed)
    return typed.fault(path, allowed=allowed, remedy=_remedy(kind, typed.at(path), node, path))


def _height(path: Path, typed: Typed) -> Fault:
    """A height above the floor, typed as a key, that is no height."""
    return typed.fault(
        path,
        found=f"the height {show(path[-1])}",
        allowed=f"a height above the floor, more than 0, such as {ALLOWED_LENGTHS}",
        remedy="Write the height as the key, in quotation marks where it has a point or a unit: at = { 20 = 361 }.",
    )


def _limit(detail: ErrorDetails) -> str:
    """The limit of a length that was passed, in mm whatever the unit of the file is."""
    name, words = _LIMITS[detail["type"]]
    return f"a length of {words} {detail.get('ctx', {}).get(name, 0):g} mm"


def _as_typed(path: Path, typed: Typed) -> Path:
    """The path as it stands in the file, where readings need not name ``floor`` nor be in a list."""
    shorter = tuple(step for step in path if step != "floor")
    for attempt in (path, path[:-1], shorter, shorter[:-1]):
        if typed.at(attempt) is not MISSING and _is_reading(path):
            return attempt
    return path


def _is_reading(path: Path) -> bool:
    """Whether a path leads into readings, below a key such as ``width``."""
    return any(step in {"floor", "rim", "at"} for step in path[3:])


def _missing(path: Path, typed: Typed) -> Fault:
    """A key that must be there."""
    key = str(path[-1])
    node = node_at(path) or {}
    if len(path) == 1 and key in _TABLES:
        remedy = f"Add at least one table [[{key}]]."
    elif len(path) == 1 and key == "room":
        remedy = "Add a table [room] with a name."
    else:
        remedy = f"Add a line `{key} = ...`: {_description(node)}"
    return typed.fault(path, found="nothing", allowed=in_words(node), remedy=remedy)


def _description(node: dict[str, Any]) -> str:
    """What a key is for, as one sentence."""
    text = str(node.get("description", "it has no default")).strip()
    return text if text.endswith(".") else text + "."


def _unknown_key(path: Path, typed: Typed) -> Fault:
    """A key that no table of this kind has."""
    key, known = str(path[-1]), keys_at(path[:-1])
    close = nearest(key, known)
    remedy = f"Write {close} instead of {show(key)}." if close else "Delete it, or move it to the table it belongs to."
    found = f"the unknown key {show(key)}"
    return typed.fault(path, found=found, allowed=listed(known), remedy=remedy)


def _unread_length(path: Path, allowed: str, typed: Typed) -> Fault:
    """A length that cannot be read for certain; it is read once more as typed, to say why."""
    reason = "it is no length"
    try:
        read_length(typed.at(path))
    except LengthError as error:
        reason = str(error).partition("; allowed: ")[0]
    return typed.fault(path, allowed=f"{allowed}, such as {ALLOWED_LENGTHS}", remedy=_sentence(reason))


def _sentence(text: str) -> str:
    """A text as a sentence."""
    return text[:1].upper() + text[1:].rstrip(".") + "."


def _remedy(kind: str, value: object, node: dict[str, Any], path: Path) -> str:
    """What to do about a value that is not allowed."""
    if kind in {"enum", "literal_error"} and choices(node):
        close = nearest(value, choices(node)) if isinstance(value, str) else ""
        return f'Write "{close}".' if close else "Choose one of them."
    if kind.startswith(("greater_than", "less_than")) or kind == "finite_number":
        return _IN_RANGE
    if kind == "literal_error":
        return "Write the version of the format that this program reads."
    if kind == "string_pattern_mismatch":
        return "Write it in that form."
    if kind in {"too_short", "string_too_short"}:
        return "Fill it in." if kind == "string_too_short" else "Give at least one."
    return _retype(kind, value, path)


def _retype(kind: str, value: object, path: Path) -> str:
    """What to do about a value of another type."""
    if kind == "tuple_type":
        if path[-1] in _TABLES and len(path) == 1 and isinstance(value, dict):
            return f"Write [[{path[-1]}]] with two brackets on each side."
        return "Put it in square brackets."
    if isinstance(value, str) and kind in {"float_type", "int_type", "bool_type"}:
        return "Write it without quotation marks."
    if kind == "string_type":
        return "Put it in quotation marks." if not isinstance(value, list | dict) else "Write one text."
    if kind == "int_type":
        return "Write a whole number without a decimal point."
    return "Write a value of that kind."
