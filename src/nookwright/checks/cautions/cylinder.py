"""The small-parts cylinder of 16 CFR 1501 and ISO 8124-1: whether a body goes wholly into it, in some position.

The cylinder is 31.7 wide; its bottom slants at 45 degrees, so it is 25.4 deep on one side and 57.1 on the other. A
body is given by points of its hull. Turns of it are tried, the best of them improved; for each turn the best place in
the cylinder is found. Promise: a body that is said to go in does so, but for a tenth. What it does not know: whether
one that only just goes in was missed.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from nookwright.ground.sources import Fact, Kind
from nookwright.ground.tolerances import KERNEL

if TYPE_CHECKING:
    from nookwright.checks.boxes import Floats

DIAMETER = Fact(31.7, unit="mm", kind=Kind.MEMORY, source="16 CFR 1501.4, ISO 8124-1: small-parts cylinder.")
SHALLOW = Fact(25.4, unit="mm", kind=Kind.MEMORY, source="The same: its depth on the shallow side.")
DEEP = Fact(57.1, unit="mm", kind=Kind.MEMORY, source="The same: its depth on the deep side.")
TURNS = Fact(256, unit="1", kind=Kind.CHOICE, source="First turns: some 20 degrees apart.")
ROUNDS = Fact(12, unit="1", kind=Kind.CHOICE, source="The best is improved so often, each time half as far.")
STEPS = Fact(60, unit="1", kind=Kind.CHOICE, source="Moves towards the best place for one turn: a thousandth remains.")
DIRECTIONS = Fact(160, unit="1", kind=Kind.CHOICE, source="In which the outermost points of a body are kept.")
TENTH = Fact(0.1, unit="mm", kind=Kind.CHOICE, source="A body that is too large by less goes in: it is soft, or worn.")
_SEED = 16_1501
_KEPT = 8
_NEAR = 24


def goes_in(points: Floats) -> bool:
    """Whether a body goes into the cylinder without being pressed.

    Args:
        points: (n, 3), corners of its hull, mm.
    """
    size = np.sort(points.max(axis=0) - points.min(axis=0))
    longest = math.hypot(DIAMETER, DEEP)
    if float(np.linalg.norm(points - points.mean(axis=0), axis=1).max()) > longest:
        return False
    if size[2] <= SHALLOW and math.hypot(size[0], size[1]) <= DIAMETER:
        return True  # upright, as a box
    return excess(points) <= TENTH


def excess(points: Floats) -> float:
    """By how much a body stands out of the cylinder at the best turn and place that were found, mm; none if it goes in.

    Args:
        points: (n, 3), corners of its hull, mm.
    """
    points = _outermost(points)
    chance = np.random.default_rng(_SEED)
    turns = np.concatenate([_turns(chance.normal(size=(int(TURNS), 4))), _along_axes()])
    best = _excesses(turns, points)
    reach = 0.3
    for _ in range(int(ROUNDS)):
        if best.min() <= 0:
            break
        kept = turns[np.argsort(best, kind="stable")[:_KEPT]]
        aside = chance.normal(scale=reach, size=(_KEPT * _NEAR, 4))
        aside[:, 0] = 1.0
        near = (_turns(aside).reshape(_KEPT, _NEAR, 3, 3) @ kept[:, None]).reshape(-1, 3, 3)
        turns = np.concatenate([kept, near])
        best = _excesses(turns, points)
        reach /= 2
    return max(0.0, float(best.min()))


def _outermost(points: Floats) -> Floats:
    """The points that lie farthest out in many directions: no more than there are directions."""
    if len(points) <= int(DIRECTIONS):
        return points
    number = np.arange(int(DIRECTIONS)) + 0.5
    down, round_about = 1 - 2 * number / DIRECTIONS, np.pi * (1 + np.sqrt(5)) * number
    across = np.sqrt(1 - down**2)
    ways = np.column_stack([across * np.cos(round_about), across * np.sin(round_about), down])
    farthest: Floats = points[np.unique((points @ ways.T).argmax(axis=0))]
    return farthest


def _turns(quaternions: Floats) -> Floats:
    """Rotation matrices (m, 3, 3) of quaternions (m, 4) of any length."""
    w, x, y, z = (quaternions / np.linalg.norm(quaternions, axis=1, keepdims=True)).T
    rows = [
        [1 - 2 * (y * y + z * z), 2 * (x * y - w * z), 2 * (x * z + w * y)],
        [2 * (x * y + w * z), 1 - 2 * (x * x + z * z), 2 * (y * z - w * x)],
        [2 * (x * z - w * y), 2 * (y * z + w * x), 1 - 2 * (x * x + y * y)],
    ]
    return np.ascontiguousarray(np.array(rows).transpose(2, 0, 1))


def _along_axes() -> Floats:
    """The three turns that put each axis upright."""
    return np.array([np.roll(np.eye(3), shift, axis=0) for shift in range(3)])


def _excesses(turns: Floats, points: Floats) -> Floats:
    """The least excess for each turn, by moves towards what stands out most, ever shorter."""
    turned = points @ turns.transpose(0, 2, 1)
    x, y = turned[:, :, 0], turned[:, :, 1]
    depth = turned[:, :, 2].max(axis=1, keepdims=True) - turned[:, :, 2]
    at = np.stack([-(x.max(axis=1) + x.min(axis=1)) / 2, -(y.max(axis=1) + y.min(axis=1)) / 2])
    middle = (SHALLOW + DEEP) / 2
    rows = np.arange(len(turns))
    best = np.full(len(turns), np.inf)
    for step in range(int(STEPS)):
        px, py = x + at[0][:, None], y + at[1][:, None]
        away = np.hypot(px, py)
        side, below = away - DIAMETER / 2, (depth - px - middle) / math.sqrt(2)
        worst_side, worst_below = side.argmax(axis=1), below.argmax(axis=1)
        by_side, by_below = side[rows, worst_side], below[rows, worst_below]
        best = np.minimum(best, np.maximum(by_side, by_below))
        length = np.maximum(away[rows, worst_side], KERNEL)
        sideways = by_side >= by_below
        way_x = np.where(sideways, -px[rows, worst_side] / length, 1.0)
        way_y = np.where(sideways, -py[rows, worst_side] / length, 0.0)
        far = np.maximum(np.maximum(by_side, by_below), 0.0) / (1 + step / 6)
        at = at + np.stack([way_x, way_y]) * far
    return best
