"""How long moves take: each speeds up, keeps its speed and slows down evenly, and corners limit what is kept there.

Two facts of planning are used as they are in machines of this kind. A corner is taken as if rounded by an arc that
stays within a small distance of it, at the speed whose centripetal acceleration is the machine's: for a turn by the
angle t that is v^2 = v90^2 (sqrt 2 - 1) c / (1 - c), c = cos(t / 2), with v90 the speed kept round a right angle. No
speed may be so high that the moves after it are too short to slow down: looking ahead over all moves is the lower
envelope of parabolas, which a running minimum gives for all of them at once.

A round of many facets is taken as the arc that it stands for: v^2 = a r, whatever the facets.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from nookwright.making.estimate.contours import Loops

    Array = NDArray[np.float64]
    Indices = NDArray[np.int64]

FACET_DEG = Fact(
    46.0, unit="deg", kind=Kind.CALCULATED, source="Rounds have at least eight facets, which turn by 45 degrees each."
)
ALIKE = Fact(
    0.4, unit="1", kind=Kind.CHOICE, source="Least ratio of turns of one round; where it meets a straight it is a half."
)
SAGITTA = Fact(
    0.05,
    unit="mm",
    kind=Kind.CHOICE,
    source="Facets of meshes stand off by 0.01, of holes moved outwards by some more.",
)
_TINY = 1e-12


def move_s(length: Array | float, speed: Array | float, acceleration: float, ends: Array | float = 0.0) -> Array:
    """Time of straight moves that begin and end at the same speed, s.

    Args:
        length: mm.
        speed: the highest, mm/s.
        acceleration: mm/s2.
        ends: speed at both ends, mm/s, not above the highest.

    >>> [round(float(move_s(length, 100.0, 1000.0)), 5) for length in (100.0, 10.0, 5.0)]
    [1.1, 0.2, 0.14142]
    """
    low = np.minimum(ends, speed)
    peak = np.minimum(speed, np.sqrt(acceleration * np.asarray(length) + low**2))
    found: Array = 2 * (peak - low) / acceleration + (length - (peak**2 - low**2) / acceleration) / np.maximum(
        peak, _TINY
    )
    return found


def loops_s(loops: Loops, first: Indices, speed: Array, acceleration: float, corner: float) -> Array:
    """Time of each loop, begun and ended at rest, s.

    Args:
        loops: the paths.
        first: for each loop the point that it begins at.
        speed: for each loop the highest, mm/s.
        acceleration: mm/s2.
        corner: speed kept round a right angle, mm/s.
    """
    if not loops.count:
        return np.zeros(0)
    kept, most = _limits(loops, speed[loops.loop], acceleration, corner)
    kept[first] = 0.0
    turned = _begun_at(loops, first)
    length, most = loops.step_lengths[turned], most[turned]
    # looking ahead and back: v^2 at a point is at most v^2 at any other plus twice the acceleration times the way
    way = 2 * acceleration * np.concatenate([[0.0], np.cumsum(length)])
    kept = np.append(kept[turned], 0.0)
    kept = np.minimum(kept, np.minimum.accumulate(kept - way) + way)
    kept = np.minimum(kept, np.minimum.accumulate((kept + way)[::-1])[::-1] - way)
    enter, leave = np.maximum(kept[:-1], 0.0), np.maximum(kept[1:], 0.0)
    peak = np.maximum(np.minimum(most**2, acceleration * length + (enter + leave) / 2), np.maximum(enter, leave))
    changing = (2 * np.sqrt(peak) - np.sqrt(enter) - np.sqrt(leave)) / acceleration
    steady = np.maximum(0.0, length - (2 * peak - enter - leave) / (2 * acceleration)) / np.sqrt(
        np.maximum(peak, _TINY)
    )
    return np.bincount(loops.loop, changing + steady, loops.count).astype(np.float64)


def _begun_at(loops: Loops, first: Indices) -> Indices:
    """The points in the order in which they are passed."""
    place = np.arange(len(loops.loop)) - loops.starts[loops.loop]
    turned: Indices = (place + (first - loops.starts)[loops.loop]) % loops.sizes[loops.loop]
    return loops.starts[loops.loop] + turned


def _limits(loops: Loops, speed: Array, acceleration: float, corner: float) -> tuple[Array, Array]:
    """Squared speed kept at each point, and the highest speed on the move after it."""
    step, length, before, after = loops.steps, loops.step_lengths, loops.before, loops.after
    back = step[before]
    turn = np.arctan2(back[:, 0] * step[:, 1] - back[:, 1] * step[:, 0], (back * step).sum(axis=1))
    cosine = np.cos(turn / 2)
    kept = corner**2 * (np.sqrt(2) - 1) * cosine / np.maximum(1 - cosine, _TINY)
    shorter = np.minimum(length, length[before])
    arc = _on_arc(turn, before, after) & (shorter * np.tan(np.abs(turn) / 4) / 2 < SAGITTA)
    kept = np.where(arc, acceleration * shorter / np.maximum(2 * np.tan(np.abs(turn) / 2), _TINY), kept)
    facet = arc & arc[after]
    most = np.where(facet, np.minimum(speed, np.sqrt(kept)), speed)
    return np.minimum(kept, np.minimum(most, most[before]) ** 2), most


def _on_arc(turn: Array, before: Indices, after: Indices) -> NDArray[np.bool_]:
    """Whether a point is one of a round: a small turn beside another one of the same sense and about the same size."""
    small = (np.abs(turn) <= np.radians(FACET_DEG)) & (np.abs(turn) > _TINY)

    def alike(other: Array) -> NDArray[np.bool_]:
        sizes = np.abs(turn), np.abs(other)
        return (turn * other > 0) & (np.minimum(*sizes) >= ALIKE * np.maximum(*sizes))

    found: NDArray[np.bool_] = small & (alike(turn[before]) | alike(turn[after]))
    return found
