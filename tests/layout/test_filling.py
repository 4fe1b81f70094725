"""What becomes of free cells: nothing ever overlaps, cradles and lots stay as they are, spare trays match the room."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.layout.filling import Filled, FillWish, Means, fill
from nookwright.layout.filling.odds import ODDS, contents_g
from nookwright.layout.model import Layout, LeftOut, Placed
from nookwright.sizing.ways import PartKind
from nookwright.survey.models import FloorStyle, Rest

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from tests.layout.conftest import Make

    from nookwright.layout.model import Ask, Grid
    from nookwright.module.module import Module

    Check = Callable[[Sequence[Grid], Sequence[Ask], Layout], list[str]]

CELL = st.tuples(st.integers(0, 9), st.integers(0, 9))
SIZE = st.tuples(st.integers(1, 5), st.integers(1, 5))


@pytest.fixture(scope="session")
def means(module: Module) -> Means:
    """Shell floors, any bed."""
    return Means(module, FloorStyle.SHELL)


def laid(grids: tuple[Grid, ...], *asks: Ask) -> Layout:
    """A layout of a few lots: each in the first place that is free, or left out."""
    free = {g.space: {(c, r) for c in range(g.cols) for r in range(g.rows)} - set(g.blocked) for g in grids if g.fill}
    load_g = {grid.space: grid.load_g for grid in grids}
    placed, left = [], []
    for ask in asks:
        one = ask.candidates[0]
        spots = (
            (space, col, row, {(col + x, row + y) for x in range(one.cols) for y in range(one.rows)})
            for space, cells in free.items()
            for col, row in sorted(cells, key=lambda cell: cell[::-1])
        )
        found = next((spot for spot in spots if spot[3] <= free[spot[0]] and one.mass_g <= load_g[spot[0]]), None)
        if found is None:
            left.append(LeftOut(ask.lot, "", ""))
            continue
        space, col, row, cells = found
        free[space] -= cells
        load_g[space] -= one.mass_g
        placed.append(Placed(space, col, row, one.cols, one.rows, turned=False, candidate=one, height=one.height))
    ordered = tuple(sorted(placed, key=lambda one: (one.space, one.row, one.col)))
    return Layout(ordered, tuple(left), (), 0.0, 0.0, proven=True, by_clock=False, seed=1, iterations=0)


def set_out(make: Make, *boxes: tuple[int, int, int, int], kind: PartKind = PartKind.TRAY) -> Layout:
    """A layout with trays in these cells: column, row, columns, rows."""
    placed = tuple(
        Placed("s", col, row, cols, rows, turned=False, candidate=make.candidate(f"l{n}", cols, rows, kind=kind),
               height=48.0)
        for n, (col, row, cols, rows) in enumerate(boxes)
    )  # fmt: skip
    return replace(laid((make.grid("s", 9, 9),)), placed=placed)


def filled(layout: Layout, grid: Grid, rest: Rest, means: Means, *, odds: bool = False) -> list[tuple[int, ...]]:
    """Column, row, columns and rows of what stands in a space that was filled."""
    after = fill(layout, (grid,), {grid.space: FillWish(rest, odds)}, means).layout
    return [(one.col, one.row, one.cols, one.rows) for one in after.placed]


@settings(max_examples=80, deadline=None)
@given(
    st.integers(2, 10),
    st.integers(2, 10),
    st.sets(CELL, max_size=8),
    st.lists(SIZE, max_size=6),
    st.sampled_from(Rest),
    st.integers(4, 7),
    st.booleans(),
    st.floats(300, 1500),
)
def test_filling_keeps_every_promise(  # noqa: PLR0917 - drawn by Hypothesis
    make: Make,
    check: Check,
    means: Means,
    cols: int,
    rows: int,
    blocked: set[tuple[int, int]],
    sizes: list[tuple[int, int]],
    rest: Rest,
    longest: int,
    odds: bool,  # noqa: FBT001 - drawn by Hypothesis
    load_g: float,
) -> None:
    """Valid after as before: no overlap, no blocked cell, no load passed, no lot lost; growth within its limits."""
    grids = (make.grid("s", cols, rows, blocked=tuple(sorted(blocked)), load_g=load_g),)
    asks = tuple(make.ask(f"l{n}", size) for n, size in enumerate(sizes))
    means = replace(means, largest=(longest, longest))
    before = laid(grids, *asks)
    wishes = {"s": FillWish(rest, odds)}
    filling = fill(before, grids, wishes, means)
    after = filling.layout
    assert check(grids, asks, after) == []
    if sum(means.mass_g(one) for one in before.placed) <= load_g:
        assert sum(means.mass_g(one) for one in after.placed) <= load_g + 1e-6
    old = {one.candidate.lot: one for one in before.placed if one.candidate}
    new = {one.candidate.lot: one for one in after.placed if one.candidate}
    assert old.keys() == new.keys()
    for lot, was in old.items():
        now = new[lot]
        assert (now.cols, now.rows) == (was.cols, was.rows) or rest is Rest.GROW
        assert was.cols <= now.cols <= was.cols * 1.5
        assert was.rows <= now.rows <= was.rows * 1.5
        assert max(now.cols, now.rows) <= max(longest, was.cols, was.rows)
        assert (now.height, now.turned, now.candidate) == (was.height, was.turned, was.candidate)
    more_g = sum(means.mass_g(one) for one in after.placed) - sum(means.mass_g(one) for one in before.placed)
    assert sum(price.mass_g for price in filling.prices) == pytest.approx(more_g)
    assert fill(before, grids, wishes, means) == filling


def test_trays_share_a_gap_equally(make: Make, means: Means) -> None:
    """Two 4 x 4 trays in 10 x 4 cells become 5 wide; the straight edges in front and behind stay."""
    layout = set_out(make, (0, 0, 4, 4), (4, 0, 4, 4))
    assert filled(layout, make.grid("s", 10, 4), Rest.GROW, means) == [(0, 0, 5, 4), (5, 0, 5, 4)]


def test_rows_that_are_cut_alike_grow_alike(make: Make, means: Means) -> None:
    """Two rows of two trays keep their common edge in the middle."""
    layout = set_out(make, (0, 0, 4, 3), (4, 0, 4, 3), (0, 3, 4, 3), (4, 3, 4, 3))
    after = filled(layout, make.grid("s", 10, 6), Rest.GROW, means)
    assert after == [(0, 0, 5, 3), (5, 0, 5, 3), (0, 3, 5, 3), (5, 3, 5, 3)]


def test_no_tray_grows_out_of_line(make: Make, means: Means) -> None:
    """Before a full row of three the two trays of the other keep the edge that they share; the last closes the gap."""
    layout = set_out(make, (0, 0, 4, 3), (4, 0, 4, 3), (0, 3, 4, 3), (4, 3, 2, 3), (6, 3, 4, 3))
    after = filled(layout, make.grid("s", 10, 6), Rest.GROW, means)
    assert after[:2] == [(0, 0, 4, 3), (4, 0, 6, 3)]


def test_a_row_grows_backwards_as_one(make: Make, means: Means) -> None:
    """A row of different widths in front of a free row gets deeper as a whole."""
    layout = set_out(make, (0, 0, 6, 3), (6, 0, 4, 3))
    assert filled(layout, make.grid("s", 10, 4), Rest.GROW, means) == [(0, 0, 6, 4), (6, 0, 4, 4)]


def test_rows_share_what_is_free_behind_them(make: Make, means: Means) -> None:
    """Two rows that are cut differently get a row of cells each, and keep their straight front edges."""
    layout = set_out(make, (0, 0, 6, 3), (6, 0, 4, 3), (0, 3, 3, 3), (3, 3, 7, 3))
    after = filled(layout, make.grid("s", 10, 8), Rest.GROW, means)
    assert after == [(0, 0, 6, 4), (6, 0, 4, 4), (0, 4, 3, 4), (3, 4, 7, 4)]


def test_a_gap_that_cannot_be_closed_stays_whole(make: Make, means: Means) -> None:
    """A 4 x 4 tray in 9 x 4 cells may become 6 wide and would leave a gap all the same: it stays as it is."""
    layout = set_out(make, (0, 0, 4, 4))
    assert filled(layout, make.grid("s", 9, 4), Rest.GROW, means) == [(0, 0, 4, 4)]
    assert filled(layout, make.grid("s", 6, 4), Rest.GROW, means) == [(0, 0, 6, 4)]


def test_a_cradle_does_not_grow(make: Make, means: Means) -> None:
    """It is made to its things."""
    layout = set_out(make, (0, 0, 4, 4), kind=PartKind.CRADLE)
    assert filled(layout, make.grid("s", 6, 4), Rest.GROW, means) == [(0, 0, 4, 4)]


def test_growing_stops_at_one_print(make: Make, means: Means) -> None:
    """With 5 x 4 cells printable a 4 x 4 tray becomes 5 x 4, not 6 x 4."""
    small, layout = replace(means, largest=(4, 5)), set_out(make, (0, 0, 4, 4))
    assert filled(layout, make.grid("s", 5, 4), Rest.GROW, small) == [(0, 0, 5, 4)]
    assert filled(layout, make.grid("s", 6, 4), Rest.GROW, small) == [(0, 0, 4, 4)]


def test_growing_stops_at_the_load_and_at_the_opening(make: Make, means: Means) -> None:
    """A space that carries no more, or whose opening a wider tray does not pass, keeps its gap."""
    layout = set_out(make, (0, 0, 4, 4))
    weighs_g = means.mass_g(layout.placed[0])
    assert filled(layout, make.grid("s", 5, 4, load_g=weighs_g + 0.1), Rest.GROW, means) == [(0, 0, 4, 4)]
    assert filled(layout, make.grid("s", 5, 4, opening=(75.0, 60.0)), Rest.GROW, means) == [(0, 0, 5, 4)]
    assert filled(layout, make.grid("s", 5, 5, opening=(75.0, 60.0)), Rest.GROW, means)[0][2:] != (5, 5)


def test_stacks_do_not_grow(make: Make, means: Means) -> None:
    """The part above would no longer match."""
    layout = set_out(make, (0, 0, 4, 4))
    lower = replace(layout.placed[0], decked=True)
    upper = Placed("s", 0, 0, 4, 4, turned=False, candidate=None, height=24.0, level=1, raised=48.0)
    stack = replace(layout, placed=(lower, upper))
    assert filled(stack, make.grid("s", 5, 4), Rest.GROW, means) == [(0, 0, 4, 4), (0, 0, 4, 4)]


def test_growth_has_a_price(make: Make, means: Means) -> None:
    """One cell in ten more: the grams are those of the larger trays less the smaller ones."""
    layout = set_out(make, (0, 0, 4, 4), (4, 0, 4, 4))
    filling = fill(layout, (make.grid("s", 10, 4),), {"s": FillWish(Rest.GROW)}, means)
    (price,) = filling.prices
    assert (price.space, price.what, price.parts, price.cells) == ("s", Filled.GROWN, 2, 8)
    more_g = means.tray_g(5, 4, 48.0, FloorStyle.SHELL) - means.tray_g(4, 4, 48.0, FloorStyle.SHELL)
    assert price.mass_g == pytest.approx(2 * more_g)
    assert price.mass_g > 0


def test_spare_trays_take_the_commonest_footprints(make: Make, means: Means) -> None:
    """Three 3 x 2 trays and one 4 x 4 beside free cells: all spare trays are of these sizes, and of their height."""
    grids = (make.grid("s", 12, 8), make.grid("low", 6, 4, height=40.0))
    asks = (*(make.ask(f"l{n}", (3, 2)) for n in range(3)), make.ask("large", (4, 4)))
    spare_there = {"s": FillWish(Rest.SPARE), "low": FillWish(Rest.SPARE)}
    after = fill(laid(grids, *asks), grids, spare_there, means).layout
    spare = [one for one in after.placed if one.candidate is None]
    assert {tuple(sorted((one.cols, one.rows))) for one in spare} == {(2, 3), (4, 4)}
    assert {(one.space, one.height) for one in spare} == {("s", 48.0)}, "the low space takes no tray of this height"
    assert all(one.turned == (one.cols < one.rows) for one in spare)


def test_spare_trays_stop_at_the_load(make: Make, means: Means) -> None:
    """A space that carries one more tray gets one."""
    layout = set_out(make, (0, 0, 3, 3))
    load_g = means.mass_g(layout.placed[0]) + 1.5 * means.tray_g(3, 3, 48.0, FloorStyle.SHELL)
    assert len(filled(layout, make.grid("s", 9, 9, load_g=load_g), Rest.SPARE, means)) == 2


def test_spare_trays_are_no_smaller_than_asked(make: Make, means: Means) -> None:
    """A strip of one cell stays open, though a tray of that width is in the room."""
    assert len(filled(set_out(make, (0, 0, 2, 1)), make.grid("s", 5, 1), Rest.SPARE, means)) == 1


def test_open_cells_stay_open(make: Make, means: Means) -> None:
    """With no wish for a space, or the wish to leave it open, the layout stays equal."""
    grids = (make.grid("s", 9, 9), make.grid("t", 9, 9))
    before = laid(grids, make.ask("a", (4, 4)))
    assert fill(before, grids, {"s": FillWish()}, means).layout == before


def test_a_space_without_a_floor_gets_no_spare_trays(make: Make, means: Means) -> None:
    """Nothing is put under a shelf."""
    grids = (make.grid("s", 4, 4), make.grid("under", 9, 9, fill=False))
    before = laid(grids, make.ask("a", (4, 4)))
    assert fill(before, grids, {"under": FillWish(Rest.SPARE, odds=True, used=True)}, means).layout == before


def test_a_spare_tray_may_grow(make: Make, means: Means) -> None:
    """It keeps having no candidate."""
    grids = (make.grid("s", 5, 4),)
    spare = replace(laid(grids), placed=(Placed("s", 0, 0, 4, 4, turned=False, candidate=None, height=48.0),))
    (one,) = fill(spare, grids, {"s": FillWish(Rest.GROW)}, means).layout.placed
    assert (one.cols, one.rows, one.candidate) == (5, 4, None)


def test_spare_trays_are_no_smaller_than_the_cones_hold(make: Make, means: Means) -> None:
    """In a space for 2 x 3 and more the commonest 2 x 2 of the room is not repeated."""
    grids = (make.grid("a", 4, 4), make.grid("b", 8, 8, smallest=(2, 3)))
    layout = laid(grids, make.ask("dice", (2, 2)))
    wishes = {"b": FillWish(Rest.SPARE)}
    full = fill(layout, grids, wishes, means).layout
    assert [one for one in full.placed if one.space == "b" and one.candidate is None] == []
    loose = (grids[0], make.grid("b", 8, 8))
    assert [one for one in fill(layout, loose, wishes, means).layout.placed if one.candidate is None]


def test_odds_and_ends_lie_in_a_low_tray(make: Make, means: Means) -> None:
    """Beside a row of 72 in a space of 200: 48 high."""
    layout = set_out(make, (0, 0, 4, 4))
    tall = replace(layout, placed=tuple(replace(one, height=72.0) for one in layout.placed))
    odds = odds_of(tall, make.grid("s", 9, 9, height=200.0), means)
    assert odds
    assert odds.height == 48.0


def odds_of(layout: Layout, grid: Grid, means: Means) -> Placed | None:
    """The tray for odds and ends that a space gets."""
    after = fill(layout, (grid,), {grid.space: FillWish(odds=True)}, means).layout
    return next((one for one in after.placed if one.label == ODDS), None)


def test_odds_and_ends_lie_in_front_and_in_line(make: Make, means: Means) -> None:
    """Beside a row of 4 x 4 with four cells left in front, and much more behind: beside it, as deep, as high."""
    layout = set_out(make, (0, 0, 4, 4), (4, 0, 4, 4))
    odds = odds_of(layout, make.grid("s", 12, 10), means)
    assert odds
    assert (odds.col, odds.row, odds.cols, odds.rows, odds.height) == (8, 0, 4, 4, 48.0)


@settings(max_examples=40, deadline=None)
@given(st.integers(2, 12), st.integers(2, 12), st.lists(SIZE, max_size=6))
def test_odds_and_ends_are_of_a_sensible_size(  # noqa: PLR0917 - drawn by Hypothesis
    make: Make, check: Check, means: Means, cols: int, rows: int, sizes: list[tuple[int, int]]
) -> None:
    """Two to four by three to six cells, one a space, and nothing moves for it; none where there is no such spot."""
    grid = make.grid("s", cols, rows)
    asks = tuple(make.ask(f"l{n}", size) for n, size in enumerate(sizes))
    before = laid((grid,), *asks)
    after = fill(before, (grid,), {"s": FillWish(odds=True)}, means).layout
    assert check((grid,), asks, after) == []
    odds = [one for one in after.placed if one.candidate is None]
    assert set(before.placed) == set(after.placed) - set(odds)
    assert len(odds) <= 1
    taken = {(one.col + x, one.row + y) for one in before.placed for x in range(one.cols) for y in range(one.rows)}
    spots = any(
        not taken & {(col + x, row + y) for x in range(wide) for y in range(deep)}
        for wide, deep in ((2, 3), (3, 2))
        for col in range(cols - wide + 1)
        for row in range(rows - deep + 1)
    )
    assert bool(odds) is bool(before.placed and spots)
    for one in odds:
        short, long = sorted((one.cols, one.rows))
        assert 2 <= short <= 4
        assert 3 <= long <= 6


def test_odds_and_ends_need_load_for_what_they_hold(make: Make, means: Means) -> None:
    """A space that carries the tray and not its contents gets none."""
    layout = set_out(make, (0, 0, 4, 4))
    odds = odds_of(layout, make.grid("s", 7, 4), means)
    assert odds
    needed_g = means.mass_g(layout.placed[0]) + means.mass_g(odds) + contents_g(odds, means)
    assert odds_of(layout, make.grid("s", 7, 4, load_g=needed_g + 0.1), means) == odds
    assert odds_of(layout, make.grid("s", 6, 3, load_g=means.mass_g(layout.placed[0]) + 5), means) is None


def test_a_space_without_lots_gets_no_odds_and_ends(make: Make, means: Means) -> None:
    """Unless something stands there already that the layout does not know."""
    grids = (make.grid("s", 4, 4), make.grid("t", 9, 9))
    before = laid(grids, make.ask("a", (4, 4)))
    empty = next(grid.space for grid in grids if not before.in_space(grid.space))
    assert fill(before, grids, {empty: FillWish(odds=True)}, means).layout == before
    assert len(fill(before, grids, {empty: FillWish(odds=True, used=True)}, means).layout.placed) == 2
