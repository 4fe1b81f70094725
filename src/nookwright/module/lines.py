"""Walls in whole lines: how many lines of which width make a wall of a given thickness.

A printed line is a rectangle with round ends, so lines laid side by side with the spacing
``w - h (1 - pi/4)`` leave no gap: n of them make ``w + (n - 1)(w - h (1 - pi/4))``. The width is solved from the wall,
not the wall from the width, because one wall serves all printers of a household.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from nookwright.ground.sources import Fact, Kind

NARROWEST_SHARE = Fact(
    0.9, unit="nozzle", kind=Kind.COMMON_PRACTICE, source="Narrowest line that a nozzle lays reliably, of its diameter."
)
WIDEST_SHARE = Fact(
    1.2, unit="nozzle", kind=Kind.COMMON_PRACTICE, source="Widest line that a nozzle lays reliably, of its diameter."
)
WALL = Fact(
    1.2,
    unit="mm",
    kind=Kind.CHOICE,
    source="Three lines of 0.429 mm at 0.2 mm layers from a 0.4 mm nozzle: stiff, no gap inside.",
)


@dataclass(frozen=True)
class Lines:
    """How one printer prints a wall: so many lines of this width."""

    count: int
    width: float


def spacing(width: float, layer: float) -> float:
    """Distance between the middles of two neighbouring lines.

    Args:
        width: line width, mm.
        layer: layer height, mm.

    >>> round(spacing(0.45, 0.2), 5)
    0.40708
    """
    return width - layer * (1 - math.pi / 4)


def wall_of(count: int, width: float, layer: float) -> float:
    """Thickness of a wall of so many lines, mm.

    >>> round(wall_of(3, 0.4286, 0.2), 3)
    1.2
    """
    return width + (count - 1) * spacing(width, layer)


def lines_of(wall: float, nozzle: float, layer: float) -> Lines | None:
    """The fewest whole lines that make a wall on a nozzle; ``None`` where no width in its window does.

    Args:
        wall: thickness of the wall, mm.
        nozzle: diameter of the nozzle, mm.
        layer: layer height, mm.

    >>> lines_of(1.2, 0.4, 0.2)
    Lines(count=3, width=0.4286)
    >>> lines_of(1.2, 0.6, 0.2)
    Lines(count=2, width=0.6215)
    >>> lines_of(1.0, 1.2, 0.2) is None
    True
    """
    loss = layer * (1 - math.pi / 4)
    for count in range(1, math.ceil(wall / (NARROWEST_SHARE * nozzle - loss)) + 1):
        width = (wall + (count - 1) * loss) / count
        if NARROWEST_SHARE * nozzle <= width <= WIDEST_SHARE * nozzle:
            return Lines(count, round(width, 4))
    return None
