"""Invented populations that lots are drawn from: how things of a kind differ, and what a caliper reads of them."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from nookwright.sizing.statistics.largest import prior_ratios
from nookwright.sizing.statistics.processes import tolerance_of
from nookwright.sizing.statistics.uncertainty import Combined, reading_components
from nookwright.survey.origins import Instrument, Process

LOT = 12  # things in a lot
DIGIT = 0.01  # mm, of the caliper
SEED = 20_250_301


@dataclass(frozen=True)
class Kind:
    """One kind of thing: how it is made, and its size.

    Attributes:
        name: in the tables.
        process: how it is made.
        size: nominal, mm.
    """

    name: str
    process: Process
    size: float

    @property
    def expected(self) -> float:
        """The spread that the process gives, mm."""
        return tolerance_of(self.process, self.size).spread

    @property
    def reading_error(self) -> float:
        """Standard uncertainty of one caliper reading, mm."""
        return Combined(reading_components(Instrument.CALIPER, self.size)).standard


KINDS = (
    Kind("glass 75", Process.MOULDED_GLASS, 75.0),
    Kind("plastic 60", Process.MOULDED_PLASTIC, 60.0),
    Kind("wood 40", Process.WOOD, 40.0),
)


class Case(StrEnum):
    """How a population's spread lies to the expected one, and what its shape is."""

    DRAWN = "spread drawn from the prior"
    EQUAL = "spread as expected"
    HALF = "half the spread"
    TWICE = "twice the spread"
    SKEWED = "skewed to the large side"
    HEAVY = "heavy tails"
    TWO_MOULDS = "two moulds mixed"
    FIRST_MOULD = "two moulds, all samples from one"


NORMAL = (Case.DRAWN, Case.EQUAL, Case.HALF, Case.TWICE)
FOLLOWS_PRIOR = (Case.DRAWN, Case.EQUAL)

_SKEW_SHAPE = 4.0  # of a gamma distribution: skewness 1
_HEAVY_FREEDOM = 5.0  # of Student's distribution: kurtosis 9, three times a normal one's
_MOULD_APART = 0.8  # spreads from a mould's mean to the common one; 0.6 are left within each mould


def lots(kind: Kind, case: Case, count: int) -> tuple[np.ndarray, np.ndarray]:
    """Draw lots; the first things of each are the samples.

    Args:
        kind: of thing.
        case: how the population departs from what is expected.
        count: lots.

    Returns:
        Sizes and the population's spreads, ``float64[count][LOT]`` and ``float64[count]``, mm.
    """
    random = np.random.default_rng([SEED, KINDS.index(kind), list(Case).index(case)])
    ratios = {Case.HALF: 0.5, Case.TWICE: 2.0}.get(case, 1.0) * np.ones(count)
    if case is Case.DRAWN:
        ratios = prior_ratios(count, random)
    spreads = kind.expected * ratios
    return kind.size + spreads[:, None] * _standard(case, (count, LOT), random), spreads


def read(kind: Kind, sizes: np.ndarray, case: Case) -> np.ndarray:
    """What a caliper shows: its own error is the same for a whole lot, the hand's is new each time.

    Args:
        kind: of thing.
        sizes: ``float64[lots][things]``, mm.
        case: of the population, for a stream of chance of its own.
    """
    random = np.random.default_rng([SEED, KINDS.index(kind), list(Case).index(case), 1])
    instrument, _, hand = reading_components(Instrument.CALIPER, kind.size)
    limit = instrument.standard * np.sqrt(3)
    shared = random.uniform(-limit, limit, (len(sizes), 1))
    return np.asarray(np.round((sizes + shared + random.normal(0, hand.standard, sizes.shape)) / DIGIT) * DIGIT)


def _standard(case: Case, shape: tuple[int, int], random: np.random.Generator) -> np.ndarray:
    """Numbers of mean 0 and standard deviation 1."""
    if case is Case.SKEWED:
        return np.asarray((random.gamma(_SKEW_SHAPE, size=shape) - _SKEW_SHAPE) / np.sqrt(_SKEW_SHAPE))
    if case is Case.HEAVY:
        return np.asarray(
            random.standard_t(_HEAVY_FREEDOM, size=shape) / np.sqrt(_HEAVY_FREEDOM / (_HEAVY_FREEDOM - 2))
        )
    if case not in {Case.TWO_MOULDS, Case.FIRST_MOULD}:
        return random.standard_normal(shape)
    mould = random.choice([-1.0, 1.0], size=shape)
    if (
        case is Case.FIRST_MOULD
    ):  # the boxes are packed by mould, and the first one is opened: seven of one, five of two
        mould = np.where(np.arange(shape[1]) < 7, 1.0, -1.0) * random.choice([-1.0, 1.0], size=(shape[0], 1))  # noqa: PLR2004
    return np.asarray(_MOULD_APART * mould + np.sqrt(1 - _MOULD_APART**2) * random.standard_normal(shape))
