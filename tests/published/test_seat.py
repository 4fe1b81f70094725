"""The seat against statics and counting.

Source of the wedge: friction on an incline and in wedges, as in J.L. Meriam, L.G. Kraige, Engineering Mechanics:
Statics, chapter on friction. A cone of slope ``b`` under a side force: the part rides up when the force is
``tan(b + phi)`` times the weight, with ``tan(phi) = mu``; from ``b + phi = 90 degrees`` on it never does. Jammed by a
press, it comes off at ``(mu cos a - sin a) / (mu cos a + sin a)`` of the press, with ``a = 90 degrees - b``; where that
is negative it comes off by itself.
"""

from __future__ import annotations

import math
from itertools import product

import pytest

from nookwright.module.seat import CONE_SLOPE_DEG, has_cone


def ride_up(slope_deg: float, friction: float) -> float:
    """Side force over weight at which a part rides up its cones; infinite where it locks."""
    angle = math.radians(slope_deg) + math.atan(friction)
    return math.tan(angle) if angle < math.pi / 2 else math.inf


def pull_off(slope_deg: float, friction: float) -> float:
    """Force that frees a jammed cone over the force that pressed it on; 0 where it frees itself."""
    a = math.radians(90 - slope_deg)
    hold, push = friction * math.cos(a), math.sin(a)
    return max(0.0, (hold - push) / (hold + push))


@pytest.mark.parametrize(
    ("slope_deg", "friction", "expected"),
    [(70, 0.15, 4.9), (70, 0.2, 6.5), (73, 0.15, 6.7), (73, 0.2, 10), (75, 0.15, 8.8), (75, 0.2, 15.5), (78, 0.2, 83)],
)
def test_ride_up_figures(slope_deg: float, friction: float, expected: float) -> None:
    """The formula gives the figures that the slope was chosen from, to the digits they are given in."""
    assert ride_up(slope_deg, friction) == pytest.approx(expected, rel=0.02)


@pytest.mark.parametrize(
    ("slope_deg", "friction", "expected"),
    [
        (70, 0.3, 0),
        (70, 0.4, 0.05),
        (73, 0.6, 0.32),
        (75, 0.3, 0.06),
        (75, 0.4, 0.20),
        (75, 0.6, 0.38),
        (78, 0.6, 0.48),
    ],
)
def test_pull_off_figures(slope_deg: float, friction: float, expected: float) -> None:
    """The same for jamming."""
    assert pull_off(slope_deg, friction) == pytest.approx(expected, abs=0.006)


def test_the_slope_of_our_cones_is_inside_the_window() -> None:
    """At the lowest friction twice the 5 g of a hard shut do not lift a part; at the highest it comes off by half."""
    assert ride_up(CONE_SLOPE_DEG, 0.2) >= 10
    assert pull_off(CONE_SLOPE_DEG, 0.6) <= 0.5


def test_the_window_is_73_to_78_degrees() -> None:
    """Among whole degrees, those that keep both rules, rounding 9.97 at 73 degrees up to 10."""
    kept = [deg for deg in range(60, 90) if ride_up(deg, 0.2) >= 9.9 and pull_off(deg, 0.6) <= 0.5]
    assert (kept[0], kept[-1]) == (73, 78)


@pytest.mark.parametrize(
    ("cols", "rows", "fewest"),
    [(1, 1, 0), (1, 2, 1), (1, 3, 1), (1, 4, 2), (2, 2, 2), (2, 3, 3), (2, 4, 4), (3, 3, 4), (3, 4, 6), (4, 4, 8)],
)
def test_fewest_cones_that_a_footprint_meets(cols: int, rows: int, fewest: int) -> None:
    """Counted over all places and turns: at least one for everything from 1 x 2 cells on, the checkerboard's row."""
    counts = [
        sum(has_cone(col + i, row + j) for i, j in product(range(wide), range(deep)))
        for wide, deep in ((cols, rows), (rows, cols))
        for col, row in product(range(4), range(4))
    ]
    assert min(counts) == fewest
