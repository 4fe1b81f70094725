"""Hatching."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.documents import hatching
from nookwright.exchange.svg import Box

SIZES = st.floats(0.1, 50)


@given(SIZES, SIZES, SIZES, SIZES, st.floats(0.5, 5), st.booleans())
def test_lines_lie_inside_at_45_degrees(  # noqa: PLR0917 - drawn by the strategy in this order
    x: float,
    y: float,
    width: float,
    height: float,
    spacing: float,
    rising: bool,  # noqa: FBT001 - the same
) -> None:
    """Each line runs at 45 degrees from edge to edge of its box, and the lines are evenly spaced."""
    box = Box(x, y, width, height).inset(-1e-6)
    found = list(hatching.lines(Box(x, y, width, height), spacing, rising=rising))
    sign = 1 if rising else -1
    levels = [round((one[0] + sign * one[1]) / spacing, 6) for one, _ in found]
    assert levels == sorted(levels)
    for (x0, y0), (x1, y1) in found:
        assert x1 > x0
        assert y1 - y0 == pytest.approx(-sign * (x1 - x0), abs=1e-6)
        for u, v in ((x0, y0), (x1, y1)):
            assert box.x <= u <= box.right
            assert box.y <= v <= box.bottom
    assert len(found) >= int((width + height) / spacing) - 1


def test_neighbours_meet() -> None:
    """A line that leaves one box at an edge goes on in the box beside it."""
    left = {line[1] for line in hatching.lines(Box(0, 0, 10, 10), 2)}
    right = {line[0] for line in hatching.lines(Box(10, 0, 10, 10), 2)}
    shared = {point for point in left if point[0] == 10 and 0 < point[1] < 10}
    assert shared
    assert shared <= right
