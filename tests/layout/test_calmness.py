"""What is counted as restless, on arrangements small enough to count by hand; and rows laid where they say."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.layout.bits import free_cells
from nookwright.layout.calm.calmness import counts_of, crumbs_of, largest_free
from nookwright.layout.calm.judging import judge_of, total
from nookwright.layout.calm.rows import Block, Field, Row, Rows, Slot, spread
from nookwright.layout.calm.tables import NEVER, most_deep, options_of, tables_of
from nookwright.layout.calm.terms import Terms
from nookwright.layout.model import Placed
from nookwright.sizing.ways import PartKind

if TYPE_CHECKING:
    from tests.layout.conftest import Make

    from nookwright.module.module import Module

CELLS = st.sets(st.tuples(st.integers(0, 7), st.integers(0, 5)), max_size=14)


def placed(make: Make, *boxes: tuple[int, int, int, int], heights: tuple[float, ...] = ()) -> list[Placed]:
    """Trays at col, row with cols x rows."""
    return [
        Placed("s", c, r, cols, rows, turned=False, candidate=make.candidate(f"l{n}", cols, rows), height=height)
        for n, ((c, r, cols, rows), height) in enumerate(zip(boxes, heights or (48.0,) * len(boxes), strict=True))
    ]


def test_a_drawer_in_two_even_rows_counts_little(make: Make) -> None:
    """Two rows of two alike: one width, one line between the rows, one edge, one rim, no crumb."""
    here = placed(make, (0, 0, 4, 3), (4, 0, 4, 3), (0, 3, 4, 2), (4, 3, 4, 2))
    assert counts_of(make.grid("s", 8, 5), here) == (1, 1, 1, 0, 0)


def test_what_does_not_line_up_counts(make: Make) -> None:
    """Read from front to back: widths of 3 and 2, lines at 3, 5 and 7, edges at 3 and 5, a crumb of 1 x 2."""
    here = placed(make, (0, 0, 3, 3), (3, 0, 5, 3), (0, 3, 5, 2), (5, 3, 2, 2))
    counts = counts_of(make.grid("s", 8, 8), here)
    assert counts == (2, 3, 2, 0, 2)
    assert counts.cost == pytest.approx(2 * 2.0 + 3 * 1.0 + 2 * 1.5 + 2 * 0.1)


def test_each_change_of_the_rim_in_a_row_counts(make: Make) -> None:
    """High, low and low, high: one change in each row, whichever way they run."""
    boxes = [(0, 0, 4, 3), (4, 0, 4, 3), (0, 3, 4, 3), (4, 3, 4, 3)]
    here = placed(make, *boxes, heights=(48.0, 36.0, 36.0, 48.0))
    assert counts_of(make.grid("s", 8, 6), here).rims == 2
    assert counts_of(make.grid("s", 8, 6), placed(make, *boxes)).rims == 0


def test_rows_may_run_from_front_to_back(make: Make) -> None:
    """Turned about its diagonal an arrangement is as calm as before."""
    boxes = [(0, 0, 3, 3), (3, 0, 5, 3), (0, 3, 5, 2)]
    turned = [(r, c, rows, cols) for c, r, cols, rows in boxes]
    one = counts_of(make.grid("s", 8, 6), placed(make, *boxes))
    assert counts_of(make.grid("s", 6, 8), placed(make, *turned)) == one


def test_a_cradle_has_no_rim_to_keep(make: Make) -> None:
    """Its sleeves are as high as its things need."""
    tray, cradle = placed(make, (0, 0, 4, 3), (4, 0, 4, 3), heights=(48.0, 36.0))
    cradle = replace(cradle, candidate=make.candidate("c", 4, 3, kind=PartKind.CRADLE))
    assert counts_of(make.grid("s", 8, 3), [tray, cradle]).rims == 0


@given(CELLS)
def test_the_largest_free_rectangle_is_found(cells: set[tuple[int, int]]) -> None:
    """Against every rectangle there is."""
    best = 0
    for c in range(8):
        for r in range(6):
            for cols in range(1, 9 - c):
                for rows in range(1, 7 - r):
                    if not any(c <= x < c + cols and r <= y < r + rows for x, y in cells):
                        best = max(best, cols * rows)
    assert largest_free(free_cells(8, 6, cells), 8, 6) == best


def test_crumbs_are_what_is_free_beside_it(make: Make) -> None:
    """A tray in the middle of 5 x 5 leaves 24 cells, the largest piece has 10."""
    assert crumbs_of(make.grid("s", 5, 5), placed(make, (2, 2, 1, 1))) == 14


def test_what_grew_costs_its_plastic_and_its_cells(make: Make, module: Module) -> None:
    """A tray of 4 x 4 that became 5 x 4: four cells at 0.1, its grams at 0.25; nothing if it did not grow."""
    ask = make.ask("l0", (4, 4))
    judge = judge_of([ask], module)
    plain = placed(make, (0, 0, 4, 4))
    grown = [replace(plain[0], cols=5)]
    grid = make.grid("s", 5, 4)
    assert judge.grown_g(plain[0]) == 0
    assert 4 < judge.grown_g(grown[0]) < 10
    parts = {part.name: part.value for part in judge.parts(grid, grown)}
    assert parts["grown"] == pytest.approx(0.4 + 0.25 * judge.grown_g(grown[0]))
    assert judge.cost(grid, grown) == pytest.approx(total(judge.parts(grid, grown)))
    assert judge.cost(grid, grown, limit=0.1) > 0.1


def test_a_lot_in_a_row_is_grown_to_its_depth_and_rim(make: Make, module: Module) -> None:
    """At its own depth and rim it costs its candidate; deeper and higher its plastic more; never shallower or lower."""
    options = options_of([make.candidate("a", 4, 3)], swap=False)
    grid = make.grid("s", 9, 9)
    tables = tables_of(
        [options, options_of([replace(make.candidate("b", 3, 3), height=60.0)], swap=False)], 9, grid, Terms(module)
    )
    assert tables.rims == (48.0, 60.0)
    area = Terms(module).cell_cost * 12
    assert tables.cost[0, 0, 0, 3] == pytest.approx(-area)
    assert tables.wide[0, 0, 0, 3] == 4
    assert tables.wide[0, 0, 0, 4] == 3, "turned it is narrower"
    assert tables.wide[0, 0, 0, 2] == NEVER
    assert tables.wide[1, 0, 0, 3] == NEVER, "60 mm high in a row of 48"
    assert tables.cost[0, 0, 0, 5] > tables.cost[0, 0, 0, 4]
    assert tables.cost[0, 0, 1, 3] > tables.cost[0, 0, 0, 3]
    assert tables.wide[0, 0, 0, 9] == NEVER, "three times as deep is another tray"


def test_no_part_grows_out_of_the_opening(make: Make, module: Module) -> None:
    """Through 50 x 60 goes a tray of 4 x 3 at 48 high by 48 and 53, not one of 4 x 4 by 48 and 71."""
    options = options_of([replace(make.candidate("a", 4, 3), may_turn=False)], swap=False)
    free = tables_of([options], 9, make.grid("s", 9, 9), Terms(module))
    narrow = tables_of([options], 9, make.grid("s", 9, 9, opening=(60.0, 50.0)), Terms(module))
    assert free.wide[0, 0, 0, 3:5].tolist() == [4, 4]
    assert narrow.wide[0, 0, 0, 3:5].tolist() == [4, NEVER]


def test_what_does_not_print_in_one_piece_anyway_stays_as_it_is(make: Make, module: Module) -> None:
    """On beds of 6 x 5 cells: 3 deep grows to 5 at a width of 6, to 6 at one of 4, and not at all at one of 9."""
    terms = Terms(module, largest=(6, 5))
    for wide, most in ((6, 5), (4, 6), (9, 3)):
        (option,) = options_of([replace(make.candidate("a", wide, 3), may_turn=False)], swap=False)
        assert most_deep(option, wide, terms) == most


def slot(make: Make, lot: int, wide: int, deep: int) -> Slot:
    """A tray as it lies."""
    (option,) = options_of([replace(make.candidate(f"l{lot}", wide, deep), may_turn=False)], swap=False)
    return Slot(lot, option, wide, deep, 48.0)


def test_rows_lie_where_they_say(make: Make) -> None:
    """A parted row behind the gap: its front and back share one begin."""
    parted = Row(5, 2, (Block((slot(make, 0, 3, 5),)), Block((slot(make, 1, 4, 2),), (slot(make, 2, 2, 3),))))
    rows = Rows((Row(3, 0, (Block((slot(make, 3, 6, 3),)),)), parted), gap=1)
    laid = rows.lay(Field(make.grid("s", 8, 9), swap=False))
    assert laid is not None
    at = {p.candidate.lot: (p.col, p.row) for p in laid if p.candidate}
    assert at == {"l3": (0, 0), "l0": (0, 4), "l1": (3, 4), "l2": (3, 6)}
    assert rows.lay(Field(make.grid("s", 8, 7), swap=False)) is None
    assert rows.lay(Field(make.grid("s", 6, 9), swap=False)) is None


def test_a_row_goes_on_behind_a_pipe(make: Make) -> None:
    """The widest takes the first run with room, the others what is left; too wide ones fit not."""
    row = Row(2, 0, tuple(Block((slot(make, n, wide, 2),)) for n, wide in enumerate((2, 4, 3))))
    field = Field(make.grid("s", 12, 2, blocked=((5, 1),)), swap=False)
    assert field.runs(0, 2) == ((0, 5), (6, 6))
    assert spread(row, field.runs(0, 2)) == (6, 0, 8)
    assert spread(row, ((0, 4), (5, 4))) is None
