"""Whole rooms, calm: no lot lost, the price adds up, and what is too full for rows is said."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.layout.calm.room import calm_layout
from nookwright.layout.model import OPEN
from nookwright.layout.place import Effort, lay_out

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from tests.layout.conftest import Make

    from nookwright.layout.calm.room import CalmLayout
    from nookwright.layout.model import Ask, Grid, Layout
    from nookwright.module.module import Module

    Check = Callable[[Sequence[Grid], Sequence[Ask], Layout], list[str]]

QUICK = Effort(tries=200, moves=400, rounds=1, glimpse=10)
SIDE = st.integers(2, 6)
CELL = st.tuples(st.integers(0, 9), st.integers(0, 9))
SPACE = st.tuples(st.integers(3, 10), st.integers(3, 10), st.sets(CELL, max_size=4), st.booleans())
LOT = st.tuples(SIDE, SIDE, SIDE, SIDE, st.integers(0, 9), st.booleans(), st.sampled_from([30.0, 48.0, 120.0]))


def laid_out(grids: tuple[Grid, ...], asks: tuple[Ask, ...], module: Module) -> tuple[Layout, CalmLayout]:
    """The tightest layout, and the calm one."""
    tight = lay_out(grids, asks, pitch=module.pitch, effort=QUICK)
    return tight, calm_layout(grids, asks, tight, module=module)


@settings(max_examples=40, deadline=None)
@given(st.lists(SPACE, min_size=1, max_size=3), st.lists(LOT, max_size=9))
def test_any_room_is_laid_out_calmly_without_losing_a_lot(
    make: Make,
    module: Module,
    check: Check,
    spaces: list[tuple[int, int, set[tuple[int, int]], bool]],
    lots: list[tuple[int, int, int, int, int, bool, float]],
) -> None:
    """Sound by the independent checker; the same lots are out; bound below cost; each part of the cost 0 or more."""
    grids = tuple(
        make.grid(f"s{n}", cols, rows, blocked=tuple(sorted(blocked)), children=children, reach=float(n), drawer=True)
        for n, (cols, rows, blocked, children) in enumerate(spaces)
    )
    asks = tuple(
        replace(
            make.ask(f"l{n}", near=(f"l{near}",)),
            candidates=tuple(
                replace(make.candidate(f"l{n}", *size, cost=float(extra)), tall=tall)
                for extra, size in enumerate(((a, b), (c, d)))
            ),
            out_of_reach=away,
        )
        for n, (a, b, c, d, near, away, tall) in enumerate(lots)
    )
    tight, calm = laid_out(grids, asks, module)
    assert check(grids, asks, calm.layout) == []
    assert calm.layout.left_out == tight.left_out
    assert all(part.value >= 0 for part in calm.layout.cost)
    assert sum(part.value for part in calm.layout.cost[:4]) >= tight.bound - 1e-6
    assert calm.layout.gap >= -1e-6


def some_room(make: Make) -> tuple[tuple[Grid, ...], tuple[Ask, ...]]:
    """Two drawers and ten lots with room to spare."""
    grids = (make.grid("near", 10, 9), make.grid("far", 12, 9, reach=3.0))
    asks = tuple(make.ask(f"l{n}", (3 + n % 2, 3), (2 + n % 3, 5), near=(f"l{n + 1}",)) for n in range(12))
    return grids, asks


def test_the_price_adds_up(make: Make, module: Module) -> None:
    """Cells of each space and of the room are those that are taken more than in the tightest."""
    grids, asks = some_room(make)
    tight, calm = laid_out(grids, asks, module)
    for row in calm.price[:-1]:
        mine, theirs = calm.layout.in_space(row.space), tight.in_space(row.space)
        assert row.cells == sum(p.cols * p.rows for p in mine) - sum(p.cols * p.rows for p in theirs)
    whole = calm.price[-1]
    assert whole.space == ""
    assert whole.cells == sum(row.cells for row in calm.price[:-1])
    assert whole.part_g == pytest.approx(sum(row.part_g for row in calm.price[:-1]))
    names = [part.name for part in calm.layout.cost]
    assert names[:4] == [part.name for part in tight.cost][:4]
    assert names == [part.name for part in calm.tightest]


def test_the_price_is_that_of_plain_trays(make: Make, module: Module) -> None:
    """One tray of 4 x 3 that grows beside one of 4 x 4, or stands in a row of its own, costs 0 g."""
    grids, asks = (make.grid("s", 8, 8),), (make.ask("a", (4, 4)), make.ask("b", (4, 4)))
    _, calm = laid_out(grids, asks, module)
    assert [(row.cells, row.part_g, row.calm) for row in calm.price] == [(0, 0.0, True)] * 2


def test_the_cost_of_the_room_is_counted_anew(make: Make, module: Module) -> None:
    """Footprints, reach, pairs that are parted and spaces in use, from the places alone."""
    grids, asks = some_room(make)
    _, calm = laid_out(grids, asks, module)
    at = {p.candidate.lot: p for p in calm.layout.placed if p.candidate}
    pairs = [(f"l{n}", f"l{n + 1}") for n in range(11)]
    expected = {
        "footprint": sum(p.candidate.cost for p in at.values() if p.candidate),
        "reach": sum(3.0 for p in at.values() if p.space == "far"),
        "split": sum(30.0 for one, other in pairs if at[one].space != at[other].space),
        "open": OPEN * len({p.space for p in at.values()}),
    }
    assert {part.name: part.value for part in calm.layout.cost[:4]} == pytest.approx(expected)


def test_a_space_too_full_for_rows_is_packed_and_named(make: Make, module: Module) -> None:
    """Five trays round each other like a pinwheel fill 5 x 5 cells and stand in no rows."""
    sizes = [(3, 2), (2, 3), (3, 2), (2, 3), (1, 1)]
    asks = tuple(make.ask(f"l{n}", size) for n, size in enumerate(sizes))
    grids = (make.grid("full", 5, 5),)
    tight, calm = laid_out(grids, asks, module)
    assert len(tight.placed) == 5
    assert len(calm.layout.placed) == 5
    assert [(f.code, f.subject) for f in calm.findings] == [("space-not-calm", "full")]
    assert not calm.price[0].calm


def test_a_lot_moves_on_so_that_rows_fit(make: Make, module: Module) -> None:
    """The same five, and a free drawer beside: all stand in rows."""
    sizes = [(3, 2), (2, 3), (3, 2), (2, 3), (1, 1)]
    asks = tuple(make.ask(f"l{n}", size) for n, size in enumerate(sizes))
    grids = (make.grid("full", 5, 5), make.grid("free", 4, 4, reach=1.0))
    _, calm = laid_out(grids, asks, module)
    assert calm.findings == ()
    assert {p.space for p in calm.layout.placed} == {"full", "free"}


def test_the_same_room_gives_the_same_calm_layout(make: Make, module: Module) -> None:
    """Nothing else decides."""
    grids, asks = some_room(make)
    tight = lay_out(grids, asks, pitch=module.pitch, effort=QUICK)
    first = calm_layout(grids, asks, tight, module=module)
    assert calm_layout(grids, asks, tight, module=module) == first


def test_a_room_without_lots_is_calm(make: Make, module: Module) -> None:
    """Nothing placed, nothing dear."""
    tight, calm = laid_out((make.grid("s", 5, 5),), (), module)
    assert (calm.layout.placed, calm.findings) == ((), ())
    assert sum(part.value for part in calm.layout.cost) == sum(part.value for part in tight.cost) == 0
