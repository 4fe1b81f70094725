"""Cuts at a height: the lines in which surfaces pass it, and how far it is from a face to the next of them."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.bodies import moved_by
from nookwright.ground.tolerances import KERNEL

if TYPE_CHECKING:
    from collections.abc import Iterable

    from nookwright.checks.bodies import Body
    from nookwright.checks.boxes import Floats

_HAIR = KERNEL * math.pi  # a cut is made so much higher, off the flat faces of what we make


def cut(corners: Floats, z: float) -> Floats:
    """The lines in which a surface passes a height, (k, 2, 2).

    Args:
        corners: (m, 3, 3), of its triangles.
        z: height, mm.
    """
    z += _HAIR
    corners = corners[(corners[:, :, 2].min(axis=1) < z) & (corners[:, :, 2].max(axis=1) > z)]
    after = np.roll(corners, -1, axis=1)
    below, above = corners[:, :, 2] < z, after[:, :, 2] < z
    passes = below != above  # two edges of each triangle
    share = (z - corners[:, :, 2]) / np.where(passes, after[:, :, 2] - corners[:, :, 2], 1.0)
    points = corners[:, :, :2] + share[..., None] * (after[:, :, :2] - corners[:, :, :2])
    lines: Floats = points[passes].reshape(-1, 2, 2)
    return lines


def cut_of(body: Body, z: float) -> Floats:
    """The lines in which a body in its place passes a height, (k, 2, 2).

    Args:
        body: the body.
        z: height in the space, mm.
    """
    corners, matrix = body.shape.corners, body.matrix
    heights = corners @ matrix[2, :3] + matrix[2, 3]
    near = (heights.min(axis=1) <= z + 2 * _HAIR) & (heights.max(axis=1) >= z)
    return cut(moved_by(matrix, corners[near]), z)


def rectangle(low: Floats, high: Floats) -> Floats:
    """The four sides of a rectangle as lines, (4, 2, 2)."""
    (x0, y0), (x1, y1) = low[:2], high[:2]
    ring = np.array([(x0, y0), (x1, y0), (x1, y1), (x0, y1)])
    return np.stack([ring, np.roll(ring, -1, axis=0)], axis=1)


@dataclass(frozen=True)
class Strip:
    """A way from a point in a direction, as wide as what goes along it.

    Attributes:
        start: (x, y), where it begins: on the face that is left.
        angle_deg: of its direction against x.
        width: mm.
    """

    start: tuple[float, float]
    angle_deg: float
    width: float


def hits(lines: Floats, strip: Strip) -> Floats:
    """Where a strip meets lines, from its start on, (n,), mm; a line that it starts in counts at 0.

    Args:
        lines: (k, 2, 2).
        strip: where from, whereto, how wide.
    """
    turn = math.radians(strip.angle_deg)
    along = np.array([math.cos(turn), math.sin(turn)])
    across = np.array([-along[1], along[0]])
    own = lines - np.array(strip.start)
    forward, aside = own @ along, own @ across
    half = strip.width / 2
    inside = (aside.max(axis=1) > -half) & (aside.min(axis=1) < half)
    forward, aside = forward[inside], aside[inside]
    rise = aside[:, 1] - aside[:, 0]
    level = np.abs(rise) < KERNEL
    slope = (forward[:, 1] - forward[:, 0]) / np.where(level, 1.0, rise)
    moved = np.clip(aside, -half, half) - aside
    ends = np.where(level[:, None], forward, forward + slope[:, None] * moved)
    found: Floats = np.sort(np.maximum(ends.min(axis=1), 0.0)[ends.max(axis=1) > -KERNEL])
    return found


def room(lines: Floats, strip: Strip) -> float:
    """How far a strip goes before it meets a line, mm; infinite where nothing is in its way.

    Args:
        lines: (k, 2, 2).
        strip: where from, whereto, how wide.
    """
    return float(hits(lines, strip).min(initial=math.inf))


def joined(lines: Iterable[Floats]) -> Floats:
    """Lines of several surfaces as one array, (k, 2, 2)."""
    return np.concatenate([np.zeros((0, 2, 2)), *lines])
