"""Own boxes: never offered to more lots than there are boxes, and paid for where they are bought."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from nookwright.layout.candidates import COST_PER_PRICE
from nookwright.layout.model import Layout, Placed
from nookwright.layout.stock import about_boxes, within_stock
from nookwright.sizing.ways import PartKind
from nookwright.survey.layout_wishes import OwnBox

if TYPE_CHECKING:
    from nookwright.layout.model import Candidate
    from nookwright.survey.models import Room

    from .conftest import Make


def box(**keys: float) -> OwnBox:
    """A tin."""
    return OwnBox.model_validate({"id": "tin", "width": 80, "depth": 80, "height": 60, "mass_g": 50} | keys)


def boxed(make: Make, lot: str, tin: OwnBox, cost: float) -> Candidate:
    """A lot in the tin."""
    one = make.candidate(lot, 4, 4, kind=PartKind.SHOE, cost=cost)
    return replace(one, way=replace(one.way, box=tin))


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    costs=st.lists(st.tuples(st.floats(0, 50), st.none() | st.floats(0, 50)), min_size=1, max_size=6),
    owned=st.integers(0, 4),
)
def test_no_more_offers_than_boxes(make: Make, costs: list[tuple[float, float | None]], owned: int) -> None:
    """Whatever each lot would gain: as many offers as boxes, no tray is lost, those that need a box come first."""
    tin = box(owned=owned)
    found = {
        f"lot-{number}": (boxed(make, f"lot-{number}", tin, mine),)
        + ((make.candidate(f"lot-{number}", 5, 5, cost=other),) if other is not None else ())
        for number, (mine, other) in enumerate(costs)
    }
    kept = within_stock(found, [tin])
    offered = [lot for lot, candidates in kept.items() if any(one.way.box for one in candidates)]
    assert len(offered) == min(owned, len(costs))
    for lot, candidates in found.items():
        assert [one for one in kept[lot] if not one.way.box] == [one for one in candidates if not one.way.box]
    needy = [lot for lot, candidates in found.items() if len(candidates) == 1]
    assert set(needy[:owned]) <= set(offered)


def test_the_box_goes_where_it_saves_most(make: Make) -> None:
    """One tin: it saves 30 in one lot, 5 in another."""
    tin = box(owned=1)
    found = {
        "little": (boxed(make, "little", tin, 10.0), make.candidate("little", 5, 5, cost=15.0)),
        "much": (boxed(make, "much", tin, 10.0), make.candidate("much", 5, 5, cost=40.0)),
    }
    kept = within_stock(found, [tin])
    assert [one.way.box is not None for one in kept["much"]] == [True, False]
    assert [one.way.box is not None for one in kept["little"]] == [False]


def test_what_is_not_there_is_paid_for(make: Make) -> None:
    """Two lots, one tin at hand: the second pays the price of one, in cost and in the person's currency."""
    tin = box(owned=1, price=2.0)
    found = {lot: (boxed(make, lot, tin, 10.0),) for lot in ("first", "second")}
    kept = within_stock(found, [tin])
    assert (kept["first"][0].cost, kept["first"][0].price) == (10.0, 0.0)
    assert (kept["second"][0].cost, kept["second"][0].price) == (10.0 + 2 * COST_PER_PRICE, 2.0)


@pytest.mark.parametrize(("owned", "said"), [(0, "buy 2 more, 5 in all"), (1, "buy 1 more, 2.5 in all"), (2, "")])
def test_the_kit_says_what_to_buy(make: Make, tiny_room: Room, owned: int, said: str) -> None:
    """Two tins in use."""
    tin = box(owned=owned, price=2.5)
    placed = tuple(
        Placed("drawer", 4 * number, 0, 4, 4, turned=False, candidate=boxed(make, name, tin, 0.0), height=24.0)
        for number, name in enumerate("ab")
    )
    layout = Layout(placed, (), (), 0.0, 0.0, proven=True, by_clock=False, seed=1, iterations=0)
    found = about_boxes(tiny_room.model_copy(update={"box": (tin,)}), layout)
    assert Counter(one.code for one in found) == Counter(["boxes-to-buy"] if said else [])
    assert all(said in one.text for one in found)
