"""Areas filled with straight lines: how long each line is, how the next one is reached, and what that takes."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nookwright.making.estimate.motion import move_s
from nookwright.survey.printer_profile import Pattern

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from nookwright.making.estimate.contours import Loops

    Array = NDArray[np.float64]

_DIRECTIONS_DEG = {Pattern.LINES: (45.0,), Pattern.GRID: (45.0, 135.0), Pattern.TRIANGLES: (45.0, 105.0, 165.0)}


@dataclass(frozen=True, eq=False)
class Chords:
    """The lines that fill an area in one direction.

    Attributes:
        lengths: of each line, mm.
        spacing: between two lines, mm.
        starts: how often a line cannot be reached along the edge from the one before, but over a move.
    """

    lengths: Array
    spacing: float
    starts: int


def directions_of(pattern: Pattern, layer: int) -> tuple[float, ...]:
    """Directions of the lines of a pattern in a layer, degrees: lines alone are crossed from layer to layer.

    >>> directions_of(Pattern.LINES, 0), directions_of(Pattern.LINES, 1)
    ((45.0,), (135.0,))
    """
    turned = 90.0 if pattern is Pattern.LINES and layer % 2 else 0.0
    return tuple((one + turned) % 180 for one in _DIRECTIONS_DEG[pattern])


def chords_of(loops: Loops, direction_deg: float, spacing: float) -> Chords:
    """The lines that fill an area.

    Args:
        loops: contours of what is filled.
        direction_deg: of the lines, from x.
        spacing: between two lines, mm.
    """
    cos, sin = math.cos(math.radians(direction_deg)), math.sin(math.radians(direction_deg))
    along, across = loops.points @ np.array([cos, sin]), loops.points @ np.array([-sin, cos]) / spacing
    if not len(across):
        return Chords(np.zeros(0), spacing, 0)
    across = across - across.min() + 0.5  # the first line lies half a spacing inside
    after = loops.after
    low, high = np.minimum(across, across[after]), np.maximum(across, across[after])
    first = np.ceil(low).astype(np.int64)
    count = np.maximum(0, np.ceil(high).astype(np.int64) - first)  # lines with low <= line < high
    edge = np.repeat(np.arange(len(across)), count)
    line = first[edge] + np.arange(len(edge)) - np.repeat(np.cumsum(count) - count, count)
    share = (line - across[edge]) / (across[after] - across)[edge]
    place = along[edge] + share * (along[after] - along)[edge]
    order = np.lexsort((place, line))
    place, line = place[order], line[order]
    lengths = place[1::2] - place[::2]
    per_line = np.bincount(line[::2])
    starts = int(np.maximum(0, np.diff(per_line, prepend=0)).sum())
    return Chords(lengths, spacing, starts)


def fill_s(chords: Chords, length: float, speed: float, acceleration: float, corner: float) -> float:
    """Time to lay the lines of an area, s.

    At the end of each line the nozzle turns twice by a right angle, and goes along the edge in between.

    Args:
        chords: the lines.
        length: of all that is laid, by area, mm; lines and edges are stretched to it.
        speed: mm/s.
        acceleration: mm/s2.
        corner: speed kept round a right angle, mm/s.
    """
    drawn = float(chords.lengths.sum())
    if not drawn or not length:
        return 0.0
    lines = move_s(chords.lengths * (length / drawn), speed, acceleration, corner).sum()
    turns = max(0, len(chords.lengths) - chords.starts)
    return float(lines + turns * move_s(chords.spacing, speed, acceleration, corner))
