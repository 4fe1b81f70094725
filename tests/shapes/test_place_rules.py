"""What the places of a repeat must obey."""

from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.ground.errors import RecipeError
from nookwright.ground.tolerances import TOUCHING
from nookwright.shapes.place_rules import check_places

BOX = (0.0, 0.0, 3.0, 2.0)


@pytest.mark.parametrize(
    "second",
    [(2.9, 0.0), (3.0, 0.0), (3.0 + TOUCHING, 0.0), (0.0, 2.0), (0.0, -2.5), (3.01, 2.01), (-3.0, 2.0), (0.01, 0.0)],
)
def test_copies_overlap_are_flush_or_apart(second: tuple[float, float]) -> None:
    """Overlapping, flush and clearly separate copies are accepted."""
    check_places("Repeat", ((0.0, 0.0), second), BOX)


@pytest.mark.parametrize("second", [(3.0001, 0.0), (-3.0099, 0.0), (0.0, 2.005), (1.0, -2.005), (3.005, 2.005)])
def test_a_hairs_gap_is_refused(second: tuple[float, float]) -> None:
    """A gap that would weld in a file is no gap."""
    with pytest.raises(RecipeError, match="no hair's gap"):
        check_places("Repeat", ((0.0, 0.0), second), BOX)


@pytest.mark.parametrize("second", [(0.0, 0.0), (0.0099, 0.0), (0.0, -0.0001)])
def test_copies_that_nearly_coincide_are_refused(second: tuple[float, float]) -> None:
    """The same place twice is a mistake, and so is nearly the same place."""
    with pytest.raises(RecipeError, match="copies stand apart"):
        check_places("Repeat", ((0.0, 0.0), second), BOX)


@pytest.mark.parametrize("places", [(), ((1.0,),), ((1.0, 2.0, 3.0),)])
def test_places_are_pairs(places: tuple[tuple[float, float], ...]) -> None:
    """There is one place or more, each in x and y."""
    with pytest.raises(RecipeError, match="pairs of numbers"):
        check_places("Repeat", places, BOX)


NEAR = st.sampled_from([-0.0150, -0.0101, -0.0100, -0.0099, -0.0001, 0.0, 0.0001, 0.0099, 0.0100, 0.0101])


@settings(max_examples=300, deadline=None, derandomize=True)
@given(st.lists(st.tuples(st.integers(-2, 2), st.integers(-2, 2), NEAR, NEAR), min_size=2, max_size=8))
def test_no_pair_is_missed(cells: list[tuple[int, int, float, float]]) -> None:
    """The search by buckets finds what a comparison of all pairs finds, of copies that nearly tile the plane."""
    places = tuple((round(3 * col + dx, 4), round(2 * row + dy, 4)) for col, row, dx, dy in cells)
    wrong = False
    for (ax, ay), (bx, by) in itertools.combinations(places, 2):
        across, along = abs(ax - bx), abs(ay - by)
        gap = math.hypot(max(0.0, across - 3.0), max(0.0, along - 2.0))
        wrong |= math.hypot(across, along) < TOUCHING - 1e-6 or 1e-6 < gap < TOUCHING - 1e-6
    try:
        check_places("Repeat", places, BOX)
    except RecipeError:
        assert wrong
    else:
        assert not wrong
