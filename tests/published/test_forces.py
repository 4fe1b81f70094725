"""Slams, wedges and densities against published formulas and figures.

Sources. Wedge: friction on an incline, J.L. Meriam, L.G. Kraige, Engineering Mechanics: Statics, chapter on friction.
Block that is stopped at its foot: conservation of angular momentum at an impact, the same, Dynamics, chapter on rigid
bodies; moment of inertia of a rectangular prism ``m (l^2 + h^2) / 12``. Densities: EN 1991-1-1:2002, annex A, tables
A.4 to A.7, nominal values in kN/m3. Load path of a cone: stress is force by area, two straps of 3.6 x 0.6 at 15 MPa.
"""

from __future__ import annotations

import math

import pytest

from nookwright.checks.forces import densities
from nookwright.checks.forces.blocks import Block
from nookwright.checks.forces.wedge import cone_bears_n, pull_off_share, ride_up_g


def block(length: float, height: float) -> Block:
    """A full block without neighbours, its centre at 0.45 of its height, its own inertia that of a prism."""
    back, up = length / 2, 0.45 * height
    return Block(back, up, (length**2 + height**2) / 12 + back**2 + up**2)


@pytest.mark.parametrize(
    ("length", "height", "static_g", "topples"),
    [
        (19.5, 45, 0.48, 0.27),
        (39.5, 45, 0.98, 0.65),
        (59.5, 45, 1.5, 1.15),
        (79.5, 45, 2.0, 1.77),
        (119.5, 45, 2.9, 3.3),
        (79.5, 100, 0.88, 0.85),
    ],
)
def test_blocks_tip_and_topple_as_worked_out_before(
    length: float, height: float, static_g: float, topples: float
) -> None:
    """Six blocks: the steady acceleration that lifts them, and the speed at whose stop they go over, to two digits."""
    found = block(length, height)
    assert found.tips_at_g == pytest.approx(static_g, rel=0.03)
    assert found.topples_at_m_s == pytest.approx(topples, rel=0.02)


@pytest.mark.parametrize(
    ("length", "height", "speed", "lift"),
    [
        (39.5, 45, 0.3, 3.6),
        (39.5, 45, 0.5, 11),
        (59.5, 45, 0.3, 2.2),
        (59.5, 45, 0.5, 6.2),
        (59.5, 45, 0.8, 17),
        (79.5, 45, 0.5, 3.9),
        (119.5, 45, 0.8, 5.0),
        (79.5, 100, 0.3, 3.8),
        (79.5, 100, 0.8, 37),
    ],
)
def test_the_rear_of_a_block_lifts_as_worked_out_before(
    length: float, height: float, speed: float, lift: float
) -> None:
    """The same blocks where they do not go over: length by the sine of the turn, to two digits."""
    assert length * math.sin(block(length, height).angle_at(speed)) == pytest.approx(lift, rel=0.03)


@pytest.mark.parametrize(("length", "speed"), [(19.5, 0.3), (19.5, 0.5), (39.5, 0.8)])
def test_slim_blocks_go_over(length: float, speed: float) -> None:
    """The three of the table that do."""
    assert block(length, 45).topples(5.0, speed)
    assert not block(length, 45).topples(block(length, 45).tips_at_g, speed)


def test_a_point_rises_by_half_v_squared_by_g() -> None:
    """A small body high above its edge turns all of its speed into height: 12.7 mm at 0.5 m/s."""
    assert Block(0.0, 100.0, 100.0**2).rise_at(0.5) == pytest.approx(12.75, abs=0.01)


@pytest.mark.parametrize(
    ("slope", "friction", "expected"),
    [
        (70, 0.15, 4.9),
        (70, 0.3, 17),
        (73, 0.2, 10),
        (73, 0.3, 190),
        (75, 0.15, 8.8),
        (75, 0.2, 15.5),
        (78, 0.15, 16),
        (78, 0.2, 83),
        (80, 0.15, 39),
    ],
)
def test_a_wedge_rides_up_at_the_tangent_of_slope_and_friction(slope: float, friction: float, expected: float) -> None:
    """F / W = tan(b + phi), to the digits of the table."""
    assert ride_up_g(slope, friction) == pytest.approx(expected, rel=0.06)


@pytest.mark.parametrize(("slope", "friction"), [(70, 0.4), (75, 0.3), (78, 0.3), (80, 0.2)])
def test_a_steep_wedge_locks(slope: float, friction: float) -> None:
    """From b + phi = 90 degrees on no side force lifts it."""
    assert math.isinf(ride_up_g(slope, friction))


@pytest.mark.parametrize(
    ("slope", "at_3", "at_4", "at_6"),
    [(70, 0, 0.05, 0.24), (73, 0, 0.13, 0.32), (75, 0.06, 0.20, 0.38), (78, 0.17, 0.31, 0.48), (80, 0.26, 0.39, 0.55)],
)
def test_a_jammed_wedge_comes_off_at_its_share(slope: float, at_3: float, at_4: float, at_6: float) -> None:
    """(mu cos a - sin a) / (mu cos a + sin a) at friction 0.3, 0.4 and 0.6."""
    found = [pull_off_share(slope, friction) for friction in (0.3, 0.4, 0.6)]
    assert found == pytest.approx([at_3, at_4, at_6], abs=0.006)


@pytest.mark.parametrize(("width", "thickness", "newtons"), [(3.6, 0.6, 65), (7.0, 0.8, 168)])
def test_a_cone_bears_what_its_straps_do(width: float, thickness: float, newtons: float) -> None:
    """Two straps at 15 MPa; the cone itself, as wide as they and 1.4 more, bears more in bending."""
    assert cone_bears_n(thickness, (width + 1.4) / 2, 3.0, width) == pytest.approx(newtons, rel=0.005)


def test_a_high_slim_cone_bends_before_its_straps_pull() -> None:
    """A round post of radius r, pushed at half its height h: 15 MPa of pi r^3 / 4 by h / 2."""
    assert cone_bears_n(5.0, 1.5, 6.0) == pytest.approx(15 * math.pi * 1.5**3 / 4 / 3)


@pytest.mark.parametrize(
    ("name", "least", "most"),
    [
        ("STEEL_KN_M3", 77.0, 78.5),
        ("GLASS_KN_M3", 25.0, 25.0),
        ("PLASTIC_KN_M3", 12.0, 12.0),
        ("GRAVEL_KN_M3", 15.0, 16.0),
        ("WATER_KN_M3", 10.0, 10.0),
    ],
)
def test_densities_are_those_of_the_standard(name: str, least: float, most: float) -> None:
    """EN 1991-1-1, annex A: the band of the table holds ours."""
    assert least <= getattr(densities, name) <= most


def test_a_density_by_weight_is_a_density_by_mass() -> None:
    """10 kN/m3 by 9.80665 m/s2 is 1019.7 kg/m3; steel of 77 is 7.85 g/cm3."""
    water, steel = 10 * densities.KN_M3, densities.STEEL_KN_M3 * densities.KN_M3
    assert (water, steel) == pytest.approx((1.0197, 7.85), abs=0.005)
