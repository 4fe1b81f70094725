"""The packer: always valid, repeatable, complete where it is easy to see."""

from __future__ import annotations

import subprocess
import sys
from typing import TYPE_CHECKING

from hypothesis import given
from hypothesis import strategies as st

from nookwright.layout.packing import Packing, drawer, pack

if TYPE_CHECKING:
    import pytest

SIZE = st.tuples(st.integers(1, 6), st.integers(1, 6))
CELL = st.tuples(st.integers(0, 9), st.integers(0, 9))


def cells_of(packing: Packing, items: list[tuple[int, int]]) -> list[tuple[int, int]]:
    """All cells that are covered, with repetitions."""
    covered = []
    for (cols, rows), spot in zip(items, packing.spots, strict=True):
        if spot is not None:
            wide, deep = (rows, cols) if spot.turned else (cols, rows)
            covered += [(spot.col + i, spot.row + j) for i in range(wide) for j in range(deep)]
    return covered


@given(st.integers(1, 10), st.integers(1, 10), st.sets(CELL, max_size=10), st.lists(SIZE, max_size=8), st.booleans())
def test_nothing_overlaps_sticks_out_or_lies_on_blocked_cells(
    cols: int,
    rows: int,
    blocked: set[tuple[int, int]],
    items: list[tuple[int, int]],
    turn: bool,  # noqa: FBT001 - drawn
) -> None:
    """Whatever is packed lies on free cells, each covered once; without turning, nothing is turned."""
    packing = pack(cols, rows, blocked, items, tries=50, seed=1, turn=turn)
    covered = cells_of(packing, items)
    assert len(covered) == len(set(covered))
    assert set(covered) <= {(c, r) for c in range(cols) for r in range(rows)} - blocked
    assert turn or not any(spot and spot.turned for spot in packing.spots)


def test_four_bars_round_a_hole_need_turning() -> None:
    """Four 3 x 2 bars and a single cell fill 5 x 5 as a pinwheel; two bars must be turned."""
    items = [(3, 2)] * 4 + [(1, 1)]
    packing = pack(5, 5, (), items, tries=500, seed=1)
    assert packing.complete
    assert sum(bool(spot and spot.turned) for spot in packing.spots) == 2
    assert not pack(5, 5, (), items, tries=500, seed=1, turn=False).complete


def test_a_footprint_that_only_fits_turned_is_turned() -> None:
    """A 4 x 1 footprint goes into a space of 1 x 4 cells."""
    (spot,) = pack(1, 4, (), [(4, 1)], tries=1, seed=1).spots
    assert spot == (0, 0, True)


def test_what_stays_out_is_named() -> None:
    """Of a 2 x 2 and a 3 x 3 footprint in 3 x 3 cells the larger one is packed, the other is None."""
    assert pack(3, 3, (), [(2, 2), (3, 3)], tries=50, seed=1).spots == (None, (0, 0, False))


def test_nothing_to_pack_is_complete() -> None:
    """No footprints: an empty packing, complete."""
    assert pack(3, 3, (), [], tries=10, seed=1) == Packing((), (), 1)


def test_the_same_arguments_give_the_same_packing() -> None:
    """The search draws from its seed only, and a returned order leads to its packing at once."""
    items = [(5, 3), (2, 7), (3, 3), (3, 8), (5, 3), (2, 3), (6, 2), (4, 4), (4, 3), (5, 5), (6, 6)]
    one = pack(14, 15, (), items, tries=300, seed=4)
    assert one == pack(14, 15, (), items, tries=300, seed=4)
    again = pack(14, 15, (), items, tries=1, seed=9, start=one.order)
    assert (again.spots, again.tries) == (one.spots, 1)


def test_footprints_may_be_turned_one_by_one() -> None:
    """Two bars of 1 x 4 in 4 x 2 cells: both must be turned, and only one may be."""
    packing = pack(4, 2, (), [(1, 4), (1, 4)], tries=50, seed=1, turn=(False, True))
    assert packing.spots == (None, (0, 0, True))


@given(st.integers(65, 90), st.integers(1, 8), st.sets(CELL, max_size=10), st.lists(SIZE, max_size=8))
def test_spaces_wider_than_a_word_are_packed_as_well(
    cols: int, rows: int, blocked: set[tuple[int, int]], items: list[tuple[int, int]]
) -> None:
    """More than 64 columns: columns and rows are exchanged for the search, and back in what it finds."""
    covered = cells_of(pack(cols, rows, blocked, items, tries=50, seed=1), items)
    assert len(covered) == len(set(covered))
    assert set(covered) <= {(c, r) for c in range(cols) for r in range(rows)} - blocked


def test_a_space_wider_than_a_word_both_ways_is_packed() -> None:
    """70 x 70 cells, four quarters of 35 x 35 and a bar too many."""
    packing = pack(70, 70, (), [(35, 35)] * 4 + [(70, 1)], tries=20, seed=1)
    assert packing.spots == ((0, 0, False), (35, 0, False), (0, 35, False), (35, 35, False), None)


def test_what_searches_makes_no_difference(monkeypatch: pytest.MonkeyPatch) -> None:
    """With little to do and with much, in plain Python and in the kernels: the same packing."""
    items = [(5, 3), (2, 7), (3, 3), (3, 8), (5, 3), (2, 3), (6, 2), (4, 4), (4, 3), (5, 5), (6, 6)]
    packings = []
    for worth in (0, 10**9):
        monkeypatch.setattr(drawer, "WORTH_LOADING", worth)
        monkeypatch.setattr(drawer, "_KERNELS", "not loaded")
        packings.append(pack(14, 15, [(3, 3)], items, tries=2500, seed=4))
    assert packings[0] == packings[1]


def test_a_short_search_does_not_load_numba() -> None:
    """The first layout of a room does not wait for it."""
    code = """if True:
        import sys
        from nookwright.layout.packing import pack
        assert pack(20, 20, (), [(3, 4)] * 30, tries=8, seed=1).complete
        assert "numba" not in sys.modules
        assert pack(3, 3, (), [(2, 2), (2, 2)], tries=200_000, seed=1).tries == 200_000
        assert "numba" in sys.modules
    """
    subprocess.run([sys.executable, "-c", code], check=True)
