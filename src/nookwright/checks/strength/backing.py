"""What stands behind the walls of a part, so that they cannot bulge far: the wall of the space, or a neighbour."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from nookwright.checks.boxes import Floats
    from nookwright.checks.strength.loads import Carried
    from nookwright.exchange.kit import KitSpace

COVERED = Fact(
    0.5, unit="1", kind=Kind.CHOICE, source="Of a wall's height and length that a neighbour must stand behind."
)
TOUCH = Fact(1.0, unit="mm", kind=Kind.CHOICE, source="Boxes that overlap by less stand beside each other.")


@dataclass(frozen=True)
class Behind:
    """What is behind a wall: how far off, mm, and whether it gives way as the wall itself does."""

    gap: float
    gives: bool

    def held(self, free: float) -> float:
        """How far a wall bulges that would bulge by ``free`` alone, mm; a neighbour's wall takes half of what is left.

        Args:
            free: bulge with nothing behind it, mm.

        >>> Behind(0.6, gives=True).held(2.6), Behind(0.5, gives=False).held(2.5), Behind(0.6, gives=True).held(0.4)
        (1.6, 0.5, 0.4)
        """
        beyond = max(0.0, free - self.gap)
        return free - beyond + (beyond / 2 if self.gives else 0.0)


NOTHING = Behind(math.inf, gives=True)


def behind(carried: Carried, placement: str, space: KitSpace, axis: int, direction: int) -> Behind:
    """What is behind a part on one side.

    Args:
        carried: the kit.
        placement: id of the placed part.
        space: that it is in.
        axis: of the space, 0 or 1.
        direction: -1 or 1 along it.
    """
    low, high = carried.boxes[placement]
    row = carried.by_space[space.id]
    lows, highs = row.boxes[:, 0], row.boxes[:, 1]
    gap = lows[:, axis] - high[axis] if direction > 0 else low[axis] - highs[:, axis]
    # A part is no neighbour of itself: its own far side lies before its near one.
    covers = (gap > -TOUCH) & _covers(lows, highs, low, high, 1 - axis) & _covers(lows, highs, low, high, 2)
    near = Behind(float(max(0.0, gap[covers].min())), gives=True) if covers.any() else NOTHING
    wall = Behind(_to_wall(space, low, high, axis, direction), gives=False)
    return min(near, wall, key=lambda one: one.gap)


def _covers(
    lows: Floats, highs: Floats, low: Floats, high: Floats, axis: int
) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
    """Which boxes lie along half of a box and more."""
    shared = np.minimum(highs[:, axis], high[axis]) - np.maximum(lows[:, axis], low[axis])
    found: np.ndarray[tuple[int], np.dtype[np.bool_]] = shared >= COVERED * (high[axis] - low[axis])
    return found


def _to_wall(space: KitSpace, low: Floats, high: Floats, axis: int, direction: int) -> float:
    """Distance to the wall of the space at the height of the part's rim, mm."""
    top = max((at for at in space.usable if at.z <= high[2]), key=lambda at: at.z, default=space.usable[0])
    starts, sizes = (top.x, top.y), (top.width, top.depth)
    if direction < 0:
        return max(0.0, float(low[axis]) - starts[axis])
    return max(0.0, starts[axis] + sizes[axis] + space.margins[axis] - float(high[axis]))
