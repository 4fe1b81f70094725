"""Edits of a room file's text that leave every comment, blank line and order as they are.

Vocabulary: a *path* leads to a value by keys; a table of a list is named by its id, or counted from 0 where it has
none: ``("space", "bench-left", "width")``, ``("space", "bench-left", "blocked", 0, "reason")``.

Promise: the text given back says what was asked, and else what it said before. Comments stay where they are; only a
table that is taken out takes those right above it along. Written by ourselves: a general writer of TOML keeps comments
too, but puts a new table behind the headline of the next section, and takes that headline out with the table before it.
What it does not know: whether values are sound; ``survey`` says that.
"""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final, NamedTuple

from nookwright.studio.chapters import chapters_of
from nookwright.studio.toml_values import Value, key, typed
from nookwright.survey.locate import walked

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from tree_sitter import Node

    from nookwright.studio.chapters import Chapter
    from nookwright.survey.locate import Walk

Path = tuple[str | int, ...]
_COMMENT: Final = re.compile(rb"[ \t]*#[^\n]*\n")
_BLANK: Final = re.compile(rb"[ \t]*\r?\n")


def with_value(text: str, path: Path, value: Value | None) -> str:
    """The text with a value at a path.

    Args:
        text: of a room file.
        path: at least one key. The tables on the way must be there, but for one without a list: it is made.
        value: ``None`` takes the key out with its line, if it is there.

    Raises:
        KeyError: a table on the way is not there.
        ValueError: the text is no TOML.
    """
    sheet = _Sheet.of(text)
    return sheet.after(sheet.setting(sheet.resolved(path[:-1]), str(path[-1]), value)) or text


def with_table(text: str, path: Path, table: Mapping[str, Value]) -> str:
    """The text with one more table at the end of a list, such as one more ``[[lot]]``.

    Args:
        text: of a room file.
        path: of the list, such as ``("lot",)`` or ``("space", "bench-left", "blocked")``.
        table: its keys in order.

    Raises:
        KeyError: a table on the way is not there.
        ValueError: the text is no TOML.
    """
    sheet = _Sheet.of(text)
    found = (*sheet.resolved(path[:-1]), path[-1])
    header = ".".join(key(step) for step in found if isinstance(step, str))
    lines = [f"[[{header}]]", *(f"{key(name)} = {typed(value)}" for name, value in table.items())]
    new = sheet.after([sheet.block(found, "\n".join(lines) + "\n")])
    tomllib.loads(new)  # a list that stands in one line cannot go on as tables
    return new


def without_table(text: str, path: Path) -> str:
    """The text without a table of a list, and without the comments right above it.

    Args:
        text: of a room file.
        path: of the table, such as ``("lot", "hex-keys")``.

    Raises:
        KeyError: it is not there.
        ValueError: the text is no TOML.
    """
    sheet = _Sheet.of(text)
    return sheet.after(sheet.without_block(sheet.resolved(path)))


def without_tables(text: str, name: str, keys: Mapping[str, Value]) -> str:
    """The text without all tables of a list that say something, such as all ``[[place]]`` with ``may_move = true``.

    Args:
        text: of a room file.
        name: of the list.
        keys: what a table must say, all of it, to be taken out.

    Raises:
        ValueError: the text is no TOML, or the list stands in one line.
    """
    sheet = _Sheet.of(text)
    listed = sheet.data.get(name)
    cuts: list[_Cut] = []
    for number, table in enumerate(listed if isinstance(listed, list) else ()):
        if all(one in table and table[one] == value for one, value in keys.items()):
            try:
                cuts += sheet.without_block((name, number))
            except KeyError as error:
                raise ValueError(f"{name} stands in one line") from error
    return sheet.after(cuts) or text


def with_tables(
    text: str,
    name: str,
    about: str,
    tables: Mapping[str, Mapping[str, Value | None]],
    *,
    known: Mapping[str, Chapter] | None = None,
) -> str:
    """The text with some keys of many tables of a list at once, such as the ``[[place]]`` of many lots.

    Args:
        text: of a room file.
        name: of the list.
        about: the key by which a table is known, such as ``lot``; tables that are not there are made.
        tables: by the value of that key, what they shall say; ``None`` takes a key out, keys not named stay.
        known: chapters that were read already, so that only what changes is read.

    Raises:
        ValueError: the text is no TOML, or the list stands in one line.
    """
    whole = text if not text or text.endswith("\n") else text + "\n"
    chapters = chapters_of(whole, known or {})
    listed = chapters.of_list(name) if chapters else ()
    if chapters is None or (not listed and name in chapters.data):
        return _with_tables(text, name, about, tables)
    crlf, texts = "\r\n" in text, [one.text for one in chapters.found]
    there = {_hashable(one.data.get(about)): (number, one) for number, one in listed}
    new: dict[str, Mapping[str, Value | None]] = {}
    for which, keys in tables.items():
        if which not in there:
            new[which] = keys
            continue
        number, one = there[which]
        other = {key: value for key, value in keys.items() if not _says(one.data, key, value)}
        texts[number] = _with_tables(one.text, name, about, {which: other}, crlf=crlf) if other else one.text
    last = listed[-1][0] if listed else len(texts) - 1
    texts[last] = _with_tables(texts[last], name, about, new, crlf=crlf) if new else texts[last]
    return text if texts == [one.text for one in chapters.found] else "".join(texts)


def _with_tables(
    text: str, name: str, about: str, tables: Mapping[str, Mapping[str, Value | None]], *, crlf: bool = False
) -> str:
    """The same for a text that is taken as a whole.

    Args:
        text: of a room file, or of a chapter of it.
        name: of the list.
        about: the key by which a table is known.
        tables: what they shall say.
        crlf: whether lines end as they do on some machines, whatever the text says.

    Raises:
        ValueError: the text is no TOML, or the list stands in one line.
    """
    sheet = _Sheet.of(text, crlf=crlf)
    listed = sheet.data.get(name)
    there = {_hashable(table.get(about)): n for n, table in enumerate(listed if isinstance(listed, list) else ())}
    cuts: list[_Cut] = []
    blocks: list[_Cut] = []  # behind the keys, where both stand at the same place
    for which, keys in tables.items():
        if which in there:
            for one, value in keys.items():
                cuts += sheet.setting((name, there[which]), one, value)
        else:
            said = {about: which, **{one: value for one, value in keys.items() if value is not None}}
            lines = [f"[[{key(name)}]]", *(f"{key(one)} = {typed(value)}" for one, value in said.items())]
            blocks.append(sheet.block((name,), "\n".join(lines) + "\n"))
    new = sheet.after([*cuts, *blocks]) or text
    tomllib.loads(new)
    return new


def _says(data: Mapping[str, Any], name: str, value: Value | None) -> bool:
    """Whether a table says a value already, however it is typed; a number is not the same as a yes."""
    if value is None or name not in data:
        return value is None and name not in data
    return bool(data[name] == value) and isinstance(data[name], bool) == isinstance(value, bool)


def _hashable(value: object) -> object:
    """A value by which tables may be known; all that is no word is none."""
    return value if isinstance(value, str) else None


class _Cut(NamedTuple):
    """Something else in a place of the text, in bytes."""

    start: int
    end: int
    new: str


@dataclass(frozen=True)
class _Sheet:
    """A text with what stands where in it, counted in bytes as the parser does."""

    content: bytes
    data: dict[str, Any]
    walk: Walk
    crlf: bool

    @staticmethod
    def of(text: str, *, crlf: bool = False) -> _Sheet:
        """Read a text, with a line end after its last line.

        Args:
            text: of a room file, or of a chapter of it.
            crlf: whether new lines end in two signs even where the text has no such line.

        Raises:
            ValueError: it is no TOML.
        """
        whole = text if not text or text.endswith("\n") else text + "\n"
        content = whole.encode()
        return _Sheet(content, tomllib.loads(whole), walked(whole), crlf or b"\r\n" in content)

    def resolved(self, path: Path) -> Path:
        """A path with numbers instead of ids.

        Raises:
            KeyError: a table of a list is not there.
        """
        found: Path = ()
        value: object = self.data
        for step in path:
            if isinstance(value, list):
                number = _number(value, step)
                found, value = (*found, number), value[number]
            else:
                found, value = (*found, step), value.get(step) if isinstance(value, dict) else None
        return found

    def after(self, cuts: Sequence[_Cut]) -> str:
        """The text after all cuts, none of which overlap, with its own line ends; empty without any."""
        if not cuts:
            return ""
        pieces: list[bytes] = []
        at = 0
        for cut in _first_first(cuts):
            new = cut.new.replace("\n", "\r\n") if self.crlf else cut.new
            pieces += [self.content[at : cut.start], new.encode()]
            at = max(at, cut.end)
        return b"".join([*pieces, self.content[at:]]).decode()

    def setting(self, table: Path, name: str, value: Value | None) -> list[_Cut]:
        """What sets a key of a table, or takes it out; nothing where it is not there."""
        pair = self.walk.pairs.get((*table, name))
        if pair is None:
            return [] if value is None else [self.new_pair(table, f"{key(name)} = {typed(value)}")]
        node = _value(pair)
        return [self.without_pair(pair) if value is None else _Cut(node.start_byte, node.end_byte, typed(value))]

    def without_pair(self, pair: Node) -> _Cut:
        """The text without a key; of an inline table it takes the comma along."""
        if pair.parent is not None and pair.parent.type == "inline_table":
            rest = [node for node in pair.parent.named_children if node != pair]
            inside = ", ".join(self.content[node.start_byte : node.end_byte].decode() for node in rest)
            return _Cut(pair.parent.start_byte, pair.parent.end_byte, f"{{ {inside} }}" if inside else "{}")
        return _Cut(self.line_of(pair.start_byte), self.after_line(_value(pair).end_byte), "")

    def new_pair(self, table: Path, line: str) -> _Cut:
        """One more key at the end of a table; the table is made where it is missing."""
        inline = self.walk.pairs.get(table)
        if inline is not None and _value(inline).type == "inline_table":
            node = _value(inline)
            inside = [self.content[one.start_byte : one.end_byte].decode() for one in node.named_children]
            return _Cut(node.start_byte, node.end_byte, f"{{ {', '.join([*inside, line])} }}")
        header = next((node for path, node in self.walk.tables if path == table), None)
        if header is not None or not table:
            at = self.end_of_body(header)
            return _Cut(at, at, f"{line}\n")
        dotted = [
            node
            for path, node in self.walk.pairs.items()
            if path[: len(table)] == table and len(self.home_of(node)) < len(table)
        ]
        if dotted:
            at = self.after_line(dotted[-1].end_byte)
            begun = (
                self.content[dotted[-1].start_byte : dotted[-1].named_children[0].end_byte].decode().rsplit(".", 1)[0]
            )
            return _Cut(at, at, f"{begun}.{line}\n")
        name = ".".join(key(step) for step in table if isinstance(step, str))
        return self.block(table, f"[{name}]\n{line}\n")

    def home_of(self, pair: Node) -> Path:
        """The path of the table with a header that a key stands in; empty before all of them."""
        return next((path for path, node in self.walk.tables if node == pair.parent), ())

    def block(self, path: Path, block: str) -> _Cut:
        """A table after the last of its list, or after what it belongs to, or at the end."""
        at = self.end_of(path)
        if at is None and len(path) > 1:
            at = self.end_of(path[:-1])
        if at is None:
            at = len(self.content)
        apart = "\n" if at else ""
        return _Cut(at, at, f"{apart}{block}")

    def without_block(self, path: Path) -> list[_Cut]:
        """What takes out a table and all tables inside it, and the blank lines after them.

        Raises:
            KeyError: it is not there.
        """
        blocks = [node for found, node in self.walk.tables if found[: len(path)] == path]
        if not blocks:
            raise KeyError(path[-1])
        cuts = []
        for node in blocks:
            start, end = self.above(node.start_byte), self.end_of_body(node)
            while match := _BLANK.match(self.content, end):
                end = match.end()
            cuts.append(_Cut(start, end, ""))
        return cuts

    def end_of(self, path: Path) -> int | None:
        """Where the last table of a path, or within it, ends; nothing where there is none."""
        ends = [self.end_of_body(node) for found, node in self.walk.tables if found[: len(path)] == path]
        return max(ends, default=None)

    def end_of_body(self, table: Node | None) -> int:
        """Where the last key of a table ends, line end included; of ``None`` that of the keys before all tables."""
        if table is None:
            first = self.walk.tables[0][1].start_byte if self.walk.tables else len(self.content)
            ends = [node.end_byte for node in self.walk.pairs.values() if node.end_byte <= first]
            return self.after_line(max(ends)) if ends else 0
        ends = [node.end_byte for node in table.named_children if node.type != "comment"]
        return self.after_line(max(ends))

    def above(self, at: int) -> int:
        """Where the comment lines begin that stand right above a line."""
        start = self.line_of(at)
        while start:
            before = self.line_of(start - 1)
            if not _COMMENT.fullmatch(self.content[before:start]):
                break
            start = before
        return start

    def line_of(self, at: int) -> int:
        """Where the line begins that a byte is in."""
        return self.content.rfind(b"\n", 0, at) + 1

    def after_line(self, at: int) -> int:
        """Where the line after that of a byte begins."""
        return self.content.find(b"\n", at) + 1 or len(self.content)


def _first_first(cuts: Sequence[_Cut]) -> list[_Cut]:
    """Cuts from the beginning of the text; of several at one place the first one first."""
    return sorted(cuts, key=lambda cut: cut.start)


def _value(pair: Node) -> Node:
    """The value of a key, without the comment behind it."""
    return [node for node in pair.named_children if node.type != "comment"][-1]


def _number(listed: list[object], which: str | int) -> int:
    """The number of a table of a list."""
    if isinstance(which, int):
        if not 0 <= which < len(listed):
            raise KeyError(which)
        return which
    for number, table in enumerate(listed):
        if isinstance(table, dict) and table.get("id") == which:
            return number
    raise KeyError(which)
