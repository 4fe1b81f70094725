"""Changes of a text, as small as they are: made, undone, and made once more on a text that somebody else has changed.

Vocabulary: a *change* replaces one stretch of a text by another; *base* is what two people began with, *mine* and
*theirs* what each of them made of it.

Promise: a change and its reverse bring back the very same text. A merge holds every line that one of both wrote and
the other left alone; where both touched the same lines it says so and takes theirs. What it does not know: what the
text means.
"""

from __future__ import annotations

from dataclasses import dataclass
from difflib import SequenceMatcher
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence


@dataclass(frozen=True)
class Change:
    """One stretch of a text replaced by another.

    Attributes:
        at: where it begins, characters from the start of the text.
        removed: what stands there before.
        added: what stands there after.
    """

    at: int
    removed: str
    added: str

    @property
    def reverse(self) -> Change:
        """The change that undoes it."""
        return Change(self.at, self.added, self.removed)

    def fits(self, text: str) -> bool:
        """Whether a text has what is removed, where it is removed."""
        return 0 <= self.at <= len(text) and text.startswith(self.removed, self.at)

    def made(self, text: str) -> str:
        """The text after the change.

        Raises:
            ValueError: the text does not have there what is removed.
        """
        if not self.fits(text):
            raise ValueError(f"the text has something else at {self.at}")
        return text[: self.at] + self.added + text[self.at + len(self.removed) :]


def change_between(before: str, after: str) -> Change:
    """The smallest change of one stretch that makes a text of another.

    >>> change_between("width = 10", "width = 120")
    Change(at=9, removed='', added='2')
    """
    shortest = min(len(before), len(after))
    start = _common(before, after, shortest)
    end = _common(before[::-1], after[::-1], shortest - start)
    return Change(start, before[start : len(before) - end], after[start : len(after) - end])


def _common(one: str, other: str, most: int) -> int:
    """How many characters two texts begin with alike, by halving."""
    low, high = 0, most
    while low < high:
        middle = (low + high + 1) // 2
        low, high = (middle, high) if one[:middle] == other[:middle] else (low, middle - 1)
    return low


@dataclass(frozen=True)
class Merged:
    """Two texts brought together.

    Attributes:
        text: of both.
        clashes: what I wrote where the other wrote too, and which is therefore not in the text; line ends included.
    """

    text: str
    clashes: tuple[str, ...]


def merge(base: str, mine: str, theirs: str) -> Merged:
    r"""Bring two changed texts together, line by line; where both changed the same lines theirs stay.

    >>> merge("a\nb\nc\n", "A\nb\nc\n", "a\nb\nC\n")
    Merged(text='A\nb\nC\n', clashes=())
    >>> merge("a\n", "mine\n", "theirs\n")
    Merged(text='theirs\n', clashes=('mine\n',))
    """
    lines, my_lines, their_lines = (text.splitlines(keepends=True) for text in (base, mine, theirs))
    text: list[str] = []
    clashes: list[str] = []
    at = my_at = their_at = 0
    for start, my_start, their_start, length in _anchors(lines, my_lines, their_lines):
        old, my, their = lines[at:start], my_lines[my_at:my_start], their_lines[their_at:their_start]
        text += _settled(old, my, their)
        if old not in (my, their) and my != their:
            clashes.append("".join(my))
        text += lines[start : start + length]
        at, my_at, their_at = start + length, my_start + length, their_start + length
    return Merged("".join(text), tuple(clashes))


def _settled(old: Sequence[str], mine: Sequence[str], theirs: Sequence[str]) -> Sequence[str]:
    """What stands in place of some lines."""
    return mine if theirs == old else theirs


def _anchors(base: Sequence[str], mine: Sequence[str], theirs: Sequence[str]) -> Iterator[tuple[int, int, int, int]]:
    """Runs of lines that all three have: where they begin in each, and how many; an empty one at the end."""
    my_line, their_line = _kept(base, mine), _kept(base, theirs)
    start = 0
    while start < len(base):
        run = 0
        while start + run < len(base) and _together(start, run, my_line, their_line):
            run += 1
        if run:
            yield start, my_line[start], their_line[start], run
        start += max(1, run)
    yield len(base), len(mine), len(theirs), 0


def _together(start: int, step: int, mine: dict[int, int], theirs: dict[int, int]) -> bool:
    """Whether a line stands in both, as far from the first of its run as in the base."""
    line = start + step
    if start not in mine or start not in theirs:
        return False
    return mine.get(line) == mine[start] + step and theirs.get(line) == theirs[start] + step


def _kept(base: Sequence[str], other: Sequence[str]) -> dict[int, int]:
    """Which lines of the base another text still has, and where; what both begin and end with is not looked through."""
    shortest = min(len(base), len(other))
    start = next((n for n in range(shortest) if base[n] != other[n]), shortest)
    end = next((n for n in range(shortest - start) if base[-1 - n] != other[-1 - n]), shortest - start)
    middle = base[start : len(base) - end], other[start : len(other) - end]
    kept = {line: line for line in range(start)}
    for block in SequenceMatcher(a=middle[0], b=middle[1], autojunk=False).get_matching_blocks():
        kept |= {start + block.a + step: start + block.b + step for step in range(block.size)}
    return kept | {len(base) - n: len(other) - n for n in range(end, 0, -1)}
