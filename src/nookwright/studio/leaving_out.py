"""What could be left out, taken at its word: the lines of the room file that bring it about, written into a text.

A saving says what to write as lines of TOML, such as ``[choices]`` with ``liner = "sparse"``, or a ``[[lot]]`` with its
id and a key. What it does not know: whether that is worth it.
"""

from __future__ import annotations

import tomllib
from typing import TYPE_CHECKING, Any

from nookwright.studio.room_text import with_value

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from nookwright.studio.room_text import Path


def without_it(text: str, toml: str) -> str:
    """The text of a room file with the lines of a saving written into it.

    Args:
        text: of the room file.
        toml: lines of the saving.

    Raises:
        KeyError: a table that they name is not there.
        ValueError: either is no TOML, or a list in the lines has tables without an id.
    """
    for path, value in _values(tomllib.loads(toml), ()):
        text = with_value(text, path, value)
    return text


def _values(table: Mapping[str, Any], path: Path) -> Iterator[tuple[Path, Any]]:
    """Every value with its path; a table of a list is named by its id."""
    for key, value in table.items():
        if isinstance(value, dict):
            yield from _values(value, (*path, key))
        elif isinstance(value, list) and value and all(isinstance(one, dict) for one in value):
            for one in value:
                if "id" not in one:
                    raise ValueError(f"a table of {key} has no id")
                rest = {name: other for name, other in one.items() if name != "id"}
                yield from _values(rest, (*path, key, str(one["id"])))
        else:
            yield (*path, key), value
