"""Strips: always a packing, never below the bound, the same again, and lower the longer one asks."""

from __future__ import annotations

from itertools import islice, permutations, product
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.layout.packing import Footprint, Spot
from nookwright.layout.packing.strip import Box, least_height, pack_strip, strips

if TYPE_CHECKING:
    from collections.abc import Callable

WIDTH = st.integers(6, 15)
FOOTPRINTS = st.lists(st.builds(Footprint, st.integers(1, 6), st.integers(1, 6), st.booleans()), max_size=10)


@settings(max_examples=40)
@given(width=WIDTH, items=FOOTPRINTS, seed=st.integers(0, 9))
def test_a_strip_is_a_packing_as_high_as_it_says(
    width: int,
    items: list[Footprint],
    seed: int,
    covered: Callable[[list[Footprint], tuple[Spot, ...]], list[tuple[int, int]]],
) -> None:
    """Counted cell by cell; the bound is not above the height."""
    strip = pack_strip(width, items, tries=500, seed=seed)
    cells = covered(items, strip.spots)
    assert len(cells) == len(set(cells)) == sum(item.cols * item.rows for item in items)
    assert all(0 <= col < width and row >= 0 for col, row in cells)
    assert strip.height == max((row + 1 for _, row in cells), default=0) >= strip.bound


@settings(max_examples=20)
@given(WIDTH, FOOTPRINTS)
def test_the_same_arguments_give_the_same_strip(width: int, items: list[Footprint]) -> None:
    """The search draws from its seed only."""
    assert pack_strip(width, items, tries=500, seed=3) == pack_strip(width, items, tries=500, seed=3)


def test_asking_on_gives_lower_strips_and_never_higher_ones() -> None:
    """Forty bars of 7 x 3 and 5 x 4 in a strip of 31: the heights fall, and tries are counted on."""
    items = [Footprint(7, 3, may_turn=True)] * 20 + [Footprint(5, 4, may_turn=True)] * 20
    found = list(islice(strips(31, items, seed=1), 6))
    assert [strip.height for strip in found] == sorted((strip.height for strip in found), reverse=True)
    assert [strip.tries for strip in found] == sorted({strip.tries for strip in found})


def lowest_by_trying_all(width: int, items: list[Footprint]) -> int:
    """The lowest height of all orders and turns, each footprint at the lowest, then left-most place that is free."""
    best = sum(max(item[:2]) for item in items)
    for order in permutations(items):
        for turns in product((False, True), repeat=len(items)):
            free = [[True] * width for _ in range(best)]
            top = 0
            for item, turned in zip(order, turns, strict=True):
                wide, tall = (item.rows, item.cols) if turned and item.may_turn else item[:2]
                place = next(
                    (
                        (col, row)
                        for row in range(best - tall + 1)
                        for col in range(width - wide + 1)
                        if all(free[row + j][col + i] for i in range(wide) for j in range(tall))
                    ),
                    None,
                )
                if place is None:
                    break
                for i, j in product(range(wide), range(tall)):
                    free[place[1] + j][place[0] + i] = False
                top = max(top, place[1] + tall)
            else:
                best = min(best, top)
    return best


@settings(max_examples=15, deadline=None)
@given(
    st.integers(4, 7), st.lists(st.builds(Footprint, *[st.integers(1, 4)] * 2, st.booleans()), min_size=1, max_size=4)
)
def test_few_footprints_are_packed_as_low_as_can_be(width: int, items: list[Footprint]) -> None:
    """No order and turn of up to four footprints is lower; the bound is not above what they reach."""
    lowest = lowest_by_trying_all(width, items)
    assert least_height(width, items) <= lowest
    assert pack_strip(width, items, tries=4000, seed=1).height <= lowest


@pytest.mark.parametrize("rule", ["on_skyline", "in_cells", "on_its_side"])
def test_each_rule_packs_a_box_by_itself(rule: str) -> None:
    """Four 3 x 2 bars beside each other, two turned, and one of 2 x 2: 8 x 4 less a corner."""
    import numpy as np

    box = Box(8, [Footprint(3, 2, may_turn=True)] * 4 + [Footprint(2, 2, may_turn=False)], highest=20, seed=1)
    order = np.arange(5), np.zeros(5, np.int64)
    assert getattr(box, rule)(4, order, 500)
    assert box.top() <= 4
    assert not getattr(box, rule)(3, order, 500), "28 cells do not go into 24"


def test_a_footprint_wider_than_the_strip_is_refused() -> None:
    """It says which, how wide the strip is, and what to do."""
    with pytest.raises(ValueError, match="9 x 4 is wider than the strip of 7: leave it out"):
        pack_strip(7, [Footprint(9, 4, may_turn=False)], tries=10, seed=1)
    with pytest.raises(ValueError, match="9 x 8 is wider than the strip of 7 both ways"):
        pack_strip(7, [Footprint(9, 8, may_turn=True)], tries=10, seed=1)
    assert pack_strip(7, [Footprint(9, 4, may_turn=True)], tries=10, seed=1).height == 9
