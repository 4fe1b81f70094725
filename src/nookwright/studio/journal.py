"""The journal beside a room file: every gesture, written down before anybody sees what it did.

One line of JSON a record, the last thing done at the end. A line that is not whole was being written when the machine
or the program stopped: it is passed over, and so is nothing else. The kinds::

    {"begin": true, "text": "[room]...", "sha256": "..."}    the room file as it was found
    {"did": "set bench-left.width", "at": 120, "removed": "362", "added": "361", "sha256": "..."}
    {"undid": true, "sha256": "..."}                 the last gesture taken back; "redid" for one made again
    {"folded": true, "sha256": "..."}                the room file was written with all of the above

``sha256`` is that of the text after it, so a room file beside the journal can be told to be one of its states.

Promise: what was appended is on the disk when ``append`` returns. What it does not know: what gestures mean.
"""

from __future__ import annotations

import json
import os
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final, TypeAlias

from nookwright.ground.digest import digest
from nookwright.studio.text_changes import Change

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path


@dataclass(frozen=True)
class Begun:
    """The text that all after it goes on from."""

    text: str


@dataclass(frozen=True)
class Did:
    """One gesture.

    Attributes:
        name: what a person would call it.
        change: of the text.
    """

    name: str
    change: Change


@dataclass(frozen=True)
class Undid:
    """The last gesture that stood was taken back."""


@dataclass(frozen=True)
class Redid:
    """The last gesture that was taken back was made again."""


@dataclass(frozen=True)
class Folded:
    """The room file was written as the text is now."""


Record: TypeAlias = Begun | Did | Undid | Redid | Folded
_PLAIN: Final[dict[str, Record]] = {"undid": Undid(), "redid": Redid(), "folded": Folded()}


class Journal:
    """A file of records that only grows, until it is begun anew."""

    def __init__(self, path: Path) -> None:
        """Use a file; it is made when it is begun."""
        self._path = path
        self._length = 0  # of what is whole in it

    def read(self) -> tuple[tuple[Record, str], ...]:
        """All whole records, the oldest first, each with the sha256 of the text after it.

        There are none where the file is missing or begins with something else.
        """
        try:
            lines = self._path.read_bytes().split(b"\n")
        except FileNotFoundError:
            return ()
        records: list[tuple[Record, str]] = []
        for line in lines[:-1]:  # what follows the last line end was not written to its end
            read = _record(line)
            if read is None or (not records and not isinstance(read[0], Begun)):
                break
            records.append(read)
        return tuple(records)

    def append(self, record: Record, text: str) -> None:
        """Write one record to its end, and wait until it is on the disk.

        Args:
            record: what was done.
            text: the text after it.

        Raises:
            OSError: it cannot be written; what was written before stays as it is.
        """
        line = _line(record, text)
        with self._path.open("r+b") as file:
            file.truncate(self._length)  # half a line of a write that failed would end all that is believed
            file.seek(self._length)
            file.write(line)
            file.flush()
            os.fsync(file.fileno())
        self._length += len(line)

    def begin(self, records: Iterable[tuple[Record, str]]) -> None:
        """Begin it anew, whole or not at all.

        Args:
            records: the first of them begins; each with the text after it.
        """
        beside = self._path.with_name(f"{self._path.name}-new")
        lines = b"".join(_line(record, text) for record, text in records)
        with beside.open("wb") as file:
            file.write(lines)
            file.flush()
            os.fsync(file.fileno())
        beside.replace(self._path)
        self._length = len(lines)


def _line(record: Record, text: str) -> bytes:
    """A record as it stands in the file."""
    content: dict[str, Any]
    match record:
        case Begun():
            content = {"begin": True, "text": record.text}
        case Did():
            change = record.change
            content = {"did": record.name, "at": change.at, "removed": change.removed, "added": change.added}
        case _:
            content = {name: True for name, plain in _PLAIN.items() if plain == record}
    content["sha256"] = sha256(text)
    return json.dumps(content, ensure_ascii=True).encode() + b"\n"


def _record(line: bytes) -> tuple[Record, str] | None:
    """The record of a line with its sha256; nothing where it is none of ours."""
    try:
        content = json.loads(line)
        sha = str(content["sha256"])
        if "begin" in content:
            return Begun(str(content["text"])), sha
        if "did" in content:
            change = Change(int(content["at"]), str(content["removed"]), str(content["added"]))
            return Did(str(content["did"]), change), sha
        return next(((plain, sha) for name, plain in _PLAIN.items() if name in content), None)
    except (ValueError, TypeError, KeyError):
        return None


def sha256(text: str) -> str:
    """The sha256 of a text as UTF-8, in hexadecimal: that of the file it is written to."""
    return digest(text.encode())
