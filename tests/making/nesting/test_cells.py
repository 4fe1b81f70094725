from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.making.nesting.cells import Footprint, Grid, lay, places, ways_of


@st.composite
def footprints(draw: st.DrawFn, most: int = 6) -> Footprint:
    """Any cells in a small box, its first and last row and column not empty."""
    width, depth = draw(st.integers(1, most)), draw(st.integers(1, most))
    rows = draw(st.lists(st.integers(0, (1 << width) - 1), min_size=depth, max_size=depth))
    rows[0] |= 1
    rows[-1] |= 1 << (width - 1)
    return Footprint(tuple(rows))


def cells_of(footprint: Footprint) -> set[tuple[int, int]]:
    """Its cells one by one."""
    return {(x, y) for y, row in enumerate(footprint.rows) for x in range(row.bit_length()) if row >> x & 1}


@given(one=footprints())
def test_rectangles_are_the_cells_each_once(one: Footprint) -> None:
    """No two of them share a cell, and together they are all of them."""
    covered = [(x + i, y + j) for x, y, width, depth in one.rects for i in range(width) for j in range(depth)]
    assert len(covered) == len(set(covered)) == one.area
    assert set(covered) == cells_of(one)


@given(one=footprints())
def test_four_quarter_turns_lead_back(one: Footprint) -> None:
    """And one of them takes what is at the right to the back."""
    assert one.turned().turned().turned().turned() == one
    assert cells_of(one.turned()) == {(one.depth - 1 - y, x) for x, y in cells_of(one)}
    assert len(ways_of(one)) in (1, 2, 4)


@given(one=footprints(4), other=footprints(4), width=st.integers(4, 9), depth=st.integers(4, 9))
def test_places_are_all_places_and_no_others(one: Footprint, other: Footprint, width: int, depth: int) -> None:
    """Beside another footprint, tried cell by cell."""
    grid = Grid(width, depth)
    free = grid.free ^ other.mask(grid.stride)
    taken = cells_of(other)
    expected = {
        (x, y)
        for x in range(width - one.width + 1)
        for y in range(depth - one.depth + 1)
        if not {(x + i, y + j) for i, j in cells_of(one)} & taken
    }
    mask = places(free, grid.stride, one)
    assert {(at % grid.stride, at // grid.stride) for at in range(mask.bit_length()) if mask >> at & 1} == expected


@settings(max_examples=50)
@given(some=st.lists(footprints(), min_size=1, max_size=12), hole=st.tuples(st.integers(0, 9), st.integers(0, 9)))
def test_what_is_laid_is_apart_inside_and_off_what_is_blocked(some: list[Footprint], hole: tuple[int, int]) -> None:
    """Cell by cell; what stays out is said."""
    grid = Grid(10, 12, ((*hole, 3, 2),))
    ways = [ways_of(one) for one in some]
    laid, out = lay(range(len(some)), range(len(some)), ways, grid, 2)
    assert sorted([*(one.copy for one in laid), *out]) == list(range(len(some)))
    taken = {(bed, hole[0] + i, hole[1] + j) for bed in range(2) for i in range(3) for j in range(2)}
    for one in laid:
        way = dict(ways[one.copy])[one.turns]
        mine = {(one.bed, one.x + x, one.y + y) for x, y in cells_of(way)}
        assert not mine & taken
        assert all(0 <= x < 10 and 0 <= y < 12 for _, x, y in mine)
        taken |= mine


def test_a_bed_takes_one_lone_copy() -> None:
    """Two kinds that may not share a bed with each other or themselves, and one that may."""
    ways = [ways_of(Footprint.of_box(2, 2))] * 3
    laid, out = lay([0, 1, 2, 3], [0, 1, 0, 2], ways, Grid(10, 10), 2, lone=frozenset({0, 1}))
    assert [(one.copy, one.bed) for one in laid] == [(0, 0), (1, 1), (3, 0)]
    assert out == (2,)
