"""What lies in the way of a body that is thrown along y: the next part, or the wall of its space.

Boxes of parts as written stand for the parts; a wall counts where the space is as high as it must be. Blocked places
are passed over: a pipe is no stop.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.forces.stands import LINER
from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nookwright.checks.boxes import Floats
    from nookwright.checks.forces.slams import Throw
    from nookwright.checks.forces.stands import Loads
    from nookwright.exchange.kit import KitSpace

FACING = Fact(5.0, unit="mm", kind=Kind.CHOICE, source="A stop that meets less of a body's side turns it instead.")
TONGUE = Fact(
    8.0, unit="mm", kind=Kind.CALCULATED, source="How far strips reach into the liner that they are keyed to."
)
WALL = ""


@dataclass(frozen=True)
class Stop:
    """What lies next in the way.

    Attributes:
        name: id of the placement; ``WALL`` for the wall of the space.
        gap: free way to it, mm; infinite where there is none.
    """

    name: str
    gap: float


class Around:
    """The parts of one space as boxes.

    Attributes:
        names: ids of their placements.
    """

    def __init__(self, space: KitSpace, loads: Loads, names: Sequence[str]) -> None:
        """Take the parts of a space.

        Args:
            space: the space.
            loads: of the kit.
            names: ids of the placements in it.
        """
        self._space = space
        self.names = tuple(names)
        self._at = {name: number for number, name in enumerate(self.names)}
        boxes = [loads.box_of(name) for name in names]
        self.low = np.array([low for low, _ in boxes]).reshape(-1, 3)
        self.high = np.array([high for _, high in boxes]).reshape(-1, 3)
        self._thin = np.array([loads.parts[loads.placements[name].part].kind in LINER for name in names], dtype=bool)

    def next(self, low: Floats, high: Floats, throw: Throw, *, above: float, own: frozenset[str] = frozenset()) -> Stop:
        """The nearest stop of a box.

        Args:
            low: its least corner.
            high: its greatest corner.
            throw: where it goes.
            above: height that the stop must reach, mm.
            own: placements that are no stop to it: itself.
        """
        ahead = self.low[:, 1] - high[1] if throw.sign > 0 else low[1] - self.high[:, 1]
        shared = np.minimum(self.high[:, 0], high[0]) - np.maximum(self.low[:, 0], low[0])
        facing = (
            (shared > min(FACING, (high[0] - low[0]) / 2)) & (self.high[:, 2] >= above) & (self.low[:, 2] < high[2])
        )
        facing &= ahead > -np.where(self._thin, TONGUE, FACING)
        facing[[self._at[name] for name in own if name in self._at]] = False
        best = int(np.argmin(np.where(facing, ahead, math.inf))) if len(ahead) else 0
        wall = self._to_wall(low, high, throw, above)
        if len(ahead) and facing[best] and ahead[best] <= wall:
            return Stop(self.names[best], max(0.0, float(ahead[best])))
        return Stop(WALL, wall)

    def _to_wall(self, low: Floats, high: Floats, throw: Throw, above: float) -> float:
        """Free way to the wall, mm; infinite where the space is not so high."""
        levels = self._space.usable
        if above > max(self._space.height, levels[-1].z):
            return math.inf
        heights = [at.z for at in levels]
        front = float(np.interp(above, heights, [at.y for at in levels]))
        back = front + float(np.interp(above, heights, [at.depth for at in levels]))
        return max(0.0, back - float(high[1]) if throw.sign > 0 else float(low[1]) - front)
