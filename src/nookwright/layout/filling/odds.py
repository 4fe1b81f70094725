"""One tray for odds and ends: what turns up, belongs nowhere and must not lie between the trays.

It takes a free spot of a sensible size, rather in front, rather in line with a row, and never pushes anything aside.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.layout.filling.spare import common_height
from nookwright.layout.filling.spots import Box, floor_of
from nookwright.layout.model import Placed

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from nookwright.layout.filling.means import Means
    from nookwright.layout.filling.spots import Floor
    from nookwright.layout.model import Grid

ODDS = "odds and ends"
SHORT_LEAST = Fact(2, unit="cells", kind=Kind.CHOICE, source="Room for a finger, as in every tray.")
SHORT_MOST = Fact(4, unit="cells", kind=Kind.CHOICE, source="More odds than this want trays of their own.")
LONG_LEAST = Fact(3, unit="cells", kind=Kind.CHOICE, source="Room for a pen's cap beside a button.")
LONG_MOST = Fact(6, unit="cells", kind=Kind.CHOICE, source="A tray of about 70 x 110: a hand sees all of it at once.")
IN_LINE = Fact(12, unit="cells", kind=Kind.CHOICE, source="Standing in line with a row is worth so many cells of it.")
PER_ROW = Fact(1, unit="cells", kind=Kind.CHOICE, source="Each row nearer to the front is worth one cell of it.")
HIGHEST = Fact(48.0, unit="mm", kind=Kind.CHOICE, source="In a deeper tray nobody sees what lies at the bottom.")
ODDS_G_CM3 = Fact(
    0.5, unit="g/cm3", kind=Kind.MEMORY, source="Keys, coins, caps and string, loosely filled: half as dense as water."
)
MM3_PER_CM3 = Fact(1e3, unit="mm3/cm3", kind=Kind.STANDARD, source="SI.")


def odds_tray(grid: Grid, here: Sequence[Placed], everywhere: Sequence[Placed], means: Means) -> Placed | None:
    """The tray for odds and ends of a space; ``None`` where no spot is free or the space carries no more.

    Args:
        grid: the space.
        here: what stands in it.
        everywhere: what stands in the room: its heights, where the space has none.
        means: what filling may use.
    """
    usual = common_height(grid, here) or common_height(grid, everywhere)
    left_g = grid.load_g - sum(means.mass_g(one) for one in here)
    rows = _Rows(here)
    boxes = sorted(set(_boxes(floor_of(grid, here))), key=lambda box: _worth(box, rows), reverse=True)
    most = HIGHEST // means.module.rise * means.module.rise
    trays = (_tray(grid, box, min(rows.height(box) or usual, most), means) for box in boxes)
    return next((one for one in trays if one and means.mass_g(one) + contents_g(one, means) <= left_g), None)


def contents_g(one: Placed, means: Means) -> float:
    """What a tray for odds and ends may hold, g."""
    side = means.module.pitch
    return one.cols * side * one.rows * side * one.height / MM3_PER_CM3 * ODDS_G_CM3


def _boxes(floor: Floor) -> Iterator[Box]:
    """Every free spot of a sensible size."""
    for free in floor.rectangles():
        for rows in range(int(SHORT_LEAST), min(free.rows, int(LONG_MOST)) + 1):
            short, long = sorted((free.cols, rows))
            if SHORT_LEAST <= short <= SHORT_MOST and LONG_LEAST <= long <= LONG_MOST:
                yield Box(free.col, free.row, free.cols, rows)


def _tray(grid: Grid, box: Box, height: float, means: Means) -> Placed | None:
    if not height or not means.allows(grid, box.cols, box.rows, height):
        return None
    return Placed(
        grid.space, box.col, box.row, box.cols, box.rows, turned=box.cols < box.rows,
        candidate=None, height=height, label=ODDS,
    )  # fmt: skip


class _Rows:
    """Where the rows of a space go on: beside each part, in its row and as deep."""

    def __init__(self, here: Sequence[Placed]) -> None:
        self._ends: dict[tuple[int, int, int], tuple[int, float]] = {}
        self._begins: dict[tuple[int, int, int], tuple[int, float]] = {}
        for number, one in enumerate(here):
            self._ends.setdefault((one.row, one.rows, one.col + one.cols), (number, one.height))
            self._begins.setdefault((one.row, one.rows, one.col), (number, one.height))

    def height(self, box: Box) -> float:
        """The height of the first part beside a spot, mm; 0 where there is none."""
        beside = self._ends.get((box.row, box.rows, box.col)), self._begins.get((box.row, box.rows, box.right))
        return min((one for one in beside if one), default=(0, 0.0))[1]


def _worth(box: Box, rows: _Rows) -> tuple[float, int, int, int]:
    """How good a spot is; of equals the one in front, then the one at the left, then the wider one."""
    return box.area + IN_LINE * (rows.height(box) > 0) - PER_ROW * box.row, -box.row, -box.col, box.cols
