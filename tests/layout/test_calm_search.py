"""The compiled search for rows judges as its words say: each row at its cheapest, alike lots together, in the order."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations
from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.layout.calm import kernels
from nookwright.layout.calm.rows import Field
from nookwright.layout.calm.seek import APART, LACK, OUT_OF_ORDER, Wish, _space
from nookwright.layout.calm.tables import NEVER, options_of, tables_of
from nookwright.layout.calm.terms import CRUMB, ROW, SPLIT_ROW, Terms

if TYPE_CHECKING:
    from tests.layout.conftest import Make

    from nookwright.layout.calm.kernels import Space
    from nookwright.module.module import Module

SIZES = st.lists(st.tuples(st.integers(1, 5), st.integers(1, 5), st.integers(2, 6)), min_size=1, max_size=3)
LOT = st.tuples(SIZES, st.integers(0, 2), st.integers(-1, 3), st.integers(-1, 2))  # sizes, part, group, rank
LOTS = st.lists(LOT, min_size=1, max_size=7)
PIPE = st.sets(st.tuples(st.integers(0, 11), st.integers(0, 8)), max_size=3)

Lots = list[tuple[list[tuple[int, int, int]], int, int, int]]


def space_of(make: Make, module: Module, lots: Lots, blocked: set[tuple[int, int]], *, kinds: bool = True) -> Space:
    """What the search reads of lots with these candidates; each has only its own kind where these are not wished."""
    field = Field(make.grid("s", 12, 9, blocked=tuple(sorted(blocked))), swap=False)
    wishes = []
    for sizes, _, group, rank in lots:
        made = [
            replace(make.candidate("l", cols, rows, cost=n / 3), height=6.0 * rises)
            for n, (cols, rows, rises) in enumerate(sizes)
        ]
        wishes.append(Wish(options_of(made, swap=False), 1.0, group, rank, topples=False))
    terms = Terms(module)
    tables = tables_of([wish.options for wish in wishes], field.deep, field.grid, terms)
    space = _space(field, wishes, tables, terms)._replace(front=0.0)
    return space if kinds else space._replace(kind=np.arange(len(lots)))


def cost_of(space: Space, rows: list[int], parts: list[int], count: int) -> float:
    """What the search says of lots in these rows, without a move."""
    now, best, before = (kernels.dealt(space, count) for _ in range(3))
    now.row[:], now.part[:] = rows, parts
    rng = np.array([1], dtype=np.uint64)
    return float(kernels.search(space, kernels.empty(space, 1), now, best, before, 0, 1.0, 1.0, rng))


@settings(max_examples=100, deadline=None)
@given(LOTS, st.lists(st.integers(0, 2), min_size=7, max_size=7))
def test_lots_apart_and_out_of_order_are_counted_pair_by_pair(
    make: Make, module: Module, lots: Lots, drawn: list[int]
) -> None:
    """Alike lots in two rows, and lots of two ranks of which the later one stands in front."""
    rows, parts = drawn[: len(lots)], [0] * len(lots)
    space = space_of(make, module, lots, set())
    none = np.full(len(lots), -1)
    bare = cost_of(space._replace(group=none, rank=none, groups=0, ranks=0), rows, parts, 3)
    pairs = [(one, other) for one, other in combinations(range(len(lots)), 2) if rows[one] != rows[other]]
    apart = sum(lots[one][2] == lots[other][2] >= 0 for one, other in pairs)
    ranked = [(lots[one][3], lots[other][3], rows[one] < rows[other]) for one, other in pairs]
    wrong = sum(one >= 0 and other >= 0 and one != other and (one < other) != first for one, other, first in ranked)
    assert cost_of(space, rows, parts, 3) - bare == pytest.approx(APART * apart + OUT_OF_ORDER * wrong)


def cheapest(space: Space, parts: list[int]) -> float:
    """The least cost of one row of all lots, by looking at every price level, rim and depth."""
    lots, parted = range(len(parts)), {1, 2} <= set(parts)
    own = [part if parted else 0 for part in parts]
    rims = range(max(space.span[lot, 0] for lot in lots), max(space.span[lot, 1] for lot in lots) + 1)
    found = [float(LACK) * int(NEVER)]
    for level in range(space.wide.shape[1]):
        for rim in rims:
            for depth in range(1, space.deep + 1):
                found += _row_costs(space, own, (level, rim, depth), parted=parted)
    return min(found[1:], default=found[0])


def _row_costs(space: Space, own: list[int], at: tuple[int, int, int], *, parted: bool) -> list[float]:
    """What a row costs at a price level, rim and depth; for a parted one, at its leanest line only."""
    level, rim, depth = at

    def both(part: int, deep: int) -> tuple[int, float, list[int]]:
        mine = [lot for lot, one in enumerate(own) if one == part]
        widths = [int(space.wide[lot, level, rim, deep]) for lot in mine]
        return sum(widths), sum(float(space.cost[lot, level, rim, deep]) for lot in mine), widths

    through, cost, widths = both(0, depth)
    if through >= NEVER:
        return []
    extra = 0.0
    if parted:
        lines = []
        for line in range(1, depth):
            (front, front_cost, _), (back, back_cost, _) = both(1, line), both(2, depth - line)
            if max(front, back) < NEVER:
                longer = max(front, back)
                lost = (longer - front) * line + (longer - back) * (depth - line)
                price = front_cost + back_cost + float(CRUMB) * lost
                lines.append((price + float(CRUMB) * longer * depth, price, longer))
        if not lines:
            return []
        _, price, longer = min(lines, key=lambda one: one[0])
        extra, widths = price + float(SPLIT_ROW), [*widths, longer]
    over = _lacking(widths, [int(run) for run in space.free[0, depth] if run])
    return [cost + extra + space.late * depth + float(LACK) * over * depth + float(ROW)]


def _lacking(widths: list[int], runs: list[int]) -> int:
    """Cells that widths lack in free runs, the widest first into the first run with room."""
    if sum(widths) > sum(runs):
        return sum(widths) - sum(runs)
    lacking = 0
    for wide in sorted(widths, reverse=True):
        run = next((n for n, room in enumerate(runs) if room >= wide), -1)
        if run < 0:
            lacking += wide
        else:
            runs[run] -= wide
    return lacking


@settings(max_examples=150, deadline=None)
@given(LOTS, PIPE)
def test_a_row_is_judged_at_its_cheapest(make: Make, module: Module, lots: Lots, blocked: set[tuple[int, int]]) -> None:
    """Found with shortcuts, it is what looking at every price level, rim and depth finds."""
    parts = [part for _, part, _, _ in lots]
    space = space_of(make, module, lots, blocked)
    expected = cheapest(space, parts)
    if expected < float(LACK) * int(NEVER):
        state_depth = cost_of(space._replace(groups=0, ranks=0), [0] * len(lots), parts, 1)
        assert state_depth == pytest.approx(expected)


@settings(max_examples=60, deadline=None)
@given(LOTS, st.integers(1, 9))
def test_lots_of_one_kind_stand_for_each_other(make: Make, module: Module, lots: Lots, seed: int) -> None:
    """With lots doubled, the search remembers rows by their kinds and finds what it finds lot by lot."""
    found = []
    for kinds in (True, False):
        space = space_of(make, module, lots * 2, set(), kinds=kinds)
        now, best, before = (kernels.dealt(space, 3) for _ in range(3))
        rng = np.array([seed], dtype=np.uint64)
        cost = kernels.search(space, kernels.empty(space, 1), now, best, before, 300, 4.0, 0.2, rng)
        found.append((pytest.approx(cost), best.row.tolist(), best.part.tolist()))
    assert found[0] == found[1]
