"""Rings outside a plan."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.documents import callouts
from nookwright.documents.callouts import Callout, Side
from nookwright.exchange.svg import Box


@given(st.lists(st.floats(0, 100), max_size=20), st.floats(1, 6))
def test_spread_keeps_order_and_distance(wanted: list[float], least: float) -> None:
    """Places stay in order and apart, inside where there is room, and where they were if that is far enough."""
    wanted.sort()
    places = callouts.spread(wanted, least, 0, 100)
    assert len(places) == len(wanted)
    assert all(after - before >= least - 1e-9 for before, after in pairwise(places))
    assert all(place <= 100 for place in places)
    if (len(places) - 1) * least <= 100:
        assert all(place >= -1e-9 for place in places)
    if all(after - before >= least for before, after in pairwise(wanted)):
        assert places == pytest.approx(wanted)


@pytest.mark.parametrize(
    ("target", "ring"),
    [((1, 20), (-3, 20)), ((39, 20), (43, 20)), ((20, 1), (20, -3)), ((20, 39), (20, 43))],
)
def test_a_ring_stands_at_the_nearest_side(target: tuple[float, float], ring: tuple[float, float]) -> None:
    """Left, right, above or below, at the distance asked for."""
    (one,) = callouts.place([Callout("A", target, "#000000")], Box(0, 0, 40, 40), 3, tuple(Side))
    assert one.ring == ring


def test_only_sides_that_are_free_are_used() -> None:
    """What lies nearest to a side with dimensions is led out elsewhere."""
    (one,) = callouts.place([Callout("A", (1, 39), "#000000")], Box(0, 0, 40, 40), 3, (Side.TOP, Side.RIGHT))
    assert one.ring in {(1, -3), (43, 39)}
