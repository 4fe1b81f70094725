"""Prices and the bound that they prove."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.layout.model import OPEN
from nookwright.layout.place import Effort, lay_out
from nookwright.layout.problem import SPLIT, problem_of
from nookwright.layout.search import prices
from nookwright.layout.search.prices import Relaxation, raise_bound
from nookwright.layout.search.table import table_of

if TYPE_CHECKING:
    from tests.layout.conftest import Make

    from nookwright.layout.problem import Problem


def relaxed(problem: Problem) -> Relaxation:
    """The relaxation of a problem."""
    return Relaxation(table_of(problem))


def test_a_full_space_has_a_price_and_a_roomy_one_has_none(make: Make) -> None:
    """Two lots, and the handy space holds one: a cell of it is worth what the far space costs more."""
    grids = (make.grid("handy", 4, 4, open_cost=0.0), make.grid("far", 9, 9, reach=8.0, open_cost=0.0))
    found = raise_bound(relaxed(problem_of(grids, (make.ask("a", (4, 4)), make.ask("b", (4, 4))))))
    assert found.cell == pytest.approx([8 / 16, 0], abs=0.02)
    assert found.bound == pytest.approx(8.0, rel=0.01)


def test_bonds_of_a_tree_are_exact_and_those_of_a_ring_no_dearer(make: Make) -> None:
    """Three lots that can never be together: in a chain both bonds are counted, in a ring two of three."""
    grids = tuple(make.grid(name, 3, 3, open_cost=0.0) for name in "abc")
    chain = (("2",), ("2",), ())
    ring = (("1", "2"), ("2",), ())
    for near, bonds in ((chain, 2), (ring, 2)):
        asks = tuple(make.ask(str(n), (3, 3), near=near[n]) for n in range(3))
        bound = raise_bound(relaxed(problem_of(grids, asks))).bound
        assert bound <= bonds * SPLIT + 1e-9
    assert raise_bound(relaxed(problem_of(grids[:1], asks[:1]))).bound <= OPEN


@settings(max_examples=40, deadline=None)
@given(
    st.lists(
        st.tuples(st.integers(1, 4), st.integers(1, 4), st.integers(0, 3), st.integers(0, 2)), min_size=1, max_size=4
    ),
    st.lists(st.floats(0, 5), min_size=3, max_size=3),
    st.lists(st.floats(0, 0.1), min_size=3, max_size=3),
)
def test_whatever_the_prices_the_sum_is_no_higher_than_any_layout(
    make: Make, lots: list[tuple[int, int, int, int]], cell: list[float], gram: list[float]
) -> None:
    """Lots dealt out to any spaces that have the area and the load for them cost at least the sum."""
    grids = tuple(make.grid(f"s{n}", 5, 5, reach=float(n), load_g=320.0) for n in range(3))
    asks = tuple(make.ask(f"l{n}", (a, b), near=(f"l{near}",)) for n, (a, b, near, _) in enumerate(lots))
    problem = problem_of(grids, asks)
    where = [place for *_, place in lots]
    for place in range(3):
        inside = [n for n, there in enumerate(where) if there == place]
        if sum(lots[n][0] * lots[n][1] for n in inside) > 25 or 100 * len(inside) > 320:
            return
    cost = sum(float(n) for n in where) + sum(grids[place].open_cost for place in set(where))
    cost += sum(pair.cost for pair in problem.pairs if where[pair.one] != where[pair.other])
    total, _, _ = relaxed(problem).solve(np.array(cell), np.array(gram))
    assert total <= cost + 1e-9


def test_prices_of_some_lots_lead_to_those_of_all(make: Make, monkeypatch: pytest.MonkeyPatch) -> None:
    """Looked for on a third of the lots first, prices prove about as much, and no more than a layout costs."""
    grids = tuple(make.grid(f"s{n}", 12, 10, reach=float(n)) for n in range(6))
    asks = tuple(make.ask(f"l{n}", (2 + n % 4, 3), (2, 2), near=(f"l{n // 5}",), use=1.0 + n % 3) for n in range(60))
    problem = problem_of(grids, asks)
    whole = raise_bound(relaxed(problem)).bound
    for name, value in (("MANY", 40), ("SAMPLE", 20), ("EACH", 1)):
        monkeypatch.setattr(prices, name, value)
    some = raise_bound(relaxed(problem))
    assert some.rounds > prices.ROUNDS * prices.LAST
    assert some.bound == pytest.approx(whole, rel=0.01)
    layout = lay_out(grids, asks, pitch=18.0, effort=Effort(moves=500, rounds=1))
    assert some.bound <= sum(part.value for part in layout.cost)


def test_blocks_change_nothing(make: Make, monkeypatch: pytest.MonkeyPatch) -> None:
    """Worked on one lot at a time or all at once, sums, choices and the order of lots are the same."""
    grids = tuple(make.grid(f"s{n}", 6, 5, reach=float(n)) for n in range(3))
    sizes = [(2 + n % 3, 2 + k) for n in range(9) for k in range(1 + n % 2)]
    asks = tuple(make.ask(f"l{n}", *sizes[n : n + 1 + n % 3], near=(f"l{n // 2}",)) for n in range(9))
    table = table_of(problem_of(grids, asks))
    at, gram = np.array([0.3, 0.2, 0.0]), np.array([0.0, 0.01, 0.0])
    one = Relaxation(table)
    monkeypatch.setattr(prices, "BLOCK", 1)
    other = Relaxation(table)
    assert len(other.blocks) > len(one.blocks) > 1
    assert np.array_equal(one.least(at, gram), other.least(at, gram))
    for mine, theirs in zip(one.choose(at, gram), other.choose(at, gram), strict=True):
        assert np.array_equal(mine, theirs)
    chosen, space = one.choose(at, gram)
    assert table.ok[chosen, space].all()
    assert (table.first[:-1] <= chosen).all()
    assert (chosen < table.first[1:]).all()


def test_some_lots_stand_for_all(make: Make, monkeypatch: pytest.MonkeyPatch) -> None:
    """They have their partners with them, and as large a share of cells, load and opening cost as they are of all."""
    grids = tuple(make.grid(f"s{n}", 12, 10) for n in range(3))
    asks = tuple(make.ask(f"l{n}", (2, 3), near=(f"l{n // 2 * 2}",)) for n in range(60))
    table = table_of(problem_of(grids, asks))
    monkeypatch.setattr(prices, "SAMPLE", 20)
    some = prices._sample(Relaxation(table))
    share = len(some.lots) / 60
    assert 0.2 < share < 0.5
    assert {int(lot) ^ 1 for lot in some.lots} == set(some.lots.tolist())
    assert some.table.cells == pytest.approx(share * table.cells, rel=0.02)
    assert some.table.load_g == pytest.approx(share * table.load_g)
    assert some.table.opened == pytest.approx(share * table.opened)
