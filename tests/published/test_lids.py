"""The mechanics of lids against published formulas and worked examples, written here anew.

Sources: snap cantilever of constant section, eps = 1.5 h Y / L^2, with the worked example Y 2.5, h 2.5, L 15: 4.16 %,
and L 18: 2.9 % (ntelab.com, snap-fit design; it prints 2.8); mating force W = P (mu + tan a) / (1 - mu tan a), Bayer
snap-fit design guide p. 14 and DSM guide 2005 p. 7, with the factors 1.061, 1.857, 4.230 (mu 0.3) and 1.515,
3.000, 16.66 (mu 0.5) at 30, 45 and 60 degrees; deflection and sag of beams, F L^3 / (3 E I) and F L^3 / (48 E I),
any handbook, with the worked case b 20, h 3, L 100, E 2000, F 10 N: 2.315 mm of sag; bulk densities of EN 1991-1-1,
table A.6.
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.parts.lids.lid_mechanics import (
    MODULUS_MPA,
    ONE_OFF_STRAIN,
    beam_sag,
    jamming_length,
    mating_force_n,
    snap_force_n,
    snap_length,
    snap_strain,
)
from nookwright.parts.risers.ballast import Filling

LENGTHS = st.floats(0.5, 200)


@pytest.mark.parametrize(("length", "percent"), [(15.0, 4.16), (18.0, 2.89)])
def test_the_worked_example_of_a_snap(length: float, percent: float) -> None:
    """Y 2.5, h 2.5."""
    assert 100 * snap_strain(2.5, 2.5, length) == pytest.approx(percent, abs=0.01)


@pytest.mark.parametrize(
    ("friction", "ramp", "factor"),
    [(0.3, 30, 1.061), (0.3, 45, 1.857), (0.3, 60, 4.230), (0.5, 30, 1.515), (0.5, 45, 3.0), (0.5, 60, 16.66)],
)
def test_the_factors_of_the_mating_force(friction: float, ramp: float, factor: float) -> None:
    """The values of both guides."""
    assert mating_force_n(1.0, ramp, friction) == pytest.approx(factor, rel=1e-3)


@pytest.mark.parametrize(("friction", "locks"), [(0.3, 73.3), (0.4, 68.2), (0.5, 63.4), (0.6, 59.0)])
def test_a_steep_ramp_locks(friction: float, locks: float) -> None:
    """From arctan(1 / mu) on."""
    assert math.isfinite(mating_force_n(1.0, locks - 0.1, friction))
    assert math.isinf(mating_force_n(1.0, locks + 0.1, friction))


def test_the_force_that_bends_a_tongue() -> None:
    """E 2200, b 8, h 2, L 12, Y 1: 20.4 N and 2.08 %; and F L^3 / (3 E I) gives the deflection back."""
    force = snap_force_n(8.0, 2.0, 1.0, 12.0, modulus_mpa=2200.0)
    assert force == pytest.approx(20.4, abs=0.05)
    assert 100 * snap_strain(2.0, 1.0, 12.0) == pytest.approx(2.08, abs=0.005)
    assert force * 12.0**3 / (3 * 2200 * 8 * 2**3 / 12) == pytest.approx(1.0)


def test_the_sag_of_a_strip() -> None:
    """The worked case, b 20, h 3, L 100, F 10, at its modulus of 2000 instead of ours."""
    assert beam_sag(10.0, 100.0, 20.0, 3.0) * MODULUS_MPA / 2000 == pytest.approx(2.315, abs=0.001)


@given(width=LENGTHS, length=LENGTHS, friction=st.floats(0.05, 0.9))
def test_a_lid_jams_where_its_friction_takes_up_the_pull(width: float, length: float, friction: float) -> None:
    """Pulled by 1 N at a corner: the couple on the guides is w / 2 l, its friction on both of them twice mu of it."""
    held = 2 * friction * (width / 2) / length
    assert (held >= 1) == (length <= jamming_length(width, friction)) or held == pytest.approx(1)


@given(thickness=st.floats(0.4, 4), deflection=st.floats(0.05, 3))
def test_the_shortest_tongue_bears_just_what_it_may(thickness: float, deflection: float) -> None:
    """Length and strain are inverse; the strain is half of 1.5 %, the yield of printed PLA by ASTM D638."""
    length = snap_length(thickness, deflection)
    assert snap_strain(thickness, deflection, length) == pytest.approx(ONE_OFF_STRAIN) == pytest.approx(0.015 / 2)


@pytest.mark.parametrize(
    ("filling", "least_kn_m3", "most_kn_m3"),
    [
        (Filling.DRY_SAND, 15.0, 16.0),
        (Filling.LOOSE_GRAVEL, 15.0, 16.0),
        (Filling.STEEL_SHOT, 0.56 * 77.0, 0.64 * 78.5),
    ],
)
def test_fillings_weigh_what_the_tables_say(filling: Filling, least_kn_m3: float, most_kn_m3: float) -> None:
    """Within their span, to 2 %; balls poured fill 0.56 to 0.64 of their room (random loose to close packing)."""
    weight = filling.density_g_cm3 * 9.81
    assert 0.98 * least_kn_m3 <= weight <= 1.02 * most_kn_m3
