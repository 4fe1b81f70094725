"""Rows as they are laid: which trays stand in each, in what order, how wide; and where that puts them.

Everything here is said along the rows: ``along`` runs with a row, ``across`` from row to row. Rows run from left to
right, or, where a space reads better so, from front to back; ``Field`` turns one into the other.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple

from nookwright.layout.calm.terms import MOST_RISES, may_grow
from nookwright.layout.model import Placed

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nookwright.layout.calm.tables import Option
    from nookwright.layout.model import Grid


class Field:
    """The cells of a space as its rows see them."""

    def __init__(self, grid: Grid, *, swap: bool) -> None:
        """Look at a space.

        Args:
            grid: the space.
            swap: whether rows run from front to back.
        """
        self.grid, self.swap = grid, swap
        self.long, self.deep = (grid.rows, grid.cols) if swap else (grid.cols, grid.rows)
        self.blocked = frozenset((r, c) if swap else (c, r) for c, r in grid.blocked)
        self._runs: dict[tuple[int, int], tuple[tuple[int, int], ...]] = {}

    @cached_property
    def even(self) -> bool:
        """Whether a row is the same wherever it begins."""
        return not self.blocked

    def runs(self, first: int, depth: int) -> tuple[tuple[int, int], ...]:
        """Begin and length of the free runs of a row.

        Args:
            first: where it begins, across.
            depth: how deep it is.
        """
        if first < 0 or first + depth > self.deep:
            return ()
        if self.even:
            return ((0, self.long),)
        key = (first, depth)
        if key not in self._runs:
            self._runs[key] = tuple(self._find(first, depth))
        return self._runs[key]

    def _find(self, first: int, depth: int) -> list[tuple[int, int]]:
        found, begin = [], -1
        for at in range(self.long + 1):
            free = at < self.long and not any((at, first + deep) in self.blocked for deep in range(depth))
            if free and begin < 0:
                begin = at
            elif not free and begin >= 0:
                found.append((begin, at - begin))
                begin = -1
        return found

    def placed(self, slot: Slot, along: int, across: int) -> Placed:
        """A part in its place.

        Args:
            slot: what it is.
            along: where it begins along the row.
            across: where it begins across.
        """
        wide, deep = slot.wide, slot.deep
        col, row, cols, rows = (across, along, deep, wide) if self.swap else (along, across, wide, deep)
        one = slot.option
        return Placed(self.grid.space, col, row, cols, rows, one.turned, one.candidate, slot.height)


@dataclass(frozen=True)
class Slot:
    """One part of a row.

    Attributes:
        lot: number of the lot.
        option: what it is, as it lies.
        wide: cells along the row, those that it grew by included.
        deep: cells across.
        height: outer height, mm.
    """

    lot: int
    option: Option
    wide: int
    deep: int
    height: float


@dataclass(frozen=True)
class Block:
    """What stands side by side in a row: one part through its depth, or a piece that is parted in front and behind."""

    front: tuple[Slot, ...]
    back: tuple[Slot, ...] = ()

    @property
    def slots(self) -> tuple[Slot, ...]:
        """All parts."""
        return (*self.front, *self.back)

    @property
    def wide(self) -> int:
        """Cells along the row."""
        return max(sum(slot.wide for slot in self.front), sum(slot.wide for slot in self.back))


@dataclass(frozen=True)
class Row:
    """One row.

    Attributes:
        depth: cells across.
        line: depth of the front of its parted piece, 0 for none.
        blocks: from left to right, or from front to back.
    """

    depth: int
    line: int
    blocks: tuple[Block, ...]

    @property
    def slots(self) -> tuple[Slot, ...]:
        """All parts."""
        return tuple(slot for block in self.blocks for slot in block.slots)


class Span(NamedTuple):
    """One part in its place: number of its row, what it is, and its corner nearest to the front left."""

    row: int
    slot: Slot
    along: int
    across: int


@dataclass(frozen=True)
class Rows:
    """A whole space in rows.

    Attributes:
        rows: from the front to the back, or from left to right.
        gap: before which of them what is over is left free; their number for behind the last.
    """

    rows: tuple[Row, ...]
    gap: int

    def spans(self, field: Field) -> tuple[Span, ...] | None:
        """Where every part lies, row by row; ``None`` if they do not fit.

        Args:
            field: the space.
        """
        over = field.deep - sum(row.depth for row in self.rows)
        if over < 0:
            return None
        found: list[Span] = []
        across = 0
        for number, row in enumerate(self.rows):
            across += over if number == self.gap else 0
            here = row_spans(row, number, across, field)
            if here is None:
                return None
            found += here
            across += row.depth
        return tuple(found)

    def lay(self, field: Field) -> tuple[Placed, ...] | None:
        """Where everything lies in the space; ``None`` if it does not fit.

        Args:
            field: the space.
        """
        spans = self.spans(field)
        return None if spans is None else laid(spans, field)

    def replaced(self, number: int, row: Row) -> Rows:
        """With another row in the place of one."""
        return replace(self, rows=(*self.rows[:number], row, *self.rows[number + 1 :]))


def row_spans(row: Row, number: int, across: int, field: Field) -> tuple[Span, ...] | None:
    """Where the parts of a row lie; ``None`` if they do not fit.

    Args:
        row: the row.
        number: of it.
        across: where it begins, across.
        field: the space.
    """
    spots = spread(row, field.runs(across, row.depth))
    if spots is None:
        return None
    blocks = zip(row.blocks, spots, strict=True)
    return tuple(span for block, along in blocks for span in _spans(block, row, number, along, across))


def spread(row: Row, runs: Sequence[tuple[int, int]]) -> tuple[int, ...] | None:
    """Where the blocks of a row begin; ``None`` if they do not fit its free runs.

    The widest goes into the first run with room; inside a run they keep their order.

    Args:
        row: the row.
        runs: begin and length of each.
    """
    left = [length for _, length in runs]
    where = [-1] * len(row.blocks)
    for number in sorted(range(len(row.blocks)), key=lambda one: (-row.blocks[one].wide, one)):
        wide = row.blocks[number].wide
        run = next((run for run, room in enumerate(left) if room >= wide), -1)
        if run < 0:
            return None
        where[number] = run
        left[run] -= wide
    at = [begin for begin, _ in runs]
    spots = []
    for number, block in enumerate(row.blocks):
        spots.append(at[where[number]])
        at[where[number]] += block.wide
    return tuple(spots)


def _spans(block: Block, row: Row, number: int, along: int, across: int) -> list[Span]:
    """The parts of a block in their places."""
    found = []
    for slots, begin in ((block.front, across), (block.back, across + row.line)):
        at = along
        for slot in slots:
            found.append(Span(number, slot, at, begin))
            at += slot.wide
    return found


def laid(spans: Sequence[Span], field: Field) -> tuple[Placed, ...]:
    """Parts in the space, sorted.

    Args:
        spans: where they lie as the rows see it.
        field: the space.
    """
    placed = [field.placed(one.slot, one.along, one.across) for one in spans]
    return tuple(sorted(placed, key=lambda one: (one.space, one.row, one.col)))


def rim_of(option: Option, rim: float, rise: float) -> float:
    """Height of a part in a row with a rim.

    Args:
        option: what it is.
        rim: of the row, mm.
        rise: height step, mm.
    """
    own = option.candidate.height
    if not may_grow(option.candidate) or rim > own + int(MOST_RISES) * rise:
        return own
    return rim
