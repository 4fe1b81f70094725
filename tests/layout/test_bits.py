"""The masks against counting cell by cell."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from nookwright.layout.bits import first, free_cells, places, rectangle, shifts_for, stride

SIDE = st.integers(1, 9)
CELL = st.tuples(st.integers(0, 8), st.integers(0, 8))


@given(SIDE, SIDE, st.sets(CELL, max_size=12), SIDE, SIDE)
def test_places_are_those_that_counting_finds(
    cols: int, rows: int, blocked: set[tuple[int, int]], wide: int, deep: int
) -> None:
    """A mask of places holds exactly the corners from which all cells of the rectangle are inside and free."""
    free = {(c, r) for c in range(cols) for r in range(rows)} - blocked
    expected = {(c, r) for c, r in free if all((c + i, r + j) in free for i in range(wide) for j in range(deep))}
    step = stride(cols)
    mask = places(free_cells(cols, rows, blocked), shifts_for(wide, deep, step))
    assert {(bit % step, bit // step) for bit in range(mask.bit_length()) if mask >> bit & 1} == expected


def test_the_lowest_bit_is_the_front_left_place() -> None:
    """A 2 x 1 rectangle in a 3 x 2 space whose front row is blocked lies at the start of the second row."""
    mask = places(free_cells(3, 2, [(0, 0), (1, 0), (2, 0)]), shifts_for(2, 1, stride(3)))
    assert divmod(first(mask), stride(3)) == (1, 0)


@given(SIDE, SIDE)
def test_a_rectangle_has_its_area(cols: int, rows: int) -> None:
    """The mask of a rectangle has one bit for each cell."""
    assert rectangle(cols, rows, stride(9)).bit_count() == cols * rows
