"""The annealing in the kernels: what it keeps account of is what is there."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.layout.effort import Effort
from nookwright.layout.problem import LEFT_OUT, cost_parts, problem_of
from nookwright.layout.search.annealer import Annealer
from nookwright.layout.search.prices import Relaxation, raise_bound
from nookwright.layout.search.state import TALLY, cost_of, restore
from nookwright.layout.search.table import table_of
from nookwright.layout.search.work import laid_out

if TYPE_CHECKING:
    from tests.layout.conftest import Make


def annealer(make: Make, *, seed: int, lots: int, load_g: float = 700.0, wide: int = 9) -> Annealer:
    """A room of three spaces, the third with its sides exchanged in the words if it is wide."""
    grids = (
        make.grid("a", 8, 7, blocked=((0, 0),), load_g=load_g),
        make.grid("b", 9, 9, reach=1.0, load_g=load_g),
        make.grid("c", wide, 6, reach=2.0, load_g=load_g, blocked=((wide - 1, 2),)),
    )
    asks = tuple(make.ask(f"l{n}", (2 + n % 3, 3), (2, 2 + n % 2), near=(f"l{n // 3}",)) for n in range(lots))
    problem = problem_of(grids, asks)
    relaxation = Relaxation(table_of(problem))
    return Annealer(problem, relaxation, raise_bound(relaxation), effort=Effort(tries=50), seed=seed)


@settings(max_examples=25, deadline=None)
@given(st.integers(1, 1000), st.integers(1, 26), st.sampled_from([9, 70]), st.sampled_from([400.0, 5000.0]))
def test_accounts_are_right_after_any_moves(make: Make, seed: int, lots: int, wide: int, load_g: float) -> None:
    """Free cells, area, mass and numbers are what a new count on a grid of cells says, and no cell is taken twice."""
    one = annealer(make, seed=seed, lots=lots, wide=wide, load_g=load_g)
    list(one.assign([0.0, 0.5], moves=300))
    one.pack()
    list(one.improve([0.0, 0.5], steps=3000))
    state, table, problem = one.state, one.table, one.problem
    for place, grid in enumerate(problem.grids):
        lots_here = [n for n in range(lots) if state.space[n] == place]
        assert sorted(state.order[place, : state.many[place]]) == lots_here
        taken = np.zeros((80, 64), int)
        for n in lots_here:
            sides = int(table.wide[state.chosen[n]]), int(table.deep[state.chosen[n]])
            cols, rows = sides[::-1] if bool(state.turned[n]) != bool(table.swapped[place]) else sides
            row, col = divmod(int(state.at[n]), 64)
            taken[row : row + rows, col : col + cols] += 1
        for col, row in grid.blocked:
            taken[(col, row) if table.swapped[place] else (row, col)] += 1
        assert taken.max(initial=0) <= 1
        free = [[(int(state.free[place, r]) >> c) & 1 for c in range(64)] for r in range(int(table.height[place]))]
        across = grid.rows if table.swapped[place] else grid.cols
        assert (np.array(free)[:, :across] + taken[: len(free), :across] == 1).all()
        assert not np.array(free)[:, across:].any()
        assert state.area[place] == sum(int(table.area[state.chosen[n]]) for n in lots_here)
        assert state.mass_g[place] == pytest.approx(100.0 * len(lots_here))
        assert state.mass_g[place] <= load_g + 1e-6
    assert one.kept.cost[0] <= cost_of(table, state) + 1e-6


def test_the_same_seed_draws_the_same(make: Make) -> None:
    """Two runs of one seed end alike in every lot; another seed goes another way."""

    def run(seed: int) -> list[int]:
        one = annealer(make, seed=seed, lots=20)
        list(one.assign([0.0, 0.5], moves=500))
        one.pack()
        list(one.improve([0.0, 0.5], steps=2000))
        return [*one.state.chosen, *one.state.space, *one.state.at, int(one.state.rng[0])]

    assert run(3) == run(3)
    assert run(3) != run(4)


def test_what_is_too_heavy_is_left_out_by_packing(make: Make) -> None:
    """Five lots of 100 g in spaces that carry 400 g, all assigned to one: one of them is left out until it is moved."""
    one = annealer(make, seed=1, lots=5, load_g=400.0)
    one.state.order[0, :5], one.state.many[0] = range(5), 5
    one.state.space[:], one.state.chosen[:] = 0, one.table.first[:-1]
    one.pack()
    assert (one.kept.chosen < 0).sum() == 1
    assert not one.complete
    list(one.improve([0.0], steps=2000))
    assert one.complete


@settings(max_examples=25, deadline=None)
@given(st.integers(1, 1000), st.integers(15, 40), st.sampled_from([400.0, 5000.0]))
def test_what_is_kept_is_the_layout_of_its_cost(make: Make, seed: int, lots: int, load_g: float) -> None:
    """Spaces that changed are kept with what is in them: gone back to, the kept layout costs what was said of it."""
    one = annealer(make, seed=seed, lots=lots, load_g=load_g)
    list(one.assign([0.0], moves=300))
    one.pack()
    for _ in range(3):
        list(one.improve([0.0, 0.5], steps=2000))
        restore(one.table, one.state, one.kept)
        assert cost_of(one.table, one.state) == pytest.approx(float(one.kept.cost[0]))
        assert (one.state.area <= one.table.cells).all()


@settings(max_examples=25, deadline=None)
@given(st.integers(1, 1000), st.integers(20, 40))
def test_those_that_wait_are_those_that_are_out(make: Make, seed: int, lots: int) -> None:
    """Whatever came in meanwhile, the lots that are drawn as left out are all that are, each once."""
    one = annealer(make, seed=seed, lots=lots)
    one.pack()
    list(one.improve([0.0], steps=3000))
    waiting = one.state.waiting[: one.state.tally[TALLY.out]]
    assert sorted(waiting) == list(np.flatnonzero(one.state.chosen < 0))


def test_a_large_room_is_searched_with_fewer_tries() -> None:
    """Of more than two hundred lots, many moves with few tries each, and more time."""
    usual = Effort()
    assert usual.for_lots(200) is usual
    large = usual.for_lots(2000)
    assert (large.glimpse, large.patience, large.clock_s) == (20, 500, 1200.0)
    assert Effort(glimpse=5).for_lots(8000).glimpse == 5


def test_a_state_costs_what_its_choices_cost(make: Make) -> None:
    """A state costs what its choices do: own cost, reach, bonds once, spaces in use, lots that are out."""
    one = annealer(make, seed=4, lots=22)
    one.pack()
    list(one.improve([0.0], steps=4000))
    chosen, _ = laid_out(one.problem, one)
    restore(one.table, one.state, one.kept)
    out = sum(LEFT_OUT + one.problem.least_area[n] for n, choice in enumerate(chosen) if choice is None)
    assert cost_of(one.table, one.state) == pytest.approx(sum(cost_parts(one.problem, chosen).values()) + out)
