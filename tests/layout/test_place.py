"""The layout of whole rooms: valid, complete where it can be, repeatable, bounded, and honest about what is left."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.layout.model import OPEN
from nookwright.layout.place import Effort, lay_out
from nookwright.layout.problem import SPLIT

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from tests.layout.conftest import Make

    from nookwright.layout.model import Ask, Grid, Layout

    Check = Callable[[Sequence[Grid], Sequence[Ask], Layout], list[str]]

QUICK = Effort(tries=200, moves=400, rounds=1, glimpse=10)
SIDE = st.integers(1, 6)
CELL = st.tuples(st.integers(0, 7), st.integers(0, 7))
SPACE = st.tuples(
    st.integers(2, 8), st.integers(2, 8), st.sets(CELL, max_size=6), st.sampled_from([40.0, 100.0]), st.booleans()
)
LOT = st.tuples(SIDE, SIDE, SIDE, SIDE, st.integers(0, 9), st.booleans(), st.sampled_from([30.0, 90.0, 120.0]))


@settings(max_examples=60, deadline=None)
@given(st.lists(SPACE, min_size=1, max_size=3), st.lists(LOT, max_size=9), st.sampled_from([150.0, 1000.0]))
def test_any_room_gets_a_valid_layout_and_no_lot_is_lost(
    make: Make,
    check: Check,
    spaces: list[tuple[int, int, set[tuple[int, int]], float, bool]],
    lots: list[tuple[int, int, int, int, int, bool, float]],
    load_g: float,
) -> None:
    """Nothing overlaps or breaks a limit, every lot is placed or named with a reason, and the bound is no higher."""
    grids = tuple(
        make.grid(
            f"s{n}",
            cols,
            rows,
            blocked=tuple(sorted(blocked)),
            height=height,
            children=children,
            reach=float(n),
            load_g=load_g,
        )
        for n, (cols, rows, blocked, height, children) in enumerate(spaces)
    )
    asks = tuple(
        replace(
            make.ask(f"l{n}", near=(f"l{near}",)),
            candidates=tuple(
                make.candidate(f"l{n}", *size, cost=float(cost), tall=tall, height=30.0)
                for cost, size in enumerate(((a, b), (c, d)))
            ),
            out_of_reach=hidden,
        )
        for n, (a, b, c, d, near, hidden, tall) in enumerate(lots)
    )
    layout = lay_out(grids, asks, pitch=18.0, effort=QUICK)
    assert check(grids, asks, layout) == []
    cost = sum(part.value for part in layout.cost)
    assert layout.bound <= cost
    assert layout.gap == pytest.approx((cost - layout.bound) / layout.bound if layout.placed else 0.0)
    assert list(layout.placed) == sorted(layout.placed, key=lambda one: (one.space, one.row, one.col))
    assert list(layout.left_out) == sorted(layout.left_out, key=lambda one: one.lot)
    assert all(left.reason and left.remedy for left in layout.left_out)
    assert layout.proven
    assert not layout.by_clock


def test_the_same_room_gives_the_same_layout(make: Make) -> None:
    """Twice the same in every field; another seed is said."""
    grids = (make.grid("a", 12, 9, reach=1.0), make.grid("b", 10, 10, blocked=((4, 4), (5, 4))))
    asks = tuple(make.ask(f"l{n}", (2 + n % 4, 3), (2, 2 + n % 3), near=(f"l{n // 2}",)) for n in range(18))
    one = lay_out(grids, asks, pitch=18.0, effort=QUICK)
    assert one == lay_out(grids, asks, pitch=18.0, effort=QUICK)
    assert lay_out(grids, asks, pitch=18.0, effort=replace(QUICK, seed=2)).seed == 2


def test_the_best_layout_of_a_small_room_is_found(make: Make) -> None:
    """Two lots that belong together: the far space holds both, for less than a split and a second liner."""
    grids = (make.grid("near", 3, 3), make.grid("far", 6, 3, reach=10.0))
    asks = (make.ask("a", (3, 3), near=("b",)), make.ask("b", (3, 3)))
    layout = lay_out(grids, asks, pitch=18.0)
    assert {placed.space for placed in layout.placed} == {"far"}
    assert {part.name: part.value for part in layout.cost} == {"footprint": 0, "reach": 20, "split": 0, "open": OPEN}
    assert layout.bound == pytest.approx(20 + OPEN)
    assert layout.gap == pytest.approx(0.0, abs=1e-9)


def test_a_far_space_is_not_opened_for_what_is_often_used(make: Make) -> None:
    """At fifty times the reach, two spaces and a split are cheaper; a daily lot takes the near one."""
    grids = (make.grid("near", 3, 3), make.grid("far", 6, 3, reach=100.0))
    asks = (make.ask("daily", (3, 3), near=("rare",), use=9.0), make.ask("rare", (3, 3), use=1.0))
    layout = lay_out(grids, asks, pitch=18.0)
    at = {placed.candidate.lot: placed.space for placed in layout.placed if placed.candidate}
    assert at == {"daily": "near", "rare": "far"}
    assert sum(part.value for part in layout.cost) == 100 + SPLIT + 2 * OPEN


def test_what_cannot_be_packed_takes_another_footprint(make: Make, check: Check) -> None:
    """By area two 3 x 5 trays go into 6 x 6 cells with four 3 x 1 left; packed for real, it takes the right turns."""
    grids = (make.grid("s", 6, 6),)
    asks = (make.ask("a", (5, 4), (6, 3)), make.ask("b", (5, 3), (6, 3)))
    layout = lay_out(grids, asks, pitch=18.0, effort=replace(QUICK, factor=1.0))
    assert check(grids, asks, layout) == []
    assert layout.left_out == ()


def test_a_tray_is_turned_where_it_must_be(make: Make) -> None:
    """A 2 x 6 tray in a space of 6 x 2 cells lies turned, and its footprint is given as it lies."""
    (placed,) = lay_out((make.grid("s", 6, 2),), (make.ask("a", (2, 6)),), pitch=18.0).placed
    assert (placed.cols, placed.rows, placed.turned) == (6, 2, True)


def test_an_empty_room_costs_nothing(make: Make) -> None:
    """No lots: nothing placed, bound and gap are 0."""
    layout = lay_out((make.grid("s", 6, 2),), (), pitch=18.0)
    assert (layout.placed, layout.left_out, layout.bound, layout.gap) == ((), (), 0.0, 0.0)


def test_a_stop_by_the_clock_is_said(make: Make, check: Check) -> None:
    """With no time at all the annealing stops at once; the layout is still valid and says so."""
    grids, asks = (make.grid("s", 6, 6),), (make.ask("a", (3, 3), (2, 2)),)
    layout = lay_out(grids, asks, pitch=18.0, effort=Effort(clock_s=0.0))
    assert layout.by_clock
    assert check(grids, asks, layout) == []
