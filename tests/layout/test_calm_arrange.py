"""Spaces in rows: nothing lost, nothing overlapping, one depth and one rim a row, in the order that was asked for."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from nookwright.layout.calm.arrange import Looks, arrange
from nookwright.layout.calm.judging import Judge
from nookwright.layout.calm.terms import MOST_GROWTH, MOST_RISES, OWN_GROWTH, Terms
from nookwright.layout.wishes import Wishes
from nookwright.sizing.ways import PartKind

if TYPE_CHECKING:
    from tests.layout.conftest import Make

    from nookwright.layout.calm.arrange import Arrangement
    from nookwright.layout.model import Ask, Candidate, Grid, Placed
    from nookwright.module.module import Module

SIZE = st.tuples(st.integers(2, 7), st.integers(2, 7), st.integers(3, 14))
LOT = st.tuples(st.lists(SIZE, min_size=1, max_size=4), st.booleans(), st.booleans())
PIPE = st.tuples(st.integers(0, 17), st.integers(0, 13), st.integers(1, 4), st.integers(1, 4))
SPACE = st.tuples(st.integers(2, 18), st.integers(2, 14), st.lists(PIPE, max_size=2))

Lots = list[tuple[list[tuple[int, int, int]], bool, bool]]
Pipes = list[tuple[int, int, int, int]]


def judge_of(asks: list[Ask], module: Module, **terms: object) -> Judge:
    """A judge with usual weights."""
    order = terms.pop("order", ())
    wishes = Wishes({ask.lot: ask for ask in asks}, module.pitch, order=order)  # type: ignore[arg-type]
    return Judge(Terms(module, **terms), wishes)  # type: ignore[arg-type]


def grid_of(make: Make, cols: int, rows: int, pipes: Pipes, **other: object) -> Grid:
    """A drawer with pipes in it."""
    blocked = {(c + i, r + j) for c, r, wide, deep in pipes for i in range(wide) for j in range(deep)}
    inside = sorted((c, r) for c, r in blocked if c < cols and r < rows)
    return make.grid("drawer", cols, rows, blocked=tuple(inside), drawer=True, **other)


def asks_of(make: Make, lots: Lots) -> list[Ask]:
    """Lots with candidates of these sizes and heights; some are cradles, some have a front."""
    asks = []
    for number, (sizes, cradle, front) in enumerate(lots):
        kind = PartKind.CRADLE if cradle else PartKind.TRAY
        made = [
            replace(
                make.candidate(f"l{number}", cols, rows, kind=kind, cost=float(extra)),
                height=6.0 * rises,
                tall=6.0 * rises,
                may_turn=not front,
            )
            for extra, (cols, rows, rises) in enumerate(sizes)
        ]
        asks.append(replace(make.ask(f"l{number}"), candidates=tuple(made), group="ab"[number % 2]))
    return asks


def faults_in(grid: Grid, asks: list[Ask], placed: tuple[Placed, ...]) -> list[str]:
    """All that is wrong with a space, cell by cell."""
    covered = Counter((p.col + i, p.row + j) for p in placed for i in range(p.cols) for j in range(p.rows))
    faults = [f"{cell} twice" for cell, times in covered.items() if times > 1]
    faults += [f"{c, r} outside" for c, r in covered if not (0 <= c < grid.cols and 0 <= r < grid.rows)]
    faults += [f"{cell} blocked" for cell in set(covered) & set(grid.blocked)]
    lots = [p.candidate.lot for p in placed if p.candidate]
    faults += [] if sorted(lots) == sorted(ask.lot for ask in asks) else ["a lot is lost or doubled"]
    by_lot = {ask.lot: ask for ask in asks}
    for one in placed:
        if one.candidate is None:
            continue
        faults += [] if one.candidate in by_lot[one.candidate.lot].candidates else [f"{one} is no candidate"]
        faults += [] if one.candidate.may_turn or not one.turned else [f"{one} is turned"]
        faults += [] if max(one.height, one.candidate.tall) <= grid.height else [f"{one} is too high"]
        faults += _grown_wrong(one, one.candidate)
    return faults


def _grown_wrong(one: Placed, candidate: Candidate) -> list[str]:
    """What is wrong with what a part grew by."""
    own = (candidate.rows, candidate.cols) if one.turned else (candidate.cols, candidate.rows)
    mine = (one.cols, one.rows)
    if candidate.way.kind is PartKind.CRADLE:
        return [] if mine == own and one.height == candidate.height else [f"{one} grew"]
    least = all(side >= before for side, before in zip(mine, own, strict=True)) and one.height >= candidate.height
    most = all(s <= max(MOST_GROWTH * b, b + OWN_GROWTH) for s, b in zip(mine, own, strict=True))
    raised = one.height <= candidate.height + 6.0 * MOST_RISES
    return [] if least and most and raised else [f"{one} shrank or grew too much"]


def uneven_rows(found: Arrangement) -> list[str]:
    """What is wrong with the rows: found by sweeping across, with none of the code that made them."""
    boxes = sorted(
        ((p.col, p.cols, p.height, p) if found.columns else (p.row, p.rows, p.height, p) for p in found.placed),
        key=lambda box: box[:3],
    )
    rows: list[list[tuple[int, int, float, Placed]]] = []
    end = -1
    for box in boxes:
        if box[0] >= end:
            rows.append([])
        rows[-1].append(box)
        end = max(end, box[0] + box[1])
    return [fault for row in rows for fault in _uneven(row)]


def _uneven(row: list[tuple[int, int, float, Placed]]) -> list[str]:
    trays = [box for box in row if box[3].candidate and box[3].candidate.way.kind is PartKind.TRAY]
    begins = sorted({box[0] for box in row})
    faults = [f"{len(begins)} lines in a row"] if len(begins) > 2 else []
    for begin in begins:
        ends = {box[0] + box[1] for box in trays if box[0] == begin}
        allowed = {max(box[0] + box[1] for box in row), *begins}
        faults += [f"trays end at {ends}, not at {allowed}"] if not ends <= allowed or len(ends) > 2 else []
    rim = max((box[2] for box in row), default=0.0)
    top = max((box[2] for box in trays), default=0.0)
    low = [box[3] for box in trays if box[2] != top]
    low = [one for one in low if one.candidate and rim <= one.candidate.height + 6.0 * MOST_RISES]
    return faults + [f"{one} has another rim than its row" for one in low]


@settings(max_examples=120, deadline=None)
@given(SPACE, st.lists(LOT, min_size=1, max_size=9), st.sampled_from([60.0, 100.0]))
@example((12, 10, [(4, 6, 3, 4)]), [([(4, 4, 8)], False, False)] * 5, 100.0)
def test_whatever_stands_in_rows_is_whole_and_even(
    make: Make, module: Module, space: tuple[int, int, Pipes], lots: Lots, height: float
) -> None:
    """Never an overlap, nothing outside or on a pipe, no lot lost, one depth and rim a row; or cells are lacking."""
    grid, asks = grid_of(make, *space, height=height), asks_of(make, lots)
    found = arrange(grid, asks, judge_of(asks, module), seed=1)
    if found.fits:
        assert faults_in(grid, asks, found.placed) == []
        assert uneven_rows(found) == []
    else:
        assert found.placed == ()
        assert found.short > 0


def test_lots_that_fill_a_drawer_in_rows_are_found(make: Make, module: Module) -> None:
    """Three rows of depth 3, 4 and 3 over 12 columns fill it to the last cell."""
    sizes = [(4, 3), (4, 3), (4, 3), (6, 4), (6, 4), (3, 3), (3, 3), (6, 3)]
    asks = [make.ask(f"l{n}", size) for n, size in enumerate(sizes)]
    found = arrange(make.grid("drawer", 12, 10), asks, judge_of(asks, module), seed=1)
    assert found.fits
    assert sum(p.cols * p.rows for p in found.placed) == 120
    assert uneven_rows(found) == []


def test_nothing_stands_in_a_space_without_lots(make: Make, module: Module) -> None:
    """It fits, and costs nothing."""
    found = arrange(make.grid("drawer", 5, 5), [], judge_of([], module), seed=1)
    assert (found.placed, found.short, found.cost) == ((), 0, 0.0)


def test_what_does_not_fit_lacks_cells(make: Make, module: Module) -> None:
    """Two trays of 4 x 4 in 4 x 6 cells lack two rows of 4."""
    asks = [make.ask("a", (4, 4)), make.ask("b", (4, 4))]
    found = arrange(make.grid("drawer", 4, 6), asks, judge_of(asks, module), seed=1)
    assert (found.fits, found.short) == (False, 8)
    looks = Looks(make.grid("drawer", 4, 6), asks, judge_of(asks, module), seed=1)
    looks.walk(1)
    assert looks.glance[0] == 8


def test_a_lot_that_may_not_be_there_fits_not(make: Make, module: Module) -> None:
    """It is too tall."""
    asks = [make.ask("a", (2, 2))]
    assert not arrange(make.grid("drawer", 9, 9, height=40.0), asks, judge_of(asks, module), seed=1).fits


@pytest.mark.parametrize("order", [("c", "a", "b", "d"), ("d", "c", "b", "a")])
def test_the_order_given_is_kept(make: Make, module: Module, order: tuple[str, ...]) -> None:
    """Each lies to the right of the one before it, or in a row behind."""
    asks = [make.ask(lot, (4, 3)) for lot in "abcd"]
    found = arrange(make.grid("drawer", 8, 8), asks, judge_of(asks, module, order=order), seed=1)
    at = {p.candidate.lot: (p.row, p.col) for p in found.placed if p.candidate}
    assert sorted(at, key=lambda lot: at[lot]) == list(order)


def test_no_tray_grows_beyond_what_prints_in_one_piece(make: Make, module: Module) -> None:
    """Beside a tray of 9 cells one of 5 stays as it is, where beds take 6."""
    asks = [make.ask("a", (9, 3)), make.ask("b", (5, 2)), make.ask("c", (4, 3))]
    found = arrange(make.grid("drawer", 9, 9), asks, judge_of(asks, module, largest=(6, 6)), seed=1)
    sizes = {p.candidate.lot: (p.cols, p.rows) for p in found.placed if p.candidate}
    assert sizes["a"] in {(9, 3), (3, 9)}
    assert max(*sizes["b"], *sizes["c"]) <= 6


def test_the_load_holds_with_what_trays_grew_by(make: Make, module: Module) -> None:
    """The low tray is raised to the rim of its row; a space that carries the candidates to the gram carries it not."""
    low = replace(make.ask("c"), candidates=(replace(make.candidate("c", 2, 2), height=36.0),))
    asks = [make.ask("a", (4, 2)), make.ask("b", (2, 2)), low]
    grid = make.grid("drawer", 4, 4, load_g=300.0)
    assert not arrange(grid, asks, judge_of(asks, module), seed=1).fits
    assert arrange(replace(grid, load_g=310.0), asks, judge_of(asks, module), seed=1).fits


def test_the_same_lots_give_the_same_rows(make: Make, module: Module) -> None:
    """Nothing but the seed is drawn from."""
    asks = [make.ask(f"l{n}", (2 + n % 3, 3), (4, 2 + n % 2)) for n in range(8)]
    grid = make.grid("drawer", 11, 9, blocked=((5, 5),))
    assert arrange(grid, asks, judge_of(asks, module), seed=3) == arrange(grid, asks, judge_of(asks, module), seed=3)
