"""Tolerance factors: what must always hold of them, and by chance."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.sizing.statistics.tolerance_factors import (
    howe_factor,
    one_sided_factor,
    order_confidence,
    samples_needed,
    two_sided_factor,
)

samples = st.sampled_from([2, 3, 4, 6, 10, 25, 70, 199])
shares = st.sampled_from([0.8, 0.9, 0.95, 0.99])


@given(samples, shares, shares)
def test_more_samples_cost_less(count: int, share: float, confidence: float) -> None:
    """Both factors fall with the number of samples."""
    assert one_sided_factor(count + 1, share, confidence) < one_sided_factor(count, share, confidence)
    assert two_sided_factor(count + 1, share, confidence) < two_sided_factor(count, share, confidence)


@given(samples, st.sampled_from([(0.8, 0.9), (0.9, 0.95), (0.95, 0.99)]))
def test_more_share_and_more_confidence_cost_more(count: int, pair: tuple[float, float]) -> None:
    """Both factors grow with either."""
    less, more = pair
    for factor in (one_sided_factor, two_sided_factor):
        assert factor(count, less, 0.95) < factor(count, more, 0.95)
        assert factor(count, 0.95, less) < factor(count, 0.95, more)


@given(st.integers(3, 200), shares, shares)
def test_howe_is_near(count: int, share: float, confidence: float) -> None:
    """Within 7 % from three samples on."""
    exact = two_sided_factor(count, share, confidence)
    assert howe_factor(count, share, confidence) == pytest.approx(exact, rel=0.07)


def test_limits_cover_as_often_as_they_say() -> None:
    """By chance: 20,000 samples of 6 from a normal population, 90 % of it, confidence 95 %."""
    drawn = np.random.default_rng(4).standard_normal((20_000, 6))
    mean, spread = drawn.mean(axis=1), drawn.std(axis=1, ddof=1)
    from scipy.special import ndtr

    above = ndtr(mean + one_sided_factor(6, 0.9, 0.95) * spread) >= 0.9
    reach = two_sided_factor(6, 0.9, 0.95) * spread
    within = ndtr(mean + reach) - ndtr(mean - reach) >= 0.9
    assert above.mean() == pytest.approx(0.95, abs=0.005)
    assert within.mean() == pytest.approx(0.95, abs=0.005)


@given(shares, shares, st.integers(1, 5))
def test_one_sample_less_is_too_few(share: float, confidence: float, left_out: int) -> None:
    """The number of samples needed is the least."""
    count = samples_needed(share, confidence, left_out)
    assert order_confidence(count, share, left_out) >= confidence
    assert order_confidence(count - 1, share, left_out) < confidence


@pytest.mark.parametrize(("count", "share", "confidence"), [(1, 0.9, 0.9), (5, 0.0, 0.9), (5, 1.0, 0.9), (5, 0.9, 1.5)])
def test_what_has_no_meaning_is_refused(count: int, share: float, confidence: float) -> None:
    """One sample has no spread; shares and confidences lie between 0 and 1."""
    for factor in (one_sided_factor, two_sided_factor, howe_factor):
        with pytest.raises(ValueError, match=r"samples have|lies between"):
            factor(count, share, confidence)
