"""The kernels against plain Python, and against putting footprints down cell by cell."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.layout.bits import free_cells, stride
from nookwright.layout.packing import Footprint, Spot, kernels, plain, words
from nookwright.layout.packing.moves import Draws, state_from

if TYPE_CHECKING:
    from collections.abc import Callable

    from nookwright.layout.packing.found import Order

FOOTPRINT = st.builds(Footprint, st.integers(1, 6), st.integers(1, 6), st.booleans())
STATE = st.integers(0, 2**40).map(state_from)


@st.composite
def spaces(draw: st.DrawFn) -> tuple[int, int, set[tuple[int, int]]]:
    """Columns and rows of a space, and blocked cells of it."""
    cols, rows = draw(st.sampled_from([1, 2, 5, 9, 31, 63, 64])), draw(st.integers(1, 12))
    cell = st.tuples(st.integers(0, cols - 1), st.integers(0, rows - 1))
    return cols, rows, draw(st.sets(cell, max_size=12))


@st.composite
def orders(draw: st.DrawFn, *, most: int = 10) -> tuple[list[Footprint], Order]:
    """Footprints, and all of them in some order, some marked as turned."""
    items = draw(st.lists(FOOTPRINT, max_size=most))
    numbers = draw(st.permutations(range(len(items))))
    return items, tuple((number, draw(st.booleans())) for number in numbers)


def put_down(
    cols: int, rows: int, blocked: set[tuple[int, int]], items: list[Footprint], order: Order
) -> list[Spot | None]:
    """One after the other to the first place that is free, row by row, as one would with paper and scissors."""
    free = {(col, row) for col in range(cols) for row in range(rows)} - blocked
    spots: list[Spot | None] = [None] * len(items)
    for number, marked in order:
        item = items[number]
        for turned in [marked and item.may_turn, not marked] if item.may_turn else [False]:
            wide, deep = (item.rows, item.cols) if turned else (item.cols, item.rows)
            for row, col in sorted((row, col) for col, row in free):
                cells = {(col + i, row + j) for i in range(wide) for j in range(deep)}
                if cells <= free:
                    free -= cells
                    spots[number] = Spot(col, row, turned)
                    break
            if spots[number]:
                break
    return spots


@given(spaces(), orders())
def test_an_order_is_packed_as_one_would_by_hand(
    space: tuple[int, int, set[tuple[int, int]]], things: tuple[list[Footprint], Order]
) -> None:
    """A packing of a given order, without search, is what going through the free cells row by row gives."""
    (cols, rows, blocked), (items, order) = space, things
    walk = words.in_kernels(free_cells(cols, rows, blocked), stride(cols), items, order, tries=1, state=1)
    assert list(walk.packing.spots) == put_down(cols, rows, blocked, items, order)
    assert walk.packing.order == order


@given(spaces(), orders(most=16), STATE)
def test_the_kernels_walk_as_plain_python_does(
    space: tuple[int, int, set[tuple[int, int]]], things: tuple[list[Footprint], Order], state: int
) -> None:
    """Same arguments, same packing, same order, same number of tries, and the generator stands at the same place."""
    (cols, rows, blocked), (items, order) = space, things
    free = free_cells(cols, rows, blocked)
    in_kernels = words.in_kernels(free, stride(cols), items, order, tries=80, state=state)
    assert in_kernels == plain.search(free, stride(cols), items, order, tries=80, state=state)


@given(space=spaces(), things=orders(most=16), state=STATE)
def test_what_is_free_afterwards_is_what_nothing_covers(
    space: tuple[int, int, set[tuple[int, int]]],
    things: tuple[list[Footprint], Order],
    state: int,
    covered: Callable[[list[Footprint], list[Spot | None]], list[tuple[int, int]]],
) -> None:
    """The array of free cells that is handed in holds the rest of the space afterwards, and ``lift`` gives all back."""
    (cols, rows, blocked), (items, order) = space, things
    free = words.words(free_cells(cols, rows, blocked), stride(cols))
    before = free.copy()
    wide, deep, turns = np.array(items, np.int64).reshape(-1, 3).T.copy()
    numbers, turned = np.array(order, np.int64).reshape(-1, 2).T.copy()
    work, rng = np.zeros((kernels.WORK, len(items) + 1), np.int64), np.array([state], np.uint64)
    left, _ = kernels.search(free, wide, deep, turns, numbers, turned, work, 60, rng)
    spots: list[Spot | None] = [None] * len(items)
    for step, item in enumerate(numbers.tolist()):
        at = int(work[kernels.AT, step])
        spots[item] = None if at < 0 else Spot(at & 63, at >> 6, bool(work[kernels.LIES, step]))
    cells = covered(items, spots)
    assert len(cells) == len(set(cells))
    assert left == sum(item.cols * item.rows for item in items) - len(cells)
    still = {(col, row) for row, word in enumerate(free.tolist()) for col in range(64) if word >> col & 1}
    assert still == {(c, r) for c in range(cols) for r in range(rows)} - blocked - set(cells)
    kernels.lift(free, wide, deep, numbers, work[kernels.AT], work[kernels.LIES], 0, len(items))
    assert (free == before).all()


@given(spaces(), orders(most=16), STATE)
def test_more_tries_leave_no_more_out(
    space: tuple[int, int, set[tuple[int, int]]], things: tuple[list[Footprint], Order], state: int
) -> None:
    """A walk only takes over what leaves no more area out."""
    (cols, rows, blocked), (items, order) = space, things
    free = free_cells(cols, rows, blocked)
    left = [words.in_kernels(free, stride(cols), items, order, tries=tries, state=state).left for tries in (1, 10, 100)]
    assert left == sorted(left, reverse=True)


@given(STATE, st.integers(1, 2**31))
def test_both_generators_draw_the_same(state: int, count: int) -> None:
    """A hundred numbers below a count, drawn in Python and in the kernel."""
    draws, rng = Draws(state), np.array([state], np.uint64)
    assert [draws.below(count) for _ in range(100)] == [int(kernels.below(rng, count)) for _ in range(100)]
    assert draws.state == int(rng[0])


@pytest.mark.parametrize(("wide", "deep", "expected"), [(64, 1, 0), (64, 3, -1), (65, 1, -1), (128, 1, -1), (1, 2, 0)])
def test_places_at_the_edge_of_a_word(wide: int, deep: int, expected: int) -> None:
    """Two free rows of 64: a bar of 64 goes in, what is wider or deeper does not."""
    assert kernels.find_place(np.full(2, 2**64 - 1, np.uint64), 0, wide, deep) == expected
