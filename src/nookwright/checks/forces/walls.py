"""How high a part's own walls stand before a thing in it, and how far from it: by level lines through the written mesh.

From a thing lines go level in the direction of the throw, at several heights and in three lanes across its width.
Where a line meets the part, a wall is there. The wall counts up to the height that two of the three lanes agree on: a
notch in the middle of a rim lets a narrow thing through and not a wide one. Of a thing that reaches beyond its part,
lanes go through what lies in it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from nookwright.ground.sources import Fact, Kind
from nookwright.ground.tolerances import GRID

if TYPE_CHECKING:
    import numpy.typing as npt

    from nookwright.checks.bodies import Shape
    from nookwright.checks.boxes import Floats

STEPS = Fact(32.0, unit="1", kind=Kind.CHOICE, source="Heights at which a thing's wall is looked for.")
FINE = Fact(16.0, unit="1", kind=Kind.CHOICE, source="Finer steps from the highest of them that meets the wall.")
INTO = Fact(1.0, unit="mm", kind=Kind.CHOICE, source="Walls that a thing at its largest touches count as before it.")
THIN = Fact(4.0, unit="mm", kind=Kind.CHOICE, source="Before a thinner thing the wall is looked for up to this.")
LANE = Fact(
    0.31, unit="1", kind=Kind.CHOICE, source="Of a thing's width, from its middle to an outer lane; no round part."
)
ASKEW = Fact(
    0.0137, unit="mm", kind=Kind.CHOICE, source="Lines pass beside the edges of meshes, which lie on whole steps."
)


@dataclass(frozen=True)
class Hold:
    """What a part does about a thing that is thrown one way.

    Attributes:
        depth: height of the wall above the thing's underside, mm; 0 where there is none.
        gap: from the thing to that wall, mm; infinite where there is none.
    """

    depth: float
    gap: float


NO_HOLD = Hold(0.0, math.inf)


def hold_of(shape: Shape, low: Floats, high: Floats, axis: int, sign: float, *, upright: bool = False) -> Hold:
    """The wall before a thing.

    Args:
        shape: of the part, in its own axes.
        low: least corner of the box round the thing, in the same.
        high: greatest corner.
        axis: 0 or 1, along which it is thrown.
        sign: 1 or -1, which way.
        upright: whether it is a cylinder that stands, and not a box.
    """
    across = 1 - axis
    least, greatest = shape.box
    start, stop = max(low[across], least[across]), min(high[across], greatest[across])
    tall = max(float(high[2] - low[2]), float(THIN))
    ways = []
    for step in (-1.0, 0.0, 1.0):
        lane = (start + stop) / 2 + step * LANE * (stop - start)
        half = float(high[axis] - low[axis]) / 2
        if upright:
            half = math.sqrt(max(0.0, half**2 - (lane - (low[across] + high[across]) / 2) ** 2))
        ways.append(_Way(axis, sign, float(low[axis] + high[axis]) / 2 + sign * half, float(lane) + ASKEW))
    step_up = tall / STEPS
    coarse = _seen(shape, ways, float(low[2]), (np.arange(int(STEPS)) + 0.5) * step_up)
    if not coarse.depth:
        return coarse
    return _seen(shape, ways, float(low[2]), coarse.depth + np.arange(int(FINE)) / FINE * step_up)


def _seen(shape: Shape, ways: list[_Way], foot: float, heights: npt.NDArray[np.floating]) -> Hold:
    """The wall as far as two of three lanes see it at some heights above a foot."""
    ahead = np.array([_ahead(shape, way, np.asarray(foot + heights + ASKEW, dtype=np.float64)) for way in ways])
    agreed = np.isfinite(ahead).sum(axis=0) >= len(ways) - 1
    if not agreed.any():
        return NO_HOLD
    top = int(np.flatnonzero(agreed)[-1])
    return Hold(float(heights[top]), float(np.median(ahead[:, top])))


class _Way(NamedTuple):
    """A lane: along which axis a thing is thrown, which way, where its face is, where the lane is across."""

    axis: int
    sign: float
    face: float
    lane: float


def _ahead(shape: Shape, way: _Way, heights: Floats) -> Floats:
    """For each height the way along a lane until the part is met, mm; infinite where it is not."""
    axis, sign, face, lane = way
    across = 1 - axis
    least, greatest = shape.boxes
    near = (least[:, across] <= lane) & (greatest[:, across] >= lane) & (greatest[:, 2] >= heights[0])
    near &= greatest[:, axis] >= face - INTO if sign > 0 else least[:, axis] <= face + INTO
    corners = shape.corners[near]
    if not len(corners):
        return np.full(len(heights), math.inf)
    at = _crossings(corners[:, :, (across, 2)], corners[:, :, axis], lane, heights)
    gaps = sign * (at - face)
    found: Floats = np.where(gaps >= -INTO, np.maximum(gaps, 0.0), math.inf).min(axis=0)
    return found


def _crossings(flat: Floats, depth: Floats, lane: float, heights: Floats) -> Floats:
    """Where lines at a lane and at heights cross triangles, (n, k); not a number where they do not.

    Args:
        flat: corners seen along the lines: across and up, (n, 3, 2).
        depth: of the same corners along the lines, (n, 3).
        lane: of all lines.
        heights: of each, (k,).
    """
    a, b, c = flat[:, 0], flat[:, 1], flat[:, 2]
    area = (b[:, 0] - a[:, 0]) * (c[:, 1] - a[:, 1]) - (b[:, 1] - a[:, 1]) * (c[:, 0] - a[:, 0])
    area = np.where(np.abs(area) > GRID**2, area, np.nan)[:, None]
    x, z = lane, heights[None, :]
    first = ((b[:, 0, None] - x) * (c[:, 1, None] - z) - (b[:, 1, None] - z) * (c[:, 0, None] - x)) / area
    second = ((c[:, 0, None] - x) * (a[:, 1, None] - z) - (c[:, 1, None] - z) * (a[:, 0, None] - x)) / area
    third = 1 - first - second
    inside = (first >= 0) & (second >= 0) & (third >= 0)
    at = first * depth[:, 0, None] + second * depth[:, 1, None] + third * depth[:, 2, None]
    found: Floats = np.where(inside, at, np.nan)
    return found
