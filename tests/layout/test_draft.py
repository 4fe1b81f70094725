"""The draft: its costs are the sums, its masks are what is placed, and changes that cannot be packed change nothing."""

# ruff: noqa: S311 - random choices are seeded here so that they repeat

from __future__ import annotations

from random import Random
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.layout.draft import Draft
from nookwright.layout.problem import problem_of
from nookwright.layout.tidy import outline, tidy

if TYPE_CHECKING:
    from tests.layout.conftest import Make


def draft_of(make: Make) -> Draft:
    """Six lots, three of them near each other, for two spaces."""
    grids = (make.grid("a", 5, 5, reach=1.0), make.grid("b", 6, 4))
    sizes = ((3, 3), (2, 2)), ((4, 2), (3, 2)), ((2, 2),), ((3, 1),), ((5, 1), (2, 2)), ((2, 1),)
    asks = tuple(make.ask(str(n), *size, near=("0", "1")) for n, size in enumerate(sizes))
    return Draft(problem_of(grids, asks), Random(1))


@settings(max_examples=60, deadline=None)
@given(st.lists(st.lists(st.tuples(st.integers(0, 5), st.integers(-1, 9)), min_size=1, max_size=3), max_size=12))
def test_the_difference_foretold_is_the_difference_made(make: Make, moves: list[list[tuple[int, int]]]) -> None:
    """After any accepted change the cost has moved by ``delta``; after a refused one nothing has moved at all."""
    draft = draft_of(make)
    for move in moves:
        changes = {
            number: None if which < 0 else draft.problem.choices[number][which % len(draft.problem.choices[number])]
            for number, which in move
        }
        before, places, expected = draft.cost(), draft.copy_places(), draft.delta(changes)
        if draft.change(changes, tries=5):
            assert draft.cost() == pytest.approx(before + expected)
        else:
            assert draft.copy_places() == places
        for place, free in enumerate(draft.free):
            here = [choice for choice in draft.chosen if choice and choice.grid == place]
            assert free.bit_count() == draft.problem.cells[place] - sum(choice.area for choice in here)
            assert draft.mass_g[place] == sum(choice.mass_g for choice in here)


def test_restoring_brings_back_everything(make: Make) -> None:
    """Places, free cells and lots inside are those of before."""
    draft = draft_of(make)
    draft.take([choices[0] for choices in draft.problem.choices], tries=100)
    kept, free = draft.copy_places(), draft.free.copy()
    draft.change({0: None, 2: None}, tries=5)
    draft.restore(kept)
    assert draft.copy_places() == kept
    assert draft.free == free


def test_tidying_leaves_the_free_cells_in_one_piece(make: Make) -> None:
    """Two small trays in opposite corners move together, and the outline of what is free gets shorter."""
    problem = problem_of((make.grid("s", 6, 6),), (make.ask("a", (2, 2)), make.ask("b", (2, 2))))
    draft = Draft(problem, Random(1))
    draft.take([choices[0] for choices in problem.choices], tries=10)
    first, second = (spot for spot in draft.spots if spot)
    draft.put(0, {0: first._replace(col=0, row=2), 1: second._replace(col=4, row=3)})
    before = outline(draft.free[0], 7)
    tidy(draft)
    assert outline(draft.free[0], 7) < before
    assert [spot and spot.row for spot in draft.spots] == [0, 0]
