"""What becomes of free cells: nothing ever overlaps, cradles and lots stay as they are, spare trays match the room."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.layout.filling import fill
from nookwright.layout.model import Placed
from nookwright.layout.place import Effort, lay_out
from nookwright.sizing.ways import PartKind
from nookwright.survey.models import Rest

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from tests.layout.conftest import Make

    from nookwright.layout.model import Ask, Grid, Layout

    Check = Callable[[Sequence[Grid], Sequence[Ask], Layout], list[str]]

QUICK = Effort(tries=100, moves=100, rounds=1)
CELL = st.tuples(st.integers(0, 9), st.integers(0, 9))
SIZE = st.tuples(st.integers(1, 5), st.integers(1, 5))


def laid(grids: tuple[Grid, ...], *asks: Ask) -> Layout:
    """A layout of a few lots."""
    return lay_out(grids, asks, pitch=18.0, effort=QUICK)


@settings(max_examples=60, deadline=None)
@given(
    st.integers(2, 10),
    st.integers(2, 10),
    st.sets(CELL, max_size=8),
    st.lists(SIZE, max_size=6),
    st.sampled_from(Rest),
    st.integers(2, 7),
)
def test_filling_keeps_every_promise(  # noqa: PLR0917 - drawn by Hypothesis
    make: Make,
    check: Check,
    cols: int,
    rows: int,
    blocked: set[tuple[int, int]],
    sizes: list[tuple[int, int]],
    rest: Rest,
    longest: int,
) -> None:
    """Valid after as before; a tray grows to at most one and a half of each side, and not beyond one print."""
    grids = (make.grid("s", cols, rows, blocked=tuple(sorted(blocked))),)
    asks = tuple(make.ask(f"l{n}", size) for n, size in enumerate(sizes))
    before = laid(grids, *asks)
    after = fill(before, grids, {"s": rest}, largest=(longest, longest))
    assert check(grids, asks, after) == []
    old = {one.candidate.lot: one for one in before.placed if one.candidate}
    new = {one.candidate.lot: one for one in after.placed if one.candidate}
    assert old.keys() == new.keys()
    for lot, was in old.items():
        now = new[lot]
        assert now == was or rest is Rest.GROW
        assert now.cols <= max(was.cols * 1.5, was.cols)
        assert now.rows <= was.rows * 1.5
        assert max(now.cols, now.rows) <= max(longest, was.cols, was.rows)
        assert (now.col, now.row) <= (was.col, now.row)
        assert now.height == was.height
    assert fill(before, grids, {"s": rest}, largest=(longest, longest)) == after


def test_trays_grow_into_the_whole_of_a_small_rest(make: Make) -> None:
    """Two 4 x 4 trays in 10 x 4 cells share the two columns that are left."""
    grids = (make.grid("s", 10, 4),)
    after = fill(laid(grids, make.ask("a", (4, 4)), make.ask("b", (4, 4))), grids, {"s": Rest.GROW})
    assert sum(one.cols * one.rows for one in after.placed) == 40
    assert {one.rows for one in after.placed} == {4}


def test_a_cradle_does_not_grow(make: Make) -> None:
    """It is made to its things."""
    grids = (make.grid("s", 6, 4),)
    ask = replace(make.ask("jars"), candidates=(make.candidate("jars", 4, 4, kind=PartKind.CRADLE),))
    before = laid(grids, ask)
    assert fill(before, grids, {"s": Rest.GROW}) == before


def test_growing_stops_at_one_print(make: Make) -> None:
    """With 5 x 4 cells printable, a 4 x 4 tray in 9 x 9 becomes 5 x 4 and no more."""
    grids = (make.grid("s", 9, 9),)
    (one,) = fill(laid(grids, make.ask("a", (4, 4))), grids, {"s": Rest.GROW}, largest=(4, 5)).placed
    assert sorted((one.cols, one.rows)) == [4, 5]


def test_spare_trays_take_the_commonest_footprints(make: Make) -> None:
    """Three 3 x 2 trays and one 4 x 4 beside free cells: all spare trays are of these sizes, and of their height."""
    grids = (make.grid("s", 12, 8), make.grid("low", 6, 4, height=40.0))
    asks = (*(make.ask(f"l{n}", (3, 2)) for n in range(3)), make.ask("large", (4, 4)))
    after = fill(laid(grids, *asks), grids, {"s": Rest.SPARE, "low": Rest.SPARE})
    spare = [one for one in after.placed if one.candidate is None]
    assert {tuple(sorted((one.cols, one.rows))) for one in spare} == {(2, 3), (4, 4)}
    assert {(one.space, one.height) for one in spare} == {("s", 48.0)}, "the low space takes no tray of this height"
    assert all(one.turned == (one.cols < one.rows) for one in spare)


def test_spare_trays_are_no_smaller_than_asked(make: Make) -> None:
    """A strip of one cell stays open, though a tray of that width is in the room."""
    grids = (make.grid("s", 5, 1),)
    after = fill(laid(grids, make.ask("pen", (2, 1))), grids, {"s": Rest.SPARE}, smallest=(2, 2))
    assert len(after.placed) == 1


def test_open_cells_stay_open(make: Make) -> None:
    """With no wish for a space, or the wish to leave it open, the layout is the same object's equal."""
    grids = (make.grid("s", 9, 9), make.grid("t", 9, 9))
    before = laid(grids, make.ask("a", (4, 4)))
    assert fill(before, grids, {"s": Rest.OPEN}) == before


def test_a_space_without_a_floor_gets_no_spare_trays(make: Make) -> None:
    """Nothing is put under a shelf."""
    grids = (make.grid("s", 4, 4), make.grid("under", 9, 9, fill=False))
    before = laid(grids, make.ask("a", (4, 4)))
    assert fill(before, grids, {"under": Rest.SPARE}) == before


def test_a_spare_tray_may_grow(make: Make) -> None:
    """Filled with spare trays first and grown later, a spare tray keeps having no candidate."""
    grids = (make.grid("s", 5, 4),)
    before = laid(grids)
    spare = replace(before, placed=(Placed("s", 0, 0, 4, 4, turned=False, candidate=None, height=48.0),))
    (one,) = fill(spare, grids, {"s": Rest.GROW}).placed
    assert (one.cols, one.rows, one.candidate) == (5, 4, None)


def test_spare_trays_are_no_smaller_than_the_cones_hold(make: Make) -> None:
    """In a space for 2 x 3 and more the commonest 2 x 2 of the room is not repeated."""
    grids = (make.grid("a", 4, 4), make.grid("b", 8, 8, smallest=(2, 3)))
    layout = laid(grids, make.ask("dice", (2, 2)))
    full = fill(layout, grids, {"b": Rest.SPARE})
    assert [one for one in full.placed if one.space == "b" and one.candidate is None] == []
    loose = (grids[0], make.grid("b", 8, 8))
    assert [one for one in fill(layout, loose, {"b": Rest.SPARE}).placed if one.candidate is None]
