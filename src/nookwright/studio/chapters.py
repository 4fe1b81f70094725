"""A room file as chapters, so that a gesture costs what it changes and not what the whole file holds.

Vocabulary: a *chapter* is one table with its headline, and all tables inside it: one ``[[lot]]``, one ``[[space]]``
with its ``[[space.blocked]]``, the whole of ``[choices]``. What stands before all headlines is a chapter too.

Promise: chapters say exactly what the whole text says, and their texts one after another are the text. Each is TOML by
itself, so that a line which only looks like a headline, in a text or a list over several lines, is never taken for
one. A file that cannot be told in chapters has none: it is read as a whole. What it does not know: whether values are
sound.
"""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any, Final

if TYPE_CHECKING:
    from collections.abc import Mapping

_HEADLINE: Final = re.compile(r"^[ \t]*(\[\[?)([^\[\]\n]+)\]", re.MULTILINE)
_LISTED: Final = "[["
_BARE: Final = re.compile(r"[ \t]*([A-Za-z0-9_-]+)[ \t]*(\.?)")


@dataclass(frozen=True)
class Chapter:
    """One table with all tables inside it.

    Attributes:
        text: of it, headline and line ends included, and what follows up to the next headline.
        key: at the top of the file; empty for what stands before all headlines.
        listed: whether it is one table of a list.
        data: what it says: a table of a list by itself, all else under its key.
    """

    text: str
    key: str
    listed: bool
    data: dict[str, Any]


@dataclass(frozen=True)
class Chapters:
    """A text in chapters."""

    found: tuple[Chapter, ...]

    @cached_property
    def by_text(self) -> Mapping[str, Chapter]:
        """Each chapter by what it says, word for word."""
        return {one.text: one for one in self.found}

    @cached_property
    def data(self) -> dict[str, Any]:
        """What all of them say, as a reader of the whole text would have it; not to be changed."""
        data: dict[str, Any] = {}
        for one in self.found:
            if one.listed:
                data.setdefault(one.key, []).append(one.data)
            else:
                data.update(one.data)
        return data

    @property
    def text(self) -> str:
        """The whole text."""
        return "".join(one.text for one in self.found)

    def of_list(self, key: str) -> tuple[tuple[int, Chapter], ...]:
        """The tables of a list, each with its number among all chapters."""
        return tuple((number, one) for number, one in enumerate(self.found) if one.listed and one.key == key)


def chapters_of(text: str, known: Mapping[str, Chapter]) -> Chapters | None:
    """A text in chapters; nothing where it cannot be told in any.

    Args:
        text: of a room file.
        known: chapters that were read before, by their texts; only what is not among them is read.
    """
    found: list[Chapter] = []
    pieces = _pieces(text)
    for piece, key, listed in pieces:
        one = known.get(piece) or _read(piece, key, listed=listed)
        if one is None:
            return None
        found.append(one)
    return Chapters(tuple(found)) if pieces and _apart(found) else None


def _pieces(text: str) -> list[tuple[str, str, bool]]:
    """Text, key and kind of each chapter, if what looks like headlines are some; none where a key is quoted."""
    found: list[tuple[str, str, bool]] = []
    start, key, listed = 0, "", False
    for line in _HEADLINE.finditer(text):
        first = _BARE.match(line[2])
        if first is None:
            return []  # none that a room file has
        if first[2] and first[1] == key:
            continue  # a table inside the one above
        if line.start() or key:
            found.append((text[start : line.start()], key, listed))
        start, key, listed = line.start(), first[1], line[1] == _LISTED and not first[2]
    return [*found, (text[start:], key, listed)]


def _read(text: str, key: str, *, listed: bool) -> Chapter | None:
    """A chapter; nothing where it is none by itself."""
    try:
        data = tomllib.loads(text)
    except (ValueError, RecursionError):
        return None
    if not listed:
        return Chapter(text, key, listed, data) if not key or set(data) == {key} else None
    tables = data.get(key)
    if set(data) != {key} or not isinstance(tables, list) or len(tables) != 1:
        return None
    return Chapter(text, key, listed, tables[0])


def _apart(chapters: list[Chapter]) -> bool:
    """Whether no two chapters speak of the same table."""
    single = [name for one in chapters if not one.listed for name in one.data]
    lists = {one.key for one in chapters if one.listed}
    return len(single) == len(set(single)) and not lists & set(single)
