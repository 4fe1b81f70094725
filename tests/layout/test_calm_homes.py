"""Lots moved on to where rows fit: no walk twice, no walk in vain, and an end to looking in rooms that are too full."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.layout.calm import arrange as arranging
from nookwright.layout.calm import homes as housing
from nookwright.layout.calm import seek as seeking
from nookwright.layout.calm.arrange import Looks, arrange
from nookwright.layout.calm.homes import Housing
from nookwright.layout.calm.judging import judge_of
from nookwright.layout.calm.rows import Rows
from nookwright.layout.calm.seek import GLANCES, STARTS, Found

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tests.layout.conftest import Make

    from nookwright.module.module import Module

BOTH = 2  # directions
SIZES = st.lists(st.tuples(st.integers(2, 6), st.integers(2, 6)), min_size=1, max_size=7)


def looks_at(make: Make, module: Module, sizes: Sequence[tuple[int, int]], cols: int, rows: int) -> Looks:
    """At lots of these sizes in one drawer; nothing is walked yet."""
    asks = [make.ask(f"l{n:02}", size) for n, size in enumerate(sizes)]
    return Looks(make.grid("drawer", cols, rows), asks, judge_of(asks, module), seed=1)


# By areas they go into 17 x 17 cells; in rows some cells are lacking.
MIXED = [(3, 4), (7, 7), (3, 5), (6, 3), (3, 7), (5, 6), (4, 4), (6, 3), (5, 5), (3, 6), (4, 5), (5, 6)]
WHEEL = [(3, 2), (2, 3), (3, 2), (2, 3), (1, 1)]  # round each other they fill 5 x 5 cells


def housed(
    make: Make, module: Module, spaces: int, sizes: Sequence[tuple[int, int]], cells: tuple[int, int]
) -> tuple[Housing, dict[str, tuple[str, ...]]]:
    """Spaces alike, with a lot of each size in each."""
    homes = {f"s{n}": tuple(f"s{n}-{at:02}" for at in range(len(sizes))) for n in range(spaces)}
    asks = [make.ask(lot, size) for lots in homes.values() for lot, size in zip(lots, sizes, strict=True)]
    grids = [make.grid(space, *cells, load_g=1e6) for space in homes]
    return Housing(grids, asks, judge_of(asks, module), 1), homes


@pytest.fixture
def walks(monkeypatch: pytest.MonkeyPatch) -> list[range]:
    """The numbers of the walks of every search while the test runs."""
    made: list[range] = []
    seek = seeking.seek

    def counted(*args: object, starts: range, **more: object) -> list[Found]:
        made.append(starts)
        return seek(*args, starts=starts, **more)  # type: ignore[arg-type]

    monkeypatch.setattr(arranging, "seek", counted)
    return made


def test_what_was_walked_for_a_glance_is_not_walked_again(make: Make, module: Module, walks: list[range]) -> None:
    """A space that is looked at, then arranged, then looked at again takes each walk once for each direction."""
    house, homes = housed(make, module, 1, MIXED, (17, 19))
    house.glance("s0", homes["s0"])
    house.arranged("s0", homes["s0"])
    house.glance("s0", homes["s0"])
    assert sorted(number for one in walks for number in one) == sorted([*range(int(STARTS))] * BOTH)


@settings(max_examples=20, deadline=None)
@given(SIZES, st.integers(0, int(STARTS)))
def test_rows_are_the_same_whatever_was_looked_at_before(
    make: Make, module: Module, sizes: list[tuple[int, int]], before: int
) -> None:
    """The arrangement that goes on from some walks is the one that begins anew."""
    looks = looks_at(make, module, sizes, 12, 9)
    looks.walk_unless_hopeless(before)
    grid, asks, judge = looks.grid, looks.asks, looks.judge
    assert arrange(grid, asks, judge, seed=1, looks=looks) == arrange(grid, asks, judge, seed=1)


def test_a_glance_goes_by_its_own_walks_only(make: Make, module: Module, monkeypatch: pytest.MonkeyPatch) -> None:
    """Walks made later, which lack less, change nothing: what is moved where does not hang on the order of work."""

    def better_and_better(*_: object, starts: range, **__: object) -> list[Found]:
        return [Found(Rows((), 0), 0.0, 100 - start, 1) for start in starts]

    monkeypatch.setattr(arranging, "seek", better_and_better)
    looks = looks_at(make, module, [(2, 2)], 9, 9)
    looks.walk(int(GLANCES))
    before = looks.glance
    looks.walk(int(STARTS))
    assert looks.glance == before == (101 - int(GLANCES), 0.0)


def test_a_space_that_is_far_too_full_is_walked_once(make: Make, module: Module, walks: list[range]) -> None:
    """Lots that take more cells than there are: no second walk for either direction."""
    house, homes = housed(make, module, 1, MIXED, (17, 14))
    lacks, _ = house.glance("s0", homes["s0"])
    assert not house.arranged("s0", homes["s0"]).fits
    assert lacks > 0
    assert walks == [range(1)] * BOTH


def test_a_space_filled_by_alike_lots_stands_in_rows(make: Make, module: Module) -> None:
    """Full to the last cell is not hopeless where the first walk finds rows."""
    looks = looks_at(make, module, [(3, 4)] * 9, 9, 12)
    assert arrange(looks.grid, looks.asks, looks.judge, seed=1, looks=looks).fits
    assert not looks.hopeless


def test_a_little_lacking_is_not_hopeless(make: Make, module: Module) -> None:
    """Very full, and the first walk lacks some cells: the others are walked too."""
    looks = looks_at(make, module, MIXED, 17, 17)
    looks.walk_unless_hopeless(int(GLANCES))
    assert looks.very_full
    assert looks.glance[0] > 0
    assert looks.walked == int(GLANCES)


def test_looking_at_moves_ends_with_the_effort(
    make: Make, module: Module, monkeypatch: pytest.MonkeyPatch, walks: list[range]
) -> None:
    """With no effort left after the first look, no move is looked at; with plenty, many are."""
    looked = []
    for effort in (0, 10**12):
        house, homes = housed(make, module, 2, MIXED, (17, 17))
        monkeypatch.setattr(housing, "LEAST_EFFORT", effort)
        monkeypatch.setattr(housing, "EFFORT_SHARE", 0)
        walks.clear()
        house.settled(homes)
        looked.append(len(walks))
    assert looked[0] == 2 * BOTH * 2  # very full: one walk first, then the others
    assert looked[1] > 4 * looked[0]


def test_effort_goes_little_beyond_what_is_allowed(make: Make, module: Module, monkeypatch: pytest.MonkeyPatch) -> None:
    """It ends within one move: what the looks at its two spaces take."""
    house, homes = housed(make, module, 2, MIXED, (17, 17))
    for space, lots in homes.items():
        house.glance(space, lots)
    first = house.effort
    monkeypatch.setattr(housing, "LEAST_EFFORT", first)
    monkeypatch.setattr(housing, "EFFORT_SHARE", 0)
    house.settled(homes)
    assert 2 * first <= house.effort <= 3 * first


def test_no_move_is_looked_at_where_none_brings_air(make: Make, module: Module, walks: list[range]) -> None:
    """Spaces that are full and far from rows: a first look at each, however many lots could change places."""
    house, homes = housed(make, module, 3, WHEEL, (5, 5))
    assert house.settled(homes) == homes
    assert walks == [range(1)] * BOTH * 3
