from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.layout.candidates import candidates_of
from nookwright.module.choice import module_of
from nookwright.module.seat import outer_size
from nookwright.sizing.ways import Limits, Way, ways_of
from nookwright.survey.models import FloorStyle, Lot

if TYPE_CHECKING:
    from nookwright.layout.model import Candidate
    from nookwright.module.module import Module

LIMITS = Limits(length=500.0, height=120.0, wall=1.2, floor=FloorStyle.SHELL)
MODULE = module_of(18.0, 6.0, 0.2, "")


@st.composite
def way_lists(draw: st.DrawFn) -> tuple[Way, ...]:
    """All ways of a lot of boxes or round things."""
    size = st.floats(5, 150)
    keys = {"id": "a", "count": draw(st.integers(1, 60))}
    if draw(st.booleans()):
        keys |= {"shape": "box", "width": draw(size), "depth": draw(size), "height": draw(size)}
    else:
        keys |= {"shape": "round", "diameter": draw(size), "height": draw(size)}
    return ways_of(Lot.model_validate(keys), LIMITS)


@given(ways=way_lists())
def test_every_tray_holds_its_way(ways: tuple[Way, ...]) -> None:
    """The inside of so many cells has the room that the way needs, and its wall is as high as the way needs it."""
    for one in candidates_of("a", ways, MODULE, 100.0):
        assert outer_size(one.cols, 18.0) - 2.4 >= one.way.inner_width
        assert outer_size(one.rows, 18.0) - 2.4 >= one.way.inner_depth
        assert one.height >= 4.4 + one.way.wall_height - 1e-6
        assert one.tall >= max(one.height, 4.4 + one.way.stack_height) - 1e-6
        assert min(one.cols, one.rows) >= 2


@given(ways=way_lists())
def test_heights_are_whole_rises(ways: tuple[Way, ...]) -> None:
    """So that parts of one row end level."""
    for one in candidates_of("a", ways, MODULE, 0.0):
        assert one.height / 6 == pytest.approx(round(one.height / 6))


@given(ways=way_lists())
def test_no_candidate_is_beaten_by_another(ways: tuple[Way, ...]) -> None:
    """None is at least as small both ways, as low and as cheap as another, and better in one of them."""
    found = candidates_of("a", ways, MODULE, 0.0)
    for one in found:
        for other in found:
            assert one is other or not no_worse(other, one)


def no_worse(one: Candidate, other: Candidate) -> bool:
    """Whether one is as good as another in everything."""
    mine, theirs = sorted((one.cols, one.rows)), sorted((other.cols, other.rows))
    small = mine[0] <= theirs[0] and mine[1] <= theirs[1]
    return small and one.tall <= other.tall and one.cost <= other.cost


@given(ways=way_lists())
def test_the_cheapest_comes_first_and_costs_nothing_more(ways: tuple[Way, ...]) -> None:
    """Costs are counted from the best one and never fall; there are at most eight."""
    costs = [one.cost for one in candidates_of("a", ways, MODULE, 0.0)]
    assert costs == sorted(costs)
    assert costs[:1] == ([0.0] if ways else [])
    assert len(costs) <= 8


def test_things_weigh_on_every_candidate(module: Module) -> None:
    """The mass is that of the part and of all things in it."""
    box = {"id": "a", "count": 10, "shape": "box", "width": 60, "depth": 40, "height": 30}
    ways = ways_of(Lot.model_validate(box), LIMITS)
    empty, full = candidates_of("a", ways, module, 0.0), candidates_of("a", ways, module, 750.0)
    assert [f.mass_g - e.mass_g for e, f in zip(empty, full, strict=True)] == pytest.approx([750.0] * len(empty))
    assert all(one.mass_g > 5 for one in empty)


def test_without_a_way_there_is_no_candidate(module: Module) -> None:
    """A lot that fits nowhere is not asked for."""
    assert candidates_of("a", (), module, 0.0) == ()


def test_long_and_narrow_is_for_long_and_narrow_things(module: Module) -> None:
    """Dice are not put in a gutter of one row; a single rod is."""
    dice = {"id": "a", "count": 40, "shape": "box", "width": 40, "depth": 30, "height": 30, "stands": ["upright"]}
    found = candidates_of("a", ways_of(Lot.model_validate(dice), LIMITS), module, 0.0)
    assert all(max(one.cols, one.rows) <= 6 * min(one.cols, one.rows) for one in found)
    rod = {"id": "a", "count": 1, "shape": "round", "diameter": 10, "height": 400, "grow_percent": 0}
    only = candidates_of("a", ways_of(Lot.model_validate(rod), LIMITS), module, 0.0)
    assert [(one.cols, one.rows) for one in only] == [(23, 2)]
