"""Along a line through a level section: what of it lies in plastic, and how wide an opening is."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.bodies import moved_by
from nookwright.checks.seats.level import level_at

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nookwright.checks.bodies import Shape
    from nookwright.checks.boxes import Floats

Section = tuple["Floats", "Floats"]  # starts and ends of edges, (m, 2) each


def section_at(made: Sequence[tuple[Shape, Floats]], matrix: Floats, height: float) -> Section:
    """The section of a part at a height of other axes, in those axes.

    Args:
        made: its pieces, each with where it lies in the part, 4 x 4.
        matrix: takes the part to those axes, 4 x 4; upright, or on its head.
        height: mm.
    """
    starts, ends = [np.empty((0, 2))], [np.empty((0, 2))]
    for shape, at in made:
        placed = matrix @ at
        level = level_at(shape, (height - float(placed[2, 3])) / float(placed[2, 2]))
        for points, found in ((level.starts, starts), (level.ends, ends)):
            found.append(moved_by(placed, np.column_stack([points, np.zeros(len(points))]))[:, :2])
    return np.concatenate(starts), np.concatenate(ends)


def extent(section: Section, axis: int) -> tuple[float, float]:
    """From where to where a section reaches along an axis, mm; empty from infinity to minus infinity."""
    along = section[0][:, axis]
    return float(along.min(initial=np.inf)), float(along.max(initial=-np.inf))


def opening(section: Section, axis: int, lines: Sequence[float], middle: float) -> tuple[float, float]:
    """The opening about a middle along an axis, the narrowest over some lines across it, mm.

    Args:
        section: of what stands round it.
        axis: along which it is measured, 0 or 1.
        lines: where along the other axis, mm.
        middle: a place within it along the axis, mm.

    Returns:
        From where to where it reaches; infinite to a side where nothing stands.
    """
    low, high = -np.inf, np.inf
    for line in lines:
        crossings = _crossings(section, axis, line)
        low = max(low, crossings[crossings <= middle].max(initial=-np.inf))
        high = min(high, crossings[crossings > middle].min(initial=np.inf))
    return float(low), float(high)


def _crossings(section: Section, axis: int, line: float) -> Floats:
    """Where a line across meets the edges of a section, along the axis."""
    starts, ends = section
    a, b = starts[:, 1 - axis], ends[:, 1 - axis]
    cut = (a > line) != (b > line)
    share = (line - a[cut]) / (b[cut] - a[cut])
    crossings: Floats = starts[cut, axis] + share * (ends[cut, axis] - starts[cut, axis])
    return crossings
