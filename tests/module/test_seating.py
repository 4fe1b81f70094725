"""The promise that every tray goes on, as a probability, and where it ends."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import binomtest

from nookwright.module.choice import module_of
from nookwright.module.seat import CLEARANCE_GROWTH, rings_of
from nookwright.module.seating import (
    COUPON,
    COUPON_GROWTH,
    UNCALIBRATED,
    Seating,
    Spread,
    Turn,
    probability_of_seating,
    sockets,
)

if TYPE_CHECKING:
    from nookwright.module.module import Module

TRIALS = 2000
LONGEST = [(20, 2), (20, 10), (22, 22)]


def share(
    module: Module, size: tuple[int, int], spread: Spread, growth: float, *, turn: Turn = Turn.NONE, seed: int = 1
) -> Seating:
    """How many of 2,000 trials go on; panels of 10 cells, so a part of 20 lies across two joints each way."""
    return probability_of_seating(
        module, *size, panel_cells=10, spread=spread, trials=TRIALS, seed=seed, turn=turn, growth=growth
    )


@pytest.mark.parametrize("turn", [Turn.NONE, Turn.HALF])
@pytest.mark.parametrize("size", LONGEST)
@pytest.mark.parametrize(
    ("spread", "growth"), [(UNCALIBRATED, CLEARANCE_GROWTH), (COUPON, COUPON_GROWTH)], ids=["uncalibrated", "coupon"]
)
def test_the_longest_trays_go_on(
    module: Module, size: tuple[int, int], spread: Spread, growth: float, turn: Turn
) -> None:
    """At least 97 % of 2,000 trials, and with 95 % confidence at least 96 %, by the clearances that parts have."""
    found = share(module, size, spread, growth, turn=turn)
    assert found.probability >= 0.97
    assert found.at_least >= 0.96


@pytest.mark.parametrize("size", [*LONGEST, (28, 25)])
@pytest.mark.parametrize(
    ("spread", "growth"), [(UNCALIBRATED, 0.005), (COUPON, 0.0025)], ids=["uncalibrated", "coupon"]
)
def test_the_growth_that_a_quarter_turn_with_twice_the_skew_asks_for(
    module: Module, size: tuple[int, int], spread: Spread, growth: float
) -> None:
    """With 0.005, or 0.0025 after a coupon, even a tray of 500 x 450 goes on in every turn."""
    for turn in Turn:
        found = share(module, size, spread, growth, turn=turn)
        assert found.probability >= 0.97
        assert found.at_least >= 0.96


@pytest.mark.parametrize(
    ("size", "spread", "growth", "expected"),
    [
        ((8, 6), UNCALIBRATED, 0.001, 0.96),
        ((20, 2), UNCALIBRATED, 0.001, 0.88),
        ((20, 10), UNCALIBRATED, 0.001, 0.78),
        ((22, 22), UNCALIBRATED, 0.001, 0.45),
        ((8, 6), UNCALIBRATED, 0.002, 1.0),
        ((20, 2), UNCALIBRATED, 0.002, 0.97),
        ((20, 10), UNCALIBRATED, 0.002, 0.94),
        ((22, 22), UNCALIBRATED, 0.002, 0.85),
        ((20, 10), UNCALIBRATED, 0.003, 1.0),
        ((22, 22), UNCALIBRATED, 0.003, 0.97),
        ((22, 22), COUPON, 0.001, 0.98),
        ((22, 22), COUPON, 0.0015, 1.0),
    ],
)
def test_an_independent_calculation_gave_the_same_shares(
    size: tuple[int, int], spread: Spread, growth: float, expected: float
) -> None:
    """150 trials a figure at pitch 20, by a linear programme over polygons: within its 95 % noise of 8 points."""
    found = share(module_of(20.0, 6.0, 0.2, ""), size, spread, growth)
    assert found.probability == pytest.approx(expected, abs=0.08)


def test_more_of_anything_goes_on_less_often(module: Module) -> None:
    """More scale, more skew, more float, more local error, each alone, and less clearance."""
    plain = share(module, (20, 10), UNCALIBRATED, 0.002).probability
    worse = [
        share(module, (20, 10), Spread(0.0025, 0.1), 0.002),
        share(module, (20, 10), Spread(0.0014, 0.25), 0.002),
        share(module, (20, 10), Spread(0.0014, 0.1, joint_float=0.3), 0.002),
        share(module, (20, 10), Spread(0.0014, 0.1, local_sd=0.1), 0.002),
        share(module, (20, 10), UNCALIBRATED, 0.001),
        share(module, (20, 10), UNCALIBRATED, 0.002, turn=Turn.QUARTER),
    ]
    assert all(each.probability < plain - 0.02 for each in worse)


def test_nothing_inexact_goes_on_always(module: Module) -> None:
    """And the same seed draws the same trials, another one others."""
    assert share(module, (22, 22), Spread(0, 0, 0, 0), 0.0).fits == TRIALS
    one, same, other = (share(module, (22, 22), UNCALIBRATED, 0.002, seed=seed) for seed in (1, 1, 2))
    assert one == same
    assert one != other


@given(cols=st.integers(1, 22), rows=st.integers(1, 22))
def test_the_sockets_are_those_that_parts_have(cols: int, rows: int) -> None:
    """Places and clearances of ``rings_of``, seen from the part's middle."""
    module = module_of(18.0, 6.0, 0.2, "")
    rings = rings_of(cols, rows, module.pitch)
    theirs = {(*np.round(place, 4), ring.clearance) for ring in rings for place in np.array(ring.places)}
    places, clearances = sockets(module, cols, rows)
    every = np.array([place for ring in rings for place in ring.places])
    middle = (every.min(axis=0) + every.max(axis=0)) / 2
    assert {(*np.round(place + middle, 4), c) for place, c in zip(places, clearances, strict=True)} == theirs


@given(trials=st.integers(10, 5000), part=st.floats(0, 1))
def test_the_bound_is_the_score_interval_of_an_outside_library(trials: int, part: float) -> None:
    """One-sided 95 %, so the lower end of scipy's two-sided 90 %."""
    fits = round(part * trials)
    theirs = binomtest(fits, trials).proportion_ci(0.9, method="wilson").low
    assert Seating(trials, fits).at_least == pytest.approx(theirs, abs=1e-4)
