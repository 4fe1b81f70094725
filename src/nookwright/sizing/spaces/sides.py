"""The least that a side of a space may measure: its smallest reading, less what readings and unread places hide.

Readings of a side are no repeats of one quantity: each is the width at its own place, and the narrowest place matters,
read or not. So there is no mean of them. A side is taken as six independent places; some were read. The narrowest of
all lies below the narrowest that was read by an amount whose mean and spread follow from the spread of the places and
from how many were read. The spread is what walls usually have, corrected by how much the readings differ.

    least = smallest reading - mean of that amount - U

with U the one-sided expanded uncertainty (GUM) of the instrument, its digit, the hand and the spread of that amount.
One reading is taken as it is; its margin is wider. What one height says of the places holds at the other heights too,
since a wall is one board.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.sizing.statistics.uncertainty import Combined, Component, reading_components

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nookwright.survey.origins import Instrument

PLACE_SPREAD = Fact(
    0.5,
    unit="mm",
    kind=Kind.COMMON_PRACTICE,
    source="Standard deviation of the width along a wall of board or sheet: bowed and not quite parallel.",
)
PLACE_SPREAD_WORTH = Fact(
    2.0, unit="1", kind=Kind.CHOICE, source="So many degrees of freedom that usual spread is worth beside readings."
)
ENOUGH = Fact(3, unit="1", kind=Kind.CHOICE, source="Places, both ends and the middle: more of them gain little.")
SCATTER = Fact(
    3.0, unit="1", kind=Kind.CHOICE, source="Readings that differ by more than this many times the usual are named."
)

# Of six places, standard normal, so many read: mean and standard deviation of the smallest read less the smallest.
_HIDDEN = ((1.267, 1.043), (0.703, 0.784), (0.421, 0.618), (0.238, 0.473), (0.104, 0.318), (0.0, 0.0))


def unread_places(read: int) -> int:
    """How many places of a side are left to read.

    Args:
        read: places that were.
    """
    return max(0, len(_HIDDEN) - read)


@dataclass(frozen=True)
class Least:
    """The least that a side measures at one height.

    Attributes:
        smallest: reading, mm.
        hidden: mean of how much narrower the places are that were not read, mm.
        uncertainty: what is not known of both.
        count: places that were read.
    """

    smallest: float
    hidden: float
    uncertainty: Combined
    count: int

    @property
    def margin(self) -> float:
        """What is taken off the smallest reading, mm."""
        return self.hidden + self.uncertainty.expanded(sides=1)

    @property
    def value(self) -> float:
        """What is left, mm; not below 0."""
        return max(0.0, self.smallest - self.margin)


@dataclass(frozen=True)
class Walls:
    """What the readings at all heights say of a pair of walls.

    Attributes:
        count: places that were read, at the height where most were.
        spread: standard deviation of the width from place to place, mm.
        scatter: that of the readings themselves, mm; 0 where no height has two.
        usual: what that would usually be, mm.
    """

    count: int
    spread: float
    scatter: float
    usual: float

    @property
    def wide(self) -> bool:
        """Whether the readings differ by far more than walls and tapes usually do."""
        return self.scatter > SCATTER * self.usual


def walls_of(levels: Sequence[Sequence[float]], instrument: Instrument) -> Walls:
    """What readings at different places, at one or more heights, say of a pair of walls.

    Args:
        levels: the readings at each height, mm.
        instrument: what they were taken with.
    """
    squares = math.fsum((one - math.fsum(level) / len(level)) ** 2 for level in levels for one in level)
    freedom = sum(len(level) - 1 for level in levels)
    length = max(max(level) for level in levels)
    noise = math.fsum(one.standard**2 for one in reading_components(instrument, length) if one.what != "instrument")
    own = max(0.0, squares - freedom * noise)
    variance = (PLACE_SPREAD_WORTH * PLACE_SPREAD**2 + own) / (PLACE_SPREAD_WORTH + freedom)
    return Walls(
        count=max(len(level) for level in levels),
        spread=math.sqrt(variance),
        scatter=math.sqrt(squares / freedom) if freedom else 0.0,
        usual=math.sqrt(PLACE_SPREAD**2 + noise),
    )


def least_of(
    readings: Sequence[float], walls: Walls, instrument: Instrument, *, more: Sequence[Component] = (), off: float = 0.0
) -> Least:
    """The least that a side measures at one height.

    Args:
        readings: at this height, mm.
        walls: what all readings of the side say.
        instrument: what they were taken with.
        more: what else is not known, such as whether the corners are square.
        off: its mean, mm.
    """
    mean, deviation = _HIDDEN[min(walls.count, len(_HIDDEN)) - 1]
    smallest = min(readings)
    parts = (
        *reading_components(instrument, smallest),
        Component("places not read", deviation * walls.spread),
        *more,
    )
    return Least(smallest, mean * walls.spread + off, Combined(parts), walls.count)
