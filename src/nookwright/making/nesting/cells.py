"""Nesting by outline, on beds with places that must stay free: footprints as cells of a grid.

Vocabulary: a *mask* is a whole number whose bits are the cells of a bed, row by row, with one guard column at the end
of each row; a *footprint* is what one copy takes up, its distance to the next included. All places of a rectangle on a
mask are found by shifting the mask over itself; those of a footprint are what all of its rectangles have in common.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache, cached_property
from typing import TYPE_CHECKING, TypeAlias

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

Rect = tuple[int, int, int, int]  # x, y, width, depth


@dataclass(frozen=True)
class Footprint:
    """Cells that one copy takes up as it lies.

    Attributes:
        rows: one word a row, front to back; bit x is the cell in column x.
    """

    rows: tuple[int, ...]

    @classmethod
    def of_box(cls, width: int, depth: int) -> Footprint:
        """A full rectangle."""
        return cls(((1 << width) - 1,) * depth)

    @cached_property
    def width(self) -> int:
        """Columns."""
        return max((row.bit_length() for row in self.rows), default=0)

    @property
    def depth(self) -> int:
        """Rows."""
        return len(self.rows)

    @cached_property
    def area(self) -> int:
        """Cells."""
        return sum(row.bit_count() for row in self.rows)

    @property
    def solid(self) -> bool:
        """Whether it fills its box."""
        return self.area == self.width * self.depth

    @cached_property
    def rects(self) -> tuple[Rect, ...]:
        """Rectangles that are together its cells: equal runs of cells in rows behind each other."""
        found: list[Rect] = []
        begun: dict[tuple[int, int], int] = {}
        for y, row in enumerate((*self.rows, 0)):
            now = set(_runs(row))
            for run in [run for run in begun if run not in now]:
                at = begun.pop(run)
                found.append((run[0], at, run[1], y - at))
            for run in now:
                begun.setdefault(run, y)
        return tuple(sorted(found, key=lambda rect: (-rect[2] * rect[3], rect)))

    def turned(self) -> Footprint:
        """The same by 90 degrees, counter-clockwise: what was at the right is at the back."""
        rows = [0] * self.width
        for y, row in enumerate(self.rows):
            for begin, length in _runs(row):
                for x in range(begin, begin + length):
                    rows[x] |= 1 << (self.depth - 1 - y)
        return Footprint(tuple(rows))

    def mask(self, stride: int) -> int:
        """Its cells as a mask, at the front left."""
        found = 0
        for row in reversed(self.rows):
            found = found << stride | row
        return found


def _runs(row: int) -> Iterator[tuple[int, int]]:
    """The runs of ones in a word: where each begins, and how long it is."""
    at = 0
    while row:
        gap = (row & -row).bit_length() - 1
        row >>= gap
        at += gap
        length = (~row & (row + 1)).bit_length() - 1
        yield at, length
        row >>= length
        at += length


Ways: TypeAlias = tuple[tuple[int, Footprint], ...]  # quarter turns, and the footprint as it then lies


@dataclass(frozen=True)
class Grid:
    """A bed as cells.

    Attributes:
        width, depth: columns and rows.
        blocked: rectangles of cells that must stay free.
    """

    width: int
    depth: int
    blocked: tuple[Rect, ...] = ()

    @property
    def stride(self) -> int:
        """Bits from one row to the next; the last is a guard, never free."""
        return self.width + 1

    @cached_property
    def free(self) -> int:
        """The mask of an empty bed."""
        cells = [[True] * self.width for _ in range(self.depth)]
        for x, y, width, depth in self.blocked:
            for row in cells[max(0, y) : max(0, y + depth)]:
                row[max(0, x) : max(0, x + width)] = [False] * len(row[max(0, x) : max(0, x + width)])
        mask = 0
        for row in reversed(cells):
            mask = mask << self.stride | sum(1 << x for x, is_free in enumerate(row) if is_free)
        return mask


@dataclass(frozen=True)
class Laid:
    """One copy on a bed: its number, the bed, the front left cell of its box, and its quarter turns."""

    copy: int
    bed: int
    x: int
    y: int
    turns: int


def places(free: int, stride: int, footprint: Footprint) -> int:
    """Every cell where the front left corner of a footprint's box may lie, as a mask.

    Args:
        free: cells that are free.
        stride: of the mask.
        footprint: as it lies.

    >>> bin(places(0b0111_0111, 4, Footprint.of_box(2, 2)))
    '0b11'
    """
    rooms: dict[tuple[int, int], int] = {}  # outlines repeat themselves: few sizes of rectangle in many places
    found = -1
    for x, y, width, depth in footprint.rects:
        if (width, depth) not in rooms:
            rooms[width, depth] = box_places(free, width, depth, stride)
        found &= rooms[width, depth] >> (y * stride + x)
        if not found:
            return 0
    return found & _columns(stride - footprint.width, free.bit_length() // stride + 1, stride)


@cache
def _columns(count: int, rows: int, stride: int) -> int:
    """The first columns of each row: from the others, a footprint in several bodies could reach round into the next."""
    return sum(((1 << count) - 1) << (row * stride) for row in range(rows))


def box_places(free: int, width: int, depth: int, stride: int) -> int:
    """The same for a full box."""
    return _several(_several(free, width, 1), depth, stride)


def _several(mask: int, count: int, step: int) -> int:
    """Cells from which so many in a row, a step apart, are free."""
    reached = 1
    while reached < count:
        more = min(reached, count - reached)
        mask &= mask >> (more * step)
        reached += more
    return mask


def ways_of(footprint: Footprint) -> Ways:
    """A footprint in every way that it may lie, each different one once, with its quarter turns."""
    ways: dict[Footprint, int] = {}
    for turns in range(4):
        ways.setdefault(footprint, turns)
        footprint = footprint.turned()
    return tuple((turns, way) for way, turns in ways.items())


def lay(
    order: Iterable[int],
    kinds: Sequence[int],
    ways: Sequence[Ways],
    grid: Grid,
    beds: int,
    *,
    lone: frozenset[int] = frozenset(),
    most_out: float = math.inf,
    first: Mapping[int, int] | None = None,
) -> tuple[tuple[Laid, ...], tuple[int, ...]]:
    """Copies on beds, each as far in front as it goes on the first bed that takes it.

    Args:
        order: numbers of the copies, the first to be laid first.
        kinds: what each copy is, by its number.
        ways: in which each kind may lie.
        grid: every bed.
        beds: how many there may be.
        lone: kinds of which a bed takes only one copy, of one of them.
        most_out: cells that may stay out; once it is more, all that is left stays out.
        first: which of its ways a copy is tried in before the others; the one that ends furthest in front where unsaid.

    Returns:
        What lies where, and the copies that stay out.
    """
    free: list[int] = []
    laid, out = [], []
    taken: set[int] = set()  # beds that have their lone copy
    full: set[tuple[int, int]] = set()  # beds that a kind is known not to fit any more
    area_out = 0
    for copy in order:
        kind = kinds[copy]
        if area_out > most_out:
            out.append(copy)
            continue
        for bed in range(beds):
            if bed == len(free):
                free.append(grid.free)
            if (bed, kind) in full or (kind in lone and bed in taken):
                continue
            found = None
            if first and copy in first:
                found = _front_most(free[bed], grid, (ways[kind][first[copy] % len(ways[kind])],))
            found = found or _front_most(free[bed], grid, ways[kind])
            if found is None:
                full.add((bed, kind))
                continue
            y, x, turns, way = found
            free[bed] ^= way.mask(grid.stride) << (y * grid.stride + x)
            laid.append(Laid(copy, bed, x, y, turns))
            if kind in lone:
                taken.add(bed)
            break
        else:
            out.append(copy)
            area_out += ways[kind][0][1].area
    return tuple(laid), tuple(out)


def _front_most(free: int, grid: Grid, ways: Ways) -> tuple[int, int, int, Footprint] | None:
    """The place that ends furthest in front, of equals the one furthest left: row, column, turns, the way it lies."""
    best: tuple[tuple[int, int, int], tuple[int, int, int, Footprint]] | None = None
    for turns, way in ways:
        room = places(free, grid.stride, way)
        if room:
            y, x = divmod((room & -room).bit_length() - 1, grid.stride)
            rank = (y + way.depth, x, turns)
            if best is None or rank < best[0]:
                best = (rank, (y, x, turns, way))
    return best[1] if best else None
