"""The floor of a space in cells: how many, where the first one lies, which are blocked, what is left for fillers."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from nookwright.module.module import Module
    from nookwright.sizing.spaces.outlines import Insets
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

OWN_GAP = Fact(
    0.2,
    unit="mm",
    kind=Kind.CALCULATED,
    source="A part's side lies at least so far inside its cells: a wall that leans in by less is no matter.",
)
CONE_TO_EDGE = Fact(
    1.4,
    unit="mm",
    kind=Kind.CALCULATED,
    source="A panel's edge off a cove stays this far from a cone: 0.2 of inset, three lines of strap.",
)


class Axis(StrEnum):
    """A direction of a space."""

    X = "x"
    Y = "y"


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
        set_back_x, set_back_y: how far panels lie back from the border of the outer cells, off a cove, mm.
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
    set_back_x: float = 0.0
    set_back_y: float = 0.0


@dataclass(frozen=True)
class _Side:
    """One direction of a floor: cells, where they start, fillers before and after, what is left open, the set-back."""

    cells: int
    start: float
    before: float
    after: float
    left_open: float
    set_back: float = 0.0


@dataclass(frozen=True)
class _Cove:
    """A rounded edge along the floor: its radius, and how near to the wall the border of a cell may come, mm."""

    radius: float
    nearest: float

    @property
    def set_back(self) -> float:
        """How far a panel at that border lies back: at the floor a cove reaches as far as its radius."""
        return self.radius - self.nearest


@dataclass(frozen=True)
class _Standing:
    """How far the two walls of a direction stand in: where fillers lie, and at most where parts pass, mm."""

    foot: tuple[float, float] = (0.0, 0.0)
    passed: tuple[float, float] = (0.0, 0.0)


def play_of(length: float) -> float:
    """How far the liner stays off the wall at each end of a side that is so long, mm: its prints may be larger by that.

    Args:
        length: between the feet of the walls, mm.

    >>> play_of(0.0), play_of(400.0)
    (0.5, 0.8)
    """
    return (SLACK + GROWTH_SHARE * length) / 2


def cove_inset(radius: float, height: float) -> float:
    """How far a rounded edge between wall and floor reaches from the wall at a height above the floor, mm.

    Args:
        radius: of the cove, mm.
        height: above the floor, mm.

    >>> cove_inset(10, 0), cove_inset(10, 10), round(cove_inset(10, 0.6), 3)
    (10.0, 0.0, 6.588)
    """
    if height >= radius:
        return 0.0
    return radius - math.sqrt(radius**2 - (radius - height) ** 2)


def _cove_of(radius: float, module: Module, underside: float) -> _Cove:
    """The cove of a space: parts clear it at their underside, and cones keep a strap's edge under them."""
    most = max(0.0, module.pitch / 2 - module.seat.cone_base - CONE_TO_EDGE)
    return _Cove(radius, max(0.0, cove_inset(radius, underside), radius - most))


def _side(length: float, pitch: float, cove: _Cove, walls: _Standing, *, one_sided: bool) -> _Side:
    """Cells and fillers along one direction of the space, mm; one-sided, all that is left goes to its far side.

    Fillers lie between the feet of the walls; cells stay clear of what parts pass on their way in.
    """
    before, after = walls.foot
    made = _between(length - before - after, pitch, cove, _needs(walls, cove), one_sided=one_sided)
    return replace(made, start=made.start + before)


def _needs(walls: _Standing, cove: _Cove) -> tuple[float, float]:
    """What cells must keep from the foot of each wall beyond a cove's own share, in tenths, mm."""
    beyond = (
        max(0.0, most - foot - OWN_GAP - cove.nearest) for foot, most in zip(walls.foot, walls.passed, strict=True)
    )
    before, after = (math.ceil(round(one * 10, 6)) / 10 for one in beyond)
    return before, after


def _between(length: float, pitch: float, cove: _Cove, needs: tuple[float, float], *, one_sided: bool) -> _Side:
    """Cells and fillers between two upright walls, where cells stand so much farther off them, mm."""
    play = play_of(length) + cove.nearest
    usable = length - 2 * play
    cells = max(0, math.floor(round((usable - sum(needs)) / pitch, 9)))
    rest = usable - cells * pitch
    spare = max(0.0, rest - sum(needs)) / 2
    strips = rest - 2 * cove.set_back  # a filler lies flat beside the cove
    near, far = (max(0.0, need - cove.set_back) for need in needs)
    widths = _filler_widths(strips, near, far, one_sided=one_sided)
    if widths is None:
        open_ = max(0.0, rest)
        return _Side(cells, play + needs[0] + spare, 0.0, 0.0, open_, max(0.0, cove.set_back - min(needs) - spare))
    before, after = widths
    if before and not after:
        return _Side(cells, play + cove.set_back + strips - far, before, 0.0, far)
    return _Side(cells, play + cove.set_back + max(before, near), before, after, 0.0 if before else near)


def _filler_widths(strips: float, near: float, far: float, *, one_sided: bool) -> tuple[float, float] | None:
    """Widths of the fillers before and after the cells, mm; ``None`` where there is room for neither.

    One filler leaves open what the cells must keep from the other wall.

    Args:
        strips: what they share, mm.
        near: what cells keep at least from the wall before them, mm.
        far: the same of the wall after them.
        one_sided: one filler is preferred, at the far side.
    """
    after, before = strips - near, strips - far
    one = []
    if after >= max(THINNEST_FILLER, far):
        one.append((near, (0.0, _down(after))))
    if before >= max(THINNEST_FILLER, near):
        one.append((far, (_down(before), 0.0)))
    half = min(max(strips / 2, near), strips - far)
    two = (_down(half), _down(strips - half))
    if min(two) >= THINNEST_FILLER and strips >= SPLIT_FILLER and not (one_sided and one):
        return two
    return min(one, key=lambda choice: choice[0])[1] if one else None


def _down(width: float) -> float:
    """A filler's width rounded down to 0.1 mm, so that equal sides are equal parts."""
    return math.floor(round(width * 10, 6)) / 10


def floor_of(usable: Usable, module: Module, *, lined: bool = True, one_sided: Axis | None = None) -> Floor:
    """The cells of a space.

    A cell is blocked where a box reaches down to what stands there, where a part's corner would meet the rounded corner
    of the space, and where no panel of 2 x 2 cells could carry it.

    Args:
        usable: the usable inside of the space.
        module: the household's module.
        lined: whether parts stand on panels; otherwise on the floor itself, where a cove reaches farther.
        one_sided: a direction in which all that is left goes into one filler at its far side, right or back.
    """
    underside = module.seat.panel if lined else 0.0
    cove = _cove_of(usable.cove_radius, module, underside)
    foot, most = usable.foot, usable.passed
    across = _Standing((foot.left, foot.right), (most.left, most.right))
    along = _Standing((foot.front, foot.back), (most.front, most.back))
    along_x = _side(usable.width, module.pitch, cove, across, one_sided=one_sided is Axis.X)
    along_y = _side(usable.depth, module.pitch, cove, along, one_sided=one_sided is Axis.Y)
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
        set_back_x=along_x.set_back,
        set_back_y=along_y.set_back,
    )
    bad = {cell for box in usable.blocked for cell in _under(box, floor, module.pitch)}
    bad |= _corners(usable, floor, module.pitch, underside, most)
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


def _corners(usable: Usable, floor: Floor, pitch: float, top: float, walls: Insets) -> set[tuple[int, int]]:
    """Cells where a corner would meet a rounded corner of the space: of a part, at their own edges, or of the panel.

    Seen from above, a cove draws the walls in and makes the corner's radius smaller by as much: by its radius at the
    floor, where the panel lies, and by less at the panel's top, where parts stand. Walls that stand in bring their
    corners with them.
    """
    gaps_x = _gaps(floor.x0, floor.cols, pitch, usable.width)
    gaps_y = _gaps(floor.y0, floor.rows, pitch, usable.depth)
    tight_x = _gaps(floor.x0 - walls.left, floor.cols, pitch, usable.width - walls.left - walls.right)
    tight_y = _gaps(floor.y0 - walls.front, floor.rows, pitch, usable.depth - walls.front - walls.back)
    parts, panels = cove_inset(usable.cove_radius, top), usable.cove_radius
    radius, back_x, back_y = usable.corner_radius, floor.set_back_x, floor.set_back_y
    near = (
        [
            at
            for at, gap in enumerate(tight_x)
            if _near(radius, parts, gap) or _near(radius, panels, gaps_x[at] + back_x)
        ],
        [
            at
            for at, gap in enumerate(tight_y)
            if _near(radius, parts, gap) or _near(radius, panels, gaps_y[at] + back_y)
        ],
    )
    return {
        (col, row)
        for col in near[0]
        for row in near[1]
        if not _clears(radius, parts, tight_x[col], tight_y[row])
        or not _clears(radius, panels, gaps_x[col] + back_x, gaps_y[row] + back_y)
    }


def _near(radius: float, cove: float, gap: float) -> bool:
    """Whether a side of ours is so near to a wall that a corner of the space may matter, mm."""
    return max(0.0, radius - cove) - (gap - cove) > CORNER_RADIUS


def _clears(radius: float, cove: float, gap_x: float, gap_y: float) -> bool:
    """Whether a corner of ours clears one of the space where a cove has drawn it in, mm."""
    return clears_corner(max(0.0, radius - cove), gap_x - cove, gap_y - cove, float(CORNER_RADIUS))


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
    """Free cells that lie in no free square of 2 x 2: no panel carries them. Such lie beside a bad one."""
    if min(cols, rows) < 2:  # noqa: PLR2004 - 2 x 2 cells
        return {(col, row) for col in range(cols) for row in range(rows)} - bad
    beside = {(c + x, r + y) for c, r in bad for x in (-1, 0, 1) for y in (-1, 0, 1)} - bad
    return {
        (col, row)
        for col, row in beside
        if 0 <= col < cols and 0 <= row < rows and not _carried(col, row, cols, rows, bad)
    }


def _carried(col: int, row: int, cols: int, rows: int, bad: set[tuple[int, int]]) -> bool:
    """Whether one of the four squares of 2 x 2 round a cell is free and inside."""
    return any(
        0 <= left < cols - 1
        and 0 <= front < rows - 1
        and not bad & {(left, front), (left + 1, front), (left, front + 1), (left + 1, front + 1)}
        for left in (col - 1, col)
        for front in (row - 1, row)
    )
