from __future__ import annotations

from itertools import islice

from hypothesis import given
from hypothesis import strategies as st

from nookwright.cutting.lines import grid_options, shares
from nookwright.cutting.model import Bed

PITCH = 18.0


def mm(cells: int) -> float:
    """Length of so many cells."""
    return cells * PITCH


def test_where_no_cell_fits_there_is_no_cut() -> None:
    """A bed smaller than a cell."""
    assert list(grid_options(4, 4, Bed(10, 200, 100), mm)) == []
    assert list(grid_options(4, 4, Bed(10, 10, 100), mm)) == []


@given(cols=st.integers(1, 40), rows=st.integers(1, 40), width=st.floats(40, 400), depth=st.floats(40, 400))
def test_a_grid_of_cuts_leaves_pieces_that_fit(cols: int, rows: int, width: float, depth: float) -> None:
    """Every field lies on the bed, lengthwise or turned; a part that fits is not cut."""
    bed = Bed(width, depth, 100)
    cuts = next(grid_options(cols, rows, bed, mm))
    for x0, x1 in shares(cols, cuts[0]):
        for y0, y1 in shares(rows, cuts[1]):
            assert bed.holds(mm(x1 - x0), mm(y1 - y0), 0)
    assert (cuts == ((), ())) is bed.holds(mm(cols), mm(rows), 0)


@given(cols=st.integers(2, 40), rows=st.integers(2, 40), width=st.floats(40, 400), depth=st.floats(40, 400))
def test_options_begin_with_the_fewest_pieces(cols: int, rows: int, width: float, depth: float) -> None:
    """The first option is as good as the best grid of cuts; each option is there once, and the counts never fall."""
    bed = Bed(width, depth, 100)
    options = list(islice(grid_options(cols, rows, bed, mm), 200))
    beds = [(int(width // PITCH), int(depth // PITCH)), (int(depth // PITCH), int(width // PITCH))]
    fewest = min(-(-cols // across) * -(-rows // back) for across, back in beds)
    counts = [(len(x) + 1) * (len(y) + 1) for x, y in options]
    assert counts[0] == fewest
    assert counts == sorted(counts)
    assert len(set(options)) == len(options)


def test_a_bed_holds_what_is_as_large_as_it_is() -> None:
    """In spite of the last bit of a sum, and turned."""
    bed = Bed(0.1 + 0.2, 5.0, 10.0)
    assert bed.holds(0.3, 5.0, 10.0)
    assert bed.holds(5.0, 0.3, 10.0)
    assert not bed.holds(0.31, 5.0, 10.0)
    assert not bed.holds(0.3, 5.0, 10.1)
