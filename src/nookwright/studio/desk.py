"""The room file on the desk: what was done to it, in the file and in its journal, and who else has changed it.

Promise: a gesture is in the journal, and on the disk, before anybody sees what it did; it is folded into the room
file when ``fold`` is called, whole or not at all. Whatever is killed when, at most the gesture in hand is lost, and
what was done can still be taken back. A room file that somebody edits meanwhile is noticed: both edits are brought
together line by line, and where both touched the same line the file's stays and the other is named, once, and can be
made again by "undo". What it does not know: whether the text is a sound room.
"""

from __future__ import annotations

import os
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from nookwright.ground.sources import Fact, Kind
from nookwright.studio.history import History, replay
from nookwright.studio.journal import Begun, Did, Folded, Journal, Record, Redid, Undid
from nookwright.studio.text_changes import change_between, merge

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

OUTSIDE: Final = "edit outside the studio"
KEPT = Fact(500, unit="1", kind=Kind.CHOICE, source="Gestures that can be taken back: more than a day's work.")


@dataclass(frozen=True)
class Noticed:
    """What somebody else did to the room file.

    Attributes:
        clashes: what was done here but clashes with it, and is therefore not in the text any more.
    """

    clashes: tuple[str, ...] = ()


class Desk:
    """One room file, being worked on. Not for several threads."""

    def __init__(self, room_file: Path) -> None:
        """Take a room file onto the desk, with its journal where there is one.

        Args:
            room_file: must be there, and be UTF-8.

        Raises:
            OSError: it cannot be read.
            UnicodeDecodeError: it is no UTF-8.
        """
        self._file = room_file
        self._journal = Journal(room_file.with_name(f"{room_file.name}.journal"))
        self._told: list[Callable[[], None]] = []
        self.revision = 0
        self._on_disk = _read(room_file)
        self._history = self._found()

    @property
    def text(self) -> str:
        """The room as it is now."""
        return self._history.text

    @property
    def folded(self) -> bool:
        """Whether the room file holds all that was done."""
        return self.text == self._on_disk

    @property
    def done(self) -> tuple[str, ...]:
        """Names of the gestures that can be taken back, the oldest first."""
        return tuple(one.name for one in self._history.done)

    @property
    def undone(self) -> tuple[str, ...]:
        """Names of those that can be made again, the next one last."""
        return tuple(one.name for one in self._history.undone)

    def on_change(self, tell: Callable[[], None]) -> Callable[[], None]:
        """Have somebody told of every change.

        Returns:
            Call it to be told no longer.
        """
        self._told.append(tell)
        return lambda: self._told.remove(tell) if tell in self._told else None

    def do(self, name: str, text: str) -> bool:
        """Make the text another one.

        Args:
            name: of the gesture, for people.
            text: after it.

        Returns:
            Whether that changed anything.
        """
        if text == self.text:
            return False
        self._record(Did(name, change_between(self.text, text)))
        return True

    def undo(self) -> str:
        """Take the last gesture back; its name, or nothing where there is none."""
        name = self.done[-1] if self.done else ""
        if name:
            self._record(Undid())
        return name

    def redo(self) -> str:
        """Make the last gesture that was taken back again; its name, or nothing where there is none."""
        name = self.undone[-1] if self.undone else ""
        if name:
            self._record(Redid())
        return name

    def notice(self) -> Noticed | None:
        """Look whether somebody else has changed the room file, and bring both together; nothing where nobody has.

        Raises:
            OSError: the room file cannot be read any more; what was done is in the journal.
            UnicodeDecodeError: it is no UTF-8 any more.
        """
        theirs = _read(self._file)
        if theirs == self._on_disk:
            return None
        merged = merge(self._on_disk, self.text, theirs)
        self._on_disk = theirs
        if merged.text != self.text:
            self._record(Did(OUTSIDE, change_between(self.text, merged.text)))
        return Noticed(merged.clashes)

    def fold(self) -> Noticed | None:
        """Write all that was done into the room file, whole or not at all; what was noticed of others before that.

        Raises:
            OSError: it cannot be written; what was done is in the journal.
        """
        noticed = self.notice()
        if not self.folded:
            _write(self._file, self.text)
            self._on_disk = self.text
            self._journal.append(Folded(), self.text)
        return noticed

    def _record(self, record: Record) -> None:
        """Write a record down, then let it happen, then tell."""
        after = self._history.after(record)
        self._journal.append(record, after.text)
        self._history = after
        self.revision += 1
        for tell in tuple(self._told):
            tell()

    def _found(self) -> History:
        """What the journal tells, brought together with the room file; a new journal where it tells nothing."""
        told = replay(self._journal.read())
        history = told.states[-1] if told.states else History(self._on_disk)
        if self._on_disk not in {state.text for state in told.states}:
            base = told.states[told.folded].text if told.states else self._on_disk
            merged = merge(base, history.text, self._on_disk)
            if merged.text != history.text:
                history = history.after(Did(OUTSIDE, change_between(history.text, merged.text)))
        self._journal.begin(_retold(history, self._on_disk))
        return replay(self._journal.read()).states[-1]


def _retold(history: History, on_disk: str) -> Iterator[tuple[Record, str]]:
    """The records that lead to a history, without what is too old to be taken back; each with the text after it."""
    state = history
    for _ in history.done[-int(KEPT) :]:
        state = state.after(Undid())
    yield Begun(state.text), state.text
    again: list[Record] = [*history.done[-int(KEPT) :], *reversed(history.undone)]
    for record in [*again, *(Undid() for _ in history.undone)]:
        state = state.after(record)
        yield record, state.text
        if state.text == on_disk:
            yield Folded(), state.text


def _read(path: Path) -> str:
    """A text with its line ends as they are."""
    return path.read_bytes().decode("utf-8")


def _write(path: Path, text: str) -> None:
    """Write a text whole or not at all, with the rights that the file has."""
    beside = path.with_name(f".{path.name}-new")
    with beside.open("wb") as file:
        file.write(text.encode())
        file.flush()
        os.fsync(file.fileno())
    beside.chmod(path.stat().st_mode)
    beside.replace(path)
