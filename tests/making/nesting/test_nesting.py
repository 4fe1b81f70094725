from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.making.nesting import area_bound, nest

SIDE = st.integers(1, 60)
BOXES = st.lists(st.tuples(SIDE, SIDE), max_size=40)


@given(boxes=BOXES, width=st.integers(60, 120), depth=st.integers(60, 120))
def test_every_box_is_placed_once_inside_its_bin_and_overlaps_nothing(
    boxes: list[tuple[int, int]], width: int, depth: int
) -> None:
    """Cell by cell: no cell of a bin is covered twice, and none outside it."""
    spots = nest(boxes, width, depth)
    assert [spot.box for spot in spots] == list(range(len(boxes)))
    covered: set[tuple[int, int, int]] = set()
    for spot, box in zip(spots, boxes, strict=True):
        wide, deep = box[::-1] if spot.turned else box
        assert 0 <= spot.x <= spot.x + wide <= width
        assert 0 <= spot.y <= spot.y + deep <= depth
        cells = {(spot.bin, spot.x + i, spot.y + j) for i in range(wide) for j in range(deep)}
        assert not cells & covered
        covered |= cells


@given(boxes=BOXES, width=st.integers(60, 120), depth=st.integers(60, 120))
def test_no_bin_is_empty_and_no_bin_is_saved_that_the_area_needs(
    boxes: list[tuple[int, int]], width: int, depth: int
) -> None:
    """Bins are numbered without gaps, at least as many as the area asks for, at most one a box."""
    bins = {spot.bin for spot in nest(boxes, width, depth)}
    assert bins == set(range(len(bins)))
    assert area_bound(boxes, width, depth) <= len(bins) <= len(boxes)


@given(boxes=BOXES)
def test_the_same_boxes_nest_the_same(boxes: list[tuple[int, int]]) -> None:
    """Nothing but the boxes decides."""
    assert nest(boxes, 60, 60) == nest(boxes, 60, 60)


def test_nothing_needs_no_bin() -> None:
    """An empty list is no load."""
    assert nest([], 10, 10) == ()


def test_what_fits_only_turned_is_turned() -> None:
    """A strip along the other side of the bed."""
    (spot,) = nest([(5, 20)], 20, 5)
    assert spot.turned


def test_what_fits_no_bin_is_refused() -> None:
    """Before anything is placed, with the box and the bin in the message."""
    with pytest.raises(ValueError, match=r"\(11, 11\) fits no bin of 20 x 10"):
        nest([(2, 2), (11, 11)], 20, 10)


def test_a_perfect_bin_is_filled() -> None:
    """Four quarters of a bed are one bedful."""
    assert {spot.bin for spot in nest([(10, 10)] * 4, 20, 20)} == {0}
