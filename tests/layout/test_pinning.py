"""Round what stays: it is there afterwards, exactly; its cells and its load are nobody else's; the cost counts it."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.layout.candidates import COST_PER_G
from nookwright.layout.filling import Means
from nookwright.layout.model import Ask, CostPart, Grid, Layout, LeftOut, Placed
from nookwright.layout.pinning import lay_out_around, pinned
from nookwright.layout.pins import Pin
from nookwright.layout.problem import LEFT_OUT
from nookwright.sizing.ways import PartKind
from nookwright.survey.models import FloorStyle

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from tests.layout.conftest import Make

    from nookwright.module.module import Module

    Check = Callable[[Sequence[Grid], Sequence[Ask], Layout], list[str]]


@pytest.fixture(scope="session")
def means(module: Module) -> Means:
    """Shell floors, any bed."""
    return Means(module, FloorStyle.SHELL)


def solve(grids: tuple[Grid, ...], asks: tuple[Ask, ...]) -> Layout:
    """Each lot, as its cheapest choice, in the first place that is free; what costs least goes first."""
    free = {g.space: {(c, r) for c in range(g.cols) for r in range(g.rows)} - set(g.blocked) for g in grids}
    load_g = {grid.space: grid.load_g for grid in grids}
    placed, left, cost, used = [], [], 0.0, set()
    for ask in asks:
        lean = dict(ask.leaning)
        options = sorted(
            (one.cost + ask.use * grid.reach + lean.get(grid.space, 0.0), number, col, row, grid.space)
            for number, one in enumerate(ask.candidates)
            for grid in grids
            if (not ask.spaces or grid.space in ask.spaces) and one.mass_g <= load_g[grid.space]
            for col, row in free[grid.space]
            if {(col + x, row + y) for x in range(one.cols) for y in range(one.rows)} <= free[grid.space]
        )
        if not options:
            left.append(LeftOut(ask.lot, "", ""))
            continue
        worth, number, col, row, space = options[0]
        one = ask.candidates[number]
        free[space] -= {(col + x, row + y) for x in range(one.cols) for y in range(one.rows)}
        load_g[space] -= one.mass_g
        placed.append(Placed(space, col, row, one.cols, one.rows, turned=False, candidate=one, height=one.height))
        cost += worth
        used.add(space)
    parts = (CostPart("footprint", cost), CostPart("open", sum(g.open_cost for g in grids if g.space in used)))
    total = sum(part.value for part in parts)
    ordered = tuple(sorted(placed, key=lambda one: (one.space, one.row, one.col)))
    return Layout(ordered, tuple(left), parts, total, 0.0, proven=True, by_clock=False, seed=1, iterations=0)


def around(grids: Sequence[Grid], asks: Sequence[Ask], pins: Sequence[Pin], means: Means) -> Layout:
    """The whole layout round what stays."""
    problem, layout = lay_out_around(grids, asks, pins, means, solve)
    return problem.put_back(layout)


def of(layout: Layout, lot: str) -> Placed:
    """The part of a lot."""
    return next(one for one in layout.placed if one.candidate and one.candidate.lot == lot)


def test_a_pinned_part_is_there_and_others_are_round_it(make: Make, means: Means, check: Check) -> None:
    """At column 3, row 1, where the first free place would have been another one."""
    grids, asks = (make.grid("s", 8, 4),), (make.ask("a", (3, 2)), make.ask("b", (3, 4)), make.ask("c", (2, 4)))
    layout = around(grids, asks, [Pin(0, "a", "s", (3, 1))], means)
    assert (of(layout, "a").col, of(layout, "a").row, of(layout, "a").pinned) == (3, 1, True)
    assert check(grids, asks, layout) == []
    assert layout.left_out == ()


def test_a_size_is_kept_as_it_lies(make: Make, means: Means) -> None:
    """4 x 5 for a candidate of 5 x 3: turned, and larger; its cells are all taken."""
    grids, asks = (make.grid("s", 8, 8),), (make.ask("a", (5, 3)),)
    one = of(around(grids, asks, [Pin(0, "a", "s", (2, 2), (4, 5))], means), "a")
    assert (one.cols, one.rows, one.turned) == (4, 5, True)
    problem = pinned(grids, asks, [Pin(0, "a", "s", (2, 2), (4, 5))], means)
    assert len(problem.grids[0].blocked) == 20
    assert problem.asks == ()


@pytest.mark.parametrize("at", [(2, 2), None])
def test_a_height_is_kept(make: Make, means: Means, at: tuple[int, int] | None) -> None:
    """A tray of 48 is made as high as 60, and weighs more; of what is higher than 48 nothing can be 48."""
    grids, asks = (make.grid("s", 8, 8, height=70.0),), (make.ask("a", (3, 2)),)
    low, high = (of(around(grids, asks, [Pin(0, "a", "s", at, height=height)], means), "a") for height in (None, 60.0))
    assert (low.height, high.height) == (48.0, 60.0)
    assert means.mass_g(high) > means.mass_g(low)
    (slip,) = pinned(grids, asks, [Pin(0, "a", "s", at, height=42.0)], means).slips
    assert (slip.key, slip.found, slip.allowed) == ("height", "42 mm", "48 mm and more")


@pytest.mark.parametrize(
    ("kind", "allowed"),
    [(PartKind.CRADLE, "48 to 60 mm"), (PartKind.SHOE, "48 to 60 mm"), (PartKind.REST, "48 mm")],
)
def test_what_holds_things_upright_is_raised_until_they_can_hardly_be_taken(
    make: Make, means: Means, kind: PartKind, allowed: str
) -> None:
    """Things reach up to 75: 12 of them stay out, which leaves two rises of 6; a rest goes by its things alone."""
    one = make.candidate("a", 3, 2, kind=kind, tall=75.0)
    grids, asks = (make.grid("s", 8, 8, height=90.0),), (replace(make.ask("a", (3, 2)), candidates=(one,)),)
    high = 60.0 if allowed != "48 mm" else 48.0
    found = of(around(grids, asks, [Pin(0, "a", "s", (2, 2), height=high)], means), "a")
    assert (found.height, found.candidate.tall if found.candidate else 0.0) == (high, 75.0)
    for wrong in (42.0, 66.0):
        (slip,) = pinned(grids, asks, [Pin(0, "a", "s", (2, 2), height=wrong)], means).slips
        assert (slip.key, slip.allowed) == ("height", allowed)


def test_of_several_candidates_the_best_that_fits_there_is_taken(make: Make, means: Means) -> None:
    """The cheapest is too long for the corner, straight and turned; the next one fits."""
    asks = (make.ask("a", (6, 2), (2, 3)),)
    one = of(around((make.grid("s", 8, 8),), asks, [Pin(0, "a", "s", (6, 3))], means), "a")
    assert (one.cols, one.rows) == (2, 3)


def test_its_load_is_taken_off(make: Make, means: Means) -> None:
    """100 g of 250: the second of the others no longer finds a place."""
    grids = (make.grid("s", 8, 8, load_g=250.0),)
    asks = tuple(make.ask(name, (2, 2)) for name in "abc")
    layout = around(grids, asks, [Pin(0, "a", "s", (4, 4))], means)
    assert [left.lot for left in layout.left_out] == ["c"]


def test_its_friends_lean_to_it_whoever_of_them_says_so(make: Make, means: Means) -> None:
    """In the second space, though the first is as good."""
    grids = (make.grid("s", 8, 8), make.grid("t", 8, 8))
    for asks in (
        (make.ask("a", (2, 2)), make.ask("b", (2, 2), near=("a",))),
        (make.ask("a", (2, 2), near=("b",)), make.ask("b", (2, 2))),
    ):
        pins = [Pin(0, "a", "t", (0, 0))]
        assert of(around(grids, asks, pins, means), "b").space == "t"
        (ask,) = pinned(grids, asks, pins, means).asks
        assert ask.leaning == (("s", 30.0),)
        assert ask.bonds == ()


def test_cost_and_bound_count_what_stays(make: Make, means: Means) -> None:
    """Its candidate, its reach and its open space; the space that it opens costs the others nothing more."""
    grids = (make.grid("s", 8, 8, reach=2.0, open_cost=40.0), make.grid("t", 8, 8, reach=3.0, open_cost=40.0))
    asks = (make.ask("a", (6, 6), (2, 2), use=3.0), make.ask("b", (2, 2)))
    layout = around(grids, asks, [Pin(0, "a", "s", (0, 0), (2, 2))], means)
    cost = {part.name: part.value for part in layout.cost}
    assert of(layout, "b").space == "s"
    assert cost["footprint"] == 1.0 + 2.0  # the dearer candidate of a, and all that b costs
    assert (cost["reach"], cost["open"]) == (6.0, 40.0)
    assert layout.bound == sum(cost.values())


def test_two_that_stay_apart_cost_it_once(make: Make, means: Means) -> None:
    """30 for the bond of two pinned lots in two spaces."""
    grids = (make.grid("s", 8, 8), make.grid("t", 8, 8))
    asks = (make.ask("a", (2, 2), near=("b",)), make.ask("b", (2, 2)))
    extra = pinned(grids, asks, [Pin(0, "a", "s", (0, 0)), Pin(1, "b", "t", (0, 0))], means).extra
    assert {part.name: part.value for part in extra}["split"] == 30.0


def test_without_a_corner_it_goes_to_its_space(make: Make, means: Means) -> None:
    """And there in its size."""
    grids, asks = (make.grid("s", 8, 8), make.grid("t", 8, 8)), (make.ask("a", (2, 2), (3, 2)),)
    assert of(around(grids, asks, [Pin(0, "a", "t")], means), "a").space == "t"
    one = of(around(grids, asks, [Pin(0, "a", "t", size=(3, 3))], means), "a")
    assert (one.space, one.cols, one.rows) == ("t", 3, 3)


def worth(means: Means, make: Make, cols: int, rows: int) -> float:
    """What the plastic of a tray counts."""
    one = make.candidate("a", cols, rows)
    return COST_PER_G * means.tray_g(cols, rows, one.height, one.way.floor)


@pytest.mark.parametrize(("more", "space"), [(-0.5, "s"), (0.5, "t")])
def test_what_is_printed_moves_only_for_more_than_its_plastic(
    make: Make, means: Means, more: float, space: str
) -> None:
    """A space that is cheaper by a little less than the part's grams, and by a little more."""
    both = (make.grid("s", 8, 8, reach=worth(means, make, 2, 2) + more), make.grid("t", 8, 8))
    grids = tuple(replace(grid, open_cost=0.0) for grid in both)
    for at in (None, (5, 5)):
        layout = around(grids, (make.ask("a", (2, 2)),), [Pin(0, "a", "s", at, (2, 2), printed=True)], means)
        assert of(layout, "a").space == space
        if space == "s" and at:
            assert (of(layout, "a").col, of(layout, "a").row) == at


def test_what_is_printed_keeps_its_footprint_unless_a_smaller_one_pays(make: Make, means: Means) -> None:
    """The tool's own choice of 2 x 2 would be cheaper than the printed 3 x 3 by nothing: it stays 3 x 3."""
    grids, asks = (make.grid("s", 8, 8),), (make.ask("a", (2, 2)),)
    one = of(around(grids, asks, [Pin(0, "a", "s", size=(3, 3), printed=True)], means), "a")
    assert (one.cols, one.rows) == (3, 3)
    tight = (make.grid("s", 2, 8),)
    one = of(around(tight, asks, [Pin(0, "a", "s", size=(3, 3), printed=True)], means), "a")
    assert (one.cols, one.rows) == (2, 2), "where there is no room for it, it is printed anew"


def test_what_is_printed_moves_rather_than_leave_a_lot_out(make: Make, means: Means) -> None:
    """It stands in the middle of a space that the other lot needs whole."""
    grids = (make.grid("s", 6, 2), make.grid("t", 2, 2))
    asks = (replace(make.ask("b", (6, 2)), spaces=("s",)), make.ask("a", (2, 2)))
    layout = around(grids, asks, [Pin(0, "a", "s", (2, 0), (2, 2), printed=True)], means)
    assert (layout.left_out, of(layout, "a").space) == ((), "t")
    assert worth(means, make, 2, 2) < LEFT_OUT


@pytest.mark.parametrize(
    ("pin", "grid", "key", "words"),
    [
        (Pin(1, "b", "s", (1, 1)), {}, "x", "overlaps that of a"),
        (Pin(1, "b", "s", (4, 4)), {"blocked": ((5, 5),)}, "x", "blocked"),
        (Pin(1, "b", "s", (7, 7)), {}, "x", "outside"),
        (Pin(1, "b", "s", (4, 4)), {"height": 47.0}, "space", "48 mm"),
        (Pin(1, "b", "s", (4, 4), (1, 2)), {}, "width", "35 x 35"),
        (Pin(1, "b", "s", (4, 4)), {"load_g": 150.0}, "space", "150 g"),
        (Pin(1, "b", "s", (4, 4)), {"fill": False}, "space", "floor"),
        (Pin(1, "b", "s", (4, 4)), {"warm": True}, "space", "cool"),
        (Pin(1, "b", "s"), {"warm": True}, "space", "cool"),
        (Pin(1, "b", "s"), {"wet": True}, "space", "dry"),
        (Pin(1, "b", "s"), {"children": True}, "space", "children"),
        (Pin(1, "b", "s", size=(1, 2)), {}, "width", "35 x 35"),
    ],
)
def test_what_breaks_a_rule_is_named_and_not_pinned(  # noqa: PLR0917 - one case each
    make: Make, means: Means, pin: Pin, grid: dict[str, object], key: str, words: str
) -> None:
    """The other one stays; the one in question goes where there is room, and the place is named."""
    grids = (make.grid("s", 8, 8, **grid), make.grid("t", 8, 8))
    picky = replace(make.ask("b", (2, 2)), cool=True, dry=True, out_of_reach=True)
    first = [Pin(0, "a", "s", (0, 0))] if "overlaps" in words or "load_g" in grid else []
    problem = pinned(grids, (make.ask("a", (2, 2)), picky), [*first, pin], means)
    (slip,) = problem.slips
    assert (slip.number, slip.lot, slip.key) == (1, "b", key)
    assert words in f"{slip.found} {slip.allowed}"
    assert slip.remedy
    assert "b" in [ask.lot for ask in problem.asks]
    assert len(problem.back) == len(first)


BOX = st.tuples(st.integers(0, 8), st.integers(0, 8), st.integers(1, 4), st.integers(1, 4))


@settings(max_examples=80, deadline=None)
@given(
    st.sets(st.tuples(st.integers(0, 8), st.integers(0, 8)), max_size=5),
    st.lists(BOX, min_size=1, max_size=4),
    st.lists(st.tuples(st.integers(1, 4), st.integers(1, 4)), max_size=4),
)
def test_pins_stay_exactly_or_are_named(  # noqa: PLR0917 - drawn by Hypothesis
    make: Make,
    means: Means,
    check: Check,
    blocked: set[tuple[int, int]],
    stays: list[tuple[int, int, int, int]],
    others: list[tuple[int, int]],
) -> None:
    """No overlap, no blocked cell, no lot lost; every pin is where it says or has a slip; twice the same."""
    grids = (make.grid("s", 9, 9, blocked=tuple(sorted(blocked)), load_g=650.0),)
    asks = tuple(make.ask(f"p{n}", box[2:]) for n, box in enumerate(stays))
    asks += tuple(make.ask(f"l{n}", size) for n, size in enumerate(others))
    pins = [Pin(n, f"p{n}", "s", box[:2], box[2:]) for n, box in enumerate(stays)]
    problem, rest = lay_out_around(grids, asks, pins, means, solve)
    layout = problem.put_back(rest)
    assert check(grids, asks, layout) == []
    assert lay_out_around(grids, asks, pins, means, solve) == (problem, rest)
    named = {slip.lot for slip in problem.slips}
    for pin, box in zip(pins, stays, strict=True):
        if pin.lot not in named:
            one = of(layout, pin.lot)
            assert (one.col, one.row, one.cols, one.rows) == box
    assert len(problem.back) + len(named) == len(pins)
