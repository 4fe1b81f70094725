from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.making.nesting import Bin, area_bound, least_bins, nested
from nookwright.making.nesting.bounds import big_bound, dual_bound

SIDE = st.integers(1, 30)
BOXES = st.lists(st.tuples(SIDE, SIDE), min_size=1, max_size=14)


@given(boxes=BOXES, may_turn=st.booleans(), width=st.integers(30, 45), depth=st.integers(30, 45))
def test_no_bound_is_above_what_a_nesting_needs(
    *, boxes: list[tuple[int, int]], may_turn: bool, width: int, depth: int
) -> None:
    """Whatever is found needs at least as many bins, and each bound by itself says no more."""
    into = Bin(width, depth, may_turn)
    bins = nested(boxes, into, tries=50).bins
    bounds = (area_bound(boxes, width, depth), big_bound(boxes, into), dual_bound(boxes, into))
    assert max(bounds) <= least_bins(boxes, into) <= bins


@given(cuts=st.lists(st.integers(1, 19), min_size=1, max_size=4, unique=True), bins=st.integers(1, 3))
def test_bins_cut_into_strips_and_boxes_are_not_bounded_above_their_number(cuts: list[int], bins: int) -> None:
    """Boxes that fill some bins to the last cell need just these: no bound may ask for more."""
    edges = [0, *sorted(cuts), 20]
    strips = [after - before for before, after in pairwise(edges)]
    boxes = [(strip, height) for _ in range(bins) for strip in strips for height in (7, 13)]
    assert least_bins(boxes, Bin(20, 20, may_turn=False)) == bins
    assert least_bins(boxes, Bin(20, 20)) == bins


@pytest.mark.parametrize(
    ("boxes", "into", "least"),
    [
        ([(6, 6)] * 3, Bin(10, 10), 3),  # two never share a bin, though the area asks for two bins only
        ([(6, 10)] * 2 + [(4, 10)] * 2, Bin(10, 10), 2),
        ([(4, 4)] * 5, Bin(10, 10), 2),  # four at most: each counts a quarter by u(2)
        ([(7, 4)] * 3, Bin(12, 10, may_turn=False), 2),  # one above the other, two at most
        ([(7, 4)] * 3, Bin(12, 10), 1),  # turned, three stand side by side
        ([], Bin(10, 10), 0),
    ],
)
def test_bounds_see_more_than_the_area(boxes: list[tuple[int, int]], into: Bin, least: int) -> None:
    """Counted by hand."""
    assert least_bins(boxes, into) == least
