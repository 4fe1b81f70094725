"""Whether a liner has all that keeps it together and in its place: keys over its seams, strips where there is room.

Panels lie edge to edge and hold by keys alone; what is left between them and the walls is taken up by strips, or the
liner slides in every slam. Looked at from the cells of the space and the boxes of what lies there. What this does not
know: slots without a seam beside them, a second key where a seam meets something blocked, liners that lie only under
the layout, strips beside leaning walls and round edges of a floor, and strips beside the cells in corners, which are
left out where the corners are round.
"""

from __future__ import annotations

from collections import defaultdict
from itertools import permutations
from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.bodies import matrix_of, moved_by
from nookwright.checks.in_words import OURS, length, some
from nookwright.ground.findings import Against, Finding, Severity
from nookwright.ground.sources import Fact, Kind
from nookwright.module.pattern import Pattern

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from nookwright.checks.boxes import Floats
    from nookwright.exchange.kit import Kit, KitSpace, Piece, Placement

SEAM = Fact(1.0, unit="mm", kind=Kind.CALCULATED, source="Panels lie 0.4 apart; what is further apart is no seam.")
SHORT_CELLS = Fact(2.0, unit="1", kind=Kind.CALCULATED, source="Cells of a seam that is too short for a key.")
LONG_CELLS = Fact(5.0, unit="1", kind=Kind.CHOICE, source="Cells from which on a seam has two keys.")
NARROWEST = Fact(4.0, unit="mm", kind=Kind.CHOICE, source="No strip is narrower; where less is left there is none.")
BESIDE = Fact(
    0.3, unit="mm", kind=Kind.CALCULATED, source="Left at a wall beside a strip at least; half of 1 is usual."
)
_ALL_OVER = ("full", "sparse")  # levels of liner whose panels are as wide as their boxes
_ALONG_EDGES = (*_ALL_OVER, "frame")  # levels of liner that have cells along the walls
_TWO = 2  # keys of a long seam

Box = tuple["Floats", "Floats"]


def check_liner_whole(kit: Kit) -> Iterator[Finding]:
    """Seams without their keys, and gaps at walls without their strip; one finding a space for each.

    Args:
        kit: the kit, its references sound.
    """
    kinds = {part.id: part.kind for part in kit.parts}
    pieces: dict[str, dict[object, Piece]] = defaultdict(dict)
    for piece in kit.pieces:
        pieces[piece.part].setdefault(piece.part_from_piece, piece)
    lying: dict[str, dict[str, list[Placement]]] = defaultdict(lambda: defaultdict(list))
    for one in kit.placements:
        lying[one.space][kinds[one.part]].append(one)
    sizes = {part.id: part.size for part in kit.parts}
    for space in kit.spaces:
        there = lying[space.id]
        panels = [box for one in there["panel"] for box in _pieces(one, [*pieces[one.part].values()])]
        keys, strips = ([_box(one, sizes[one.part]) for one in there[kind]] for kind in ("key", "filler"))
        if _level(space) in _ALL_OVER:
            yield from _unkeyed(space, panels, keys, kit.module.pitch)
        yield from _unfilled(space, panels, strips, kit.module.pitch)


def _box(one: Placement, size: Sequence[float], within: Floats | None = None) -> Box:
    """The least and greatest corner of something placed, seen from above."""
    at = matrix_of(one.space_from_part)
    corners = np.stack(np.meshgrid(*[(0.0, side) for side in size]), axis=-1).reshape(-1, 3)
    moved = moved_by(at if within is None else np.asarray(at @ within, dtype=np.float64), corners)
    return moved[:, :2].min(axis=0), moved[:, :2].max(axis=0)


def _pieces(one: Placement, pieces: Sequence[Piece]) -> list[Box]:
    return [_box(one, piece.size, matrix_of(piece.part_from_piece)) for piece in pieces]


def _unkeyed(space: KitSpace, panels: Sequence[Box], keys: Sequence[Box], pitch: float) -> Iterator[Finding]:
    """Seams between pieces of panels that too few keys lie over."""
    bare = []
    for one, other in permutations(panels, 2):
        for axis in (0, 1):
            least, most = (
                max(one[0][1 - axis], other[0][1 - axis]),
                min(one[1][1 - axis], other[1][1 - axis]),
            )
            apart = other[0][axis] - one[1][axis]
            if not (-SEAM / 10 <= apart <= SEAM and most - least >= SHORT_CELLS * pitch):
                continue
            line = (other[0][axis] + one[1][axis]) / 2
            over = [(low + high) / 2 for low, high in keys]
            count = sum(abs(mid[axis] - line) <= SEAM and least < mid[1 - axis] < most for mid in over)
            free = not _blocked_along(space, axis, float(line), (float(least), float(most)), pitch)
            need = _TWO if most - least >= LONG_CELLS * pitch and free else 1
            if count < need:
                bare.append((need - count, float(most - least)))
    if bare:
        long = max(one[1] for one in bare)
        text = (
            f"{some(len(bare), 'seam')} between panels of its liner, the longest of {long:.0f} mm, "
            f"{'lacks' if len(bare) == 1 else 'lack'} {some(sum(one[0] for one in bare), 'key')}: nothing else holds "
            "panels together."
        )
        yield Finding("key-missing", Severity.STOP, space.id, text, OURS)


def _blocked_along(space: KitSpace, axis: int, line: float, span: tuple[float, float], pitch: float) -> bool:
    """Whether a cell beside a seam is blocked: the seam lies at a line across an axis, from where to where."""
    least, most = span
    for cell in space.blocked_cells:
        low = np.array(space.cell_origin) + pitch * np.array(cell)
        beside = low[axis] - pitch / 2 <= line <= low[axis] + 1.5 * pitch
        if beside and low[1 - axis] < most and low[1 - axis] + pitch > least:
            return True
    return False


def _unfilled(space: KitSpace, panels: Sequence[Box], strips: Sequence[Box], pitch: float) -> Iterator[Finding]:
    """Room for a strip between a liner and a wall, with none in it."""
    if not panels or not _plain(space):
        return
    widths = _gaps(space, pitch)
    bare: dict[str, int] = {}
    for side, gap in widths.items():
        if gap < NARROWEST:
            continue
        cells = [mid for mid in _edge_cells(space, side, pitch)[1:-1] if _under(mid, panels)]
        needy = [mid for mid in cells if not _met(_gap_box(side, mid, gap, pitch), strips, space)]
        if needy:
            bare[side] = len(needy)
    if bare:
        worst = max(bare, key=lambda side: widths[side])
        text = (
            f"Between its liner and the {_and(bare)} {some(sum(bare.values()), 'cell')} along the edge "
            f"{'has' if sum(bare.values()) == 1 else 'have'} no strip, though up to {length(widths[worst])} are left; "
            f"from {length(NARROWEST)} on the liner slides there."
        )
        yield Finding(
            "filler-missing", Severity.STOP, space.id, text, OURS, Against(widths[worst], float(NARROWEST), "mm")
        )


def _plain(space: KitSpace) -> bool:
    """Whether a liner lies all over the floor, or all along its edges, between upright walls that meet it squarely."""
    outlines = {(at.x, at.y, at.width, at.depth) for at in space.usable}
    return _level(space) in _ALONG_EDGES and len(outlines) == 1 and not space.cove_radius


def _level(space: KitSpace) -> str:
    """How much liner a space has; nothing where its plates follow the layout."""
    chosen = next((one for one in space.liners if one.chosen), None)
    if chosen is None:
        return _ALL_OVER[0]
    return "" if chosen.pattern == Pattern.UNDER_LAYOUT.value else chosen.level


def _and(bare: Mapping[str, int]) -> str:
    return " and the ".join(f"{side} wall" for side in bare)


def _gaps(space: KitSpace, pitch: float) -> dict[str, float]:
    """Room between the cells and each wall on the floor, mm, less what stays free beside a strip."""
    floor = space.usable[0]
    x0, y0 = space.cell_origin
    right = floor.x + floor.width - x0 - space.cols * pitch
    back = floor.y + floor.depth - y0 - space.rows * pitch
    gaps = {"left": x0 - floor.x, "right": right, "front": y0 - floor.y, "back": back}
    return {side: gap - BESIDE for side, gap in gaps.items()}


def _edge_cells(space: KitSpace, side: str, pitch: float) -> list[Floats]:
    """Middles of the cells along a side, blocked ones left out."""
    along = space.rows if side in ("left", "right") else space.cols
    last = {"left": 0, "right": space.cols - 1, "front": 0, "back": space.rows - 1}[side]
    cells = [(last, one) if side in ("left", "right") else (one, last) for one in range(along)]
    blocked = set(space.blocked_cells)
    return [np.array(space.cell_origin) + pitch * (np.array(cell) + 0.5) for cell in cells if cell not in blocked]


def _under(mid: Floats, boxes: Sequence[Box]) -> bool:
    return any((low < mid).all() and (mid < high).all() for low, high in boxes)


def _gap_box(side: str, mid: Floats, gap: float, pitch: float) -> Box:
    """The middle of the gap beside a cell, half as wide as the cell."""
    out = {"left": (-1, 0), "right": (1, 0), "front": (0, -1), "back": (0, 1)}[side]
    centre = mid + np.array(out) * (pitch + gap) / 2
    reach = np.where(np.abs(out), gap / 4, pitch / 4)
    return centre - reach, centre + reach


def _met(gap: Box, strips: Sequence[Box], space: KitSpace) -> bool:
    """Whether a strip, or something blocked, is in a gap."""
    solid = [(np.array(box.low[:2]), np.array(box.high[:2])) for box in space.blocked]
    return any((low < gap[1]).all() and (gap[0] < high).all() for low, high in (*strips, *solid))
