"""Outlines of pieces as cells of a bed, with the room that is kept between pieces.

A cell that an outline only touches is taken whole. The room between pieces is added at the right and the back of each:
two pieces whose cells do not overlap are that far apart. Pockets in an outline that no other piece could use are
filled; they would only slow the search.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from nookwright.cutting.bed_space import CELL
from nookwright.ground.sources import Fact, Kind
from nookwright.making.nesting.cells import Footprint, box_places

if TYPE_CHECKING:
    from collections.abc import Iterable

    import numpy as np
    from numpy.typing import NDArray

    from nookwright.making.beds.model import Contours
    from nookwright.making.nesting.cells import Ways

    Cells = NDArray[np.bool_]

STEP = Fact(
    0.25, unit="mm", kind=Kind.CHOICE, source="Between two points of an outline that mark the cells they are in."
)
LEAST_ROOM = Fact(
    0.12, unit="1", kind=Kind.CHOICE, source="Share of a box that an outline must leave free; round corners leave 0.01."
)
REACH = Fact(0.2, unit="mm", kind=Kind.CALCULATED, source="About a point; more than half a step, so no cell is missed.")


def box_ways(width: float, depth: float, spacing: float) -> Ways:
    """The cells of a box in both ways that it may lie.

    Args:
        width: of the piece, mm.
        depth: of the piece, mm.
        spacing: to the next piece, mm.

    >>> [(turns, way.width, way.depth) for turns, way in box_ways(10.2, 5.0, 3.0)]
    [(0, 14, 8), (1, 8, 14)]
    """
    wide, deep = _up(width + spacing), _up(depth + spacing)
    lying = (0, Footprint.of_box(wide, deep))
    return (lying,) if wide == deep else (lying, (1, Footprint.of_box(deep, wide)))


def _up(length: float) -> int:
    return math.ceil(round(length / CELL, 6))


def area_of(contours: Contours) -> float:
    """What contours enclose, holes left out, mm2.

    >>> import numpy as np
    >>> area_of([np.array([(0.0, 0.0), (4.0, 0.0), (4.0, 3.0), (0.0, 3.0)])])
    12.0
    """
    import numpy as np

    return float(
        sum(
            (one[:, 0] * np.roll(one[:, 1], -1) - np.roll(one[:, 0], -1) * one[:, 1]).sum() / 2
            for one in map(np.asarray, contours)
        )
    )


def outline_ways(contours: Contours, width: float, depth: float, spacing: float) -> Ways:
    """The cells of an outline in every way that it may lie.

    Each way is drawn anew: a box of a broken size turned about would no longer begin at a cell.

    Args:
        contours: of the piece seen from above, its box at the origin, mm.
        width: of its box, mm.
        depth: of its box, mm.
        spacing: to the next piece, mm.
    """
    ways: dict[Footprint, int] = {}
    for turns in range(4):
        sides = (depth, width) if turns % 2 else (width, depth)
        ways.setdefault(outline_cells(turned_contours(contours, width, depth, turns), *sides, spacing), turns)
    return tuple((turns, way) for way, turns in ways.items())


def turned_contours(contours: Contours, width: float, depth: float, turns: int) -> Contours:
    """Contours turned counter-clockwise, their box at the origin again."""
    import numpy as np

    cos, sin = ((1, 0), (0, 1), (-1, 0), (0, -1))[turns]
    off = np.array([(0.0, depth, width, 0.0)[turns], (0.0, 0.0, depth, width)[turns]])
    return [np.asarray(contour) @ np.array([[cos, sin], [-sin, cos]]) + off for contour in contours]


def outline_cells(contours: Contours, width: float, depth: float, spacing: float) -> Footprint:
    """The cells of an outline as it lies.

    Args:
        contours: of the piece seen from above, its box at the origin, mm.
        width: of its box, mm.
        depth: of its box, mm.
        spacing: to the next piece, mm.
    """
    import numpy as np

    cells = np.zeros((_up(depth), _up(width)), np.bool_)
    _mark_inside(cells, contours)
    _mark_edges(cells, contours)
    return _words(_grown(cells, _up(spacing)))


def _mark_inside(cells: Cells, contours: Contours) -> None:
    """Mark the cells whose middle is inside: to their left a ray meets the edges an odd number of times."""
    import numpy as np

    starts = np.concatenate([np.asarray(contour, np.float64) for contour in contours]) / CELL
    ends = np.concatenate([np.roll(contour, -1, axis=0) for contour in contours]) / CELL
    low = np.ceil(np.minimum(starts[:, 1], ends[:, 1]) - 1 / 2).astype(np.int64)
    high = np.ceil(np.maximum(starts[:, 1], ends[:, 1]) - 1 / 2).astype(np.int64)
    counts = high - low
    which = np.repeat(np.arange(len(starts)), counts)
    rows = low[which] + np.arange(counts.sum()) - np.repeat(np.cumsum(counts) - counts, counts)
    rise = (ends - starts)[which]
    x = starts[which, 0] + (rows + 1 / 2 - starts[which, 1]) / rise[:, 1] * rise[:, 0]
    meets = np.zeros((cells.shape[0], cells.shape[1] + 1), np.int64)
    cols = np.clip(np.ceil(x - 1 / 2).astype(np.int64), 0, cells.shape[1])
    np.add.at(meets, (np.clip(rows, 0, cells.shape[0] - 1), cols), 1)
    cells |= (np.cumsum(meets, axis=1)[:, :-1] % 2).astype(np.bool_)


def _mark_edges(cells: Cells, contours: Contours) -> None:
    """Mark every cell that an edge passes through, those of all contours at once."""
    import numpy as np

    points = np.concatenate([np.asarray(contour, np.float64) for contour in contours])
    steps = np.concatenate([np.roll(contour, -1, axis=0) for contour in contours]) - points
    counts = np.maximum(1, np.ceil(np.hypot(steps[:, 0], steps[:, 1]) / STEP).astype(np.int64))
    which = np.repeat(np.arange(len(points)), counts)
    share = (np.arange(counts.sum()) - np.repeat(np.cumsum(counts) - counts, counts)) / counts[which]
    along = points[which] + share[:, None] * steps[which]
    cols, rows = (
        [np.floor((along[:, axis] + off) / CELL).astype(np.int64).clip(0, most - 1) for off in (-REACH, REACH)]
        for axis, most in ((0, cells.shape[1]), (1, cells.shape[0]))
    )
    for col in cols:
        for row in rows:
            cells[row, col] = True


def _grown(cells: Cells, by: int) -> Cells:
    """Every cell with those up to so many to its right and behind it."""
    import numpy as np

    wide = np.pad(cells, ((0, by), (0, by)))
    for axis in (0, 1):
        wide = np.logical_or.reduce([np.roll(wide, shift, axis) for shift in range(by + 1)])
    return wide


def _words(cells: Cells) -> Footprint:
    """Cells as words, one a row."""
    import numpy as np

    packed = np.packbits(cells, axis=1, bitorder="little")
    return Footprint(tuple(int.from_bytes(row.tobytes(), "little") for row in packed))


def useful(footprint: Footprint, boxes: Iterable[tuple[int, int]]) -> Footprint:
    """A footprint with its pockets filled as far as nothing else could lie there, not even in part.

    Args:
        footprint: of an outline.
        boxes: widths and depths of everything else, in cells.
    """
    least = least_boxes(boxes)
    if not least or footprint.solid:
        return footprint
    pad = max(max(box) for box in least)
    stride = footprint.width + 2 * pad + 1
    everywhere = _rectangle(stride - 1, footprint.depth + 2 * pad, stride)
    free = everywhere & ~(footprint.mask(stride) << (pad * stride + pad))
    usable = 0
    for width, depth in least:
        usable |= _covered(box_places(free, width, depth, stride), width, depth, stride)
    taken = (everywhere & ~usable) >> (pad * stride + pad)
    inner = (1 << footprint.width) - 1
    return Footprint(tuple(taken >> (at * stride) & inner for at in range(footprint.depth)))


def least_boxes(boxes: Iterable[tuple[int, int]]) -> tuple[tuple[int, int], ...]:
    """The boxes that hold no other: where a larger one lies, a smaller one could."""
    found: list[tuple[int, int]] = []
    for width, depth in sorted(set(boxes)):
        if not found or depth < found[-1][1]:
            found.append((width, depth))
    return tuple(found)


def _rectangle(width: int, depth: int, stride: int) -> int:
    """The mask of a full rectangle."""
    return _covered(1, width, depth, stride)


def _covered(corners: int, width: int, depth: int, stride: int) -> int:
    """All cells of boxes by their corners."""
    for count, step in ((width, 1), (depth, stride)):
        reached = 1
        while reached < count:
            more = min(reached, count - reached)
            corners |= corners << (more * step)
            reached += more
    return corners
