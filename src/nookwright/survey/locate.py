"""Where each key of a TOML file stands: the line of every path.

Vocabulary: a *path* is the way to a value, keys and places in lists from the top, such as ``("space", 2, "width")``.

Values come from the standard library's ``tomllib``, which is strict but tells no lines; the lines come from a syntax
tree. The tree is only asked where things stand, never what they are worth.
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache, lru_cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from tree_sitter import Node, Parser

Path = tuple[str | int, ...]


@dataclass(frozen=True, order=True)
class Place:
    """A place in a text: line and column, both counted from 1."""

    line: int
    column: int


@dataclass(frozen=True)
class Places:
    """The place of every key, table and list item of one file."""

    found: Mapping[Path, Place]

    def line(self, path: Path) -> int:
        """The line of a path, or of the nearest of what encloses it; 0 where nothing of it is in the file."""
        for length in range(len(path), 0, -1):
            place = self.found.get(path[:length])
            if place is not None:
                return place.line
        return 0


def locate(text: str) -> Places:
    r"""Find the place of every key of a TOML text that ``tomllib`` can read.

    >>> locate("[[space]]\nid = 'a'\nwidth = [1,\n 2]").line(("space", 0, "width", 1))
    4
    """
    return Places(walked(text).found)


def walked(text: str) -> Walk:
    """Walk over a TOML text that ``tomllib`` can read."""
    walk = Walk()
    walk.document(_parser().parse(text.encode()).root_node)
    return walk


class Walk:
    """One walk over a syntax tree, which collects places.

    Attributes:
        found: where each path first stands.
        tables: path and node of every table with a header, in their order.
        pairs: the node of every key with its value, by path.
    """

    def __init__(self) -> None:
        self.found: dict[Path, Place] = {}
        self.tables: list[tuple[Path, Node]] = []
        self.pairs: dict[Path, Node] = {}
        self.lengths: dict[Path, int] = {}  # of each list of tables, so far

    def document(self, root: Node) -> None:
        """Walk over the keys at the top and over all tables."""
        for child in root.named_children:
            if child.type == "pair":
                self.pair(child, ())
            elif child.type in {"table", "table_array_element"}:
                self.table(child)

    def table(self, node: Node) -> None:
        """Walk over a table ``[a.b]`` or an element ``[[a.b]]`` of a list of tables."""
        header, *pairs = [child for child in node.named_children if child.type != "comment"]
        path = self.resolved(_keys(header), element=node.type == "table_array_element")
        self.remember(path, header)
        self.tables.append((path, node))
        for pair in pairs:
            if pair.type == "pair":
                self.pair(pair, path)

    def resolved(self, keys: tuple[str, ...], *, element: bool) -> Path:
        """The path of a table's header: a list of tables on the way means its last element."""
        path: Path = ()
        for key in keys[:-1]:
            path = (*path, key)
            if path in self.lengths:
                path = (*path, self.lengths[path] - 1)
        path = (*path, keys[-1])
        if element:
            self.lengths[path] = self.lengths.get(path, 0) + 1
        return (*path, self.lengths[path] - 1) if path in self.lengths else path

    def pair(self, node: Node, table: Path) -> None:
        """Remember a key and walk over its value."""
        parts = [child for child in node.named_children if child.type != "comment"]
        path: Path = table
        for key in _keys(parts[0]):
            path = (*path, key)
            self.remember(path, parts[0])
        self.pairs[path] = node
        if len(parts) > 1:
            self.value(parts[1], path)

    def value(self, node: Node, path: Path) -> None:
        """Walk over a value that may hold others."""
        parts = [child for child in node.named_children if child.type != "comment"]
        if node.type == "array":
            for index, part in enumerate(parts):
                self.remember((*path, index), part)
                self.value(part, (*path, index))
        elif node.type == "inline_table":
            for part in parts:
                self.pair(part, path)

    def remember(self, path: Path, node: Node) -> None:
        """Keep the first place of a path, and of all that encloses it."""
        row, column = node.start_point
        place = Place(row + 1, column + 1)
        for length in range(1, len(path) + 1):
            self.found.setdefault(path[:length], place)


def _keys(node: Node) -> tuple[str, ...]:
    """The keys of a header or of the left side of a pair; quoted keys are read by ``tomllib`` as well."""
    return _read_keys((node.text or b"").decode())


@lru_cache(maxsize=4096)
def _read_keys(text: str) -> tuple[str, ...]:
    """The keys of a dotted name; the same few come again and again."""
    return tuple(_nested(tomllib.loads(f"{text} = 0")))


def _nested(table: dict[str, object]) -> Iterator[str]:
    """The keys of tables that hold one key each, from outside to inside."""
    inner: object = table
    while isinstance(inner, dict):
        ((key, inner),) = inner.items()
        yield key


@cache
def _parser() -> Parser:
    """The parser, made once."""
    import tree_sitter_toml
    from tree_sitter import Language, Parser

    return Parser(Language(tree_sitter_toml.language()))
