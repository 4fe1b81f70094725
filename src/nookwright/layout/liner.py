"""The liner of one space: which panels cover its cells, which fillers take up the edges, where they are keyed together.

It decides and measures, it draws nothing. Panels are as large as their connected cells; cutting them to a bed comes
later.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.layout.cells import components, in_squares, sound_groups
from nookwright.layout.liner_model import (
    EDGE_INSET,
    Cell,
    FillerForm,
    FillerSpec,
    Liner,
    Lips,
    PanelSpec,
    PlacedFiller,
    PlacedPanel,
    SetBack,
    Side,
    Slot,
    panel_spec,
)
from nookwright.module.floor import play_of
from nookwright.module.pattern import Pattern

if TYPE_CHECKING:
    from collections.abc import Collection

    from nookwright.module.floor import Floor
    from nookwright.sizing.usable import BlockedBox, Usable

__all__ = [
    "EDGE_INSET",
    "Cell",
    "FillerForm",
    "FillerSpec",
    "Liner",
    "Lips",
    "PanelSpec",
    "PlacedFiller",
    "PlacedPanel",
    "SetBack",
    "Side",
    "Slot",
    "components",
    "key_borders",
    "panel_spec",
    "plan_liner",
]

SHORTEST_RUN = Fact(
    2, unit="cells", kind=Kind.CHOICE, source="A filler beside a single cell holds nothing and gets lost."
)
KEYS_APART = Fact(
    4,
    unit="cells",
    kind=Kind.CHOICE,
    source="From here on an edge gets two keys, at its quarters, so that it cannot turn.",
)


@dataclass(frozen=True)
class _Run:
    """Cells first..last along a side that get one filler; its tongues as cell borders."""

    side: Side
    first: int
    last: int

    @property
    def keys(self) -> tuple[int, ...]:
        return key_borders(self.first, self.last)


def key_borders(first: int, last: int) -> tuple[int, ...]:
    """Cell borders inside a run of cells where keys go: at its quarters, or in the middle of a short one.

    >>> key_borders(0, 11), key_borders(3, 4), key_borders(2, 2)
    ((3, 9), (4,), ())
    """
    cells = last - first + 1
    if cells < SHORTEST_RUN:
        return ()
    if cells < KEYS_APART:
        return (first + cells // 2,)
    quarter = max(1, round(cells / 4))
    return (first + quarter, last + 1 - quarter)


def plan_liner(
    floor: Floor,
    usable: Usable,
    pitch: float,
    longest: float,
    *,
    pattern: Pattern = Pattern.CHESSBOARD,
    chosen: tuple[Cell, ...] = (),
    only: Collection[Cell] | None = None,
) -> Liner:
    """Panels and fillers of one space.

    Args:
        floor: its cells and the widths of its fillers.
        usable: its usable inside.
        pitch: cell size, mm.
        longest: the longest strip that can be printed, mm.
        pattern: where cones stand.
        chosen: for cones only under the layout, the cells that have one.
        only: cells that panels may cover, those that no panel can carry left out; all free ones where not given.
    """
    blocked = set(floor.blocked)
    free = {(c, r) for c in range(floor.cols) for r in range(floor.rows)} - blocked
    if only is not None:
        free = in_squares(free & set(only))
    runs = tuple(run for side in Side for run in _runs(side, floor, usable, pitch, free=free, longest=longest))
    slots = {Slot(run.side, at) for run in runs for at in run.keys}
    groups = sound_groups(free)
    return Liner(
        panels=tuple(_panel(cells, floor, slots, pattern=pattern, chosen=chosen) for cells in groups),
        fillers=tuple(_filler(run, floor, usable, pitch) for run in runs),
    )


def _width(side: Side, floor: Floor) -> float:
    return {Side.LEFT: floor.left, Side.RIGHT: floor.right, Side.FRONT: floor.front, Side.BACK: floor.back}[side]


def _cell(side: Side, at: int, floor: Floor) -> Cell:
    """The cell at a side, counted along it."""
    return {
        Side.LEFT: (0, at), Side.RIGHT: (floor.cols - 1, at), Side.FRONT: (at, 0), Side.BACK: (at, floor.rows - 1),
    }[side]  # fmt: skip


def _runs(
    side: Side, floor: Floor, usable: Usable, pitch: float, *, free: set[Cell], longest: float
) -> tuple[_Run, ...]:
    """Stretches of a side that get a filler each: beside free cells, clear of what is in the way, printable."""
    if not _width(side, floor):
        return ()
    count = floor.rows if side.upright else floor.cols
    beside = (at for at in range(count) if _cell(side, at, floor) in free)
    good = [at for at in beside if not _in_the_way(side, at, floor, usable, pitch)]
    stretches: list[list[int]] = []
    for at in good:
        if stretches and stretches[-1][-1] == at - 1:
            stretches[-1].append(at)
        else:
            stretches.append([at])
    most = max(1, math.floor(longest / pitch))
    return tuple(
        _Run(side, cells[0], cells[-1])
        for stretch in stretches
        for cells in _shares(stretch, most)
        if len(cells) >= SHORTEST_RUN
    )


def _shares(stretch: list[int], most: int) -> list[list[int]]:
    """A stretch in equal shares of at most so many cells."""
    parts = math.ceil(len(stretch) / most)
    marks = [round(len(stretch) * number / parts) for number in range(parts + 1)]
    return [stretch[a:b] for a, b in pairwise(marks)]


def _in_the_way(side: Side, at: int, floor: Floor, usable: Usable, pitch: float) -> bool:
    """Whether the strip beside a cell meets a blocked box, or half of it a rounded corner of the space."""
    low, high = _stretch(side, floor, usable, pitch)
    middle = (floor.y0 if side.upright else floor.x0) + (at + 0.5) * pitch
    in_corner = not low <= middle <= high
    return in_corner or any(_strip_meets(box, side, at, floor, usable, pitch=pitch) for box in usable.blocked)


def _strip_meets(box: BlockedBox, side: Side, at: int, floor: Floor, usable: Usable, *, pitch: float) -> bool:
    """Whether a blocked box reaches into the strip between a cell and the wall."""
    if side.upright:
        low, high = floor.y0 + at * pitch, floor.y0 + (at + 1) * pitch
        near = box.x0 < floor.x0 if side is Side.LEFT else box.x1 > floor.x0 + floor.cols * pitch
        return near and box.y0 < high and box.y1 > low and box.x0 < usable.width
    low, high = floor.x0 + at * pitch, floor.x0 + (at + 1) * pitch
    near = box.y0 < floor.y0 if side is Side.FRONT else box.y1 > floor.y0 + floor.rows * pitch
    return near and box.x0 < high and box.x1 > low and box.y0 < usable.depth


def _panel(
    cells: tuple[Cell, ...], floor: Floor, slots: set[Slot], *, pattern: Pattern, chosen: tuple[Cell, ...]
) -> PlacedPanel:
    """A panel of connected cells, with the slots of the fillers beside it, its edges off the cove."""
    bare = panel_spec(cells, ())
    there = set(cells)
    mine = []
    for slot in sorted(slots):
        beside = {_cell(slot.side, slot.at - 1, floor), _cell(slot.side, slot.at, floor)}
        if beside <= there:
            mine.append(Slot(slot.side, slot.at - (bare.row if slot.side.upright else bare.col)))
    placed = panel_spec(cells, tuple(mine), pattern=pattern, chosen=chosen)
    edge = SetBack(
        left=floor.set_back_x if bare.col == 0 else 0.0,
        right=floor.set_back_x if bare.col + bare.spec.cols == floor.cols else 0.0,
        front=floor.set_back_y if bare.row == 0 else 0.0,
        back=floor.set_back_y if bare.row + bare.spec.rows == floor.rows else 0.0,
    )
    return replace(placed, spec=replace(placed.spec, set_back=edge))


def _filler(run: _Run, floor: Floor, usable: Usable, pitch: float) -> PlacedFiller:
    """The filler of a run, shortened where the corner of the space is round."""
    width = _width(run.side, floor)
    begin = (floor.y0 if run.side.upright else floor.x0) + run.first * pitch
    whole = (run.last + 1 - run.first) * pitch
    first, last = _stretch(run.side, floor, usable, pitch)
    before, after = _set_back(first - begin), _set_back(begin + whole - last)
    length = round(whole - before - after, 4)
    tongues = tuple(round((at - run.first) * pitch - before, 4) for at in run.keys)
    return PlacedFiller(FillerSpec(length, width, _along(run.side, tongues, length)), run.side, begin + before)


def _set_back(corner: float) -> float:
    """How far an end of a filler lies back from its last cell's border, mm: in tenths, so that equals stay equal."""
    return math.ceil(round(max(EDGE_INSET, corner) * 10, 6)) / 10


def _along(side: Side, tongues: tuple[float, ...], length: float) -> tuple[float, ...]:
    """Tongues in the filler's own axes: right and front ones lie in the direction of the side, others against."""
    if side in (Side.RIGHT, Side.FRONT):
        return tongues
    return tuple(sorted(round(length - at, 4) for at in tongues))


def _stretch(side: Side, floor: Floor, usable: Usable, pitch: float) -> tuple[float, float]:
    """From where to where a filler's outer edge may run along a side, mm.

    It stays clear of coves, rounded corners and leaning walls also when it has taken up all of its play: printed at its
    largest it lies nearer to the wall, and reaches farther along it.
    """
    cove, foot = usable.cove_radius, usable.foot
    wall = {Side.LEFT: foot.left, Side.RIGHT: foot.right, Side.FRONT: foot.front, Side.BACK: foot.back}[side]
    play_x = play_of(usable.width - foot.left - foot.right)
    play_y = play_of(usable.depth - foot.front - foot.back)
    out, along = (play_x, play_y) if side.upright else (play_y, play_x)
    beside = _wall_gap(side, floor, usable, pitch) - wall - cove - out
    clear = cove + along + _corner_reach(max(0.0, usable.corner_radius - cove), max(0.0, beside))
    if side.upright:
        return foot.front + clear, usable.depth - foot.back - clear
    return foot.left + clear, usable.width - foot.right - clear


def _wall_gap(side: Side, floor: Floor, usable: Usable, pitch: float) -> float:
    """From the wall to the filler's outer edge, mm."""
    return {
        Side.LEFT: floor.x0 - floor.left,
        Side.RIGHT: usable.width - floor.x0 - floor.cols * pitch - floor.right,
        Side.FRONT: floor.y0 - floor.front,
        Side.BACK: usable.depth - floor.y0 - floor.rows * pitch - floor.back,
    }[side]


def _corner_reach(radius: float, gap: float) -> float:
    """How far a rounded corner reaches along a line that lies ``gap`` off the wall, mm.

    >>> round(_corner_reach(10, 2), 3), _corner_reach(0, 1), _corner_reach(5, 5)
    (4.0, 0.0, 0.0)
    """
    if gap >= radius:
        return 0.0
    return radius - math.sqrt(radius**2 - (radius - gap) ** 2)
