"""How large the largest of a lot may be, from a few of its things and from how such things are made.

Model: the sizes of a lot are normal with unknown mean and spread; a reading is a size and a normal error of known
standard uncertainty. The mean has a flat prior, or a normal one about a nominal size. The spread has the prior of its
making process (``Expected``): 75 % near the expected spread (log-normal), 30 % anywhere from 0.4 to 2.5 times of it, so
that samples which disagree are believed. Things that were measured are known, up to their reading error; only the rest
is predicted. With one sample the prior carries the limit, with many the samples do: from 8 samples on the limit is not
below the one that samples give alone (flat prior for the logarithm of the spread).

Everything is integrated on fixed nodes, so the same samples give the same limit. ``benchmarks/sizing/lots.py`` measures
how often whole lots fit, and how much is given away.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from scipy.special import ndtr, ndtri

from nookwright.ground.sources import Fact, Kind
from nookwright.sizing.statistics.nodes import normal_nodes

CORE_SHARE = Fact(
    0.75,
    unit="1",
    kind=Kind.CALCULATED,
    source="Share of the prior near the expected spread: with more, samples of another spread are not believed; with "
    "less, one sample gets a limit more than 2.5 times an oracle's (benchmarks/sizing/lots.py).",
)
CORE_LOG_SD = Fact(
    0.1, unit="1", kind=Kind.CALCULATED, source="How near, as a standard deviation of its logarithm; the same runs."
)
LEAST_RATIO = Fact(
    0.4, unit="1", kind=Kind.CHOICE, source="Spread of a lot over the expected one: things of one mould and one day."
)
MOST_RATIO = Fact(
    2.5, unit="1", kind=Kind.CHOICE, source="Spread of a lot over the expected one: mixed makers, a worn mould."
)
ALONE_FROM = Fact(
    8,
    unit="1",
    kind=Kind.CALCULATED,
    source="Samples from which they also speak alone: with twice the expected spread the prior would hold whole lots "
    "to 88 % where 95 % were asked (benchmarks/sizing/lots.py).",
)

# Spread over expected spread: middles of cells that fill the prior's whole width, one of them at 1.
_CELL = math.log(MOST_RATIO / LEAST_RATIO) / 27
_RATIOS = LEAST_RATIO * np.exp(_CELL * (np.arange(27) + 0.5))
_ALONE = np.exp(np.linspace(-2.4, 2.8, 41))  # spread over the samples' own
_MEANS, _MEAN_WEIGHTS = normal_nodes(9)
_SIZES = 161  # nodes of the distribution of the largest
_LOWER = 40  # of them below the largest reading, dense towards it: where a lot that is nearly all measured is limited
_REACH = 9.0  # spreads about the samples that these nodes span
_COUNTS = 1e-6  # weight over the largest one from which a spread counts
_CERTAIN = 9.0  # standard deviations above which a normal probability is 1 in double precision


@dataclass(frozen=True)
class Expected:
    """What is known of one dimension before anything is measured.

    Attributes:
        spread: standard deviation of the sizes of one lot that its making process gives, mm.
        nominal: size that is known from elsewhere, mm; ``None`` where nothing is known.
        nominal_error: standard deviation of a lot's mean about the nominal size, mm.
    """

    spread: float
    nominal: float | None = None
    nominal_error: float = math.inf


@dataclass(frozen=True)
class Sampled:
    """One dimension of a lot as it was measured.

    Attributes:
        readings: of different things of the lot, mm.
        reading_error: standard uncertainty of one reading, mm.
        count: things in the lot, those measured included.
    """

    readings: tuple[float, ...]
    reading_error: float
    count: int

    def __post_init__(self) -> None:
        """Refuse what has no meaning."""
        if not self.readings or not all(math.isfinite(one) for one in self.readings):
            raise ValueError("A dimension needs at least one reading, and each is a finite number.")
        if self.reading_error < 0:
            raise ValueError("A reading error is not negative.")

    @property
    def unmeasured(self) -> int:
        """Things of the lot that nobody measured."""
        return max(0, self.count - len(self.readings))

    @property
    def mirrored(self) -> Sampled:
        """The same with all signs turned: its largest is the smallest of this."""
        return Sampled(tuple(-one for one in self.readings), self.reading_error, self.count)


@dataclass(frozen=True)
class Largest:
    """The largest of a whole lot, as a distribution.

    Attributes:
        sizes: nodes, mm, rising.
        below: probability that every thing of the lot is at most that large; the same shape.
    """

    sizes: np.ndarray
    below: np.ndarray

    def probability(self, size: float | np.ndarray) -> np.ndarray:
        """How likely every thing of the lot is at most that large.

        Args:
            size: mm, any shape.
        """
        return np.asarray(np.interp(size, self.sizes, self.below, left=0.0, right=1.0))

    def limit(self, confidence: float) -> float:
        """The size that no thing of the lot exceeds, mm.

        Args:
            confidence: that none does, between 0 and 1.
        """
        at = int(np.searchsorted(self.below, confidence))
        if at == 0:
            return float(self.sizes[0])
        if at == len(self.below):
            return float(self.sizes[-1])
        low, high = self.below[at - 1], self.below[at]
        share = (confidence - low) / (high - low)
        return float(self.sizes[at - 1] + share * (self.sizes[at] - self.sizes[at - 1]))


class Judged:
    """Samples and what was expected, put together."""

    def __init__(self, sampled: Sampled, expected: Expected) -> None:
        """Weigh each possible spread by prior and samples.

        Args:
            sampled: one dimension of a lot as it was measured.
            expected: what its making process says.
        """
        self.sampled, self.expected = sampled, expected
        self._mean = float(np.mean(sampled.readings))
        self._squares = float(np.sum((np.asarray(sampled.readings) - self._mean) ** 2))

    def largest(self) -> Largest:
        """The largest of the lot: with all measured, their readings and errors alone."""
        return self._largest

    def predicted(self, chances: np.ndarray, reading_error: float) -> np.ndarray:
        """Readings of things that nobody measured yet, as they may come out.

        Args:
            chances: even between 0 and 1, ``float[draws][2 + more]``: for the spread, the mean, each of the readings.
            reading_error: standard uncertainty of one of the readings, mm.

        Returns:
            ``float[draws][more]``, mm.
        """
        spreads, weights = self._informed
        at = np.searchsorted(np.cumsum(weights), chances[:, 0]).clip(max=len(spreads) - 1)
        middles, errors = (one[at] for one in self._means(spreads))
        means = middles + errors * ndtri(chances[:, 1])
        return np.asarray(means[:, None] + np.hypot(spreads[at], reading_error)[:, None] * ndtri(chances[:, 2:]))

    @cached_property
    def _largest(self) -> Largest:
        """The largest of the lot, computed once."""
        informed = self._largest_by(*self._informed)
        if len(self.sampled.readings) < ALONE_FROM or not self.sampled.unmeasured:
            return informed
        alone = self._largest_by(*self._alone)
        grid = np.union1d(informed.sizes, alone.sizes)
        return Largest(grid, np.minimum(informed.probability(grid), alone.probability(grid)))

    @property
    def spread(self) -> float:
        """Standard deviation of the lot's sizes, the mean over what is possible, mm."""
        spreads, weights = self._informed
        return float(spreads @ weights)

    @cached_property
    def _informed(self) -> tuple[np.ndarray, np.ndarray]:
        """Possible spreads and their weights, by prior and samples."""
        return self._weighed(_RATIOS * self.expected.spread, np.log(_prior()))

    @cached_property
    def _alone(self) -> tuple[np.ndarray, np.ndarray]:
        """The same by the samples alone; a spread below the reading error cannot be told from none."""
        own = max(math.sqrt(self._squares / (len(self.sampled.readings) - 1)), self.sampled.reading_error, 1e-6)
        return self._weighed(_ALONE * own, np.zeros(len(_ALONE)))

    def _weighed(self, spreads: np.ndarray, log_prior: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        seen, count = spreads**2 + self.sampled.reading_error**2, len(self.sampled.readings)
        logs = log_prior - (count - 1) / 2 * np.log(seen) - self._squares / (2 * seen)
        if self.expected.nominal is not None:
            about = seen / count + self.expected.nominal_error**2
            logs = logs - np.log(about) / 2 - (self._mean - self.expected.nominal) ** 2 / (2 * about)
        weights = np.exp(logs - logs.max())
        return spreads, weights / weights.sum()

    def _means(self, spreads: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """The lot's mean for each spread: its expectation and its standard deviation, mm."""
        of_samples = (spreads**2 + self.sampled.reading_error**2) / len(self.sampled.readings)
        if self.expected.nominal is None:
            return np.full_like(spreads, self._mean), np.sqrt(of_samples)
        of_nominal = self.expected.nominal_error**2
        pull = of_samples / (of_samples + of_nominal)
        return self._mean + pull * (self.expected.nominal - self._mean), np.sqrt(pull * of_nominal)

    def _largest_by(self, spreads: np.ndarray, weights: np.ndarray) -> Largest:
        """Distribution of the largest, for these possible spreads."""
        if not self.sampled.unmeasured:
            return self._largest_measured()
        kept = weights > weights.max() * _COUNTS
        spreads, weights = spreads[kept], weights[kept] / weights[kept].sum()
        middles, errors = self._means(spreads)
        means = middles[:, None] + errors[:, None] * _MEANS
        top = max(*self.sampled.readings, float(middles.max()))
        sizes = self._nodes(top, float(spreads @ weights) + 2 * float(errors @ weights))
        # sizes x spreads x means
        unseen = ndtr((sizes[:, None, None] - means) / spreads[:, None]) ** self.sampled.unmeasured
        seen = self._seen_below(sizes, spreads, means)
        below = np.einsum("qsm,s,m->q", unseen * seen, weights, _MEAN_WEIGHTS)
        return Largest(sizes, np.maximum.accumulate(below))

    def _seen_below(self, sizes: np.ndarray, spreads: np.ndarray, means: np.ndarray) -> np.ndarray:
        """How likely the measured things are below each size; without reading error they are known."""
        error = self.sampled.reading_error
        if error == 0:
            return (sizes >= max(self.sampled.readings))[:, None, None] * 1.0
        share = spreads**2 / (spreads**2 + error**2)
        own = np.sqrt(share) * error
        likely = np.ones((len(sizes), *means.shape))
        for reading, times in zip(*np.unique(self.sampled.readings, return_counts=True), strict=True):
            middle = means + share[:, None] * (reading - means)
            near = sizes < (middle + _CERTAIN * own[:, None]).max()  # above, the thing is below for certain
            likely[near] *= ndtr((sizes[near, None, None] - middle) / own[:, None]) ** times
        return likely

    def _largest_measured(self) -> Largest:
        """With every thing measured: the readings and their errors, no statistics of lots."""
        error = max(self.sampled.reading_error, 1e-9)
        readings = np.asarray(self.sampled.readings)
        sizes = np.linspace(readings.max() - 5 * error, readings.max() + 7 * error, _SIZES)
        return Largest(sizes, ndtr((sizes[:, None] - readings) / error).prod(axis=1))

    def _nodes(self, top: float, spread: float) -> np.ndarray:
        """Sizes at which the distribution is computed: dense where the largest of the lot is likely to be."""
        reach = _REACH * math.hypot(spread, self.sampled.reading_error)
        fall = np.linspace(1, 0, _LOWER, endpoint=False) ** 3
        rise = np.linspace(0, 1, _SIZES - _LOWER) ** 1.5
        return np.concatenate([top - reach / 2 * fall, top + 1.5 * reach * rise])


def all_fit_limit(sampled: Sampled, expected: Expected, confidence: float) -> float:
    """The size that no thing of a lot exceeds, mm.

    Args:
        sampled: one dimension of the lot as it was measured.
        expected: what its making process says.
        confidence: that no thing of the lot exceeds it, between 0 and 1.
    """
    return Judged(sampled, expected).largest().limit(confidence)


def none_below(sampled: Sampled, expected: Expected, confidence: float) -> float:
    """The size that no thing of a lot falls below, mm.

    Args:
        sampled: one dimension of the lot as it was measured.
        expected: what its making process says.
        confidence: that no thing of the lot falls below it, between 0 and 1.
    """
    nominal = None if expected.nominal is None else -expected.nominal
    mirrored = Expected(expected.spread, nominal, expected.nominal_error)
    return -Judged(sampled.mirrored, mirrored).largest().limit(confidence)


def oracle_limit(mean: float, spread: float, count: int, confidence: float) -> float:
    """The limit of one who knows the population and has measured nothing, mm; a yardstick for ``all_fit_limit``.

    Args:
        mean: of the population, mm.
        spread: its standard deviation, mm.
        count: things in the lot.
        confidence: that no thing of the lot exceeds it.
    """
    return mean + spread * float(ndtri(confidence ** (1 / count)))


def prior_ratios(draws: int, random: np.random.Generator) -> np.ndarray:
    """Spreads over the expected one, drawn from the prior.

    Args:
        draws: how many.
        random: source of chance, seeded by the caller.

    Returns:
        ``float64[draws]``.
    """
    prior = _prior()
    return random.choice(_RATIOS, p=prior / prior.sum(), size=draws)


def _prior() -> np.ndarray:
    """Prior of the ratios: a core near 1, and a plain that holds everything from the least to the most."""
    core = np.exp(-((np.log(_RATIOS) / CORE_LOG_SD) ** 2) / 2)
    return np.asarray(CORE_SHARE * core / core.sum() + (1 - CORE_SHARE) / len(_RATIOS))
