"""Annealing on a packed draft."""

# ruff: noqa: S311 - random choices are seeded here so that they repeat

from __future__ import annotations

import math
from random import Random
from typing import TYPE_CHECKING

from nookwright.layout import improve
from nookwright.layout.draft import Draft
from nookwright.layout.improve import Improver
from nookwright.layout.model import OPEN
from nookwright.layout.problem import problem_of

if TYPE_CHECKING:
    import pytest
    from tests.layout.conftest import Make


def test_a_poor_start_becomes_the_best(make: Make) -> None:
    """From the dearer footprints and one lot in a far space to one handy space, whose cost is one opening."""
    grids = (make.grid("handy", 9, 7), make.grid("far", 9, 7, reach=5.0))
    asks = tuple(make.ask(str(n), (3, 3), (2, 4)) for n in range(6))
    draft = Draft(problem_of(grids, asks), Random(1))
    handy = [choices[1] for choices in draft.problem.choices[:5]]
    draft.take([*handy, draft.problem.choices[5][2]], tries=100)
    assert draft.cost() == 2 * OPEN + 5 * 1 + 5
    Improver(draft, Random(1), tries=20).run(5000, deadline=math.inf)
    assert draft.cost() == OPEN


def test_it_never_ends_worse_than_it_began(make: Make, monkeypatch: pytest.MonkeyPatch) -> None:
    """However hot, so that nearly any move is accepted, the best draft seen is the one that it ends on."""
    monkeypatch.setattr(improve, "HOT", 500.0)
    monkeypatch.setattr(improve, "COLD", 400.0)
    grids = (make.grid("a", 6, 6), make.grid("b", 6, 6, reach=1.0))
    asks = tuple(make.ask(str(n), (3, 2), (2, 2), near=("0",)) for n in range(4))
    for seed in range(5):
        draft = Draft(problem_of(grids, asks), Random(seed))
        draft.take([choices[0] for choices in draft.problem.choices], tries=100)
        before = draft.cost()
        Improver(draft, Random(seed), tries=5).run(50, deadline=math.inf)
        assert draft.cost() <= before


def test_lots_left_out_are_brought_in(make: Make) -> None:
    """From an empty draft, all eight lots find their place, and the run stops when they have."""
    asks = tuple(make.ask(str(n), (3, 3), (2, 3)) for n in range(8))
    draft = Draft(problem_of((make.grid("s", 8, 7),), asks), Random(1))
    run = Improver(draft, Random(1), tries=20).run(20_000, deadline=math.inf, stop_when_complete=True)
    assert None not in draft.chosen
    assert run.moves < 20_000


def test_the_clock_stops_it(make: Make) -> None:
    """A deadline that has passed: no move is made, and it says so."""
    draft = Draft(problem_of((make.grid("s", 8, 7),), (make.ask("a", (2, 2)),)), Random(1))
    run = Improver(draft, Random(1), tries=20).run(100, deadline=0.0)
    assert (run.moves, run.by_clock) == (0, True)
