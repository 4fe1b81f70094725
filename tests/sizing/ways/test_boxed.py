"""Lots in boxes that their owner has: what goes in, and what the shoe takes."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.parts.shoes.shoe import EASY, SLEEVE
from nookwright.sizing.things import standings_of
from nookwright.sizing.ways import Limits, PartKind, ways_of
from nookwright.sizing.ways.boxed import SHOE_AROUND, in_box, inside_of
from nookwright.survey.layout_wishes import OwnBox
from nookwright.survey.models import FloorStyle, Lot

LIMITS = Limits(length=500.0, height=150.0, wall=1.2, floor=FloorStyle.SHELL)


def lot(**keys: Any) -> Lot:  # noqa: ANN401 - any key of a lot
    """A lot of four."""
    return Lot.model_validate({"id": "a", "count": 4, "mass_g": 10, "grow_percent": 0} | keys)


def box(**keys: Any) -> OwnBox:  # noqa: ANN401 - any key of a box
    """A tin of 120 x 80 x 60 that is there once."""
    usual = {"id": "tin", "width": 120, "depth": 80, "height": 60, "wall": 1, "mass_g": 90, "owned": 1}
    return OwnBox.model_validate(usual | keys)


def test_a_box_on_its_shoe_takes_the_sleeve_round_its_foot() -> None:
    """As wide as the shoe's own figures say: clearance and sleeve on each side, and cells count two walls."""
    assert float(EASY + SLEEVE) == SHOE_AROUND
    blocks = lot(shape="box", width=30, depth=30, height=30)
    way = in_box(blocks, standings_of(blocks), box(), LIMITS)
    assert way is not None
    assert (way.kind, way.each, way.places) == (PartKind.SHOE, 4, 1)
    assert way.inner_width == pytest.approx(120 + 5.8 - 2.4)
    assert (way.thing.width, way.thing.depth, way.thing.height) == (120, 80, 60)
    assert way.stack_height == 60


@settings(max_examples=80)
@given(
    count=st.integers(1, 40), width=st.floats(5, 70), depth=st.floats(5, 70), height=st.floats(5, 70),
)  # fmt: skip
def test_what_is_offered_a_box_goes_into_it(count: int, width: float, depth: float, height: float) -> None:
    """By volume alone already: the things of a lot that is offered the tin are no larger than its inside."""
    things = lot(shape="box", width=width, depth=depth, height=height, count=count)
    way = in_box(things, standings_of(things), box(), LIMITS)
    if way is not None:
        inside = inside_of(box())
        assert count * width * depth * height <= inside[0] * inside[1] * inside[2]
        assert max(width, depth, height) <= max(inside)


def test_things_go_in_turned_too() -> None:
    """Four things of 110 x 17: side by side in the tin of 118 x 78 whichever way they are measured."""
    for width, depth in ((110, 17), (17, 110)):
        things = lot(shape="box", width=width, depth=depth, height=50, stands=["upright"])
        assert in_box(things, standings_of(things), box(), LIMITS) is not None
    wide = lot(shape="box", width=110, depth=19, height=50, stands=["upright"])
    assert in_box(wide, standings_of(wide), box(), LIMITS) is None


def test_a_round_jar_has_the_square_in_its_circle() -> None:
    """Inside of 80 across: 56.6 square."""
    jar = box(width=84, depth=84, foot_radius=42, wall=2, height=100)
    assert inside_of(jar) == pytest.approx((80 / 2**0.5, 80 / 2**0.5, 96))
    sugar = lot(shape="loose", volume_ml=400, count=1)
    way = in_box(sugar, standings_of(sugar), jar, LIMITS)
    assert way is not None
    assert way.thing.round_axis == "z"
    more = lot(shape="loose", volume_ml=490, count=1)  # the jar holds 482 ml
    assert in_box(more, standings_of(more), jar, LIMITS) is None


def test_a_lid_and_a_deep_heap_are_trouble() -> None:
    """A lid as much as a layer; a heap of more than 36 as a layer for each 36 more."""
    blocks = lot(shape="box", width=40, depth=40, height=50, count=2, stands=["upright"])
    open_way, closed = (in_box(blocks, standings_of(blocks), box(lid=lid), LIMITS) for lid in (False, True))
    assert open_way is not None
    assert closed is not None
    assert closed.trouble == open_way.trouble + 2
    bulk = lot(shape="loose", volume_ml=450, count=1)  # 49 high
    way = in_box(bulk, standings_of(bulk), box(), LIMITS)
    assert way is not None
    assert way.trouble == 2


def test_a_lot_that_names_its_box_goes_nowhere_else() -> None:
    """Others are offered those that are there or can be bought, beside their trays."""
    tin, other = box(), box(id="crate", owned=0)
    blocks = {"shape": "box", "width": 40, "depth": 40, "height": 30}
    assert {way.kind for way in ways_of(lot(**blocks, box="tin"), LIMITS, boxes=(tin, other))} == {PartKind.SHOE}
    free = ways_of(lot(**blocks), LIMITS, boxes=(tin, other))
    assert {way.box.id for way in free if way.box} == {"tin"}
    assert {way.kind for way in free} == {PartKind.TRAY, PartKind.SHOE}
    bought = ways_of(lot(**blocks), LIMITS, boxes=(box(owned=0, price=2.0),))
    assert {way.box.id for way in bought if way.box} == {"tin"}
    assert not any(way.box for way in ways_of(lot(**blocks, keep="tray"), LIMITS, boxes=(tin,)))
    assert ways_of(lot(**blocks, box="tin", count=200), LIMITS, boxes=(tin,)) == ()
