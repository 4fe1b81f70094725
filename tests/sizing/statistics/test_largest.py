"""The largest of a lot: what must always hold, the fixed nodes against a fine integration, the model against chance."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.special import ndtr

from nookwright.sizing.statistics.largest import (
    ALONE_FROM,
    CORE_LOG_SD,
    CORE_SHARE,
    LEAST_RATIO,
    MOST_RATIO,
    Expected,
    Judged,
    Sampled,
    all_fit_limit,
    none_below,
    oracle_limit,
    prior_ratios,
)

LIKELY = 0.95
SPREAD = 0.4
readings = st.lists(st.floats(74.0, 76.0).map(lambda size: round(size, 2)), min_size=1, max_size=6).map(tuple)
errors = st.sampled_from([0.0, 0.02, 0.1, 0.4])
counts = st.integers(1, 40)


def limit(
    of: tuple[float, ...], *, error: float = 0.02, count: int = 12, spread: float = SPREAD, confidence: float = LIKELY
) -> float:
    """A limit with the usual figures for what a test does not speak of."""
    return all_fit_limit(Sampled(of, error, count), Expected(spread), confidence)


@given(readings, errors, counts, st.floats(-500, 500))
def test_sizes_shift(of: tuple[float, ...], error: float, count: int, by: float) -> None:
    """The same lot, all of it larger by so much, has a limit larger by so much."""
    moved = limit(tuple(one + by for one in of), error=error, count=count)
    assert moved == pytest.approx(limit(of, error=error, count=count) + by, abs=1e-6)


@given(readings, errors, counts, st.floats(0.05, 20))
def test_sizes_scale(of: tuple[float, ...], error: float, count: int, by: float) -> None:
    """The same lot in another unit has the same limit in that unit."""
    scaled = limit(tuple(one * by for one in of), error=error * by, count=count, spread=SPREAD * by)
    assert scaled == pytest.approx(limit(of, error=error, count=count) * by, abs=1e-6 * by)


@given(readings, errors, counts, st.sampled_from([(0.5, 0.9), (0.9, 0.95), (0.95, 0.99), (0.99, 0.999)]))
def test_more_confidence_costs_more(
    of: tuple[float, ...], error: float, count: int, confidences: tuple[float, float]
) -> None:
    """The limit grows with the confidence that is asked for."""
    low, high = (limit(of, error=error, count=count, confidence=one) for one in confidences)
    assert low <= high


@given(readings, errors, st.integers(1, 40), st.integers(1, 40))
def test_more_things_cost_more(of: tuple[float, ...], error: float, count: int, more: int) -> None:
    """The limit grows with the lot."""
    assert limit(of, error=error, count=len(of) + count) <= limit(of, error=error, count=len(of) + count + more) + 1e-9


@given(st.floats(74, 76), st.integers(1, 6), st.sampled_from([(0.02, 0.1), (0.1, 0.3)]))
def test_a_worse_instrument_costs_more(size: float, samples: int, errors: tuple[float, float]) -> None:
    """The limit grows with the error of a reading, as long as the readings agree."""
    good, poor = (limit((size,) * samples, error=error) for error in errors)
    assert good < poor


@given(st.floats(74, 76), st.integers(1, 11), st.sampled_from([0.0, 0.02, 0.1]))
def test_more_samples_of_one_size_never_raise_the_limit(size: float, samples: int, error: float) -> None:
    """Measuring one more thing that is as large as the others gains, or costs nothing.

    As long as readings are better than a quarter of the spread: with all measured, the readings count as they are,
    and a poor instrument's are then worse than what is known of such things.
    """
    few, more = (limit((size,) * n, error=error) for n in (samples, samples + 1))
    assert more <= few + 1e-3 * SPREAD


@given(readings, errors, counts)
def test_the_limit_is_not_below_what_was_measured(of: tuple[float, ...], error: float, count: int) -> None:
    """No limit lies below the largest reading by more than reading errors can explain."""
    assert limit(of, error=error, count=count) >= max(of) - 4 * error - 1e-3 * SPREAD


@given(readings, st.sampled_from([0.02, 0.1]))
def test_with_all_measured_there_are_no_statistics(of: tuple[float, ...], error: float) -> None:
    """Then the limit is the largest reading and its error alone, whatever is expected of such things."""
    found = limit(of, error=error, count=len(of))
    assert found == limit(of, error=error, count=len(of), spread=10 * SPREAD)
    assert max(of) + 1.6 * error <= found <= max(of) + 3.0 * error


def test_one_thing_that_was_measured() -> None:
    """A lot of one: the one-sided normal quantile of its reading error, 1.645 at 95 %."""
    assert limit((75.0,), error=0.1, count=1) == pytest.approx(75.0 + 1.6449 * 0.1, abs=1e-3)


def test_all_measured_without_error_is_the_largest() -> None:
    """Nothing is added to what is known."""
    assert limit((75.0, 75.3, 74.9), error=0.0, count=3) == pytest.approx(75.3, abs=1e-6)


@given(readings, errors, counts)
def test_the_smallest_is_the_largest_mirrored(of: tuple[float, ...], error: float, count: int) -> None:
    """What no thing falls below lies as far under the readings as their mirror's limit lies above."""
    mirrored = limit(tuple(-one for one in of), error=error, count=count)
    below = none_below(Sampled(of, error, count), Expected(SPREAD), LIKELY)
    assert below == pytest.approx(-mirrored, abs=1e-9)
    assert below <= limit(of, error=error, count=count)


def test_a_nominal_size_is_mirrored_too() -> None:
    """A nominal size above the readings raises both ends."""
    known, unknown = Expected(SPREAD, 75.5, 0.1), Expected(SPREAD)
    sampled = Sampled((75.0,), 0.02, 12)
    assert none_below(sampled, known, LIKELY) > none_below(sampled, unknown, LIKELY)
    assert all_fit_limit(sampled, known, LIKELY) != all_fit_limit(sampled, unknown, LIKELY)


def test_a_nominal_size_far_from_the_readings_is_reached() -> None:
    """The nodes hold the lot's mean too: where it is known almost surely, the limit lies above it."""
    known = Expected(SPREAD, 90.0, 0.001)
    assert all_fit_limit(Sampled((75.0,), 0.02, 12), known, LIKELY) > 90.0


def test_samples_that_differ_more_than_expected_are_believed() -> None:
    """Beyond its largest reading, the lot of wide samples gets more room than that of tight ones."""
    tight, wide = (74.9, 74.95, 75.0, 75.05, 75.1), (73.5, 74.2, 75.0, 75.8, 76.5)
    assert limit(wide) - max(wide) > limit(tight) - max(tight)


def test_many_samples_speak_alone() -> None:
    """From 8 samples on, an expectation that is far too narrow no longer matters."""
    of = tuple(75 + np.random.default_rng(1).normal(0, 2.5 * SPREAD, 2 * int(ALONE_FROM)))
    assert limit(of, count=100, spread=SPREAD / 10) >= limit(of, count=100, spread=SPREAD) - 0.05
    assert limit(of, count=100, spread=SPREAD / 10) > max(of)


@pytest.mark.parametrize(("of", "error"), [((), 0.1), ((math.nan,), 0.1), ((75.0, math.inf), 0.1), ((75.0,), -0.1)])
def test_what_has_no_meaning_is_refused(of: tuple[float, ...], error: float) -> None:
    """No reading, a reading that is no number, a negative error."""
    with pytest.raises(ValueError, match="reading"):
        Sampled(of, error, 12)


@given(readings, errors, counts)
def test_the_distribution_is_one(of: tuple[float, ...], error: float, count: int) -> None:
    """It rises from 0 to 1, at sizes that rise."""
    found = Judged(Sampled(of, error, count), Expected(SPREAD)).largest()
    assert np.all(np.diff(found.sizes) > 0)
    assert np.all(np.diff(found.below) >= 0)
    assert found.below[0] == pytest.approx(0, abs=1e-3)
    assert found.below[-1] == pytest.approx(1, abs=1e-6)
    assert found.probability(found.limit(LIKELY)) == pytest.approx(LIKELY, abs=1e-6)


def test_an_oracle_is_right_in_as_many_lots_as_it_says() -> None:
    """Of a normal population: all 12 below the limit with 95 %."""
    assert ndtr(oracle_limit(0.0, 1.0, 12, LIKELY)) ** 12 == pytest.approx(LIKELY)


def test_ratios_are_drawn_from_the_prior() -> None:
    """The share within the core, and the bounds."""
    ratios = prior_ratios(20_000, np.random.default_rng(1))
    near = np.abs(np.log(ratios)) < 3 * CORE_LOG_SD
    plain_near = 6 * CORE_LOG_SD / math.log(MOST_RATIO / LEAST_RATIO)
    assert near.mean() == pytest.approx(CORE_SHARE + (1 - CORE_SHARE) * plain_near, abs=0.05)
    assert ratios.min() >= LEAST_RATIO * 0.9
    assert ratios.max() <= MOST_RATIO * 1.1


# The model again, written down without the program: a density of the spread, then plain numbers.


def prior_density(log_ratio: np.ndarray) -> np.ndarray:
    """Of the logarithm of the spread over the expected one: a core, and a plain from the least to the most."""
    core = np.exp(-((log_ratio / CORE_LOG_SD) ** 2) / 2) / (CORE_LOG_SD * math.sqrt(2 * math.pi))
    inside = (log_ratio >= math.log(LEAST_RATIO)) & (log_ratio <= math.log(MOST_RATIO))
    return np.asarray(CORE_SHARE * core + (1 - CORE_SHARE) * inside / math.log(MOST_RATIO / LEAST_RATIO))


def fine_limit(of: tuple[float, ...], error: float, count: int) -> float:
    """The limit by plain sums over 400 spreads, 200 means, and sizes a thousandth of the spread apart."""
    samples, mean = len(of), float(np.mean(of))
    logs = np.linspace(-1.3, 1.3, 400)
    spreads = SPREAD * np.exp(logs)
    seen = spreads**2 + error**2
    squares = float(np.sum((np.asarray(of) - mean) ** 2))
    weights = prior_density(logs) * seen ** (-(samples - 1) / 2) * np.exp(-squares / (2 * seen))
    weights /= weights.sum()
    z = np.linspace(-6, 6, 200)
    of_mean = np.exp(-(z**2) / 2) / np.exp(-(z**2) / 2).sum()
    means = mean + np.sqrt(seen / samples)[:, None] * z
    share = (spreads**2 / seen)[:, None]

    def below(size: float) -> float:
        likely = ndtr((size - means) / spreads[:, None]) ** max(0, count - samples)
        for reading in of:
            middle = means + share * (reading - means)
            likely = likely * ndtr((size - middle) / (np.sqrt(share) * error))
        return float(weights @ likely @ of_mean)

    low, high = mean - 20 * SPREAD, max(of) + 20 * SPREAD
    while high - low > SPREAD / 1000:
        middle = (low + high) / 2
        low, high = (low, middle) if below(middle) >= LIKELY else (middle, high)
    return high


@pytest.mark.parametrize("error", [0.02, 0.2])
@pytest.mark.parametrize(
    "of",
    [
        (75.0,),
        (75.0, 75.1),
        (74.6, 75.0, 75.5),
        (74.9, 75.0, 75.1, 75.05, 74.95),
        (73.8, 75.0, 76.1, 74.4, 75.6, 75.2, 74.9),
    ],
)
@pytest.mark.parametrize("count", [8, 12, 60])
def test_fixed_nodes_are_as_good_as_a_fine_integration(of: tuple[float, ...], count: int, error: float) -> None:
    """Within 0.01 of the expected spread, with one sample as with seven, with one thing unmeasured as with many."""
    assert limit(of, error=error, count=count) == pytest.approx(fine_limit(of, error, count), abs=0.01 * SPREAD)


@pytest.mark.parametrize(("samples", "error"), [(1, 0.02), (3, 0.02), (3, 0.2), (5, 0.1)])
def test_the_model_holds_what_it_promises_by_plain_chance(samples: int, error: float) -> None:
    """Lots drawn one by one from the model's assumptions fit in 95 %: within three deviations of 600 lots."""
    random = np.random.default_rng(7)
    fitted = 0
    for _ in range(600):
        core = random.random() < CORE_SHARE
        log = random.normal(0, CORE_LOG_SD) if core else random.uniform(math.log(LEAST_RATIO), math.log(MOST_RATIO))
        sizes = random.normal(random.uniform(50, 100), SPREAD * math.exp(log), 12)
        read = sizes[:samples] + random.normal(0, error, samples)
        fitted += limit(tuple(read.tolist()), error=error) >= sizes.max()
    assert fitted / 600 == pytest.approx(LIKELY, abs=3 * math.sqrt(LIKELY * (1 - LIKELY) / 600))
