"""Moves that lay nothing: from outline to outline in a layer, and into each area that is filled."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nookwright.making.estimate.motion import move_s
from nookwright.survey.printer_profile import Seam

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from nookwright.making.estimate.contours import Loops
    from nookwright.making.estimate.settings import Machine

    Array = NDArray[np.float64]
    Indices = NDArray[np.int64]


@dataclass(frozen=True)
class Hops:
    """Moves that lay nothing.

    Attributes:
        travel_s: their time.
        retractions: before how many of them filament is drawn back.
    """

    travel_s: float = 0.0
    retractions: int = 0

    def __add__(self, other: Hops) -> Hops:
        """Both."""
        return Hops(self.travel_s + other.travel_s, self.retractions + other.retractions)


def hops(lengths: Array, machine: Machine) -> Hops:
    """What moves of these lengths take, from rest to rest.

    Args:
        lengths: mm.
        machine: what moves cost.
    """
    if not len(lengths):
        return Hops()
    time = move_s(lengths, machine.travel_mm_s, machine.acceleration_mm_s2).sum()
    return Hops(float(time), int((lengths > machine.retract_over).sum()))


def seams(loops: Loops, seam: Seam) -> Indices:
    """For each loop the point that it begins at.

    Args:
        loops: outlines.
        seam: where they shall begin.
    """
    if seam is Seam.NEAREST or not loops.count:
        return loops.starts
    back = loops.points.sum(axis=1)  # x and y: the corner at the back, right
    last = np.maximum.reduceat(back, loops.starts)
    found = np.flatnonzero(back == last[loops.loop])
    _, first = np.unique(loops.loop[found], return_index=True)
    return found[first]


def tour(points: Array) -> Array:
    """Lengths of the moves through points, strip by strip there and back, mm.

    Strips as wide as three points have room for make the tour at most 0.92 sqrt(n A) long for large n (Beardwood,
    Halton and Hammersley 1959; Daganzo 1984); a printer's own tour is about as good.
    """
    if len(points) < 2:  # noqa: PLR2004 - one point needs no move
        return np.zeros(0)
    low, high = points.min(axis=0), points.max(axis=0)
    width, depth = high - low
    strips = max(1, round(np.sqrt(len(points) * depth / (3 * max(width, depth / len(points), 1e-9)))))
    strip = np.minimum((points[:, 1] - low[1]) / max(depth, 1e-9) * strips, strips - 1).astype(np.int64)
    order = np.lexsort((np.where(strip % 2, -points[:, 0], points[:, 0]), strip))
    step = np.diff(points[order], axis=0)
    return np.hypot(step[:, 0], step[:, 1])
