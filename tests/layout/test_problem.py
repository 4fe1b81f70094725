"""What can go where, and what it costs."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from nookwright.layout.model import OPEN
from nookwright.layout.problem import SPLIT, Pair, cost_parts, problem_of

if TYPE_CHECKING:
    from tests.layout.conftest import Make


def test_impossible_choices_are_dropped(make: Make) -> None:
    """Too high, too heavy, too wide, blocked, in children's reach, not to be filled: none of these is a choice."""
    grids = (
        make.grid("good", 4, 4),
        make.grid("low", 4, 4, height=40.0),
        make.grid("weak", 4, 4, load_g=50.0),
        make.grid("narrow", 2, 4),
        make.grid("piped", 4, 4, blocked=((1, 1), (2, 2))),
        make.grid("children", 4, 4, children=True),
        make.grid("under", 4, 4, fill=False),
    )
    ask = replace(make.ask("oil", (3, 3)), out_of_reach=True)
    assert [choice.grid for choice in problem_of(grids, (ask,)).choices[0]] == [0]


def test_a_lot_goes_only_to_its_homes(make: Make) -> None:
    """Spaces that are not among its homes are no choice; without homes all are."""
    grids = (make.grid("bench", 4, 4), make.grid("tea", 4, 4), make.grid("shelf", 4, 4))
    ask = make.ask("cups", (2, 2))
    at_home = replace(ask, spaces=("tea", "shelf"))
    assert [choice.grid for choice in problem_of(grids, (at_home,)).choices[0]] == [1, 2]
    assert [choice.grid for choice in problem_of(grids, (ask,)).choices[0]] == [0, 1, 2]


def test_a_long_tray_goes_in_turned(make: Make) -> None:
    """A 5 x 2 footprint is a choice in a space of 2 x 5 cells."""
    assert problem_of((make.grid("a", 2, 5),), (make.ask("pens", (5, 2)),)).choices[0]


def test_a_candidate_that_another_beats_is_dropped(make: Make) -> None:
    """Larger (turned counts) and dearer goes; larger but cheaper, or smaller but dearer, stays."""
    best, beaten, small = (
        make.candidate("a", 3, 4, cost=0.0),
        make.candidate("a", 5, 3, cost=1.0),
        make.candidate("a", 2, 4, cost=2.0),
    )
    light = replace(beaten, mass_g=10.0)
    for given, kept in (
        ((beaten, small, best), [best, small]),
        ((best, best), [best]),
        ((best, light), [best, light]),
    ):
        ask = replace(make.ask("a"), candidates=given)
        assert [one.candidate for one in problem_of((make.grid("s", 9, 9),), (ask,)).choices[0]] == kept


def test_a_beaten_candidate_stays_where_the_better_one_may_not_be(make: Make) -> None:
    """The better one is too tall for the low space, so there the larger and dearer one is a choice; elsewhere not."""
    best, beaten = make.candidate("a", 3, 4, cost=0.0, tall=90.0), make.candidate("a", 5, 3, cost=1.0)
    grids = (make.grid("low", 9, 9, height=50.0), make.grid("high", 9, 9))
    choices = problem_of(grids, (replace(make.ask("a"), candidates=(best, beaten)),)).choices[0]
    assert [(one.grid, one.candidate) for one in choices] == [(0, beaten), (1, best)]


def test_pairs_count_once_and_only_between_known_lots(make: Make) -> None:
    """Said by either lot or both, a pair is one; unknown lots and the lot itself make none."""
    asks = (make.ask("a", (1, 1), near=("b", "a", "gone")), make.ask("b", (1, 1), near=("a",)), make.ask("c", (1, 1)))
    assert problem_of((make.grid("s", 2, 2),), asks).pairs == (Pair(0, 1, 30.0),)


def test_the_cost_is_the_sum_written_in_the_model(make: Make) -> None:
    """Two lots that belong together in two spaces: their footprints, use times reach, one split, two spaces open."""
    grids = (make.grid("near", 3, 3, reach=1.0), make.grid("far", 3, 3, reach=4.0))
    asks = (make.ask("a", (3, 3), (2, 2), near=("b",), use=5.0), make.ask("b", (3, 3), use=2.0))
    problem = problem_of(grids, asks)
    small_near = next(one for one in problem.choices[0] if one.grid == 0 and one.area == 4)
    far = next(one for one in problem.choices[1] if one.grid == 1)
    assert cost_parts(problem, [small_near, far]) == {
        "footprint": 1.0,
        "reach": 5.0 * 1.0 + 2.0 * 4.0,
        "split": SPLIT,
        "open": 2 * OPEN,
    }
    assert cost_parts(problem, [None, far])["split"] == 0


def test_what_the_cones_of_a_space_do_not_hold_is_no_choice(make: Make) -> None:
    """In a space for 2 x 2 and more a 1 x 3 is none, in either turn; in one for 1 x 2 and more it is."""
    grids = (make.grid("pairs", 4, 4, smallest=(1, 2)), make.grid("squares", 4, 4, smallest=(2, 2)))
    for size in ((1, 3), (3, 1)):
        assert [choice.grid for choice in problem_of(grids, (make.ask("pens", size),)).choices[0]] == [0]
    assert [choice.grid for choice in problem_of(grids, (make.ask("cup", (2, 2)),)).choices[0]] == [0, 1]
    assert problem_of(grids, (make.ask("cork", (1, 1)),)).choices[0] == ()
