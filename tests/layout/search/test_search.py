"""The search of a whole room: never beaten by trying everything, no bound above it, stopped at any time."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.layout.place import Effort, lay_out, search

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from tests.layout.conftest import Make

    from nookwright.layout.model import Ask, Grid, Layout

    Check = Callable[[Sequence[Grid], Sequence[Ask], Layout], list[str]]
    Where = dict[str, tuple[str, float]]

QUICK = Effort(tries=200, moves=2000, rounds=1)
SIDES = st.tuples(st.integers(1, 4), st.integers(1, 3))
LOT = st.tuples(SIDES, SIDES, st.integers(0, 4), st.integers(0, 3), st.booleans())
SPACE = st.tuples(st.integers(2, 4), st.integers(2, 4), st.sampled_from([150.0, 1000.0]), st.integers(0, 9))


def cost(layout: Layout) -> float:
    """The sum of its parts."""
    return sum(part.value for part in layout.cost)


def cheapest(  # noqa: C901 - one loop for each thing that can be chosen
    grids: Sequence[Grid], asks: Sequence[Ask]
) -> float | None:
    """The cost of the cheapest layout with every lot, by trying every place of every candidate; ``None`` if none."""
    best: list[float] = []

    def split(where: Where) -> float:
        pairs = {frozenset((ask.lot, other)): cost for ask in asks for other, cost in ask.bonds if other != ask.lot}
        return sum(
            cost
            for (one, other), cost in ((sorted(pair), cost) for pair, cost in pairs.items())
            if one in where and other in where and where[one][0] != where[other][0]
        )

    def go(number: int, taken: set[tuple[str, int, int]], where: Where, load: dict[str, float], so_far: float) -> None:
        if best and so_far >= best[0]:
            return
        if number == len(asks):
            total = so_far + split(where) + sum(grid.open_cost for grid in grids if load[grid.space])
            best[:] = [min([total, *best])]
            return
        ask = asks[number]
        for grid in grids:
            for one in ask.candidates:
                if load[grid.space] + one.mass_g > grid.load_g:
                    continue
                sizes = {(one.cols, one.rows)} | ({(one.rows, one.cols)} if one.may_turn else set())
                for cols, rows in sizes:
                    for col in range(grid.cols - cols + 1):
                        for row in range(grid.rows - rows + 1):
                            cells = {(grid.space, col + i, row + j) for i in range(cols) for j in range(rows)}
                            if not cells & taken:
                                more = one.cost + ask.use * grid.reach
                                loads = load | {grid.space: load[grid.space] + one.mass_g}
                                go(
                                    number + 1,
                                    taken | cells,
                                    where | {ask.lot: (grid.space, more)},
                                    loads,
                                    so_far + more,
                                )

    go(0, set(), {}, {grid.space: 0.0 for grid in grids}, 0.0)
    return best[0] if best else None


@settings(max_examples=25, deadline=None)
@given(st.lists(SPACE, min_size=1, max_size=2), st.lists(LOT, min_size=1, max_size=3))
def test_nothing_is_cheaper_than_what_is_found_in_small_rooms(
    make: Make, check: Check, spaces: list[tuple[int, int, float, int]], lots: list[tuple[tuple[int, int], ...]]
) -> None:
    """Trying every place finds nothing cheaper; where everything fits, everything is placed; no bound lies above."""
    grids = tuple(
        make.grid(f"s{n}", cols, rows, load_g=load_g, reach=float(reach))
        for n, (cols, rows, load_g, reach) in enumerate(spaces)
    )
    asks = tuple(
        replace(
            make.ask(f"l{n}", near=(f"l{near}",)),
            candidates=tuple(
                replace(make.candidate(f"l{n}", *size, cost=float(extra)), may_turn=turns)  # type: ignore[arg-type]
                for extra, size in ((0, one), (dearer, other))
            ),
        )
        for n, (one, other, dearer, near, turns) in enumerate(lots)
    )
    layout = lay_out(grids, asks, pitch=18.0, effort=QUICK)
    assert check(grids, asks, layout) == []
    least = cheapest(grids, asks)
    assert (least is None) == bool(layout.left_out)
    if least is not None:
        assert cost(layout) == pytest.approx(least)
        assert layout.bound <= least + 1e-6


def room(make: Make, lots: int = 20) -> tuple[tuple[Grid, ...], tuple[Ask, ...]]:
    """Three spaces for so many lots, with bonds."""
    grids = tuple(make.grid(f"s{n}", 14, 12, reach=float(n), blocked=((n, 0),)) for n in range(3))
    asks = tuple(make.ask(f"l{n}", (2 + n % 4, 3), (2, 2 + n % 3), near=(f"l{n // 2}",)) for n in range(lots))
    return grids, asks


def test_layouts_become_no_worse(make: Make, check: Check) -> None:
    """Each is sound, none leaves out more or costs more than the one before, and only the last has its full proof."""
    grids, asks = room(make)
    layouts = list(search(grids, asks, pitch=18.0, effort=QUICK))
    assert len(layouts) > 2
    assert all(check(grids, asks, layout) == [] for layout in layouts)
    for one, other in pairwise(layouts):
        assert (len(other.left_out), cost(other)) <= (len(one.left_out), cost(one))
    assert layouts[-1] == lay_out(grids, asks, pitch=18.0, effort=QUICK)
    assert layouts[-1].bound >= layouts[0].bound
    assert [price.space for price in layouts[-1].prices] == ["s0", "s1", "s2"]


def test_the_first_layout_comes_before_anything_slow() -> None:
    """Neither numba nor the solver is loaded for it, and no packing is searched: that is what would take time."""
    code = """
import sys
from tests.layout.conftest import Make
from tests.layout.search.test_search import room
from nookwright.layout.place import search
from nookwright.layout.packing import plain
searched = []
old = plain.search
plain.search = lambda *a, **k: searched.append(1) or old(*a, **k)
first = next(search(*room(Make()), pitch=18.0))
assert first.placed and not first.left_out, first
print(sorted({"numba", "highspy"} & set(sys.modules)), len(searched), first.iterations)
"""
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.split("\n")[0] == "[] 0 0"


def after_so_many(count: int) -> Callable[[], bool]:
    """Somebody who says stop when asked so many times."""
    asked = iter(range(10_000))
    return lambda: next(asked) >= count


def test_a_search_that_is_stopped_gives_its_best_so_far(make: Make, check: Check) -> None:
    """It is marked as stopped, sound, and bounded, however early it was stopped."""
    grids, asks = room(make)
    for after in (0, 1, 5, 60):
        layout = lay_out(grids, asks, pitch=18.0, effort=QUICK, stop=after_so_many(after))
        assert layout.stopped
        assert not layout.by_clock
        assert check(grids, asks, layout) == []
        assert 0 < layout.bound <= cost(layout)
    assert not lay_out(grids, asks, pitch=18.0, effort=QUICK).stopped


def test_closing_the_iterator_ends_the_search(make: Make) -> None:
    """Whoever has seen enough closes it; nothing more comes."""
    layouts = search(*room(make), pitch=18.0)
    next(layouts)
    layouts.close()
    assert list(layouts) == []


def test_too_wide_for_a_word_both_ways(make: Make, check: Check) -> None:
    """A floor of 70 x 66 cells is laid out in plain Python; one of 70 x 20 with its sides exchanged."""
    asks = tuple(make.ask(f"l{n}", (9 + n % 7, 12), (11, 9), near=(f"l{n // 2}",)) for n in range(12))
    for rows in (66, 30):
        grids = (make.grid("s", 70, rows, blocked=((0, 0), (69, 3))), make.grid("t", 8, 66, reach=1.0))
        layout = lay_out(grids, asks, pitch=18.0, effort=QUICK)
        assert check(grids, asks, layout) == []
        assert layout.left_out == ()
        assert cost(layout) == pytest.approx(layout.bound, rel=0.1)


def test_a_front_is_never_turned(make: Make) -> None:
    """A tray of 2 x 6 that must not be turned has no place in a space of 6 x 2 cells."""
    upright = replace(make.candidate("a", 2, 6), may_turn=False)
    ask = replace(make.ask("a"), candidates=(upright,))
    assert lay_out((make.grid("s", 6, 2),), (ask,), pitch=18.0, effort=QUICK).left_out
    (placed,) = lay_out((make.grid("s", 7, 6),), (ask,), pitch=18.0, effort=QUICK).placed
    assert not placed.turned


def test_air_is_kept_where_it_is_asked_for(make: Make) -> None:
    """At a factor of 0.8 no space is fuller than that, though packing it full would cost less."""
    grids, asks = room(make, lots=24)
    layout = lay_out(grids, asks, pitch=18.0, effort=replace(QUICK, moves=20_000, factor=0.8))
    assert layout.left_out == ()
    for grid in grids:
        taken = sum(one.cols * one.rows for one in layout.in_space(grid.space))
        assert taken <= 0.8 * (grid.cols * grid.rows - len(grid.blocked))
