from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.module.pattern import Pattern, fewest_cones, has_cone, pattern_for, smallest_of

SIZES = ((1, 1), (1, 2), (1, 3), (1, 4), (2, 2), (2, 3), (2, 4), (3, 3), (3, 4), (4, 4))
TABLE = {
    Pattern.EVERY_CELL: (1, 2, 3, 4, 4, 6, 8, 9, 12, 16),
    Pattern.CHESSBOARD: (0, 1, 1, 2, 2, 3, 4, 4, 6, 8),
    Pattern.EVERY_SECOND: (0, 0, 0, 0, 1, 1, 2, 1, 2, 4),
}
BY_PLACE = st.sampled_from(sorted(TABLE))


@pytest.mark.parametrize("pattern", TABLE)
def test_the_fewest_cones_that_a_part_meets(pattern: Pattern) -> None:
    """For ten footprints, counted by hand over all places and turns."""
    assert tuple(fewest_cones(*size, pattern) for size in SIZES) == TABLE[pattern]


@given(
    pattern=BY_PLACE,
    col=st.integers(0, 30),
    row=st.integers(0, 30),
    cols=st.integers(1, 6),
    rows=st.integers(1, 6),
)
def test_nowhere_are_there_fewer_than_the_fewest(pattern: Pattern, col: int, row: int, cols: int, rows: int) -> None:
    """Wherever a part is set down it meets at least so many."""
    met = sum(has_cone(col + c, row + r, pattern) for c in range(cols) for r in range(rows))
    assert met >= fewest_cones(cols, rows, pattern)


@pytest.mark.parametrize("pattern", [Pattern.EVERY_CELL, Pattern.CHESSBOARD, Pattern.EVERY_SECOND])
def test_the_smallest_footprint_of_a_pattern_is_the_smallest_that_it_holds(pattern: Pattern) -> None:
    """It meets a cone everywhere; less by one cell on either side would not, or would be nothing."""
    short, long = smallest_of(pattern)
    assert fewest_cones(short, long, pattern) >= 1
    for cols, rows in ((short - 1, long), (short, long - 1)):
        assert not cols * rows or fewest_cones(cols, rows, pattern) == 0


@given(cols=st.integers(1, 6), rows=st.integers(1, 6), more=st.tuples(st.integers(0, 4), st.integers(0, 4)))
def test_the_pattern_serves_the_smallest_footprint_and_all_larger_ones(
    cols: int, rows: int, more: tuple[int, int]
) -> None:
    """Each meets a cone everywhere; the next pattern with fewer cones would leave the smallest without one."""
    pattern = pattern_for(cols, rows)
    assert fewest_cones(cols + more[0], rows + more[1], pattern) >= 1
    sparser = {Pattern.EVERY_CELL: Pattern.CHESSBOARD, Pattern.CHESSBOARD: Pattern.EVERY_SECOND}
    if pattern in sparser:
        assert fewest_cones(cols, rows, sparser[pattern]) == 0


def test_where_cones_follow_the_layout_the_place_says_nothing() -> None:
    """The layout has to be asked."""
    with pytest.raises(ValueError, match="ask the layout"):
        has_cone(0, 0, Pattern.UNDER_LAYOUT)


@pytest.mark.parametrize("pattern", Pattern)
def test_every_pattern_says_what_it_keeps(pattern: Pattern) -> None:
    """In words; the one that gives up interchange says so."""
    assert pattern.keeps.endswith(".")
    assert ("no longer swap" in pattern.keeps) is (pattern is Pattern.UNDER_LAYOUT)
