from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.making.estimate.solids import block, peg, settings

from nookwright.making.estimate.kinds import Spent
from nookwright.making.estimate.piece import estimate
from nookwright.making.estimate.together import together

PLAIN = settings()
LOW, TALL = estimate(block(20, 20, 2), PLAIN), estimate(peg(3.0, 12.0), PLAIN)


def test_one_piece_on_a_bed_takes_its_own_time_and_the_heating() -> None:
    """Nothing is beside it."""
    bed = together([(TALL, 1)], PLAIN.machine, between=0.0)
    assert bed.time_s == pytest.approx(TALL.time_s + 300)
    assert bed.plastic_mm3 == pytest.approx(TALL.plastic_mm3)
    assert bed.retractions == TALL.retractions


@given(low=st.integers(0, 6), tall=st.integers(1, 6), between=st.floats(0, 200))
def test_in_company_nothing_waits_as_long(low: int, tall: int, between: float) -> None:
    """Layer changes are shared, waiting falls, and the rest is at least the sum; plastic adds up."""
    bed = together([(LOW, low), (TALL, tall)], PLAIN.machine, between=between)
    alone = low * LOW.time_s + tall * TALL.time_s
    crossings = (low + tall - 1) * 10 + (tall - 1) * 50
    assert bed.spent_s[Spent.LAYER_CHANGE] == 60
    assert bed.spent_s[Spent.WAITING] <= tall * TALL.spent_s[Spent.WAITING] + low * LOW.spent_s[Spent.WAITING] + 1e-6
    assert bed.moving_s >= low * LOW.moving_s + tall * TALL.moving_s - 1e-6
    assert bed.plastic_mm3 == pytest.approx(low * LOW.plastic_mm3 + tall * TALL.plastic_mm3)
    assert bed.time_s - 300 <= alone + crossings * (between / 10 + 2)


def test_an_empty_bed_only_heats() -> None:
    """No layer at all."""
    assert together([], PLAIN.machine, between=10.0).time_s == 300


def test_until_a_layer_is_heating_and_all_layers_before_it() -> None:
    """The first begins when the bed is hot, one after the last when all is done."""
    bed = together([(LOW, 2), (TALL, 1)], PLAIN.machine, between=20.0)
    assert bed.until_s(1) == 300
    assert bed.until_s(bed.layers + 1) == pytest.approx(bed.time_s)
    assert [bed.until_s(layer) for layer in range(1, 12)] == sorted(bed.until_s(layer) for layer in range(1, 12))
