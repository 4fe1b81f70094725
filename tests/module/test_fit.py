from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog

from nookwright.module.fit import Need, need

EXACT = 2e-6
SEEDS = st.integers(0, 2**32 - 1)


def trials(seed: int, *, count: int = 5, most: int = 30) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Random places, offsets and clearances; sockets at random cells of a part of up to 22 x 22 cells of 18."""
    random = np.random.default_rng(seed)
    n = int(random.integers(1, most))
    places = 18.0 * (random.integers(0, 23, (n, 2)) - 11)
    clearances = random.uniform(0.25, 1.2, (count, n))
    clearances[random.random((count, n)) < 0.3] = np.inf
    clearances[:, 0] = 0.25
    return places.astype(float), random.normal(0, 0.3, (count, n, 2)), clearances


def by_linear_programme(
    places: np.ndarray, offsets: np.ndarray, clearances: np.ndarray, sides: int
) -> tuple[float, float]:
    """Bounds of one trial by an outside solver, with circles made into polygons around which they just fit."""
    angle = 2 * math.pi * np.arange(sides) / sides
    towards = np.stack([np.cos(angle), np.sin(angle)], axis=1)
    met = np.isfinite(clearances)
    reach = 200.0
    columns, bounds = [], []
    for (x, y), offset, clearance in zip(places[met], offsets[met], clearances[met], strict=True):
        turn = (towards @ np.array([-y, x])) / reach
        columns.append(np.column_stack([-towards, -turn, -np.ones(sides)]))
        bounds.append(clearance - towards @ offset)
    least = linprog(
        [0, 0, 0, 1], A_ub=np.vstack(columns), b_ub=np.concatenate(bounds), bounds=[(-50, 50)] * 3 + [(None, None)]
    )
    assert least.status == 0
    x, y, turn, low = least.x
    left = offsets[met] - [x, y] - turn / reach * np.stack([-places[met][:, 1], places[met][:, 0]], axis=1)
    return float(low), float((np.linalg.norm(left, axis=1) - clearances[met]).max())


@settings(max_examples=40, deadline=None)
@given(SEEDS)
def test_the_need_is_that_of_an_outside_linear_programme(seed: int) -> None:
    """scipy, with circles of 256 sides, bounds it from below by its programme and from above by its placement."""
    places, offsets, clearances = trials(seed)
    found = need(places, offsets, clearances)
    for trial in range(len(offsets)):
        low, high = by_linear_programme(places, offsets[trial], clearances[trial], 256)
        assert low - EXACT <= found.at_least[trial]
        assert found.at_most[trial] <= high + EXACT


@settings(max_examples=100, deadline=None)
@given(SEEDS)
def test_its_two_bounds_meet_in_every_trial(seed: int) -> None:
    """No trial is left undecided, also with one cone, with cones in a row, with cones in one place."""
    found = need(*trials(seed, count=40, most=9))
    assert (found.at_most - found.at_least <= EXACT).all()
    assert (found.at_least <= found.at_most + EXACT).all()


@settings(max_examples=50, deadline=None)
@given(SEEDS, st.floats(-2, 2), st.floats(-2, 2), st.floats(-0.01, 0.01), st.floats(-0.2, 0.5))
def test_what_shift_and_turn_take_up_is_not_needed(seed: int, x: float, y: float, turn: float, wider: float) -> None:
    """A rigid move of all cones changes nothing; a clearance wider by so much needs less by just so much."""
    places, offsets, clearances = trials(seed)
    moved = offsets + [x, y] + turn * np.stack([-places[:, 1], places[:, 0]], axis=1)
    before, after = need(places, offsets, clearances), need(places, moved, clearances + wider)
    np.testing.assert_allclose(after.at_most, before.at_most - wider, atol=EXACT)


@pytest.mark.parametrize(("scale_x", "scale_y", "skew"), [(0.003, 0.003, 0), (-0.002, 0.001, 0), (0, 0, 0.0035)])
def test_a_strain_needs_its_largest_displacement_at_a_corner(scale_x: float, scale_y: float, skew: float) -> None:
    """Of a rectangle's corners: hypot(x strain, y strain) of half its sides; the middle is where the part stays."""
    places = np.array([[-90.0, -40], [90, -40], [-90, 40], [90, 40], [0, 0]])
    offsets = places * [scale_x, scale_y] + skew / 2 * places[:, ::-1]
    found = need(places, offsets[None], np.zeros(5))
    if skew:
        # The best turn evens out what x and y of a corner lack: both move along the diagonal that is the shorter.
        small = [np.hypot(skew / 2 * 40 - t * 40, skew / 2 * 90 + t * 90) for t in np.linspace(-skew, skew, 4001)]
        assert found.at_most[0] == pytest.approx(min(small), abs=1e-4)
    else:
        assert found.at_most[0] == pytest.approx(math.hypot(90 * scale_x, 40 * scale_y), abs=EXACT)


def test_one_cone_never_keeps_a_part_up() -> None:
    """It has its whole clearance to spare, wherever the cone is."""
    found = need(np.array([[9.0, 0.0]]), np.array([[[0.4, -3.0]]]), np.array([0.25]))
    assert found.at_most[0] == pytest.approx(-0.25, abs=EXACT)
    assert found.fits.all()


def test_a_decision_is_that_of_the_full_search() -> None:
    """Stopping early decides 5,000 trials of which about half go on as the exact need does."""
    random = np.random.default_rng(7)
    places = 18.0 * np.stack(np.meshgrid(np.arange(6.0), np.arange(4.0)), axis=-1).reshape(-1, 2) - 45.0
    offsets = random.normal(0, 0.1, (5000, len(places), 2))
    full = need(places, offsets, np.full(len(places), 0.2))
    assert 0.2 < full.fits.mean() < 0.8
    assert (need(places, offsets, np.full(len(places), 0.2), decide_only=True).fits == full.fits).all()


def test_what_is_not_decided_does_not_fit() -> None:
    """A bound from above that is still too high counts against the part."""
    assert not Need(np.array([-1.0]), np.array([0.1])).fits.any()
