"""Trays that grow into what is left of their space: whole gaps along straight edges, in equal shares.

Promise: nothing overlaps, nothing gets too heavy, no tray grows by more than half of its side or beyond what prints
whole, a tray keeps its place in its row and its front, and what stood in line stands in line afterwards. What it does
not know: whether the growth is worth its plastic; it says what it adds.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.layout.filling.bands import Segment, Unit, closings, segments
from nookwright.layout.filling.spots import Box, Floor, box_of, floor_of
from nookwright.sizing.ways import PartKind

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

    from nookwright.layout.filling.means import Means
    from nookwright.layout.model import Grid, Placed

GROWTH = Fact(0.5, unit="1", kind=Kind.CHOICE, source="A tray grown by more than half of its side is another tray.")
ROUNDS = Fact(4, unit="1", kind=Kind.CHOICE, source="Rows, then columns, again: what they open to each other is rare.")


def may_grow(placed: Placed) -> bool:
    """Whether a part may be made larger: trays may; what is made to its things, stacked or a fence may not."""
    tray = placed.candidate is None or placed.candidate.way.kind is PartKind.TRAY
    return tray and not stays(placed)


def stays(placed: Placed) -> bool:
    """Whether a part stays in its cells, whatever is filled: stacks, fences and what is pinned do."""
    return placed.fence is not None or placed.decked or placed.level > 0 or placed.pinned


def grow(grid: Grid, here: Sequence[Placed], means: Means) -> list[Placed]:
    """The parts of a space, some of them larger, in the same order.

    Args:
        grid: the space.
        here: what stands in it.
        means: what filling may use.
    """
    return _Growth(grid, here, means).grown()


@dataclass(frozen=True)
class _Way:
    """A direction of growing: along x, or along y by flipping."""

    flipped: bool

    def box(self, box: Box) -> Box:
        """A box as it is seen in this direction, and back again."""
        return box.flipped if self.flipped else box

    def floor(self, floor: Floor) -> Floor:
        """The same for a floor."""
        return floor.flipped if self.flipped else floor


_ALONG = (_Way(flipped=False), _Way(flipped=True))


class _Growth:
    """One space in the making."""

    def __init__(self, grid: Grid, here: Sequence[Placed], means: Means) -> None:
        self.grid, self.here, self.means = grid, here, means
        self.boxes = {n: box_of(one) for n, one in enumerate(here) if not stays(one)}
        self.fixed = [box_of(one) for one in here if stays(one)]
        self.ground = floor_of(grid).without(self.fixed)
        self.left_g = grid.load_g - sum(means.mass_g(one) for one in here)

    def grown(self) -> list[Placed]:
        """Rows and columns in turn until nothing grows."""
        for _ in range(int(ROUNDS)):
            before = dict(self.boxes)
            for way in _ALONG:
                self._parts(way)
                self._blocks(way)
            if self.boxes == before:
                break
        return [self._placed(n, self.boxes[n]) if n in self.boxes else one for n, one in enumerate(self.here)]

    def _placed(self, number: int, box: Box) -> Placed:
        return replace(self.here[number], col=box.col, row=box.row, cols=box.cols, rows=box.rows)

    def _room(self, number: int, way: _Way) -> int:
        """Cells that a part may still grow by in a direction."""
        one = self.here[number]
        if not may_grow(one):
            return 0
        side = way.box(box_of(one)).cols
        return side + int(GROWTH * side) - way.box(self.boxes[number]).cols

    def _units(self, way: _Way) -> list[Unit]:
        return [Unit(way.box(box), self._room(number, way), (number,)) for number, box in self.boxes.items()]

    def _parts(self, way: _Way) -> None:
        """Close the gaps of all rows, those that are cut alike in the same way."""
        for alike in _alike(segments(way.floor(self.ground), self._units(way))):
            for closing in closings(alike):
                if self._take({unit.members[0]: way.box(box) for unit, box in closing}):
                    break

    def _blocks(self, way: _Way) -> None:
        """Close the gaps between rows that are equally long: each row grows as one, across its own direction."""
        across = _ALONG[1 - _ALONG.index(way)]
        spans: dict[tuple[int, int], list[Segment]] = defaultdict(list)
        for one in segments(way.floor(self.ground), self._units(way)):
            spans[one.start, one.end].append(one)
        for stack in spans.values():
            self._stack(stack, way, across)

    def _stack(self, stack: Sequence[Segment], way: _Way, across: _Way) -> None:
        """The gaps between and behind rows of one span."""
        rows = [tuple(number for unit in one.units for number in unit.members) for one in stack]
        others = [box for number, box in self.boxes.items() if not any(number in row for row in rows)]
        ground = across.floor(self.ground.without(others))
        units = [
            Unit(across.box(way.box(one.box)), min(self._room(number, across) for number in row), row)
            for one, row in zip(stack, rows, strict=True)
        ]
        for one in segments(ground, units):
            for closing in closings([one]):
                if self._take(dict(self._moved(closing, across))):
                    break

    def _moved(self, closing: Iterable[tuple[Unit, Box]], across: _Way) -> Iterator[tuple[int, Box]]:
        """The parts of rows that moved and grew as one."""
        for unit, after in closing:
            for number in unit.members:
                old = across.box(self.boxes[number])
                new = Box(old.col + after.col - unit.box.col, old.row, old.cols + after.cols - unit.box.cols, old.rows)
                yield number, across.box(new)

    def _take(self, changes: Mapping[int, Box]) -> bool:
        """Make changes if every rule holds afterwards; says whether."""
        after = {**self.boxes, **changes}
        new = {number: self._placed(number, box) for number, box in changes.items() if box != self.boxes[number]}
        more_g = sum(
            self.means.mass_g(one) - self.means.mass_g(self._placed(number, self.boxes[number]))
            for number, one in new.items()
        )
        if not new or more_g > self.left_g or not all(self._made(number, one) for number, one in new.items()):
            return False
        if not _apart(self.ground, after.values()):
            return False
        if in_line([*after.values(), *self.fixed]) < in_line([*self.boxes.values(), *self.fixed]):
            return False
        self.boxes, self.left_g = after, self.left_g - more_g
        return True

    def _made(self, number: int, one: Placed) -> bool:
        """Whether a part that has become larger still prints whole and goes in; one that only moved did before."""
        old = self.boxes[number]
        same = (one.cols, one.rows) == (old.cols, old.rows)
        return same or self.means.allows(self.grid, one.cols, one.rows, one.height)


def _alike(found: Iterable[Segment]) -> list[list[Segment]]:
    """Segments with one pattern together."""
    groups: dict[tuple[int, int, tuple[tuple[int, int], ...]], list[Segment]] = defaultdict(list)
    for one in found:
        groups[one.pattern].append(one)
    return list(groups.values())


def _apart(ground: Floor, boxes: Iterable[Box]) -> bool:
    """Whether no two boxes overlap and all lie on the ground."""
    for box in boxes:
        if box not in ground:
            return False
        ground = ground.without((box,))
    return True


def in_line(boxes: Sequence[Box]) -> int:
    """How many edges of parts that border on each other stand in line.

    >>> in_line([Box(0, 0, 4, 2), Box(0, 2, 4, 2)]), in_line([Box(0, 0, 4, 2), Box(0, 2, 3, 2)])
    (2, 1)
    """
    return _in_line(boxes) + _in_line([box.flipped for box in boxes])


def _in_line(boxes: Sequence[Box]) -> int:
    """Of each two parts one right behind the other, how many of their sides stand in line."""
    behind: dict[int, list[Box]] = defaultdict(list)
    for box in boxes:
        behind[box.row].append(box)
    pairs = ((one, other) for one in boxes for other in behind.get(one.back, ()))
    return sum(
        len({one.col, one.right} & {other.col, other.right})
        for one, other in pairs
        if one.col <= other.right and other.col <= one.right
    )
