"""The floor of a space in cells: how many, where the first one lies, which are blocked, what is left for fillers."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from nookwright.module.module import Module
    from nookwright.sizing.usable import BlockedBox, Usable

SLACK = Fact(
    1.0,
    unit="mm",
    kind=Kind.CALCULATED,
    source="Liner and fillers are smaller than the space by this and GROWTH_SHARE of its length.",
)
GROWTH_SHARE = Fact(
    0.0015, unit="1", kind=Kind.CALCULATED, source="PLA grows by 68e-6/K x 20 K; the rest is the error of measuring."
)
THINNEST_FILLER = Fact(
    4.0, unit="mm", kind=Kind.CALCULATED, source="Thinner strips ride over the panel's edge in a slam."
)
SPLIT_FILLER = Fact(
    8.0, unit="mm", kind=Kind.CALCULATED, source="From here on both sides can get a strip of at least 4."
)
CORNER_RADIUS = Fact(
    5.0, unit="mm", kind=Kind.CALCULATED, source="Outside radius of a part: wall 1.2, inside 3, reserve 0.8."
)


@dataclass(frozen=True)
class Floor:
    """The floor of one space.

    Attributes:
        space: id of the space.
        cols, rows: cells along x and y.
        x0, y0: front left corner of cell (0, 0) in the space, mm.
        left, right, front, back: widths of the fillers, mm; 0 where there is none.
        blocked: cells without a cone or a part, as (col, row), sorted.
        open_x, open_y: what is left open for want of a filler, mm.
    """

    space: str
    cols: int
    rows: int
    x0: float
    y0: float
    left: float
    right: float
    front: float
    back: float
    blocked: tuple[tuple[int, int], ...]
    open_x: float
    open_y: float


@dataclass(frozen=True)
class _Side:
    """One direction of a floor: cells, where they start, the fillers before and after, what is left open."""

    cells: int
    start: float
    before: float
    after: float
    left_open: float


def _side(length: float, pitch: float) -> _Side:
    """Cells and fillers along one direction of the space, mm."""
    usable = length - SLACK - GROWTH_SHARE * length
    cells = max(0, math.floor(round(usable / pitch, 9)))
    rest = usable - cells * pitch
    play = (length - usable) / 2
    if rest < THINNEST_FILLER:
        return _Side(cells, play + rest / 2, 0.0, 0.0, max(0.0, rest))
    if rest < SPLIT_FILLER:
        return _Side(cells, play, 0.0, _down(rest), 0.0)
    half = _down(rest / 2)
    return _Side(cells, play + half, half, half, 0.0)


def _down(width: float) -> float:
    """A filler's width rounded down to 0.1 mm, so that equal sides are equal parts."""
    return math.floor(round(width * 10, 6)) / 10


def floor_of(usable: Usable, module: Module) -> Floor:
    """The cells of a space.

    A cell is blocked where a box reaches down to what stands there, where a part's corner would meet the rounded corner
    of the space, and where no panel of 2 x 2 cells could carry it.

    Args:
        usable: the usable inside of the space.
        module: the household's module.
    """
    along_x, along_y = _side(usable.width, module.pitch), _side(usable.depth, module.pitch)
    floor = Floor(
        space=usable.space,
        cols=along_x.cells,
        rows=along_y.cells,
        x0=along_x.start,
        y0=along_y.start,
        left=along_x.before,
        right=along_x.after,
        front=along_y.before,
        back=along_y.after,
        blocked=(),
        open_x=along_x.left_open,
        open_y=along_y.left_open,
    )
    bad = {cell for box in usable.blocked for cell in _under(box, floor, module.pitch)}
    bad |= _corners(usable, floor, module.pitch)
    bad |= _uncarried(floor.cols, floor.rows, bad)
    return Floor(**{**vars(floor), "blocked": tuple(sorted(bad))})


def _under(box: BlockedBox, floor: Floor, pitch: float) -> set[tuple[int, int]]:
    """Cells that a blocked box covers. One that hangs high blocks them too: what is below it cannot be lifted out."""
    cols = range(
        max(0, math.floor((box.x0 - floor.x0) / pitch)), min(floor.cols, math.ceil((box.x1 - floor.x0) / pitch))
    )
    rows = range(
        max(0, math.floor((box.y0 - floor.y0) / pitch)), min(floor.rows, math.ceil((box.y1 - floor.y0) / pitch))
    )
    return {(col, row) for col in cols for row in rows}


def _corners(usable: Usable, floor: Floor, pitch: float) -> set[tuple[int, int]]:
    """Cells where the corner of a part would meet a rounded corner of the space; judged at the cell's own edges."""
    gaps_x = _gaps(floor.x0, floor.cols, pitch, usable.width)
    gaps_y = _gaps(floor.y0, floor.rows, pitch, usable.depth)
    return {
        (col, row)
        for col, gap_x in enumerate(gaps_x)
        for row, gap_y in enumerate(gaps_y)
        if not clears_corner(usable.corner_radius, gap_x, gap_y, float(CORNER_RADIUS))
    }


def _gaps(start: float, cells: int, pitch: float, length: float) -> tuple[float, ...]:
    """For each cell along one direction, the distance to the nearer wall, mm."""
    return tuple(min(start + cell * pitch, length - start - (cell + 1) * pitch) for cell in range(cells))


def clears_corner(space_radius: float, gap_x: float, gap_y: float, part_radius: float) -> bool:
    """Whether a part's rounded corner clears the rounded corner of a space.

    Args:
        space_radius: of the space's corner, mm.
        gap_x: from the space's left or right wall to the part's side, mm.
        gap_y: from the front or back wall, mm.
        part_radius: of the part's corner, mm.

    >>> clears_corner(6, 0.6, 0.6, 4), clears_corner(25, 5, 5, 4), clears_corner(25, 6.2, 6.2, 4)
    (True, False, True)
    """
    dx, dy = space_radius - gap_x - part_radius, space_radius - gap_y - part_radius
    if dx <= 0 or dy <= 0:
        return True
    return math.hypot(dx, dy) + part_radius <= space_radius


def _uncarried(cols: int, rows: int, bad: set[tuple[int, int]]) -> set[tuple[int, int]]:
    """Free cells that lie in no free square of 2 x 2: no panel carries them."""
    carried: set[tuple[int, int]] = set()
    for col in range(cols - 1):
        for row in range(rows - 1):
            square = {(col, row), (col + 1, row), (col, row + 1), (col + 1, row + 1)}
            if not square & bad:
                carried |= square
    return {(col, row) for col in range(cols) for row in range(rows)} - carried - bad
