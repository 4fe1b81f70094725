"""What must hold of plates, whatever their size; published values are in ``tests/published/test_strength.py``."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.checks.strength.plates import (
    CLAMPED,
    RESTING,
    STANDING,
    THIN,
    WIDEST,
    Edge,
    Edges,
    Patch,
    Plate,
    Spread,
    buckling_mpa,
)

SIDES = st.floats(20, 200)


@settings(max_examples=25)
@given(width=SIDES, depth=SIDES, thickness=st.floats(0.5, 4))
def test_held_edges_bend_less(width: float, depth: float, thickness: float) -> None:
    """Clamped less than resting, resting less than a wall with a free rim; all of them bend."""
    sags = [
        Plate(width, depth, thickness, edges).bent(Spread.EVEN, 1e-3, 2000).sag
        for edges in (CLAMPED, RESTING, STANDING)
    ]
    assert 0 < sags[0] < sags[1]
    free = Edges(Edge.RESTING, Edge.RESTING, Edge.RESTING, Edge.FREE)
    assert sags[1] < Plate(width, depth, thickness, free).bent(Spread.EVEN, 1e-3, 2000).sag * (1 + 1e-6)
    assert sags[2] > 0


@settings(max_examples=25)
@given(width=SIDES, depth=SIDES)
def test_a_turned_plate_is_the_same_plate(width: float, depth: float) -> None:
    """Width and depth swapped: the same sag, and stresses that swap too, to the step that ratios are known to."""
    one, other = (
        Plate(*sides, 1.2, RESTING).bent(Spread.EVEN, 1e-3, 2000) for sides in ((width, depth), (depth, width))
    )
    assert one.sag == pytest.approx(other.sag, rel=0.06)
    assert (one.along_x, one.along_y) == pytest.approx((other.along_y, other.along_x), rel=0.06)


@given(thickness=st.floats(0.4, 6), load=st.floats(1e-5, 1e-2), times=st.floats(1.2, 3))
def test_a_plate_obeys_its_powers(thickness: float, load: float, times: float) -> None:
    """Sag by the third power of the thickness, stress by the second, both by the load."""
    one = Plate(90, 60, thickness, STANDING).bent(Spread.EVEN, load, 2000)
    thick = Plate(90, 60, thickness * times, STANDING).bent(Spread.EVEN, load, 2000)
    heavy = Plate(90, 60, thickness, STANDING).bent(Spread.EVEN, load * times, 2000)
    assert (one.sag / thick.sag, one.along_y / thick.along_y) == pytest.approx((times**3, times**2))
    assert (heavy.sag / one.sag, heavy.along_x / one.along_x) == pytest.approx((times, times))


def test_the_formulas_say_where_they_end() -> None:
    """Roark: up to half the thickness. The worked example, 2 thick, hangs 4.2: beyond it; a fifth of that is not."""
    plate = Plate(200, 300, 2, RESTING)
    assert not plate.bent(Spread.EVEN, 5e-4, 2000).thin
    assert plate.bent(Spread.EVEN, 1e-4, 2000).thin
    at_limit = 5e-4 * THIN * plate.thickness / plate.bent(Spread.EVEN, 5e-4, 2000).sag
    assert plate.bent(Spread.EVEN, at_limit * 0.999, 2000).thin
    assert not plate.bent(Spread.EVEN, at_limit * 1.001, 2000).thin


@given(longer=st.floats(1.0, 8.0))
def test_a_very_long_plate_is_cut_where_its_ends_are_not_felt(longer: float) -> None:
    """Beyond five times the shorter side nothing changes any more."""
    wide = Plate(WIDEST * 40, 40, 1.2, STANDING).bent(Spread.EVEN, 1e-4, 2000)
    assert Plate(WIDEST * 40 * longer, 40, 1.2, STANDING).bent(Spread.EVEN, 1e-4, 2000) == wide


@given(x=st.floats(0.2, 0.8), y=st.floats(0.3, 0.7))
def test_a_force_bends_most_in_the_middle_of_a_free_rim(x: float, y: float) -> None:
    """Anywhere else it bends a standing wall less."""
    rim = Plate(90, 60, 1.2, STANDING).bent(Patch(0.5, 0.9, 0.2, 0.2), 10, 2000)
    assert Plate(90, 60, 1.2, STANDING).bent(Patch(x, y, 0.2, 0.2), 10, 2000).sag < rim.sag


@given(height=st.floats(5, 200), width=st.floats(10, 200), thickness=st.floats(0.5, 4))
def test_a_wall_never_buckles_below_the_least_of_a_plate(height: float, width: float, thickness: float) -> None:
    """K is 4 or more; a lower wall holds more, and one twice as thick four times as much."""
    from nookwright.checks.strength.plates import rigidity

    least = 4 * 3.14159265**2 * rigidity(2000, thickness) / (thickness * width**2)
    found = buckling_mpa(height, width, thickness, 2000)
    assert found >= least * (1 - 1e-6)
    assert buckling_mpa(height, width, 2 * thickness, 2000) == pytest.approx(4 * found)
