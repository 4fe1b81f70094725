from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.module.lines import NARROWEST_SHARE, WALL, WIDEST_SHARE, lines_of, spacing, wall_of

NOZZLES = st.sampled_from([0.25, 0.3, 0.4, 0.5, 0.6, 0.8])
LAYERS = st.sampled_from([0.1, 0.15, 0.2, 0.25, 0.3])


@given(wall=st.floats(0.3, 4.0), nozzle=NOZZLES, layer=LAYERS)
def test_the_lines_of_a_wall_make_that_wall(wall: float, nozzle: float, layer: float) -> None:
    """Whatever wall can be printed in whole lines comes out as thick as it should, from lines the nozzle can lay."""
    lines = lines_of(wall, nozzle, layer)
    if lines is None:
        return
    assert wall_of(lines.count, lines.width, layer) == pytest.approx(wall, abs=5e-5 * lines.count)
    assert NARROWEST_SHARE * nozzle - 1e-4 <= lines.width <= WIDEST_SHARE * nozzle + 1e-4


@given(wall=st.floats(0.3, 4.0), nozzle=NOZZLES, layer=LAYERS)
def test_none_means_that_no_number_of_lines_does(wall: float, nozzle: float, layer: float) -> None:
    """Solved independently: for every count the width w = (wall + (n - 1) h (1 - pi/4)) / n lies outside the window."""
    loss = layer * (1 - math.pi / 4)
    widths = [(wall + (count - 1) * loss) / count for count in range(1, 40)]
    able = any(NARROWEST_SHARE * nozzle <= width <= WIDEST_SHARE * nozzle for width in widths)
    assert (lines_of(wall, nozzle, layer) is not None) is able


@given(count=st.integers(1, 8), width=st.floats(0.3, 1.0), layer=LAYERS)
def test_one_line_more_is_one_spacing_more(count: int, width: float, layer: float) -> None:
    """Lines lie side by side at the spacing; a single line is a wall of its own width."""
    more = wall_of(count + 1, width, layer) - wall_of(count, width, layer)
    assert more == pytest.approx(spacing(width, layer))
    assert wall_of(1, width, layer) == width


def test_the_wall_of_the_room_can_be_printed_with_usual_nozzles() -> None:
    """1.2 mm is whole lines on 0.4 and 0.6 at all usual layers, fewest lines first."""
    for layer in (0.1, 0.15, 0.2, 0.25, 0.3):
        three, two = lines_of(WALL, 0.4, layer), lines_of(WALL, 0.6, layer)
        assert three is not None
        assert two is not None
        assert (three.count, two.count) == (3, 2)
