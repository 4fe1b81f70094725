"""One open bay behind a fence: as large as the free cells allow, nothing in it, nothing lost for it."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.layout.filling import Filled, FillWish, Means, fill
from nookwright.layout.filling.bay import Bay, bay_of
from nookwright.layout.filling.said import about_filling
from nookwright.layout.filling.spots import Box, box_of, floor_of
from nookwright.layout.liner_model import Side
from nookwright.layout.model import FenceForm, Layout, Placed
from nookwright.module.choice import TYPICAL_DENSITY_G_CM3
from nookwright.module.pattern import Pattern, has_cone
from nookwright.parts.liner.fence import fence
from nookwright.parts.placing import fence_spec
from nookwright.survey.models import FloorStyle, Rest

if TYPE_CHECKING:
    from tests.layout.conftest import Make

    from nookwright.layout.model import Grid
    from nookwright.module.module import Module

CELL = st.tuples(st.integers(0, 11), st.integers(0, 11))
BOX = st.builds(Box, st.integers(0, 10), st.integers(0, 10), st.integers(1, 5), st.integers(1, 5))


@pytest.fixture(scope="session")
def means(module: Module) -> Means:
    """Shell floors, a bed for eight cells."""
    return Means(module, FloorStyle.SHELL, (8, 8))


def standing(make: Make, *boxes: Box) -> list[Placed]:
    """Trays in these cells."""
    return [
        Placed("s", *box, turned=False, candidate=make.candidate(f"l{n}", box.cols, box.rows), height=48.0)
        for n, box in enumerate(boxes)
    ]


def bay_in(grid: Grid, here: list[Placed], means: Means) -> Bay:
    """The bay of a space that has one."""
    bay = bay_of(grid, here, means)
    assert bay
    return bay


def cells(box: Box) -> set[tuple[int, int]]:
    """The cells of a box."""
    return {(box.col + x, box.row + y) for x in range(box.cols) for y in range(box.rows)}


def test_behind_a_row_the_bay_takes_all_that_is_left(make: Make, means: Means) -> None:
    """A row of 4 in 10 x 10: one fence of ten cells in two pieces behind it, its wall to the trays."""
    bay = bay_in(make.grid("s", 10, 10), standing(make, Box(0, 0, 5, 4), Box(5, 0, 5, 4)), means)
    assert bay.inside == Box(0, 5, 10, 5)
    assert [box_of(one) for one in bay.fences] == [Box(0, 4, 5, 1), Box(5, 4, 5, 1)]
    assert {one.fence.wall for one in bay.fences if one.fence} == {Side.FRONT}


def test_what_lies_apart_is_moved_together_row_by_row(make: Make, means: Means) -> None:
    """Two rows with a gap of two between them: the second moves up as a whole, and the bay is the larger for it."""
    here = standing(make, Box(0, 0, 6, 3), Box(6, 0, 4, 3), Box(0, 5, 4, 3), Box(4, 5, 6, 3))
    bay = bay_in(make.grid("s", 10, 12), here, means)
    assert [box_of(one) for one in bay.parts][2:] == [Box(0, 3, 4, 3), Box(4, 3, 6, 3)]
    assert bay.inside == Box(0, 7, 10, 5)


def test_a_row_moves_only_as_far_as_all_of_it_can(make: Make, means: Means) -> None:
    """Before one of two parts something is pinned: neither moves, so that they stay in line."""
    here = standing(make, Box(0, 0, 5, 3), Box(0, 3, 5, 3), Box(5, 3, 5, 3))
    here[0] = replace(here[0], pinned=True)
    bay = bay_in(make.grid("s", 10, 12), here, means)
    assert [box_of(one) for one in bay.parts] == [box_of(one) for one in here]


def test_what_is_pinned_does_not_move_for_a_bay(make: Make, means: Means) -> None:
    """The second row is pinned; what is behind it becomes the bay."""
    here = [replace(one, pinned=True) for one in standing(make, Box(0, 2, 10, 3))]
    bay = bay_in(make.grid("s", 10, 12), here, means)
    assert [box_of(one) for one in bay.parts] == [Box(0, 2, 10, 3)]
    assert bay.inside == Box(0, 6, 10, 6)


def test_a_corner_bay_has_two_fences(make: Make, means: Means) -> None:
    """Pinned trays at the left and in front: the fence across takes the corner, the other one ends at it."""
    here = [replace(one, pinned=True) for one in standing(make, Box(0, 0, 10, 3), Box(0, 3, 3, 7))]
    bay = bay_in(make.grid("s", 10, 10), here, means)
    walls = {one.fence.wall: box_of(one) for one in bay.fences if one.fence}
    assert walls == {Side.FRONT: Box(3, 3, 7, 1), Side.LEFT: Box(3, 4, 1, 6)}
    assert bay.inside == Box(4, 4, 6, 6)


def test_no_fence_stands_along_what_is_blocked(make: Make, means: Means) -> None:
    """A pipe along the whole back edge holds things as a wall does."""
    grid = make.grid("s", 10, 10, blocked=tuple((col, 9) for col in range(10)))
    bay = bay_in(grid, standing(make, Box(0, 0, 10, 4)), means)
    assert {one.fence.wall for one in bay.fences if one.fence} == {Side.FRONT}
    assert bay.inside == Box(0, 5, 10, 4)


def test_a_bay_that_is_too_small_is_none_and_is_named(make: Make, means: Means) -> None:
    """Three rows free leave two behind a fence."""
    grid, here = make.grid("s", 10, 7), standing(make, Box(0, 0, 10, 4))
    assert bay_of(grid, here, means) is None
    layout = Layout(tuple(here), (), (), 0.0, 0.0, proven=True, by_clock=False, seed=1, iterations=0)
    filling = fill(layout, (grid,), {"s": FillWish(Rest.FENCED)}, means)
    assert (filling.layout, filling.without_bay) == (layout, ("s",))


def test_a_fence_that_would_stand_on_one_cone_is_left_out(make: Make, means: Means) -> None:
    """Cones in every second cell: three cells from an odd one on meet one, and nothing is behind them."""
    grid = replace(make.grid("s", 14, 8, blocked=tuple((c, r) for c in (12, 13) for r in (6, 7))), smallest=(2, 2))
    here = [replace(one, pinned=True) for one in standing(make, Box(0, 0, 14, 4))]
    bay = bay_of(grid, here, means)
    fences = [] if bay is None else [box_of(one) for one in bay.fences]
    assert all(sum(has_cone(*cell, Pattern.EVERY_SECOND) for cell in cells(box)) > 1 for box in fences)


@pytest.mark.parametrize("smallest", [(1, 1), (1, 2), (2, 2)])
@given(st.tuples(st.integers(6, 12), st.integers(6, 12)), st.sets(CELL, max_size=8))
@settings(deadline=None, max_examples=60)
def test_no_run_of_fences_ever_stands_on_one_cone(
    make: Make, means: Means, smallest: tuple[int, int], size: tuple[int, int], blocked: set[tuple[int, int]]
) -> None:
    """Whatever is in the way: the fences along a side, joined, have two cones and more."""
    pattern = {(1, 1): Pattern.EVERY_CELL, (1, 2): Pattern.CHESSBOARD, (2, 2): Pattern.EVERY_SECOND}[smallest]
    inside = tuple(sorted((c, r) for c, r in blocked if c < size[0] and r < size[1]))
    bay = bay_of(replace(make.grid("s", *size, blocked=inside), smallest=smallest), [], means)
    under: dict[Side, int] = {}
    for one in bay.fences if bay else ():
        if one.fence:
            met = sum(has_cone(*cell, pattern) for cell in cells(box_of(one)))
            under[one.fence.wall] = under.get(one.fence.wall, 0) + met
    assert all(met > 1 for met in under.values())


def test_a_liner_in_strips_gets_no_bay_and_it_is_said(make: Make, means: Means) -> None:
    """The same rows with cones all over have their fence."""
    grid, here = make.grid("s", 10, 10), standing(make, Box(0, 0, 10, 4))
    layout = Layout(tuple(here), (), (), 0.0, 0.0, proven=True, by_clock=False, seed=1, iterations=0)
    wishes = {"s": FillWish(Rest.FENCED)}
    filling = fill(layout, (replace(grid, coned=False),), wishes, means)
    assert (filling.layout, filling.without_cones, filling.without_bay) == (layout, ("s",), ())
    (said,) = about_filling(filling, means.module)
    assert (said.code, said.subject) == ("no-bay", "s")
    assert fill(layout, (grid,), wishes, means).prices


def test_fences_are_priced_and_named(make: Make, means: Means) -> None:
    """Ten cells of fence in two pieces."""
    grid, here = make.grid("s", 10, 10), standing(make, Box(0, 0, 10, 4))
    layout = Layout(tuple(here), (), (), 0.0, 0.0, proven=True, by_clock=False, seed=1, iterations=0)
    filling = fill(layout, (grid,), {"s": FillWish(Rest.FENCED)}, means)
    (price,) = filling.prices
    assert (price.what, price.parts, price.cells) == (Filled.FENCED, 2, 10)
    assert price.mass_g == pytest.approx(sum(means.fence_g(5, 30.0) for _ in range(2)))


def test_a_fence_is_as_high_as_the_lowest_rim_within_its_limits(make: Make, means: Means) -> None:
    """24 beside a tray of 24; 30 beside one of 48, since more is only plastic; 12 at least."""
    for rim, height in ((24.0, 24.0), (48.0, 30.0), (6.0, 12.0)):
        here = [replace(one, height=rim) for one in standing(make, Box(0, 0, 10, 4))]
        assert {one.height for one in bay_in(make.grid("s", 10, 10), here, means).fences} == {height}


def test_a_space_that_does_not_carry_the_fences_gets_none(make: Make, means: Means) -> None:
    """Loaded to a gram."""
    here = standing(make, Box(0, 0, 10, 4))
    assert bay_of(make.grid("s", 10, 10, load_g=means.mass_g(here[0]) + 1), here, means) is None


@pytest.mark.parametrize("row", [3, 4])
def test_fences_stand_on_cones_where_only_every_second_row_has_them(make: Make, means: Means, row: int) -> None:
    """Behind rows of either parity; the bay is drawn in by a row where it must be."""
    grid = make.grid("s", 10, 12, smallest=(2, 2))
    bay = bay_in(grid, [replace(one, pinned=True) for one in standing(make, Box(0, 0, 10, row))], means)
    for one in bay.fences:
        met = sum(has_cone(col, r, Pattern.EVERY_SECOND) for col, r in cells(box_of(one)))
        assert met >= 1


def test_a_fence_along_the_left_stands_on_cones_too(make: Make, means: Means) -> None:
    """Beside three pinned columns the fence keeps a column off, since only even ones have cones."""
    here = [replace(one, pinned=True) for one in standing(make, Box(0, 0, 3, 10))]
    bay = bay_in(make.grid("s", 12, 10, smallest=(2, 2)), here, means)
    assert {one.col for one in bay.fences} == {4}


@settings(max_examples=80, deadline=None)
@given(st.integers(3, 12), st.integers(3, 12), st.sets(CELL, max_size=6), st.lists(BOX, max_size=6))
def test_a_bay_keeps_every_promise(  # noqa: PLR0917 - drawn by Hypothesis
    make: Make, means: Means, cols: int, rows: int, blocked: set[tuple[int, int]], boxes: list[Box]
) -> None:
    """Parts keep size, rows and number; fences and parts never overlap; nothing lies within; twice the same."""
    grid = make.grid("s", cols, rows, blocked=tuple(sorted(blocked)))
    here: list[Placed] = []
    for one in standing(make, *boxes):
        if box_of(one) in floor_of(grid, here):
            here.append(one)
    bay = bay_of(grid, here, means)
    assert bay_of(grid, here, means) == bay
    if bay is None:
        return
    assert [(one.candidate, one.cols, one.rows) for one in bay.parts] == [(o.candidate, o.cols, o.rows) for o in here]
    taken = [cells(box_of(one)) for one in (*bay.parts, *bay.fences)]
    everywhere = {(col, row) for col in range(cols) for row in range(rows)} - blocked
    assert sum(len(some) for some in taken) == len(set().union(*taken))
    assert set().union(*taken) <= everywhere
    assert cells(bay.inside) <= everywhere - set().union(*taken)
    assert min(bay.inside.cols, bay.inside.rows) >= 3
    for some, other in zip(here, bay.parts, strict=True):
        for one, two in zip(here, bay.parts, strict=True):
            assert some.row != one.row or other.row == two.row or other.col == two.col
    ring = {(c + x, r + y) for c, r in cells(bay.inside) for x, y in ((1, 0), (-1, 0), (0, 1), (0, -1))}
    fenced = set().union(*(cells(box_of(one)) for one in bay.fences))
    assert ring - cells(bay.inside) <= fenced | blocked | (ring - everywhere)


@pytest.mark.parametrize("cells_long", [2, 3, 8, 14])
@pytest.mark.parametrize("rises", [2, 5])
def test_the_closed_form_of_a_fence_is_near_the_part(means: Means, cells_long: int, rises: int) -> None:
    """Never below what the part's own closed form says, and above it by half a gram at most: its corners are round."""
    module = means.module
    placed = Placed(
        "s", 0, 0, cells_long, 1, turned=False, candidate=None, height=rises * module.rise, fence=FenceForm(Side.BACK)
    )
    exact = fence(module, fence_spec(placed)).plastic.mass_g(TYPICAL_DENSITY_G_CM3)
    assert exact <= means.mass_g(placed) <= exact + 0.5
