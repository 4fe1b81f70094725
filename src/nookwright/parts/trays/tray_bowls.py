"""The inside of a tray: one convex bowl a compartment that fixed dividers make, and bowls across lower dividers."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from nookwright.ground.tolerances import OVERSHOOT
from nookwright.module.estimates import domes_mm3
from nookwright.parts.trays.divider import top_of
from nookwright.parts.trays.tray_options import DividerKind, Split
from nookwright.parts.underside import cavity, inner_radius
from nookwright.shapes.solids import Bowl, Move, Solid

if TYPE_CHECKING:
    from nookwright.parts.trays.divider import Span
    from nookwright.parts.trays.tray_frame import TrayFrame

    _Plan = tuple[tuple[Span, ...], tuple[Span, ...]]


def has_fixed(frame: TrayFrame) -> bool:
    """Whether a tray has dividers that are printed in one with it."""
    return any(entry.kind is DividerKind.FIXED for entry in frame.options.dividers)


def _tops(frame: TrayFrame) -> dict[Split, float]:
    """Upper edges of fixed dividers; the rim where there are none."""
    tops = {entry.split: top_of(frame, entry) for entry in frame.options.dividers if entry.kind is DividerKind.FIXED}
    return {split: tops.get(split, frame.height) for split in Split}


def bowls(frame: TrayFrame, spans: _Plan) -> tuple[Solid, ...]:
    """One bowl a compartment; over dividers lower than the rim, bowls that go across them."""
    if not has_fixed(frame):
        whole = cavity(
            frame.module, frame.cols, frame.rows, floor=frame.floor, height=frame.height, fillet=frame.fillet
        )
        return (whole,)
    fixed = {entry.split for entry in frame.options.dividers if entry.kind is DividerKind.FIXED}
    across, back = _plan(spans, (_whole(spans[0]), _whole(spans[1])), fixed)
    found = [_bowl(frame, x, y, frame.floor, frame.fillet) for y in back for x in across]
    over_columns, over_rows = (round(_tops(frame)[split], 4) for split in (Split.COLUMNS, Split.ROWS))
    if over_columns < frame.height:
        found += [_bowl(frame, _whole(across)[0], y, over_columns, 0.0) for y in back]
    if over_rows < frame.height:
        found += [_bowl(frame, x, _whole(back)[0], over_rows, 0.0) for x in across]
    if max(over_columns, over_rows) < frame.height:
        found.append(_bowl(frame, _whole(across)[0], _whole(back)[0], max(over_columns, over_rows), 0.0))
    return tuple(found)


def _whole(spans: tuple[Span, ...]) -> tuple[Span, ...]:
    return ((spans[0][0], spans[-1][1]),)


def _bowl(frame: TrayFrame, across: Span, back: Span, floor: float, fillet: float) -> Solid:
    high = frame.height - floor + OVERSHOOT
    width, depth = across[1] - across[0], back[1] - back[0]
    return Move(Bowl(width, depth, inner_radius(frame.module), fillet, high), x=across[0], y=back[0], z=floor)


def dividers_mm3(frame: TrayFrame, spans: _Plan) -> float:
    """Fixed dividers with their fillets and corners, less the domes that they swallow: one bowl less the several."""
    whole = (_whole(spans[0]), _whole(spans[1]))
    fixed = [entry for entry in frame.options.dividers if entry.kind is DividerKind.FIXED]
    total, low = 0.0, frame.floor
    for top in sorted({top_of(frame, entry) for entry in fixed}):
        there = {entry.split for entry in fixed if top_of(frame, entry) >= top}
        parted = _plan(spans, whole, there)
        total += (_area_mm2(frame, whole) - _area_mm2(frame, parted)) * (top - low)
        low = top
    parted = _plan(spans, whole, {entry.split for entry in fixed})
    rolls = (1 - math.pi / 4) * frame.fillet**2 * (_perimeter(frame, parted) - _perimeter(frame, whole))
    if frame.smooth:
        return total + rolls
    swallowed = 1 - _area_mm2(frame, parted) / _area_mm2(frame, whole)
    return total + rolls - swallowed * domes_mm3(frame.module.seat, frame.cols, frame.rows, frame.module.pitch)


def _plan(spans: _Plan, whole: _Plan, there: set[Split]) -> _Plan:
    """The compartments that dividers of these ways make."""
    return (
        spans[0] if Split.COLUMNS in there else whole[0],
        spans[1] if Split.ROWS in there else whole[1],
    )


def _sizes(plan: _Plan) -> list[tuple[float, float]]:
    return [(x1 - x0, y1 - y0) for y0, y1 in plan[1] for x0, x1 in plan[0]]


def _area_mm2(frame: TrayFrame, plan: _Plan) -> float:
    """Of all compartments, their corners round."""
    missing = (4 - math.pi) * inner_radius(frame.module) ** 2
    return sum(width * depth - missing for width, depth in _sizes(plan))


def _perimeter(frame: TrayFrame, plan: _Plan) -> float:
    missing = 2 * (4 - math.pi) * inner_radius(frame.module)
    return sum(2 * (width + depth) - missing for width, depth in _sizes(plan))
