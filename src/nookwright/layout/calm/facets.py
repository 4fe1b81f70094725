"""What a part in its place says for itself, worked out once and remembered while arrangements of its space are judged.

One integer holds its cells, the lines at its edges and its sides, so that those of many parts are put together by
``or``. What depends on its neighbours is said as cells that must be higher than something. What it does not know: what
the other parts are.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from nookwright.ground.sources import Fact, Kind
from nookwright.layout.bits import free_cells, rectangle, stride
from nookwright.layout.calm.terms import may_grow
from nookwright.layout.wishes import (
    BACKED_SHARE,
    FINGERTIP,
    MASS_HEIGHT,
    far_cost,
    grips_of,
    handy_cost,
    leans_of,
    size_of,
    tall_of,
)

if TYPE_CHECKING:
    from collections.abc import Hashable, Iterable

    from nookwright.layout.calm.judging import Judge
    from nookwright.layout.model import Candidate, Grid, Placed

KEPT = Fact(20_000, unit="1", kind=Kind.CHOICE, source="Parts in their places that are remembered: some megabytes.")


class Above(NamedTuple):
    """Cells beside a part, and what they must be higher than.

    Attributes:
        height: what they must be higher than, mm.
        walls: how many of them are outside or blocked, and so higher than all.
        cells: the others, as a mask, see ``bits``.
    """

    height: float
    walls: int
    cells: int


class Lean(NamedTuple):
    """A side of something that would topple: the cells there, how many must be high, what it costs if they are not."""

    above: Above
    least: float
    price: float


class Facets(NamedTuple):
    """Of one part in its place; numbers stand for what is only asked to be the same or not.

    Attributes:
        lot: id of its lot, ``None`` for none.
        cost: of its candidate.
        more_cells, more_g: what it grew by.
        size: of its size.
        group: the lots that it is like, none when empty.
        rank: its place in the order given, -1 for none.
        bonds: lots that it belongs to.
        bits: its cells, then lines and sides, see ``Fields``.
        line, line_rim: of its row, and of its row and height; all alike for what is no tray.
        column, column_rim: the same where rows run from front to back.
        grips: the cells that a hand needs, ``None`` where it needs none.
        top: how high its rim stands, mm.
        handy, far: what it costs to reach.
        leans: its sides that must lean on something.
    """

    lot: str | None
    cost: float
    more_cells: int
    more_g: float
    size: int
    group: str
    rank: int
    bonds: tuple[tuple[str, float], ...]
    bits: int
    line: int
    line_rim: int
    column: int
    column_rim: int
    grips: Above | None
    top: float
    handy: float
    far: float
    leans: tuple[Lean, ...]


_OfKind = tuple[str | None, float, int, float, int, str, int, tuple[tuple[str, float], ...]]  # lot to bonds
_OfBox = tuple[int, int, int, int, int, Above | None]  # bits to grips


class Fields:
    """Where in ``Facets.bits`` is what."""

    def __init__(self, grid: Grid) -> None:
        """Share out the bits for a space."""
        self.step = stride(grid.cols)
        self.cells = (1 << self.step * grid.rows) - 1
        self.starts: list[int] = []
        self.masks: list[int] = []
        at = self.step * grid.rows
        for side in (grid.cols, grid.cols, grid.rows, grid.rows):
            self.starts.append(at)
            self.masks.append((1 << side + 1) - 1)
            at += side + 1

    def joined(self, one: Placed) -> int:
        """The bits of a part.

        Args:
            one: the part in its place.
        """
        lines_x, lines_y = 1 << one.col | 1 << one.col + one.cols, 1 << one.row | 1 << one.row + one.rows
        bits = rectangle(one.cols, one.rows, self.step) << one.row * self.step + one.col
        for field, start in zip((lines_x, 1 << one.cols, lines_y, 1 << one.rows), self.starts, strict=True):
            bits |= field << start
        return bits

    def parted(self, bits: int) -> tuple[int, ...]:
        """Lines along x, sides along x, lines along y, sides along y, each a bit a cell.

        Args:
            bits: of any number of parts.
        """
        return tuple(bits >> start & mask for start, mask in zip(self.starts, self.masks, strict=True))


class Listener:
    """Asks parts of one space what they say, each once."""

    def __init__(self, judge: Judge, grid: Grid) -> None:
        """Get ready.

        Args:
            judge: says what an arrangement costs.
            grid: the space.
        """
        self.judge, self.grid = judge, grid
        self.fields = Fields(grid)
        self.free = free_cells(grid.cols, grid.rows, grid.blocked)
        self._heard: dict[int, tuple[Placed, Facets]] = {}  # by identity; the part is held, so that it stays its own
        self._boxes: dict[tuple[object, ...], _OfBox] = {}
        self._kinds: dict[tuple[object, ...], tuple[Candidate | None, _OfKind]] = {}  # the candidate is held likewise
        self._numbers: dict[Hashable, int] = {}

    def of(self, one: Placed) -> Facets:
        """What a part says for itself.

        Args:
            one: the part in its place.
        """
        known = self._heard.get(id(one))
        if known is not None:
            return known[1]
        if len(self._heard) >= KEPT:
            for memory in (self._heard, self._boxes, self._kinds):
                memory.clear()
        facets = self._hear(one)
        self._heard[id(one)] = (one, facets)
        return facets

    def _hear(self, one: Placed) -> Facets:
        leans = self._leans(one) if self.grid.drawer else ()
        handy, far = handy_cost(self.grid, one, self.judge.wishes), far_cost(self.grid, one, self.judge.wishes.pitch)
        return Facets(*self._kind(one), *self._box(one), one.raised + one.height, handy, far, leans)

    def _kind(self, one: Placed) -> _OfKind:
        """What it says of its lot and size, wherever it lies."""
        candidate, wishes = one.candidate, self.judge.wishes
        key = (id(candidate), one.cols, one.rows, one.height, one.turned)
        if key not in self._kinds:
            ask = wishes.asks.get(candidate.lot) if candidate else None
            own: _OfKind = (
                candidate.lot if candidate else None,
                candidate.cost if candidate else 0.0,
                one.cols * one.rows - candidate.cols * candidate.rows if candidate else 0,
                self.judge.grown_g(one),
                self._number(size_of(one)),
                ask.group if ask else "",
                wishes.rank(candidate.lot) if candidate else -1,
                ask.bonds if ask else (),
            )
            self._kinds[key] = candidate, own
        return self._kinds[key][1]

    def _box(self, one: Placed) -> _OfBox:
        """What it says of where it lies, whatever is in it."""
        rim = one.candidate is None or may_grow(one.candidate)
        held = bool(one.fence or one.level or (one.candidate and one.candidate.way.long))
        key = (one.col, one.row, one.cols, one.rows, one.height, rim, held)
        if key not in self._boxes:
            lines = (one.row, one.rows), (one.row, one.rows, one.height)
            columns = (one.col, one.cols), (one.col, one.cols, one.height)
            numbers = (self._number(name if rim else None) for name in (*lines, *columns))
            line, line_rim, column, column_rim = numbers
            self._boxes[key] = self.fields.joined(one), line, line_rim, column, column_rim, self._grips(one)
        return self._boxes[key]

    def _number(self, key: Hashable) -> int:
        return self._numbers.setdefault(key, len(self._numbers))

    def _above(self, spots: Iterable[tuple[int, int]], height: float) -> Above:
        walls, cells = 0, 0
        for col, row in spots:
            inside = 0 <= col < self.grid.cols and 0 <= row < self.grid.rows
            free = self.free & 1 << row * self.fields.step + col if inside else 0
            walls += not free
            cells |= free
        return Above(height, walls, cells)

    def _grips(self, one: Placed) -> Above | None:
        spots = grips_of(one, self.judge.wishes.pitch)
        return self._above(spots, one.height + FINGERTIP) if spots else None

    def _leans(self, one: Placed) -> tuple[Lean, ...]:
        sides = leans_of(self.grid, one, self.judge.wishes.pitch)
        height = MASS_HEIGHT * tall_of(one)
        return tuple(Lean(self._above(spots, height), BACKED_SHARE * len(spots), price) for spots, price in sides)
