"""A room file as it was typed: its values before any model, and where each of them stands.

Vocabulary: a *path* is the way to a value, keys and places in lists from the top; a *key* is the same in words a person
can search for: ``lot.hex-keys.width``, or ``lot[3].width`` (counted from 1) where the lot has no id.
"""

from __future__ import annotations

import difflib
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from nookwright.ground.errors import Fault, LengthError
from nookwright.ground.lengths import read_length
from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from nookwright.survey.locate import Path, Places

LONGEST_SHOWN = Fact(60, unit="1", kind=Kind.CHOICE, source="Characters of a value that fit in a line of messages.")
DEEPEST_SHOWN = Fact(4, unit="1", kind=Kind.CHOICE, source="Values within values further in are not worth showing.")
BITS_SHOWN = Fact(200, unit="bit", kind=Kind.CALCULATED, source="An integer of LONGEST_SHOWN digits has about these.")


@dataclass(frozen=True)
class Typed:
    """A TOML file that could be read.

    Attributes:
        file: its path as the user gave it.
        data: its values.
        places: where each of them stands.
    """

    file: str
    data: dict[str, Any]
    places: Places

    def at(self, path: Path) -> object:
        """The value at a path; ``MISSING`` where there is none."""
        value: object = self.data
        for step in path:
            value = _inside(value, step)
        return value

    def tables(self, key: str) -> Iterator[tuple[Path, dict[str, Any]]]:
        """Every table of a list of tables, such as all lots, with its path; whatever is no table is passed over.

        One table that was typed with single brackets counts too, so that what refers to it is found.
        """
        listed = self.data.get(key)
        if isinstance(listed, dict):
            yield (key,), listed
        for index, table in enumerate(listed if isinstance(listed, list) else ()):
            if isinstance(table, dict):
                yield (key, index), table

    def ids(self, key: str) -> tuple[str, ...]:
        """The ids of a list of tables, those of broken tables too."""
        return tuple(table["id"] for _, table in self.tables(key) if isinstance(table.get("id"), str))

    def key(self, path: Path) -> str:
        """A path in words that a person can search for."""
        words = ""
        for length, step in enumerate(path, start=1):
            if isinstance(step, str):
                words += f".{step}" if words else step
                continue
            table = self.at(path[:length])
            name = table.get("id") if isinstance(table, dict) else None
            words += f".{name}" if isinstance(name, str) and name else f"[{step + 1}]"
        return _shortened(words)

    def fault(self, path: Path, *, allowed: str, remedy: str, found: str | None = None) -> Fault:
        """One thing that is wrong at a path; what is found is shown as typed unless it is said."""
        shown = show(self.at(path)) if found is None else found
        return Fault(self.file, self.places.line(path), self.key(path), shown, allowed, remedy)


def _inside(value: object, step: str | int) -> object:
    """What one step leads to; ``MISSING`` where it leads nowhere."""
    if isinstance(value, dict):
        return value.get(step, MISSING)
    if isinstance(value, list) and isinstance(step, int) and step < len(value):
        return value[step]
    return MISSING


class _Missing:
    """Stands for a value that is not in the file."""

    def __str__(self) -> str:
        return "nothing"


MISSING = _Missing()


def largest_length(typed: Typed, value: object) -> float | None:
    """The largest length of a value as typed, mm; ``None`` where it has none.

    Args:
        typed: the file, which says the unit of plain numbers.
        value: one length, or a list of them.
    """
    if isinstance(value, list):
        return max((found for one in value if (found := largest_length(typed, one))), default=None)
    unit = typed.at(("room", "units"))
    try:
        return read_length(value, unit if unit in ("mm", "cm", "in") else "mm")
    except LengthError:
        return None


def show(value: object) -> str:
    """A value as a person would have typed it in TOML, shortened.

    >>> show(True), show("a"), show([1, "b"])
    ('true', '"a"', '[1, "b"]')
    """
    return _shortened(_spelled(value, depth=0))


def _spelled(value: object, *, depth: int) -> str:
    """A value in the spelling of TOML, as deep as it will be shown."""
    if isinstance(value, list | dict):
        return "..." if depth > DEEPEST_SHOWN else _spelled_inside(value, depth + 1)
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int) and value.bit_length() > BITS_SHOWN:
        return "a number of many digits"
    return f'"{value}"' if isinstance(value, str) else str(value)


def _spelled_inside(value: list[Any] | dict[str, Any], depth: int) -> str:
    """A list or a table in the spelling of TOML; no more of it than will be shown."""
    most = int(LONGEST_SHOWN)
    if isinstance(value, list):
        return "[" + ", ".join(_spelled(item, depth=depth) for item in value[:most]) + "]"
    inside = ", ".join(f"{key} = {_spelled(item, depth=depth)}" for key, item in list(value.items())[:most])
    return f"{{ {inside} }}" if inside else "an empty table"


def _shortened(text: str) -> str:
    """A text on one line, cut where it is long."""
    line = "".join(sign if sign.isprintable() else " " for sign in text)
    return line if len(line) <= LONGEST_SHOWN else line[: int(LONGEST_SHOWN)] + "..."


def nearest(word: str, known: Iterable[str]) -> str:
    """The known word that looks most like one that is not known; empty where none does."""
    close = difflib.get_close_matches(word[: int(LONGEST_SHOWN)], sorted(known), n=1, cutoff=0.6)
    return close[0] if close else ""


def listed(names: Iterable[str], *, most: int = 30) -> str:
    """Names in one line, the rest counted."""
    names = list(dict.fromkeys(names))
    rest = f" and {len(names) - most} more" if len(names) > most else ""
    return ", ".join(names[:most]) + rest if names else "none, as there are none in this file"
