"""Best fit on the skyline against the same rule on a row of column heights, and against cells."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from nookwright.layout.packing import Footprint, Spot, best_fit
from nookwright.layout.packing.fitting import Things
from nookwright.layout.packing.moves import state_from

if TYPE_CHECKING:
    from collections.abc import Callable

    from nookwright.layout.packing.found import Order

FOOTPRINT = st.builds(Footprint, st.integers(1, 7), st.integers(1, 7), st.booleans())
SIDE = st.integers(1, 14)
STATE = st.integers(0, 2**40).map(state_from)


@st.composite
def orders(draw: st.DrawFn) -> tuple[list[Footprint], Order]:
    """Footprints, and all of them in some order, some marked as turned."""
    items = draw(st.lists(FOOTPRINT, min_size=1, max_size=12))
    numbers = draw(st.permutations(range(len(items))))
    return items, tuple((number, draw(st.booleans())) for number in numbers)


def walk(
    width: int, height: int, items: list[Footprint], order: Order, *, tries: int, state: int
) -> tuple[list[Spot | None], Order, int]:
    """Where all lies after a search, the order found, and the area that stays out."""
    desk = best_fit.desk_for(len(items), width, height)
    things = Things(*np.array(items, np.int64).T.copy())
    numbers, turned = np.array(order, np.int64).T.copy()
    left, _ = best_fit.search(width, height, things, numbers, turned, desk, tries, np.array([state], np.uint64))
    spots: list[Spot | None] = []
    for item in range(len(items)):
        place = desk.work[best_fit.PLACED, item]
        mark = desk.marks[desk.work[best_fit.SIDE, place], place].tolist()
        spot = Spot(mark[best_fit.X], mark[best_fit.Y], bool(mark[best_fit.LIES]))
        spots.append(spot if place < len(items) else None)
    return spots, tuple(zip(numbers.tolist(), (turned > 0).tolist(), strict=True)), left


def fit_by_hand(width: int, height: int, items: list[Footprint], order: Order) -> list[Spot | None]:
    """The rule as it is told, on the height of every column."""
    tops = [0] * width
    spots: list[Spot | None] = [None] * len(items)
    rest = list(order)
    while rest and min(tops) < height:
        level = min(tops)
        begin = tops.index(level)
        end = next((col for col in range(begin, width) if tops[col] != level), width)
        left = (tops[begin - 1] if begin else height) - level
        right = (tops[end] if end < width else height) - level
        best: tuple[int, int, bool] | None = None
        for number, (item, marked) in enumerate(rest):
            for turned in [marked, not marked] if items[item].may_turn else [False]:
                cols, rows, _ = items[item]
                wide, tall = (rows, cols) if turned else (cols, rows)
                if wide > end - begin or level + tall > height:
                    continue
                score = 4 + 2 * (tall == left) + 2 * (tall == right) if wide == end - begin else 0
                score = score or 2 * (tall in (left, right))
                if best is None or score > best[0]:
                    best = (score, number, turned)
        if best is None:
            tops[begin:end] = [level + min(left, right)] * (end - begin)
            continue
        item, turned = rest.pop(best[1])[0], best[2]
        cols, rows, _ = items[item]
        wide, tall = (rows, cols) if turned else (cols, rows)
        by_left = tall == left or (tall != right and left >= right)
        col = begin if by_left else end - wide
        spots[item] = Spot(col, level, turned)
        tops[col : col + wide] = [level + tall] * wide
    return spots


@given(SIDE, SIDE, orders())
def test_an_order_is_packed_as_the_rule_says(width: int, height: int, things: tuple[list[Footprint], Order]) -> None:
    """A packing without search is what the rule gives on column heights, whatever fits."""
    items, order = things
    assert walk(width, height, items, order, tries=1, state=1)[0] == fit_by_hand(width, height, items, order)


@given(SIDE, SIDE, orders(), STATE)
def test_a_walk_ends_with_the_packing_of_its_order(
    width: int, height: int, things: tuple[list[Footprint], Order], state: int
) -> None:
    """After 120 changes, most of them packed from a later step on or not at all: by hand it is the same."""
    items, order = things
    spots, found, left = walk(width, height, items, order, tries=120, state=state)
    assert spots == fit_by_hand(width, height, items, found)
    assert sorted(item for item, _ in found) == list(range(len(items)))
    assert left == sum(item.cols * item.rows for item, spot in zip(items, spots, strict=True) if spot is None)


@given(width=SIDE, height=SIDE, things=orders(), state=STATE)
def test_nothing_overlaps_or_stands_out_of_the_box(
    width: int,
    height: int,
    things: tuple[list[Footprint], Order],
    state: int,
    covered: Callable[[list[Footprint], list[Spot | None]], list[tuple[int, int]]],
) -> None:
    """Counted cell by cell."""
    items, order = things
    cells = covered(items, walk(width, height, items, order, tries=60, state=state)[0])
    assert len(cells) == len(set(cells))
    assert set(cells) <= {(col, row) for col in range(width) for row in range(height)}


@given(SIDE, SIDE, orders(), STATE)
def test_more_tries_leave_no_more_out(
    width: int, height: int, things: tuple[list[Footprint], Order], state: int
) -> None:
    """A walk only takes over what leaves no more area out."""
    left = [walk(width, height, *things, tries=tries, state=state)[2] for tries in (1, 10, 100)]
    assert left == sorted(left, reverse=True)
