"""The arrays of what may be where say the same as the rules asked one by one, for any spaces and candidates."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.layout.bits import free_cells
from nookwright.layout.possible import possible_of
from nookwright.layout.problem import problem_of
from nookwright.layout.rules import allowed, no_worse

if TYPE_CHECKING:
    from tests.layout.conftest import Make

    from nookwright.layout.model import Ask, Candidate, Grid

FLAGS = st.sampled_from([False, False, False, True])
SPACE = st.fixed_dictionaries(
    {
        "cols": st.integers(2, 6),
        "rows": st.integers(3, 6),
        "blocked": st.sets(st.tuples(st.integers(0, 5), st.integers(0, 5)), max_size=3),
        "height": st.sampled_from([40.0, 60.0]),
        "load_g": st.sampled_from([90.0, 200.0, 200.0]),
        "reach": st.sampled_from([0.0, 2.0]),
        "children": FLAGS,
        "warm": FLAGS,
        "wet": FLAGS,
        "fill": st.sampled_from([True, True, True, False]),
        "smallest": st.sampled_from([(1, 1), (1, 2), (2, 2)]),
        "opening": st.sampled_from([None, None, (50.0, 60.0), (90.0, 45.0)]),
    }
)
PART = st.tuples(
    st.integers(1, 4),
    st.integers(1, 4),
    st.fixed_dictionaries(
        {
            "tall": st.sampled_from([40.0, 55.0]),
            "mass_g": st.sampled_from([80.0, 100.0]),
            "cost": st.sampled_from([0.0, 1.0]),
            "may_turn": FLAGS,
            "size": st.sampled_from([(30.0, 80.0), (55.0, 55.0)]),
        }
    ),
)
LOT = st.tuples(
    st.lists(PART, min_size=1, max_size=4), FLAGS, FLAGS, FLAGS, st.sampled_from([(), (), ("s0",), ("s1", "s2")])
)


def room(make: Make, spaces: list[dict[str, object]], lots: list[tuple[object, ...]]) -> tuple[list[Grid], list[Ask]]:
    """Spaces and lots as they were drawn."""
    grids = []
    for number, space in enumerate(spaces):
        cols, rows = int(space["cols"]), int(space["rows"])  # type: ignore[call-overload]
        blocked = tuple(sorted(cell for cell in space["blocked"] if cell[0] < cols and cell[1] < rows))  # type: ignore[attr-defined]
        others = {name: value for name, value in space.items() if name not in {"cols", "rows"}} | {"blocked": blocked}
        grids.append(make.grid(f"s{number}", cols, rows, **others))
    asks = []
    for number, (parts, children, cool, dry, homes) in enumerate(lots):
        candidates = tuple(make.candidate(f"l{number}", cols, rows, **others) for cols, rows, others in parts)  # type: ignore[attr-defined]
        ask = replace(make.ask(f"l{number}"), candidates=candidates, use=2.0, leaning=(("s1", 1.5), ("gone", 9.0)))
        asks.append(replace(ask, out_of_reach=children, cool=cool, dry=dry, spaces=homes))  # type: ignore[arg-type]
    return grids, asks


@settings(max_examples=150, deadline=None)
@given(st.lists(SPACE, min_size=2, max_size=4), st.lists(LOT, min_size=1, max_size=3))
def test_all_at_once_says_what_one_by_one_says(
    make: Make, spaces: list[dict[str, object]], lots: list[tuple[object, ...]]
) -> None:
    """A candidate may be in a space exactly if the rules allow it and none that is allowed there beats it."""
    grids, asks = room(make, spaces, lots)
    free = [free_cells(grid.cols, grid.rows, grid.blocked) for grid in grids]
    possible, choices = possible_of(grids, asks, free), problem_of(grids, asks).choices
    for lot, ask in enumerate(asks):
        for place, grid in enumerate(grids):
            here = [one for one in ask.candidates if allowed(ask, one, grid, free[place])]
            kept = [ask.candidates[own] for own, ok in enumerate(possible.ok[possible.rows(lot), place].tolist()) if ok]
            assert all(one in here for one in kept)
            assert all(any(no_worse(better, one) for better in kept) for one in here)
            assert not any(beats(one, other) for one in here for other in kept)
            mine = [choice for choice in choices[lot] if choice.grid == place]
            assert sorted(map(repr, kept)) == sorted(repr(choice.candidate) for choice in mine)
            assert [choice.cost for choice in mine] == sorted(choice.cost for choice in mine)
            more = 2.0 * grid.reach + (1.5 if grid.space == "s1" else 0.0)
            assert all(choice.cost == pytest.approx(choice.candidate.cost + more) for choice in mine)


def beats(one: Candidate, other: Candidate) -> bool:
    """Whether one is no worse, and the other not as good."""
    return no_worse(one, other) and not no_worse(other, one)


def test_choices_are_made_when_they_are_asked_for(make: Make) -> None:
    """Of a hundred lots only those asked for have choices made; asked again, they are the same."""
    problem = problem_of((make.grid("s", 9, 9),), tuple(make.ask(f"l{n}", (2, 2), (1, 2)) for n in range(100)))
    assert problem.columns == 200
    assert problem.choices[7] is problem.choices[7]
    assert len(problem.choices._made) == 1
    assert problem.choices[-1][0].ask == 99
    assert [len(some) for some in problem.choices[3:5]] == [2, 2]
    assert len(problem.choices) == 100


def test_lots_that_take_no_part_are_nowhere(make: Make) -> None:
    """Without the first lot, all else stays as it was; and what a lot may least take and cost is its best choice's."""
    grids = (make.grid("a", 4, 4, reach=3.0), make.grid("b", 9, 9, reach=5.0))
    problem = problem_of(grids, (make.ask("x", (2, 2)), make.ask("y", (6, 6), (5, 5)), make.ask("z", (10, 10))))
    assert problem.can == (True, True, False)
    assert problem.least_area == (4, 25, 0)
    assert problem.least_cost == (3.0, 5.0, np.inf)
    left = problem.only([False, True, True])
    assert left.can == (False, True, False)
    assert left.choices[1] == problem.choices[1]
    assert left.choices[0] == ()
