from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.layout.candidates import COST_PER_DM2, COST_PER_G, COST_PER_PRICE, candidates_of, priced
from nookwright.module.choice import module_of
from nookwright.module.part_plastic import plastic_of
from nookwright.module.seat import outer_size
from nookwright.sizing.tray_needs import Parting, TrayNeeds
from nookwright.sizing.ways import Limits, Way, ways_of
from nookwright.survey.layout_wishes import OwnBox, Weights
from nookwright.survey.models import FloorStyle, Lot

if TYPE_CHECKING:
    from nookwright.layout.model import Candidate
    from nookwright.module.estimates import Plastic
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


def test_weights_move_the_cost_and_nothing_else(module: Module) -> None:
    """Plastic, floor and trouble each count as much as they are said to; a front keeps a tray from being turned."""
    boxes = {"id": "a", "count": 24, "shape": "box", "width": 60, "depth": 40, "height": 30}
    ways = ways_of(Lot.model_validate(boxes), LIMITS)
    usual = {key(one): one for one in priced("a", ways, module, 0.0, weights=Weights())}
    heavy = {key(one): one for one in priced("a", ways, module, 0.0, weights=Weights(plastic=3.0))}
    wide = {key(one): one for one in priced("a", ways, module, 0.0, weights=Weights(area=3.0))}
    handy = {key(one): one for one in priced("a", ways, module, 0.0, weights=Weights(one_hand=3.0))}
    assert usual.keys() == heavy.keys() == wide.keys() == handy.keys()
    for name, one in usual.items():
        assert heavy[name].cost - one.cost == pytest.approx(2 * COST_PER_G * one.part_g)
        assert wide[name].cost - one.cost == pytest.approx(2 * COST_PER_DM2 * one.cols * one.rows * 0.0324)
        assert handy[name].cost - one.cost == pytest.approx(2 * one.way.trouble)
        assert one.size == (outer_size(one.cols, 18.0), outer_size(one.rows, 18.0))
        assert one.time_s > 300
    assert min(one.way.trouble for one in usual.values()) < max(one.way.trouble for one in usual.values())


def key(one: Candidate) -> tuple[int, int, float]:
    """What tells candidates apart."""
    return one.cols, one.rows, one.tall


def test_a_tray_with_a_front_is_not_turned(module: Module) -> None:
    """It is offered wide and deep as well, each facing the front."""
    boxes = {"id": "a", "count": 12, "shape": "box", "width": 60, "depth": 40, "height": 30}
    needs = TrayNeeds(faces_front=True, rows=Parting(front=4.0))
    found = candidates_of("a", ways_of(Lot.model_validate(boxes), LIMITS, needs), module, 0.0)
    assert not any(one.may_turn for one in found)
    assert any(one.cols > one.rows for one in found)
    assert any(one.cols < one.rows for one in found)


def test_a_bought_box_pays_its_price_and_weighs(module: Module) -> None:
    """One that is there costs nothing; both weigh on the space."""
    things = Lot.model_validate({"id": "a", "count": 4, "shape": "box", "width": 30, "depth": 30, "height": 30})
    for owned, price in ((0, 2.0), (1, 0.0)):
        tin = OwnBox(id="tin", width=110, depth=110, height=50, mass_g=120, owned=owned, price=2.0)
        (one,) = (c for c in priced("a", ways_of(things, LIMITS, boxes=(tin,)), module, 500.0, weights=Weights())
                  if c.way.box)  # fmt: skip
        assert one.price == price
        assert one.mass_g == pytest.approx(500 + 120 + one.part_g)
        made = COST_PER_G * one.part_g + COST_PER_DM2 * one.cols * one.rows * 0.0324 + one.way.trouble
        assert one.cost == pytest.approx(made + COST_PER_PRICE * price)


def test_few_parts_are_weighed_for_a_lot(module: Module, monkeypatch: pytest.MonkeyPatch) -> None:
    """What makes hundreds of lots quick: forty ways or fewer are left at the median, and each part is weighed once."""
    weighed: list[tuple[object, ...]] = []

    def counted(made: Module, way: Way, *size: float) -> Plastic:
        weighed.append((way.kind, way.floor, way.places if way.pocket else 0, way.arrangement, *size))
        return plastic_of(made, way, int(size[0]), int(size[1]), size[2])

    monkeypatch.setattr("nookwright.layout.candidates.plastic_of", counted)
    counts = []
    for number in range(40):
        keys = {"id": "a", "count": 3 + 5 * number, "shape": "box", "width": 12 + 4 * number, "depth": 70, "height": 45}
        if number % 2:
            keys = {"id": "a", "count": 2 + 4 * number, "shape": "round", "diameter": 20 + number, "height": 60}
        ways = ways_of(Lot.model_validate(keys), LIMITS)
        weighed.clear()
        candidates_of("a", ways, module, 0.0)
        assert len(weighed) <= len(ways) <= 80
        counts.append(len(ways))
    assert sorted(counts)[20] <= 40
