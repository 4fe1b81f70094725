"""How far the walls of a space run off square, and what that costs the rectangle that goes in.

A floor whose side walls run off by q over its depth is a parallelogram. The liner lies along the front, so the largest
rectangle with the whole depth is narrower than the front by the size of q, whichever way the walls run off. The size of
a reading that may be off either way is a folded normal distribution, never 0 on average, even where 0 was read.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.sizing.statistics.uncertainty import Component, reading_components

if TYPE_CHECKING:
    from nookwright.survey.models import Space
    from nookwright.survey.origins import Instrument

SQUARE_UNREAD = Fact(
    0.001,
    unit="1",
    kind=Kind.COMMON_PRACTICE,
    source="Standard deviation of the run-off of boxes as they are made, as a share of the depth: 1 mm in 1 m.",
)
SQUARE_READING = Fact(
    0.4,
    unit="mm",
    kind=Kind.COMMON_PRACTICE,
    source="Standard uncertainty of a run-off read with a square, or with two sticks set corner to corner.",
)


@dataclass(frozen=True)
class RunOff:
    """How far the side walls run off over the depth.

    Attributes:
        size: as read, mm; 0 where it was not.
        standard: its standard uncertainty, mm.
        how: what it rests on, in words.
    """

    size: float
    standard: float
    how: str

    @property
    def mean(self) -> float:
        """What it costs on average, mm: the mean of the folded normal distribution."""
        ratio = self.size / self.standard
        level = self.standard * math.sqrt(2 / math.pi) * math.exp(-(ratio**2) / 2)
        return level + self.size * math.erf(ratio / math.sqrt(2))

    @property
    def component(self) -> Component:
        """What is not known of that."""
        variance = self.size**2 + self.standard**2 - self.mean**2
        return Component("out of square", math.sqrt(max(0.0, variance)))


def run_off_of(space: Space) -> RunOff:
    """The run-off of a space, from a square, from its diagonals, or from what is usual.

    Args:
        space: as surveyed.
    """
    width, depth = space.width.smallest, space.depth.smallest
    if space.out_of_square is not None:
        return RunOff(space.out_of_square, float(SQUARE_READING), "read with a square")
    if space.diagonals is not None:
        return of_diagonals(space.diagonals[0], space.diagonals[1], width, instrument=space.instrument)
    return RunOff(0.0, SQUARE_UNREAD * depth, "not read")


def of_diagonals(one: float, other: float, width: float, *, instrument: Instrument) -> RunOff:
    """The run-off of a parallelogram from its diagonals: their squares differ by four times width and run-off.

    The instrument's own error is the same in both and drops out; hand and digit do not, and the run-off is less sure
    than a diagonal by diagonal over width.

    Args:
        one: diagonal, mm.
        other: the other one, mm.
        width: of the front, mm.
        instrument: what they were taken with.
    """
    size = abs(one**2 - other**2) / (4 * width)
    each = math.hypot(*(part.standard for part in reading_components(instrument, one) if part.what != "instrument"))
    return RunOff(size, each * math.hypot(one, other) / (2 * width), "from the diagonals")
