"""Rows of parts, and the gaps in them: how a whole gap is shared out among the parts of a row.

A band is all parts that begin in the same row and are equally deep. A segment of it is a run of columns in which, over
its whole depth, there are only parts of it and free cells; what is free there is its gap. A gap is closed whole, or it
stays: a tray grown into a part of it costs plastic and leaves a gap all the same. Everything here runs along x; for the
other way, flip.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.layout.filling.spots import Box

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from nookwright.layout.filling.spots import Floor

Shares = tuple[int, ...]


@dataclass(frozen=True)
class Unit:
    """A part, or a block of parts that grow as one.

    Attributes:
        box: its cells.
        room: columns that it may still grow by.
        members: numbers of its parts.
    """

    box: Box
    room: int
    members: tuple[int, ...]


@dataclass(frozen=True)
class Segment:
    """A run of columns of one band, and the units in it from the left."""

    start: int
    end: int
    units: tuple[Unit, ...]

    @property
    def gap(self) -> int:
        """Columns that no unit takes."""
        return self.end - self.start - sum(unit.box.cols for unit in self.units)

    @property
    def box(self) -> Box:
        """All cells of it."""
        first = self.units[0].box
        return Box(self.start, first.row, self.end - self.start, first.rows)

    @property
    def pattern(self) -> tuple[int, int, tuple[tuple[int, int], ...]]:
        """Where it and its units begin and end: segments with the same pattern are cut alike."""
        return self.start, self.end, tuple((unit.box.col, unit.box.cols) for unit in self.units)

    def laid(self, shares: Shares) -> Iterator[tuple[Unit, Box]]:
        """Its units wider by their shares, one beside the other from its start."""
        col = self.start
        for unit, share in zip(self.units, shares, strict=True):
            box = Box(col, unit.box.row, unit.box.cols + share, unit.box.rows)
            col = box.right
            yield unit, box

    def in_place(self) -> Iterator[tuple[Unit, Box]]:
        """Its units wider where they are: each gap is shared by the two beside it, and nothing else moves."""
        edges = [self.start, *(unit.box.right for unit in self.units)]
        starts = [*(unit.box.col for unit in self.units), self.end]
        gaps = [start - edge for edge, start in zip(edges, starts, strict=True)]
        last = len(self.units) - 1
        for number, unit in enumerate(self.units):
            left = gaps[number] if number == 0 else gaps[number] // 2
            right = gaps[number + 1] if number == last else -(-gaps[number + 1] // 2)
            yield unit, Box(unit.box.col - left, unit.box.row, unit.box.cols + left + right, unit.box.rows)


def segments(ground: Floor, units: Sequence[Unit]) -> tuple[Segment, ...]:
    """All segments, by band and column.

    Args:
        ground: the cells that are free or taken by the units.
        units: parts or blocks that do not overlap.
    """
    bands: dict[tuple[int, int], list[Unit]] = defaultdict(list)
    for unit in units:
        bands[unit.box.row, unit.box.rows].append(unit)
    free = ground.without(unit.box for unit in units)
    return tuple(
        found for _, band in sorted(bands.items(), key=lambda item: item[0]) for found in _segments(free, band)
    )


def _segments(free: Floor, band: Iterable[Unit]) -> Iterator[Segment]:
    """The segments of one band."""
    left = sorted(band, key=lambda unit: unit.box.col)
    row, rows = left[0].box.row, left[0].box.rows
    while left:
        here = [left.pop(0)]
        start, end = here[0].box.col, here[0].box.right
        while Box(start - 1, row, 1, rows) in free:
            start -= 1
        while True:
            if left and left[0].box.col == end:
                here.append(left.pop(0))
                end = here[-1].box.right
            elif Box(end, row, 1, rows) in free:
                end += 1
            else:
                break
        yield Segment(start, end, tuple(here))


def closings(alike: Sequence[Segment]) -> Iterator[list[tuple[Unit, Box]]]:
    """Ways to close the gap of segments that are cut alike, the calmest first.

    Args:
        alike: segments with one pattern; all are closed in the same way.
    """
    gap = alike[0].gap
    if gap <= 0:
        return
    rooms = [min(rooms) for rooms in zip(*([unit.room for unit in one.units] for one in alike), strict=True)]
    widths = [unit.box.cols for unit in alike[0].units]
    shares = equal_shares(gap, rooms, widths)
    if shares:
        yield [pair for one in alike for pair in one.laid(shares)]
    near = [pair for one in alike for pair in one.in_place()]
    if all(box.cols - unit.box.cols <= unit.room for unit, box in near):
        yield near
    for number in (len(rooms) - 1, 0):
        if rooms[number] >= gap:
            alone = tuple(gap * (other == number) for other in range(len(rooms)))
            yield [pair for one in alike for pair in one.laid(alone)]


def equal_shares(gap: int, rooms: Sequence[int], widths: Sequence[int]) -> Shares:
    """A gap shared out as evenly as may be; where it is not even, so that fewest widths come of it. Empty: too wide.

    Args:
        gap: columns to share out.
        rooms: what each may take at most.
        widths: what each has.

    >>> equal_shares(3, [2, 2, 2], [4, 4, 4]), equal_shares(2, [2, 0, 2], [4, 9, 4]), equal_shares(5, [2, 2], [4, 4])
    ((1, 1, 1), (1, 0, 1), ())
    >>> equal_shares(1, [2, 2, 2], [4, 5, 5])
    (1, 0, 0)
    """
    if sum(rooms) < gap:
        return ()
    level = 0
    while level < max(rooms) and sum(min(level + 1, room) for room in rooms) <= gap:
        level += 1
    even = [min(level, room) for room in rooms]
    rest = gap - sum(even)
    able = [number for number, room in enumerate(rooms) if room > level]
    wide = sorted(able, key=lambda number: (widths[number], number))
    orders = (wide[:rest], able[:rest], able[len(able) - rest :], wide[len(wide) - rest :])
    found = [tuple(share + (number in order) for number, share in enumerate(even)) for order in orders]
    return min(found, key=lambda shares: len({width + share for width, share in zip(widths, shares, strict=True)}))
