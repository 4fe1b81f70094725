"""Whether a sprung filler has the travel that it is placed with: the wall presses its front in by that much.

In its own axes a sprung filler has the wall at y = 0 and reaches beyond its place by its travel. What lies before that
must be nubs on leaves with at least as much empty room behind them, and pressed in it must be inside its space. What
this does not know: how hard the leaves press.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.bodies import matrix_of, moved_by
from nookwright.checks.in_words import OURS
from nookwright.checks.shared import inside
from nookwright.ground.findings import Finding, Severity
from nookwright.ground.sources import Fact, Kind
from nookwright.ground.tolerances import GRID

if TYPE_CHECKING:
    from collections.abc import Mapping

    from nookwright.checks.bodies import Shape
    from nookwright.checks.boxes import Floats
    from nookwright.exchange.kit import Kit, Placement

PROBE = Fact(
    0.05, unit="mm", kind=Kind.CHOICE, source="Gaps are measured in steps of this; rounded against the spring."
)
_SPRUNG = "filler"  # the kind of part that springs are in
_HEIGHTS = (0.1, 0.5, 0.9)  # of its height, at which gaps are measured


def pressed_points(placement: Placement, shape: Shape, matrix: Floats) -> Floats:
    """The vertices of a sprung filler where the wall has pressed them in, in the space.

    Args:
        placement: of the filler.
        shape: of its one piece.
        matrix: takes the piece to the space.
    """
    at = matrix_of(placement.space_from_part)
    own = moved_by(np.asarray(np.linalg.inv(at) @ matrix, dtype=np.float64), shape.vertices)
    own[:, 1] = np.maximum(own[:, 1], placement.travel)
    return moved_by(at, own)


def check_springs(kit: Kit, shapes: Mapping[str, Shape]) -> list[Finding]:
    """A finding for each distinct part that is placed with a travel which it does not have.

    Args:
        kit: the kit, its references sound.
        shapes: sound meshes by file.
    """
    parts = {part.id: part for part in kit.parts}
    asked = sorted({(one.part, one.travel) for one in kit.placements if one.travel})
    found = []
    for part, travel in asked:
        if parts[part].kind != _SPRUNG:
            text = f"It is placed to be pressed in by {travel:g} mm, and is no filler that could give way."
            found.append(Finding("spring-blocked", Severity.STOP, part, text, OURS))
            continue
        shape = shapes.get(parts[part].stl)
        has = free_travel(shape, travel) if shape else travel
        if has < travel - GRID:
            text = f"Its springs give way by {has:.2f} mm; it is placed to be pressed in by {travel:g} mm."
            found.append(Finding("spring-blocked", Severity.STOP, part, text, OURS))
    return found


def free_travel(shape: Shape, travel: float) -> float:
    """By how much all that reaches before the travel can give way, mm; 0 where nothing reaches so far.

    Args:
        shape: in its own axes, the wall at y = 0.
        travel: that it is placed with, mm.
    """
    low, high = shape.box
    front = np.unique(np.round(shape.vertices[shape.vertices[:, 1] < low[1] + travel - GRID][:, 0], 4))
    reach = np.arange(low[1] + PROBE / 2, high[1], PROBE)
    gaps = [
        gap
        for x in (front[:-1] + front[1:]) / 2
        for share in _HEIGHTS
        if (gap := _gap_behind(shape, float(x), float(low[2] + share * (high[2] - low[2])), reach, travel)) is not None
    ]
    return min(gaps, default=0.0)


def _gap_behind(shape: Shape, x: float, z: float, reach: Floats, travel: float) -> float | None:
    """Empty room behind what stands before the travel on a line along y, mm; ``None`` where nothing does."""
    points = np.column_stack([np.full(len(reach), x), reach, np.full(len(reach), z)])
    full = inside(points, shape)
    if not full[reach < reach[0] + travel - PROBE].any():
        return None
    begins = int(np.argmax(full))
    behind = np.flatnonzero(~full[begins:])
    if not len(behind):
        return 0.0
    again = np.flatnonzero(full[begins + behind[0] :])
    return float(PROBE * max(0, int(again[0]) - 1)) if len(again) else float(PROBE * len(full))
