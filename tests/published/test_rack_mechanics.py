"""Beams, snap leaves and screws against published figures and worked examples.

Sources: the worked beam b 20, h 3, L 100, F 10 N from the formulas of any handbook (cantilever F L, simply supported
F L / 4, W = b h^2 / 6 = 30 mm3). The snap cantilever of constant section, eps = 1.5 h Y / L^2, with the worked example
of the page of ntelab.com on snap fits: h 2.5, Y 2.5, L 15 gives 4.16 %. Deflection force P = E b h^3 Y / (4 L^3):
E 2200, b 8, h 2, L 12, Y 1 gives 20.4 N. Heads of ISO 7045 and ISO 10642 by way of an open fastener table; clearance
holes of ISO 273, medium series, from memory.
"""

from __future__ import annotations

import math

import pytest

from nookwright.layout.filler_forms import NUB
from nookwright.parts.liner import sprung_filler
from nookwright.parts.racks.rack_strength import bending_mpa
from nookwright.parts.racks.screws import HOLE, Head, screw_of


def test_the_worked_beam() -> None:
    """33.33 MPa as a cantilever, 8.333 MPa on two supports."""
    assert bending_mpa(10 * 100, 20, 3) == pytest.approx(33.33, abs=0.01)
    assert bending_mpa(10 * 100 / 4, 20, 3) == pytest.approx(8.333, abs=0.001)


def test_the_worked_snap_leaf(monkeypatch: pytest.MonkeyPatch) -> None:
    """Strain 4.16 % and force 20.4 N, when our leaf gets the dimensions of the examples."""
    monkeypatch.setattr(sprung_filler, "leaf_length", lambda _: 15 + NUB / 2)
    monkeypatch.setattr(sprung_filler, "LEAF", 2.5)
    assert sprung_filler.leaf_strain(2.5) == pytest.approx(0.0416, abs=1e-4)
    monkeypatch.setattr(sprung_filler, "leaf_length", lambda _: 12 + NUB / 2)
    monkeypatch.setattr(sprung_filler, "LEAF", 2.0)
    monkeypatch.setattr(sprung_filler, "STIFFNESS_MPA", 2200.0)
    assert sprung_filler.spring_force_n(1.0, 8.0) == pytest.approx(20.4, abs=0.05)


@pytest.mark.parametrize(
    ("thread", "hole", "pan", "high", "sunk"),
    [(3, 3.4, 5.6, 2.4, 6.72), (4, 4.5, 8.0, 3.1, 8.96), (5, 5.5, 9.5, 3.7, 11.2), (6, 6.6, 12.0, 4.6, 13.44)],
)
def test_screws_by_their_standards(thread: int, hole: float, pan: float, high: float, sunk: float) -> None:
    """Clearance holes and heads; a seat is as deep as the head, and 0.5."""
    assert HOLE[thread] == hole
    one, other = screw_of(thread, Head.PAN), screw_of(thread, Head.COUNTERSUNK)
    assert (one.hole, one.head_diameter, one.depth) == pytest.approx((hole, pan, high + 0.5))
    assert (other.hole, other.head_diameter) == pytest.approx((hole, sunk))
    assert other.depth == pytest.approx((sunk + 0.6 - hole) / 2 + 0.5)
    assert one.seat_mm2 == pytest.approx(math.pi / 4 * (pan**2 - hole**2))
