"""Wishes inside a space: each part of the cost rises with what it is about, and only with that."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.layout.model import Placed
from nookwright.layout.wishes import Wishes, about_wishes, hemmed_in, topples, wish_cost
from nookwright.survey.layout_wishes import Weights

if TYPE_CHECKING:
    from tests.layout.conftest import Make

    from nookwright.layout.model import Grid

PITCH = 18.0


def tray(make: Make, lot: str, *box: int, **other: float) -> Placed:
    """A tray of a lot, 48 mm high unless said otherwise, its things as high."""
    col, row, cols, rows = box
    height = other.pop("height", 48.0)
    one = replace(make.candidate(lot, cols, rows), height=height, tall=other.pop("tall", height), **other)  # type: ignore[arg-type]
    return Placed("s", col, row, cols, rows, turned=False, candidate=one, height=height)


def cost(grid: Grid, placed: list[Placed], wishes: Wishes) -> dict[str, float]:
    """The parts of the cost by name."""
    return {part.name: part.value for part in wish_cost(grid, placed, wishes)}


def wishes_of(make: Make, *lots: str, **other: object) -> Wishes:
    """Lots with a use of 1 and no bonds."""
    return Wishes({lot: make.ask(lot, (2, 2)) for lot in lots}, PITCH, **other)  # type: ignore[arg-type]


def test_an_empty_space_costs_nothing(make: Make) -> None:
    """And there is nothing to say."""
    assert set(cost(make.grid("s", 5, 5), [], wishes_of(make)).values()) == {0.0}
    assert about_wishes(make.grid("s", 5, 5), [], PITCH, {}) == ()


def test_handy_is_in_front(make: Make) -> None:
    """A metre further in costs one for a weekly use; twice for twice the use."""
    grid, wishes = make.grid("s", 4, 60), wishes_of(make, "a")
    front, back = tray(make, "a", 0, 0, 2, 2), tray(make, "a", 0, 50, 2, 2)
    assert cost(grid, [front], wishes)["handy"] == 0
    assert cost(grid, [back], wishes)["handy"] == pytest.approx(0.9)
    often = Wishes({"a": replace(wishes.asks["a"], use=2.0)}, PITCH)
    assert cost(grid, [back], often)["handy"] == pytest.approx(1.8)


def test_what_stays_inside_an_open_drawer_is_the_least_handy(make: Make) -> None:
    """Two of its rows behind the travel cost 0.02 a mm."""
    grid = make.grid("s", 4, 10, behind=2, drawer=True)
    seen, hidden = tray(make, "a", 0, 6, 2, 2), tray(make, "a", 0, 8, 2, 2)
    wishes = wishes_of(make, "a")
    more = cost(grid, [hidden], wishes)["handy"] - cost(grid, [seen], wishes)["handy"]
    assert more == pytest.approx(0.001 * 36 + 0.02 * 36)


@pytest.mark.parametrize(
    ("deep", "tall", "falls"),
    [(144.0, 210.0, False), (90.0, 210.0, True), (100.0, 80.0, False), (20.0, 40.0, True)],
)
def test_what_is_tall_and_narrow_topples(deep: float, tall: float, falls: bool) -> None:  # noqa: FBT001
    """At 0.5 m/s a middle is lifted by 12.7 mm: hypot(72, 105) - 105 = 22.3, hypot(45, 105) - 105 = 9.2."""
    assert topples(deep, tall) is falls


def test_tall_parts_want_something_at_their_back_and_front(make: Make) -> None:
    """Alone in the middle it costs both; at the back wall the front; between wall and a high neighbour nothing."""
    grid, wishes = make.grid("s", 4, 12, drawer=True, height=250.0), wishes_of(make, "a", "b")
    alone = cost(grid, [tray(make, "a", 0, 5, 4, 4, tall=200.0)], wishes)["backed"]
    back = tray(make, "a", 0, 8, 4, 4, tall=200.0)
    assert (alone, cost(grid, [back], wishes)["backed"]) == (6.0, 2.0)
    assert cost(grid, [back, tray(make, "b", 0, 3, 4, 5, height=102.0)], wishes)["backed"] == 0
    assert cost(grid, [back, tray(make, "b", 0, 3, 4, 5, height=96.0)], wishes)["backed"] == 2.0
    assert cost(grid, [back, tray(make, "b", 3, 3, 1, 5, height=102.0)], wishes)["backed"] == 2.0
    shelf = replace(grid, drawer=False)
    assert cost(shelf, [tray(make, "a", 0, 5, 4, 4, tall=200.0)], wishes)["backed"] == 0
    found = {one.code: one.text for one in about_wishes(grid, [back], PITCH, {"a": "Oil"})}
    assert "Oil" in found["part-not-backed"]


def test_lots_that_belong_together_lie_side_by_side(make: Make) -> None:
    """Apart in one space: a twentieth of what two spaces would cost."""
    grid = make.grid("s", 9, 3)
    asks = {"a": make.ask("a", (2, 2), near=("b",)), "b": make.ask("b", (2, 2))}
    one, near, far = tray(make, "a", 0, 0, 2, 2), tray(make, "b", 2, 1, 2, 2), tray(make, "b", 2, 2, 2, 2)
    assert cost(grid, [one, near], Wishes(asks, PITCH))["beside"] == 0
    assert cost(grid, [one, far], Wishes(asks, PITCH))["beside"] == pytest.approx(1.5)


def test_a_group_stays_in_one_place(make: Make) -> None:
    """Three of one group in a row are one place, with another one between them two."""
    grid = make.grid("s", 9, 3)
    asks = {lot: replace(make.ask(lot, (2, 2)), group="g") for lot in "abc"} | {"x": make.ask("x", (2, 2))}
    line = [tray(make, lot, 2 * n, 0, 2, 2) for n, lot in enumerate("abcx")]
    parted = [tray(make, lot, 2 * n, 0, 2, 2) for n, lot in enumerate("abxc")]
    assert cost(grid, line, Wishes(asks, PITCH))["alike"] == 0
    assert cost(grid, parted, Wishes(asks, PITCH))["alike"] == 1
    assert cost(grid, parted, Wishes(asks, PITCH, Weights(alike=3.0)))["alike"] == 3


def test_order_is_left_to_right_and_front_to_back(make: Make) -> None:
    """By lot or by group; each pair the wrong way round costs three."""
    grid = make.grid("s", 9, 6)
    asks = {lot: replace(make.ask(lot, (2, 2)), group="g" if lot == "c" else "") for lot in "abc"}
    placed = [tray(make, "a", 0, 0, 2, 2), tray(make, "b", 2, 0, 2, 2), tray(make, "c", 0, 2, 2, 2)]
    for order, wrong in ((("a", "b", "g"), 0), (("b", "a", "g"), 1), (("g", "b", "a"), 3), ((), 0)):
        assert cost(grid, placed, Wishes(asks, PITCH, order=order))["order"] == 3.0 * wrong


def test_each_more_size_of_part_costs(make: Make) -> None:
    """Turned is the same size, another height is not."""
    grid, wishes = make.grid("s", 9, 9), wishes_of(make, "a", "b", "c")
    same = [tray(make, "a", 0, 0, 2, 3), tray(make, "b", 2, 0, 3, 2)]
    assert cost(grid, same, wishes)["sizes"] == 0
    assert cost(grid, [*same, tray(make, "c", 5, 0, 2, 3, height=36.0)], wishes)["sizes"] == 1


def test_a_low_tray_between_high_ones_is_hemmed_in(make: Make) -> None:
    """Only if both grips are, if the rims are higher by more than a fingertip, and if a hand does not fit inside."""
    grid = make.grid("s", 12, 4)
    low = tray(make, "b", 4, 0, 3, 4, height=24.0)
    left, right = tray(make, "a", 0, 0, 4, 4, height=48.0), tray(make, "c", 7, 0, 4, 4, height=48.0)
    assert hemmed_in(grid, [left, low, right], PITCH) == (low,)
    assert hemmed_in(grid, [left, low], PITCH) == ()
    assert hemmed_in(grid, [replace(left, height=36.0), low, right], PITCH) == ()
    at_the_wall = replace(low, col=0)
    assert hemmed_in(grid, [at_the_wall, replace(right, col=3)], PITCH) == (at_the_wall,)
    wide = tray(make, "b", 4, 0, 6, 8, height=24.0)
    assert hemmed_in(make.grid("s", 10, 8), [left, wide], PITCH) == ()
    (found,) = about_wishes(grid, [left, low, right], PITCH, {"b": "Washers"})
    assert (found.code, "Washers" in found.text) == ("tray-hemmed-in", True)


def test_what_stands_on_a_lid_is_not_hemmed_in(make: Make) -> None:
    """And makes its own neighbours' walls higher."""
    grid = make.grid("s", 11, 4)
    left, right = tray(make, "a", 0, 0, 4, 4, height=24.0), tray(make, "c", 7, 0, 4, 4, height=24.0)
    low = tray(make, "b", 4, 0, 3, 4, height=24.0)
    stacks = [replace(one, level=1, raised=30.0) for one in (left, right)]
    assert hemmed_in(grid, [left, low, right], PITCH) == ()
    assert hemmed_in(grid, [left, low, right, *stacks], PITCH) == (low,)
    assert hemmed_in(grid, [replace(low, level=1)], PITCH) == ()


def test_heavy_things_stand_in_front_on_a_shelf(make: Make) -> None:
    """Two kilograms half a metre in cost two; a drawer comes out."""
    shelf, wishes = make.grid("s", 4, 60), wishes_of(make, "a")
    heavy = tray(make, "a", 0, 50, 2, 2, mass_g=2000.0)
    assert cost(shelf, [heavy], wishes)["far"] == pytest.approx(2.0 * 2.0 * 0.9)
    assert cost(replace(shelf, drawer=True), [heavy], wishes)["far"] == 0


BOX = st.tuples(st.integers(0, 4), st.integers(0, 4), st.integers(1, 4), st.integers(1, 4), st.integers(3, 30))


@given(st.lists(BOX, max_size=6), st.booleans())
def test_no_part_of_the_cost_is_negative(make: Make, boxes: list[tuple[int, int, int, int, int]], drawer: bool) -> None:  # noqa: FBT001
    """Whatever stands where: early refusal by a part of the cost relies on it."""
    placed = [
        tray(make, f"l{n}", c, r, cols, rows, height=6.0 * rises) for n, (c, r, cols, rows, rises) in enumerate(boxes)
    ]
    wishes = wishes_of(make, *(f"l{n}" for n in range(len(boxes))), order=("l2", "l0"))
    parts = cost(make.grid("s", 8, 8, drawer=drawer, behind=1), placed, wishes)
    assert min(parts.values()) >= 0
