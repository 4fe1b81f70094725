"""What readings gain, when that is worth asking for, and in which order.

A size is drawn so that it holds with the stated confidence, whatever is known. So more readings do not make a pocket
surer by themselves: they make it tighter, change a footprint, or show in time that a tray would have been too small.
Each of these has a least amount below which no decision changes; a reading is asked for where one of them is reached.
"""

from __future__ import annotations

from dataclasses import dataclass

from nookwright.ground.sources import Fact, Kind

LEAST_POCKET = Fact(
    0.3, unit="mm", kind=Kind.CHOICE, source="A pocket that much tighter can be felt: the step between two fits."
)
LEAST_CELLS = Fact(1.0, unit="cells", kind=Kind.CHOICE, source="Footprint saved, on average over what may be read.")
LEAST_MASS_G = Fact(
    5.0, unit="g", kind=Kind.CHOICE, source="Plastic saved, on average: a quarter of an hour of printing."
)
LEAST_FIT = Fact(
    0.005, unit="1", kind=Kind.CHOICE, source="Chance that the first print fits; a tenth of what is left at 95 %."
)
LEAST_LINES = Fact(
    0.2, unit="1", kind=Kind.CHOICE, source="Chance that a space has one column or row of cells more or less."
)
READING_S = Fact(30.0, unit="s", kind=Kind.COMMON_PRACTICE, source="To take a thing, measure it and type it in.")
FETCH_S = Fact(
    60.0, unit="s", kind=Kind.COMMON_PRACTICE, source="To find the things or empty the drawer, and put all back."
)

S_PER_MIN = Fact(60.0, unit="s/min", kind=Kind.STANDARD, source="SI.")


@dataclass(frozen=True)
class Gain:
    """What readings gain, on average over what they may say.

    Attributes:
        pocket: by how much a pocket gets tighter, mm, or a size that decides whether a lot has a place at all.
        cells: how many cells of a footprint are saved; negative where it grows.
        mass_g: how much plastic of its part is saved, g; negative where it is more.
        fit: how much likelier the first print fits.
        lines: by how many columns or rows a space changes, or how likely its tallest part no longer goes in.
        at_same_size: how likely the first print fits if its pocket stays as wide instead; 0 where there is none.
    """

    pocket: float = 0.0
    cells: float = 0.0
    mass_g: float = 0.0
    fit: float = 0.0
    lines: float = 0.0
    at_same_size: float = 0.0

    @property
    def shares(self) -> tuple[float, ...]:
        """Each part of it in units of the least that counts; a loss counts nothing."""
        return (
            max(0.0, self.pocket) / LEAST_POCKET,
            max(0.0, self.cells) / LEAST_CELLS,
            max(0.0, self.mass_g) / LEAST_MASS_G,
            max(0.0, self.fit) / LEAST_FIT,
            self.lines / LEAST_LINES,
        )

    @property
    def counts(self) -> bool:
        """Whether a decision would change by more than the least that counts."""
        return max(self.shares) >= 1

    @property
    def worth(self) -> float:
        """All of it together, in units of the least that counts."""
        return sum(self.shares)


def effort_s(readings: int) -> float:
    """How long so many readings of one lot or space take, s.

    Args:
        readings: how many.
    """
    return FETCH_S + readings * READING_S


def rate(gain: Gain, readings: int) -> float:
    """What is gained in a minute of measuring, in units of the least that counts.

    Args:
        gain: of the readings together.
        readings: how many.
    """
    return gain.worth / (effort_s(readings) / S_PER_MIN)
