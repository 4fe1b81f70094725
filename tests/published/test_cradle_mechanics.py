"""Strain of leaves, points of support and dense packing of cradles and rests against published figures.

Sources:

* Snap-fit cantilever of constant section, ``eps = 1.5 h Y / L^2``: worked example of a design page (ntelab.com) with
  h 2.5, Y 2.5 and L 15 or 18, which prints 4.16 and 2.8 per cent; the second is 2.89 by its own formula.
* Euler and Bernoulli: a cantilever of length L under an end load F bends by ``Y = F L^3 / (3 E I)`` and its root bears
  ``eps = F L h / (2 E I)``; together they give the same formula.
* Points of support of an even bar: G.B. Airy 1846, ``length / sqrt(n^2 - 1)`` apart; F.W. Bessel, 0.2203 of the length
  from each end, 0.5594 apart. Both are in handbooks of length metrology; quoted here from memory.
* Densest packing of equal discs, ``pi / sqrt(12) = 0.9069`` of the plane, against ``pi / 4`` in square rows: A. Thue
  1910; quoted here from memory.
"""

from __future__ import annotations

import math

import pytest

from nookwright.module.rests import BESSEL
from nookwright.parts.cradles.pocket_rows import HEXAGONAL, staggered_count, staggering_gain
from nookwright.parts.lids.lid_mechanics import snap_length, snap_strain
from nookwright.parts.rests.rest_slots import VSlot
from nookwright.parts.rests.rest_span import support_points


@pytest.mark.parametrize(("length", "percent"), [(15.0, 4.16), (18.0, 2.89)])
def test_the_worked_example_of_a_snap_arm(length: float, percent: float) -> None:
    """The page's figures are cut off after two decimals."""
    assert 100 * snap_strain(2.5, 2.5, length) == pytest.approx(percent, abs=0.01)


def test_the_strain_follows_from_beam_theory() -> None:
    """Deflection and strain of an end load, each by its own formula; force and stiffness cancel."""
    force, modulus, wide, thick, length = 3.0, 2000.0, 12.0, 0.8143, 11.0
    inertia = wide * thick**3 / 12
    give = force * length**3 / (3 * modulus * inertia)
    strain = force * length * thick / (2 * modulus * inertia)
    assert snap_strain(thick, give, length) == pytest.approx(strain)
    assert snap_length(thick, give, strain) == pytest.approx(length)


def test_bessel_points() -> None:
    """0.5594 of the length apart; there a bar's ends and middle lie so that its length changes least."""
    first, second = support_points(1000.0, 2)
    assert second - first == pytest.approx(559.4, abs=0.05)
    assert float(BESSEL) == pytest.approx(0.2203)


def test_a_bar_sags_less_on_its_points_than_on_its_ends() -> None:
    """Worst sag of an even bar, integrated twice from its bending moment: a twentieth of that on its ends or less."""
    on_points, on_ends = (_worst_sag(share) for share in (float(BESSEL), 0.0))
    assert on_points < on_ends / 20


def _worst_sag(share: float, count: int = 2000) -> float:
    """Largest distance between the highest and the lowest point of a bar on two supports, in q L^4 / (E I)."""
    step = 1.0 / count
    slope = place = 0.0
    line = [0.0]
    for number in range(count):
        x = (number + 0.5) * step
        moment = -(x**2) / 2 + (max(0.0, x - share) + max(0.0, x - 1 + share)) / 2
        slope -= moment * step
        place += slope * step
        line.append(place)
    left, right = line[round(share * count)], line[round((1 - share) * count)]
    span = 1 - 2 * share
    level = [y - left - (right - left) * (n * step - share) / span for n, y in enumerate(line)]
    return max(level) - min(level)


@pytest.mark.parametrize(("count", "apart"), [(3, 1 / math.sqrt(8)), (4, 1 / math.sqrt(15)), (5, 1 / math.sqrt(24))])
def test_airy_points(count: int, apart: float) -> None:
    """Three supports and more."""
    points = support_points(1.0, count)
    assert points[1] - points[0] == pytest.approx(apart)


def test_staggering_gains_what_dense_packing_does() -> None:
    """On a large area the share of the plane that discs fill goes from pi/4 to pi/sqrt(12)."""
    assert float(HEXAGONAL) == pytest.approx(math.pi / 4 / (math.pi / math.sqrt(12)))
    side, pitch = 3000.0, 10.0
    plain = (int(side / pitch) + 1) ** 2
    gain = staggering_gain(across=side, back=side, pitch=pitch)
    assert (plain + gain) / plain == pytest.approx(2 / math.sqrt(3), rel=4e-3)
    assert staggered_count(10, 7) == 67


def test_a_round_in_a_right_angled_groove() -> None:
    """Euclid: its axis lies r sqrt(2) above the bottom of the groove."""
    assert VSlot(0.0, 20.0).depth == pytest.approx(10 * math.sqrt(2), abs=1e-4)
