"""Uncertainty of readings, combined and expanded as the GUM has it.

Source: JCGM 100:2008 (GUM): 4.2 type A, 4.3 type B, 5.1 combination, annex G.4 effective degrees of freedom
(Welch-Satterthwaite).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.survey.origins import Instrument

if TYPE_CHECKING:
    from collections.abc import Sequence

COVERAGE = Fact(0.95, unit="1", kind=Kind.STANDARD, source="GUM 6.2: the usual level of confidence of an interval.")
MM_PER_M = Fact(1000.0, unit="mm/m", kind=Kind.STANDARD, source="SI.")
TAPE_LIMIT = Fact(
    0.3, unit="mm", kind=Kind.MEMORY, source="EC class II tapes and rules: +-(0.3 + 0.2 L) mm, L in whole metres."
)
TAPE_LIMIT_PER_M = Fact(0.2, unit="mm/m", kind=Kind.MEMORY, source="The part of it that grows with the length.")
TAPE_HANDLING = Fact(
    0.5,
    unit="mm",
    kind=Kind.COMMON_PRACTICE,
    source="Standard uncertainty of bending a tape into the corner of a drawer, or adding its case's length.",
)
RULE_HANDLING = Fact(
    0.2, unit="mm", kind=Kind.COMMON_PRACTICE, source="Standard uncertainty of reading a steel rule with bare eyes."
)
MILLIMETRE_STEP = Fact(1.0, unit="mm", kind=Kind.STANDARD, source="Graduation of tapes and rules.")
CALIPER_LIMIT = Fact(
    0.02, unit="mm", kind=Kind.MEMORY, source="DIN 862: error limit of a digital caliper for lengths up to 100 mm."
)
CALIPER_LIMIT_LONG = Fact(0.03, unit="mm", kind=Kind.MEMORY, source="The same for lengths above 100 mm.")
CALIPER_LONG_FROM = Fact(100.0, unit="mm", kind=Kind.MEMORY, source="DIN 862: where the error limit grows.")
CALIPER_HANDLING = Fact(
    0.02,
    unit="mm",
    kind=Kind.COMMON_PRACTICE,
    source="Standard uncertainty of holding a caliper square to a thing that gives a little.",
)
CALIPER_STEP = Fact(0.01, unit="mm", kind=Kind.STANDARD, source="Digit of the usual caliper.")
ROUGH_STEP = Fact(
    5.0, unit="mm", kind=Kind.CHOICE, source="Rough sizes are to 5 mm: a span of the hand, a look at a rule beside it."
)
LASER_LIMIT = Fact(
    1.5, unit="mm", kind=Kind.MEMORY, source="ISO 16331-1 as makers of laser distance meters state it: +-1.5 mm."
)
LASER_HANDLING = Fact(
    0.3, unit="mm", kind=Kind.COMMON_PRACTICE, source="Standard uncertainty of setting its back against a wall."
)


@dataclass(frozen=True)
class Component:
    """One contribution to an uncertainty.

    Attributes:
        what: in words.
        standard: standard uncertainty times its sensitivity, in the unit of the result.
        freedom: degrees of freedom; infinite for one that is known.
    """

    what: str
    standard: float
    freedom: float = math.inf


@dataclass(frozen=True)
class Combined:
    """Several contributions put together.

    Attributes:
        components: what went in.
    """

    components: tuple[Component, ...]

    @property
    def standard(self) -> float:
        """Combined standard uncertainty (GUM 5.1.2)."""
        return math.hypot(*(one.standard for one in self.components))

    @property
    def freedom(self) -> float:
        """Effective degrees of freedom (GUM G.4.1)."""
        below = sum(one.standard**4 / one.freedom for one in self.components)
        return self.standard**4 / below if below > 0 else math.inf

    def expanded(self, confidence: float = COVERAGE, *, sides: int = 2) -> float:
        """Half width of the interval, or with one side the distance to its only end.

        Args:
            confidence: that the value lies inside.
            sides: 2 for an interval, 1 where only one end matters.
        """
        share = (1 + confidence) / 2 if sides == 2 else confidence  # noqa: PLR2004 - the ends of an interval
        return _quantile(share, self.freedom) * self.standard


def rectangular(half_width: float) -> float:
    """Standard uncertainty of a value of which only limits are known (GUM 4.3.7)."""
    return half_width / math.sqrt(3)


def rough_error() -> float:
    """Standard uncertainty of a rough size, mm: it is anywhere within half a step."""
    return rectangular(ROUGH_STEP / 2)


def repeated(readings: Sequence[float]) -> Component:
    """Type A: the mean of repeated readings of the same thing (GUM 4.2.3).

    Args:
        readings: two or more, of one and the same quantity.
    """
    count = len(readings)
    mean = math.fsum(readings) / count
    variance = math.fsum((one - mean) ** 2 for one in readings) / (count - 1)
    return Component("readings differ", math.sqrt(variance / count), count - 1)


def reading_components(instrument: Instrument, length: float) -> tuple[Component, ...]:
    """What one reading may be off by: the instrument's error (shared by all its readings), its digit, the hand.

    Args:
        instrument: what it was taken with.
        length: mm.
    """
    metres = math.ceil(length / MM_PER_M)
    tape = TAPE_LIMIT + TAPE_LIMIT_PER_M * metres
    caliper = CALIPER_LIMIT_LONG if length > CALIPER_LONG_FROM else CALIPER_LIMIT
    limit, step, hand = {
        Instrument.TAPE: (tape, float(MILLIMETRE_STEP), float(TAPE_HANDLING)),
        Instrument.RULE: (tape, float(MILLIMETRE_STEP), float(RULE_HANDLING)),
        Instrument.CALIPER: (float(caliper), float(CALIPER_STEP), float(CALIPER_HANDLING)),
        Instrument.LASER: (float(LASER_LIMIT), float(MILLIMETRE_STEP), float(LASER_HANDLING)),
    }[instrument]
    return (
        Component("instrument", rectangular(limit)),
        Component("digit", rectangular(step / 2)),
        Component("hand", hand),
    )


@cache
def _quantile(share: float, freedom: float) -> float:
    """Of Student's distribution; normal where the freedom has no end."""
    from scipy.special import ndtri, stdtrit

    return float(ndtri(share) if math.isinf(freedom) else stdtrit(freedom, share))
