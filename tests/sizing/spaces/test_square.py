"""How far walls run off square."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.sizing.spaces.square import RunOff, of_diagonals, run_off_of
from nookwright.survey.models import Space
from nookwright.survey.origins import Instrument


def space(**changes: Any) -> Space:  # noqa: ANN401 - any key of a space
    """A drawer of 360 x 420 x 80."""
    content = {"id": "a", "kind": "drawer", "width": 360, "depth": 420, "height": 80, "floor_height": 0, "load_kg": 5}
    return Space.model_validate(content | changes)


@given(width=st.floats(200, 900), depth=st.floats(200, 700), run=st.floats(-20, 20))
def test_diagonals_without_error_tell_the_run_off(width: float, depth: float, run: float) -> None:
    """A parallelogram's own diagonals give back how far its sides run off."""
    one, other = math.hypot(width + run, depth), math.hypot(width - run, depth)
    assert of_diagonals(one, other, width, instrument=Instrument.TAPE).size == pytest.approx(abs(run), abs=1e-6)


def test_diagonals_are_as_unsure_as_simulated_ones() -> None:
    """Hand and digit on each of two diagonals, 360 x 420: the run-off's standard deviation, within 3 %."""
    chance = np.random.default_rng(7)
    true = math.hypot(360, 420)
    read = true + np.hypot(0.5, 0.5 / math.sqrt(3)) * chance.standard_normal((100_000, 2))
    run = (read[:, 0] ** 2 - read[:, 1] ** 2) / (4 * 360)
    assert of_diagonals(true, true, 360, instrument=Instrument.TAPE).standard == pytest.approx(run.std(), rel=0.03)


@given(size=st.floats(0, 10), standard=st.floats(0.1, 3))
def test_a_run_off_costs_what_its_size_costs_on_average(size: float, standard: float) -> None:
    """Mean and spread of the size of a normal deviate, summed numerically."""
    nodes = np.linspace(-8, 8, 4001)
    density = np.exp(-(nodes**2) / 2)
    density /= density.sum()
    values = np.abs(size + standard * nodes)
    mean = float(values @ density)
    made = RunOff(size, standard, "read")
    assert made.mean == pytest.approx(mean, abs=1e-3)
    assert made.component.standard == pytest.approx(math.sqrt(((values - mean) ** 2) @ density), abs=2e-3)


def test_a_square_is_surer_than_diagonals_and_both_than_nothing_on_a_deep_drawer() -> None:
    """360 x 420, square as read: a square, two diagonals by tape, not read at all; the last two are alike here."""
    square, taped, unread = (run_off_of(one) for one in (space(out_of_square=0), space(diagonals=[553, 553]), space()))
    assert square.standard < unread.standard < taped.standard
    assert (square.how, taped.how, unread.how) == ("read with a square", "from the diagonals", "not read")
    assert space(depth=700).depth.smallest * 0.001 == pytest.approx(run_off_of(space(depth=700)).standard)
