from __future__ import annotations

from itertools import islice

from hypothesis import given
from hypothesis import strategies as st

from nookwright.cutting.lines import balanced, grid_cuts, grid_options, shares
from nookwright.cutting.model import Bed

PITCH = 18.0


def mm(cells: int) -> float:
    """Length of so many cells."""
    return cells * PITCH


@given(cells=st.integers(1, 60), most=st.integers(1, 30))
def test_shares_are_few_nearly_equal_and_short_enough(cells: int, most: int) -> None:
    """The fewest shares that are possible; none longer than allowed; none more than a cell longer than another."""
    cuts = balanced(cells, most)
    assert cuts is not None
    lengths = [last - first for first, last in shares(cells, cuts)]
    assert sum(lengths) == cells
    assert len(lengths) == -(-cells // most)
    assert max(lengths) <= most
    assert max(lengths) - min(lengths) <= 1


def test_where_no_cell_fits_there_is_no_cut() -> None:
    """A bed smaller than a cell."""
    assert balanced(5, 0) is None
    assert grid_cuts(4, 4, Bed(10, 200, 100), mm) is None
    assert list(grid_options(4, 4, Bed(10, 10, 100), mm)) == []


@given(cols=st.integers(1, 40), rows=st.integers(1, 40), width=st.floats(40, 400), depth=st.floats(40, 400))
def test_a_grid_of_cuts_leaves_pieces_that_fit(cols: int, rows: int, width: float, depth: float) -> None:
    """Every field lies on the bed, lengthwise or turned; a part that fits is not cut."""
    bed = Bed(width, depth, 100)
    cuts = grid_cuts(cols, rows, bed, mm)
    assert cuts is not None
    for x0, x1 in shares(cols, cuts[0]):
        for y0, y1 in shares(rows, cuts[1]):
            assert bed.holds(mm(x1 - x0), mm(y1 - y0), 0)
    assert (cuts == ((), ())) is bed.holds(mm(cols), mm(rows), 0)


@given(cols=st.integers(2, 40), rows=st.integers(2, 40), width=st.floats(40, 400), depth=st.floats(40, 400))
def test_options_begin_with_the_fewest_pieces(cols: int, rows: int, width: float, depth: float) -> None:
    """The first option is as good as the best grid of cuts; each option is there once, and the counts never fall."""
    bed = Bed(width, depth, 100)
    options = list(islice(grid_options(cols, rows, bed, mm), 200))
    best = grid_cuts(cols, rows, bed, mm)
    assert best is not None
    counts = [(len(x) + 1) * (len(y) + 1) for x, y in options]
    assert counts[0] == (len(best[0]) + 1) * (len(best[1]) + 1)
    assert counts == sorted(counts)
    assert len(set(options)) == len(options)


def test_a_bed_holds_what_is_as_large_as_it_is() -> None:
    """In spite of the last bit of a sum, and turned."""
    bed = Bed(0.1 + 0.2, 5.0, 10.0)
    assert bed.holds(0.3, 5.0, 10.0)
    assert bed.holds(5.0, 0.3, 10.0)
    assert not bed.holds(0.31, 5.0, 10.0)
    assert not bed.holds(0.3, 5.0, 10.1)
