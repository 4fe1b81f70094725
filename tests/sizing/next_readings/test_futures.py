"""What more readings may say."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.sizing.next_readings.futures import chances, futures
from nookwright.sizing.statistics.largest import Expected, Judged, Sampled, all_fit_limit, prior_ratios
from nookwright.sizing.statistics.uncertainty import rough_error

CALIPER = 0.03


def jars(*readings: float, count: int = 12, error: float = CALIPER) -> Judged:
    """Jars of glass, measured with a caliper."""
    return Judged(Sampled(readings, error, count), Expected(0.45))


@pytest.mark.parametrize("dimensions", [1, 2, 3, 10])
def test_the_points_fill_the_cube_evenly(dimensions: int) -> None:
    """Every half of every side holds half of them, and none lies on a face, where a normal quantile has no end."""
    points = chances(dimensions)
    assert ((points > 0) & (points < 1)).all()
    assert np.abs((points < 0.5).mean(axis=0) - 0.5).max() <= 1 / 8


@given(
    readings=st.lists(st.floats(50, 52), min_size=1, max_size=3),
    more=st.integers(1, 4),
    shift=st.floats(-20, 20),
)
@settings(max_examples=25)
def test_futures_keep_what_was_read_and_move_with_it(readings: list[float], more: int, shift: float) -> None:
    """Old readings stay, so many new ones come, and all sizes moved by as much move the new ones by as much."""
    before = futures(jars(*readings), more, reading_error=CALIPER)
    moved = futures(jars(*(one + shift for one in readings)), more, reading_error=CALIPER)
    for one, other in zip(before, moved, strict=True):
        assert one.sampled.readings[: len(readings)] == tuple(readings)
        assert len(one.sampled.readings) == len(readings) + more
        assert np.allclose(np.array(one.sampled.readings) + shift, other.sampled.readings, atol=2e-4)


def test_new_readings_are_centred_on_what_is_known() -> None:
    """Each future has its mirror image, so that their mean is the lot's."""
    new = [one.sampled.readings[-1] for one in futures(jars(50.0, 50.6), 1, reading_error=CALIPER)]
    assert np.mean(new) == pytest.approx(50.3, abs=1e-3)


def test_rough_readings_are_replaced() -> None:
    """Nobody keeps a look once a caliper has spoken; and the caliper's error counts then."""
    for one in futures(jars(50.0, error=rough_error()), 2, reading_error=CALIPER, rough=True):
        assert len(one.sampled.readings) == 2
        assert 50.0 not in one.sampled.readings
        assert one.sampled.reading_error == CALIPER


def test_the_fixed_points_agree_with_plain_chance() -> None:
    """The limit to expect after one more reading, against 400 readings drawn at random from the model itself.

    With one reading and a flat prior of the mean the spread is still that of its prior, and the next reading is normal
    about the first with twice its variance.
    """
    random = np.random.default_rng(5)
    spreads = 0.45 * prior_ratios(400, random)
    drawn = 60 + math.sqrt(2) * np.hypot(spreads, CALIPER) * random.standard_normal(400)
    plain = np.mean([all_fit_limit(Sampled((60.0, one), CALIPER, 12), Expected(0.45), 0.95) for one in drawn.tolist()])
    fixed = np.mean([one.largest().limit(0.95) for one in futures(jars(60.0), 1, reading_error=CALIPER)])
    assert fixed == pytest.approx(plain, abs=0.1)


def test_a_rough_size_is_anywhere_within_half_a_step() -> None:
    """5 mm, rectangular: 2.5 / sqrt(3)."""
    assert rough_error() == pytest.approx(2.5 / math.sqrt(3))
