"""Moments of plane regions against closed forms, and what they say of how a piece stands."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from manifold3d import CrossSection

from nookwright.checks.standing import HOLD_MPA, PUSH_N, moments_of, pulled_mpa, slimness


def plate(width: float, depth: float) -> CrossSection:
    """A rectangle with its corner at the origin."""
    return CrossSection.square((width, depth))


def test_moments_of_a_rectangle() -> None:
    """Roark's table of sections: b h, b^3 h / 12, b h^3 / 12, no product, the centroid in the middle."""
    found = moments_of(plate(12, 5).translate((100, -40)))
    assert found.area == pytest.approx(60)
    assert found.middle == pytest.approx((106, -37.5))
    assert (found.xx, found.yy) == pytest.approx((12**3 * 5 / 12, 12 * 5**3 / 12))
    assert found.xy == pytest.approx(0, abs=1e-6)


def test_moments_of_a_ring_are_the_difference() -> None:
    """By pi (R^4 - r^4) / 4 about any line through the middle, to what 256 sides leave out."""
    ring = CrossSection.circle(10, 256) - CrossSection.circle(6, 256)
    found = moments_of(ring)
    assert found.xx == pytest.approx(math.pi * (10**4 - 6**4) / 4, rel=1e-3)
    assert found.yy == pytest.approx(found.xx)


@given(turn=st.floats(0, 360), width=st.floats(2, 60), depth=st.floats(2, 60), height=st.floats(1, 300))
def test_a_post_is_pulled_at_its_edge_as_a_beam_is(turn: float, width: float, depth: float, height: float) -> None:
    """M / W with W = b d^2 / 6, turned by any angle: at least that, at most what a push at 3.75 degrees beside adds."""
    exact = PUSH_N * height * 6 / (width * depth * min(width, depth))
    found = pulled_mpa(plate(width, depth).rotate(turn), height)
    # A push at an angle to a rectangle's sides pulls harder at its corner, by up to sqrt(1 + 1) for a square.
    skew = max(
        (abs(math.cos(a)) * width + abs(math.sin(a)) * depth)
        / (width * depth * (width**2 * math.cos(a) ** 2 + depth**2 * math.sin(a) ** 2))
        for a in np.linspace(0, math.pi, 721)
    )
    assert exact * 0.99 <= found <= PUSH_N * height * 6 * skew * 1.001


def test_two_feet_apart_hold_far_better_than_one() -> None:
    """Along the line that joins them; across it they hold as two posts beside each other."""
    foot = plate(6, 6)
    pair = foot + foot.translate((40, 0))
    assert pulled_mpa(pair, 36) == pytest.approx(36 * 3 / (2 * 6**4 / 12), rel=0.02)
    assert pulled_mpa(foot, 30) / pulled_mpa(pair, 30) > 1.9


def test_nothing_on_the_bed_holds_nothing() -> None:
    """No area, no hold; a base counts as no less deep than a line."""
    assert pulled_mpa(CrossSection(), 10) > HOLD_MPA
    assert slimness(CrossSection(), 10, 0.4) == pytest.approx(25)
    assert slimness(plate(6, 90), 60, 0.4) == pytest.approx(10)
