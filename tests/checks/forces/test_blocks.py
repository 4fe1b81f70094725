from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.checks.forces.blocks import Block

LENGTH = st.floats(1.0, 300.0)


@given(back=LENGTH, up=LENGTH, more=st.floats(0.0, 1e4), share=st.floats(0.1, 3.0))
def test_it_goes_over_from_one_speed_on(back: float, up: float, more: float, share: float) -> None:
    """Below the speed that topples it a block comes back, above it does not."""
    block = Block(back, up, back**2 + up**2 + more)
    over = block.topples(block.tips_at_g + 1, share * block.topples_at_m_s)
    assert over is (share > 1) or abs(share - 1) < 1e-6


@given(back=LENGTH, up=LENGTH, speed=st.floats(0.01, 2.0))
def test_its_turn_brings_its_centre_to_the_height_it_has_the_energy_for(back: float, up: float, speed: float) -> None:
    """Height of the centre after the turn, by trigonometry, is that before and the rise."""
    block = Block(back, up, 2 * (back**2 + up**2))
    angle = block.angle_at(speed)
    if angle < math.pi / 2:
        high = math.hypot(back, up) * math.sin(math.atan2(up, back) + angle)
        assert high == pytest.approx(up + block.rise_at(speed), rel=1e-6)


@given(back=LENGTH, up=LENGTH, accel=st.floats(0.01, 10.0))
def test_a_gentle_stop_never_tips_it(back: float, up: float, accel: float) -> None:
    """However fast it was: what does not lift its foot does not take it over."""
    block = Block(back, up, back**2 + up**2)
    assert block.topples(accel, 100.0) is (accel > back / up)


def test_held_above_its_middle_nothing_tips_it() -> None:
    """The edge lies at its centre of mass or above."""
    held = Block(10.0, -1.0, 200.0)
    assert held.rise_at(5.0) == 0
    assert held.angle_at(5.0) == 0
    assert math.isinf(held.tips_at_g)
    assert math.isinf(held.topples_at_m_s)
    assert not held.topples(100.0, 10.0)


def test_what_hangs_over_its_edge_goes_over_at_once() -> None:
    """Its centre lies before the edge already."""
    assert Block(-5.0, 20.0, 500.0).topples(0.1, 0.0)
