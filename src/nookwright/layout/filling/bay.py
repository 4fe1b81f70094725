"""One open bay for what stands free: the free cells gathered in one rectangle, with a fence towards the parts.

Parts move together towards the front or the left, row by row, so that rows stay rows. A fence takes one row of cells of
the bay; its wall stands at the parts, its base lies under what stands in the bay. What it does not know: what will
stand in the bay.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.layout.filling.growth import stays
from nookwright.layout.filling.spots import Box, Floor, box_of, floor_of
from nookwright.layout.liner_levels import CONES_A_PART
from nookwright.layout.liner_model import Side
from nookwright.layout.model import FenceForm, Placed
from nookwright.module.pattern import has_cone, pattern_for

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from nookwright.layout.filling.means import Means
    from nookwright.layout.model import Grid

LEAST_SIDE = Fact(
    3, unit="cells", kind=Kind.CHOICE, source="A bay of less than 50 mm takes nothing that stands free; leave it open."
)
SHORTEST = Fact(2, unit="cells", kind=Kind.CALCULATED, source="A fence of a single cell may meet no cone.")
LOWEST = Fact(2, unit="rises", kind=Kind.CHOICE, source="A lower fence is no higher than the domes of its base.")
HIGHEST = Fact(5, unit="rises", kind=Kind.CHOICE, source="Higher, a fence is only plastic: things are met below.")
TONGUE = Fact(
    1, unit="cells", kind=Kind.CALCULATED, source="A fence's box is longer by its tongue; a cell is more than that."
)
FENCE = "fence"


@dataclass(frozen=True)
class Bay:
    """A space with its bay.

    Attributes:
        parts: what stood in the space, gathered.
        fences: round the bay.
        inside: the cells that stay open within the fences.
    """

    parts: tuple[Placed, ...]
    fences: tuple[Placed, ...]
    inside: Box


def bay_of(grid: Grid, here: Sequence[Placed], means: Means) -> Bay | None:
    """The largest bay that the free cells of a space make; ``None`` where it would be too small, or too heavy.

    Args:
        grid: the space.
        here: what stands in it.
        means: what filling may use.
    """
    if not grid.coned:
        return None  # a fence that no cone holds is pushed aside by what leans on it
    left_g = grid.load_g - sum(means.mass_g(one) for one in here)
    best: Bay | None = None
    for parts in _gathered(grid, here):
        floor = floor_of(grid, parts)
        for free in sorted(set(floor.rectangles()), key=lambda box: (-box.area, box.row, box.col)):
            if best and free.area <= best.inside.area:
                break
            found = _fenced(grid, free, parts, means)
            if found and (best is None or found.inside.area > best.inside.area) and _carried(found, left_g, means):
                best = found
    return best


def _carried(bay: Bay, left_g: float, means: Means) -> bool:
    """Whether the space carries the fences."""
    return sum(means.mass_g(one) for one in bay.fences) <= left_g


def _gathered(grid: Grid, here: Sequence[Placed]) -> Iterator[tuple[Placed, ...]]:
    """The parts as they are, and moved together in each way."""
    kept = tuple(here)
    to_front, to_left = _moved(grid, kept, Side.FRONT), _moved(grid, kept, Side.LEFT)
    ways = (kept, to_front, to_left, _moved(grid, to_front, Side.LEFT), _moved(grid, to_left, Side.FRONT))
    yield from dict.fromkeys(ways)


def _moved(grid: Grid, here: tuple[Placed, ...], side: Side) -> tuple[Placed, ...]:
    """The parts moved towards a side: those that begin in one line by the same way, so that they stay in line."""
    lines: dict[int, list[int]] = defaultdict(list)
    after = list(here)
    for number, one in enumerate(here):
        if not stays(one):
            lines[one.col if side is Side.LEFT else one.row].append(number)
    for _, line in sorted(lines.items()):
        rest = floor_of(grid, (one for number, one in enumerate(after) if number not in line))
        boxes = [box_of(after[number]) for number in line]
        way = min(_free_before(rest, box, side) for box in boxes)
        for number in line:
            one = after[number]
            after[number] = replace(one, col=one.col - way) if side is Side.LEFT else replace(one, row=one.row - way)
    return tuple(after)


def _free_before(floor: Floor, box: Box, side: Side) -> int:
    """Cells that a box could move towards a side."""
    way = 0
    while _shifted(box, side, way + 1) in floor:
        way += 1
    return way


def _shifted(box: Box, side: Side, way: int) -> Box:
    return box._replace(col=box.col - way) if side is Side.LEFT else box._replace(row=box.row - way)


def _fenced(grid: Grid, free: Box, parts: tuple[Placed, ...], means: Means) -> Bay | None:
    """A free rectangle as a bay."""
    sides = [side for side in Side if _open_to(grid, free, side)]
    bay = _on_cones(grid, free, sides)
    inside = _inner(bay, sides)
    if min(inside.cols, inside.rows) < LEAST_SIDE:
        return None
    height = _height(grid, parts, means)
    strips = {side: _strip(bay, side, sides) for side in sides}
    if not height or not all(_stands(grid, box) for box in strips.values()):
        return None
    fences = tuple(one for side, box in strips.items() for one in _run(grid, box, side, height, means))
    return Bay(parts, fences, inside)


def _stands(grid: Grid, strip: Box) -> bool:
    """Whether a fence in these cells neither slides nor turns; one that is joined of several is as long as them all."""
    pattern = pattern_for(*grid.smallest)
    cells = ((strip.col + x, strip.row + y) for x in range(strip.cols) for y in range(strip.rows))
    return sum(has_cone(*cell, pattern) for cell in cells) >= CONES_A_PART


def _open_to(grid: Grid, box: Box, side: Side) -> bool:
    """Whether parts or free cells border on a side; not where a wall of the space does, or only blocked cells do."""
    beyond = {
        Side.LEFT: Box(box.col - 1, box.row, 1, box.rows),
        Side.RIGHT: Box(box.right, box.row, 1, box.rows),
        Side.FRONT: Box(box.col, box.row - 1, box.cols, 1),
        Side.BACK: Box(box.col, box.back, box.cols, 1),
    }[side]
    return floor_of(grid).meets(beyond)


def _on_cones(grid: Grid, free: Box, sides: Sequence[Side]) -> Box:
    """The bay drawn in so that its fences stand on cones, where only every second row and column has them."""
    if grid.smallest[0] < SHORTEST:
        return free
    left = free.col % 2 if Side.LEFT in sides else 0
    front = free.row % 2 if Side.FRONT in sides else 0
    right = (free.right - 1) % 2 if Side.RIGHT in sides else 0
    back = (free.back - 1) % 2 if Side.BACK in sides else 0
    return Box(free.col + left, free.row + front, free.cols - left - right, free.rows - front - back)


def _inner(bay: Box, sides: Sequence[Side]) -> Box:
    """What the fences leave of a bay."""
    left, front = Side.LEFT in sides, Side.FRONT in sides
    across, deep = left + (Side.RIGHT in sides), front + (Side.BACK in sides)
    return Box(bay.col + left, bay.row + front, bay.cols - across, bay.rows - deep)


def _strip(bay: Box, side: Side, sides: Sequence[Side]) -> Box:
    """The cells of the fences on a side: those across take the corners."""
    front = Side.FRONT in sides
    deep = bay.rows - front - (Side.BACK in sides)
    return {
        Side.FRONT: Box(bay.col, bay.row, bay.cols, 1),
        Side.BACK: Box(bay.col, bay.back - 1, bay.cols, 1),
        Side.LEFT: Box(bay.col, bay.row + front, 1, deep),
        Side.RIGHT: Box(bay.right - 1, bay.row + front, 1, deep),
    }[side]


def _height(grid: Grid, parts: Sequence[Placed], means: Means) -> float:
    """As high as the lowest rim, within its limits, mm; 0 where the space is too low for any."""
    rise = means.module.rise
    low, high = LOWEST * rise, min(HIGHEST * rise, grid.height // rise * rise)
    lowest = min((one.height for one in parts if not one.fence), default=high)
    return round(max(low, min(lowest, high)), 6) if low <= high else 0.0


def _run(grid: Grid, strip: Box, side: Side, height: float, means: Means) -> Iterator[Placed]:
    """The fences of one side, nearly equal, joined where they meet; tongues point as ``FenceForm`` says."""
    cells = max(strip.cols, strip.rows)
    longest = max(int(SHORTEST), max(means.largest) - int(TONGUE)) if means.largest else cells
    count = min(-(-cells // longest), cells // int(SHORTEST))
    marks = [cells * number // count for number in range(count + 1)]
    backwards = side in (Side.FRONT, Side.RIGHT)  # turned so that its tongue points to the left, or to the front
    for number in range(count):
        start, length = marks[number], marks[number + 1] - marks[number]
        first, last = number == 0, number == count - 1
        slot, tongue = (not last, not first) if backwards else (not first, not last)
        form = FenceForm(side, slot=slot, tongue=tongue)
        upright = side.upright
        yield Placed(
            space=grid.space,
            col=strip.col + (0 if upright else start),
            row=strip.row + (start if upright else 0),
            cols=1 if upright else length,
            rows=length if upright else 1,
            turned=upright,
            candidate=None,
            height=height,
            label=FENCE,
            fence=form,
        )
