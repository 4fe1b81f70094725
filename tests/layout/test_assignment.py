"""The assignment against full enumeration, and its bound."""

from __future__ import annotations

from itertools import product
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.ground.errors import LayoutError
from nookwright.layout.assignment import assign
from nookwright.layout.problem import cost_parts, problem_of
from nookwright.layout.programme import Limits

if TYPE_CHECKING:
    from tests.layout.conftest import Make

    from nookwright.layout.problem import Problem

EXACT = Limits(rel_gap=0.0, max_nodes=100_000, clock_s=60.0, seed=1)
SIDE = st.integers(1, 4)
LOT = st.tuples(SIDE, SIDE, SIDE, SIDE, st.integers(0, 5), st.integers(0, 3), st.integers(40, 90))


def least_cost(problem: Problem, room_for: list[float]) -> float:
    """The least cost of placing every lot by area and load, by trying all; infinite where there is none."""
    best = float("inf")
    for chosen in product(*problem.choices):
        for place, grid in enumerate(problem.grids):
            here = [one for one in chosen if one.grid == place]
            if sum(one.area for one in here) > room_for[place] or sum(one.mass_g for one in here) > grid.load_g:
                break
        else:
            best = min(best, sum(cost_parts(problem, chosen).values()))
    return best


@settings(max_examples=60, deadline=None)
@given(st.lists(LOT, min_size=1, max_size=4), st.lists(st.integers(2, 5), min_size=1, max_size=3))
def test_the_assignment_is_the_best_of_all(make: Make, lots: list[tuple[int, ...]], spaces: list[int]) -> None:
    """On rooms small enough to try all: the same least cost, which is also its bound; no answer where there is none."""
    grids = tuple(make.grid(str(n), side, 4, reach=float(n), load_g=150.0) for n, side in enumerate(spaces))
    asks = tuple(
        make.ask(str(n), (a, b), (c, d), use=float(use), near=(str(near),))
        for n, (a, b, c, d, use, near, _) in enumerate(lots)
    )
    problem = problem_of(grids, asks)
    room_for = [float(cells) for cells in problem.cells]
    best = least_cost(problem, room_for) if all(problem.choices) else float("inf")
    if best == float("inf"):
        answer = assign(problem, room_for=room_for, slack=True, limits=EXACT)
        assert None in answer.chosen
        return
    answer = assign(problem, room_for=room_for, slack=False, limits=EXACT)
    assert sum(cost_parts(problem, answer.chosen).values()) == pytest.approx(best)
    assert answer.bound == pytest.approx(best)
    assert answer.proven
    assert assign(problem, room_for=room_for, slack=True, limits=EXACT).chosen.count(None) == 0


def test_without_slack_a_room_too_small_is_an_error(make: Make) -> None:
    """Lots of 6 and 4 cells do not go into one space of 9."""
    problem = problem_of((make.grid("s", 3, 3),), (make.ask("a", (3, 2)), make.ask("b", (2, 2))))
    with pytest.raises(LayoutError, match="Infeasible"):
        assign(problem, room_for=[9.0], slack=False, limits=EXACT)


def test_what_belongs_together_stays_together(make: Make) -> None:
    """Of three lots one has the handy space to itself; it is not the most used one, which belongs to another."""
    grids = (make.grid("handy", 3, 3), make.grid("far", 6, 3, reach=1.0))
    asks = (make.ask("a", (3, 3), near=("b",)), make.ask("b", (3, 3), use=5.0), make.ask("c", (3, 3)))
    chosen = assign(problem_of(grids, asks), room_for=[9.0, 18.0], slack=False, limits=EXACT).chosen
    assert [choice and choice.grid for choice in chosen] == [1, 1, 0]


def test_a_lot_without_a_choice_is_left_out(make: Make) -> None:
    """It makes no row, so the others are assigned all the same."""
    problem = problem_of((make.grid("s", 3, 3),), (make.ask("large", (4, 4)), make.ask("b", (3, 3))))
    chosen = assign(problem, room_for=[9.0], slack=False, limits=EXACT).chosen
    assert chosen[0] is None
    assert chosen[1] is not None


def test_the_solver_prints_nothing(make: Make, capfd: pytest.CaptureFixture[str]) -> None:
    """Output on stdout would spoil what is read by machines."""
    problem = problem_of((make.grid("s", 3, 3),), (make.ask("a", (3, 3)),))
    assign(problem, room_for=[9.0], slack=True, limits=EXACT)
    assert capfd.readouterr() == ("", "")
