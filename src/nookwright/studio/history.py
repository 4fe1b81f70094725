"""What was done to a text, taken back and made again: the undo of the studio, replayed from its journal."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.studio.journal import Begun, Did, Folded, Redid, Undid, sha256

if TYPE_CHECKING:
    from collections.abc import Iterable

    from nookwright.studio.journal import Record


@dataclass(frozen=True)
class History:
    """A text with the way it came about.

    Attributes:
        text: as it is now.
        done: gestures that stand, the oldest first.
        undone: gestures that were taken back, the next to make again last.
    """

    text: str
    done: tuple[Did, ...] = ()
    undone: tuple[Did, ...] = ()

    def after(self, record: Record) -> History:
        """The history one record on.

        Raises:
            ValueError: the record does not follow: nothing to take back or make again, or another text.
        """
        match record:
            case Begun():
                return History(record.text)
            case Folded():
                return self
            case Did():
                return History(record.change.made(self.text), (*self.done, record))
            case Undid() if self.done:
                last = self.done[-1]
                text = last.change.reverse.made(self.text)
                return History(text, self.done[:-1], (*self.undone, last))
            case Redid() if self.undone:
                last = self.undone[-1]
                return History(last.change.made(self.text), (*self.done, last), self.undone[:-1])
        raise ValueError(f"nothing to do for {type(record).__name__}")


@dataclass(frozen=True)
class Told:
    """What a journal tells.

    Attributes:
        states: all that it leads through, the first one first; none for an empty journal.
        folded: which of them was written into the room file last.
    """

    states: tuple[History, ...]
    folded: int = 0


def replay(records: Iterable[tuple[Record, str]]) -> Told:
    """Every state that records lead through; they end at the first that does not follow.

    Args:
        records: each with the sha256 of the text after it.
    """
    states: list[History] = []
    folded = 0
    for record, sha in records:
        try:
            state = states[-1].after(record) if states else History("").after(record)
        except ValueError:
            break
        if sha256(state.text) != sha:
            break
        states.append(state)
        folded = len(states) - 1 if isinstance(record, Begun | Folded) else folded
    return Told(tuple(states), folded)
