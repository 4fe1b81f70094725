"""Better places for the same parts: none is lost, none changes, and the cost never rises."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from typing import TYPE_CHECKING

from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.layout.calm.judging import judge_of
from nookwright.layout.model import Placed
from nookwright.layout.packing import pack
from nookwright.layout.positions import packed, settled

if TYPE_CHECKING:
    from tests.layout.conftest import Make

    from nookwright.module.module import Module

CELL = st.tuples(st.integers(0, 8), st.integers(0, 8))
PART = st.tuples(st.integers(1, 5), st.integers(1, 5), st.booleans())


@settings(max_examples=80, deadline=None)
@given(st.lists(PART, min_size=1, max_size=8), st.sets(CELL, max_size=4))
def test_the_same_parts_lie_apart_and_cost_no_more(
    make: Make, module: Module, parts: list[tuple[int, int, bool]], blocked: set[tuple[int, int]]
) -> None:
    """Seen cell by cell; parts with a front are not turned."""
    grid = make.grid("s", 9, 9, blocked=tuple(sorted(blocked)), drawer=True)
    asks = [make.ask(f"l{n}", (cols, rows)) for n, (cols, rows, _) in enumerate(parts)]
    packing = pack(9, 9, grid.blocked, [(c, r) for c, r, _ in parts], tries=50, seed=1, turn=False)
    here = [
        Placed("s", spot.col, spot.row, cols, rows, turned=False, candidate=candidate, height=48.0)
        for n, ((cols, rows, front), spot) in enumerate(zip(parts, packing.spots, strict=True))
        if spot and (candidate := replace(asks[n].candidates[0], may_turn=not front))
    ]
    judge = judge_of(asks, module)
    found = settled(grid, here, judge, seed=1)
    covered = Counter((p.col + i, p.row + j) for p in found for i in range(p.cols) for j in range(p.rows))
    assert set(covered.values()) <= {1}
    assert all(0 <= col < 9 and 0 <= row < 9 for col, row in covered)
    assert not set(covered) & blocked
    assert sorted(str(p.candidate) for p in found) == sorted(str(p.candidate) for p in here)
    for one in found:
        own = one.candidate
        assert own is not None
        assert (one.cols, one.rows) == ((own.rows, own.cols) if one.turned else (own.cols, own.rows))
        assert own.may_turn or not one.turned
    assert judge.cost(grid, found) <= judge.cost(grid, here) + 1e-9
    assert settled(grid, here, judge, seed=1) == found


def test_what_is_used_daily_comes_to_the_front(make: Make, module: Module) -> None:
    """Two trays of one footprint change places."""
    asks = [replace(make.ask("rarely", (4, 4)), use=0.2), replace(make.ask("daily", (4, 4)), use=3.0)]
    here = [
        Placed("s", 0, 4 * n, 4, 4, turned=False, candidate=a.candidates[0], height=48.0) for n, a in enumerate(asks)
    ]
    found = settled(make.grid("s", 4, 8), here, judge_of(asks, module), seed=1)
    assert [p.candidate.lot for p in found if p.candidate] == ["daily", "rarely"]


def test_a_stack_stays_as_it_is(make: Make, module: Module) -> None:
    """What stands on another part would have to move with it."""
    ask = make.ask("a", (2, 2))
    low = Placed("s", 3, 3, 2, 2, turned=False, candidate=ask.candidates[0], height=48.0)
    here = (low, replace(low, level=1, raised=50.0))
    assert settled(make.grid("s", 9, 9), here, judge_of([ask], module), seed=1) == here


def test_parts_are_packed_or_refused(make: Make) -> None:
    """Five round each other fill 5 x 5; not with one more, and not beyond the load."""
    sizes = [(3, 2), (2, 3), (3, 2), (2, 3), (1, 1)]
    parts = [make.candidate(f"l{n}", *size) for n, size in enumerate(sizes)]
    grid = make.grid("s", 5, 5)
    found = packed(grid, parts, seed=1)
    assert found is not None
    assert sum(p.cols * p.rows for p in found) == 25
    assert packed(grid, [*parts, make.candidate("x", 1, 1)], seed=1) is None
    assert packed(replace(grid, load_g=499.0), parts, seed=1) is None
