"""Rows, staggered rows and piles: that things have room, and what staggering gains."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from nookwright.layout.candidates import priced
from nookwright.module.choice import module_of
from nookwright.parts.contents import held_in, places_in
from nookwright.parts.cradles.cradle import staggered_pockets
from nookwright.sizing.ways import Arrangement, Limits, PartKind, capacity, ways_of
from nookwright.survey.layout_wishes import Weights
from nookwright.survey.models import FloorStyle, Lot

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nookwright.sizing.ways import Way

MODULE = module_of(18.0, 6.0, 0.2, "")
LIMITS = Limits(length=500.0, height=150.0, wall=1.2, floor=FloorStyle.SHELL)
Spots = tuple[tuple[float, float, float], ...]


def lot(**keys: Any) -> Lot:  # noqa: ANN401 - any key of a lot
    """A lot of twelve."""
    return Lot.model_validate({"id": "a", "count": 12, "mass_g": 10} | keys)


@st.composite
def lots(draw: st.DrawFn) -> Lot:
    """Boxes and round things of all sizes, some of them nested."""
    size = st.floats(4, 140)
    keys: dict[str, Any] = {"count": draw(st.integers(1, 60)), "grow_percent": draw(st.floats(0, 60))}
    if draw(st.booleans()):
        keys |= {"shape": "box", "width": draw(size), "depth": draw(size), "height": draw(size)}
    else:
        keys |= {"shape": "round", "diameter": draw(size), "height": draw(size)}
    if draw(st.booleans()):
        keys["nests_by"] = draw(st.floats(0.05, 1)) * keys["height"]
    return lot(**keys)


def faults(way: Way, spots: Spots, width: float, depth: float) -> list[str]:
    """What is wrong with bodies on a floor of this inside: looked at one by one, with no code of the ways.

    Args:
        way: says the size of a body alone.
        spots: the middle of the underside of each, from the corner of the part; its wall is 1.2 thick.
        width: of the part.
        depth: of the part.
    """
    thing, found = way.thing, []
    radius = thing.width / 2 if thing.round_axis == "z" else None
    for number, (x, y, z) in enumerate(spots):
        beside = min(x - thing.width / 2, width - x - thing.width / 2, y - thing.depth / 2, depth - y - thing.depth / 2)
        if beside < 1.2 + 0.3:
            found.append(f"{number} is {beside:.3f} from the outside")
        for other, (x2, y2, z2) in enumerate(spots[:number]):
            if abs(z - z2) >= thing.height - 1e-6:
                continue
            clear = max(abs(x - x2) - thing.width, abs(y - y2) - thing.depth)
            if radius is not None:
                clear = math.hypot(x - x2, y - y2) - 2 * radius
            if clear < -1e-6:
                found.append(f"{number} and {other} share {-clear:.3f}")
    return found


@settings(max_examples=60)
@given(one=lots(), fill=st.floats(0, 1))
def test_all_things_have_room_in_every_candidate(one: Lot, fill: float) -> None:
    """Each way holds the count and its growth; filled to any degree, nothing meets anything else or a wall."""
    count = max(1, round(fill * capacity(one)))
    for found in priced("a", ways_of(one, LIMITS), MODULE, 0.0, weights=Weights()):
        way = found.way
        assert way.room >= capacity(one) >= one.count
        pockets = None
        if way.kind is PartKind.CRADLE and way.arrangement is Arrangement.STAGGERED:
            pockets = staggered_pockets(
                MODULE, cols=found.cols, rows=found.rows, diameter=way.pocket, columns=way.columns, lines=way.rows,
                pitch=way.pitch_x, short=way.short,
            )  # fmt: skip
        elif way.kind is PartKind.CRADLE:
            continue  # pockets in rows are looked at with the cradle
        spots = places_in(MODULE, way, cols=found.cols, rows=found.rows, count=count, pockets=pockets)
        held = held_in(way, len(spots), count)
        assert (sum(held) if held else len(spots)) == count
        assert all(1 <= number <= way.each for number in held)
        assert faults(way, spots, *found.size) == []


@given(one=lots())
def test_no_way_is_beaten_by_another_of_its_kind(one: Lot) -> None:
    """None is no better in any measure and worse in one, or the same twice."""
    ways = ways_of(one, LIMITS)
    for first in ways:
        for second in ways:
            same = first.kind is second.kind and first.floor is second.floor and first is not second
            assert not (same and all(a <= b for a, b in zip(measures(first), measures(second), strict=True)))


def measures(way: Way) -> Sequence[float]:
    """What less is better of."""
    return way.inner_width, way.inner_depth, way.stack_height, way.wall_height, way.trouble


def test_staggered_rows_take_less_where_there_are_many() -> None:
    """Fifty jars in rows of ten: five staggered rows are (4 sin 60 + 1) / 5 as deep, and half a jar wider."""
    jars = lot(shape="round", diameter=40, height=45, count=50, grow_percent=0, stands=["upright"], keep="tray")
    ways = [way for way in ways_of(jars, LIMITS) if way.layers == 1]
    rows = next(way for way in ways if way.arrangement is Arrangement.ROWS and way.columns == 10)
    moved = next(
        way for way in ways if way.arrangement is Arrangement.STAGGERED and way.columns == 10 and way.rows == 5
    )
    pitch = rows.pitch_x
    assert moved.inner_depth == pytest.approx((4 * math.sqrt(3) / 2 + 1) * pitch + rows.edge)
    assert moved.inner_width == pytest.approx(rows.inner_width + pitch / 2)
    assert moved.inner_width * moved.inner_depth < 0.95 * rows.inner_width * rows.inner_depth


def test_short_rows_hold_a_thing_less_each() -> None:
    """Rows of four and three: eleven places in three rows, in the width of four."""
    jars = lot(shape="round", diameter=60, height=50, count=11, grow_percent=0, keep="cradle")
    way = next(way for way in ways_of(jars, LIMITS) if way.short and way.columns == 4)
    assert (way.rows, way.places) == (3, 11)
    assert way.inner_width == pytest.approx(4 * way.pitch_x + 1.2)


def test_only_round_things_that_stand_are_staggered() -> None:
    """Boxes, and rods that lie, gain nothing by it; neither does a tray with dividers."""
    assert all(
        way.arrangement is Arrangement.ROWS for way in ways_of(lot(shape="box", width=50, depth=50, height=50), LIMITS)
    )
    rods = lot(shape="round", diameter=12, height=150)
    assert {way.arrangement for way in ways_of(rods, LIMITS)} == {Arrangement.ROWS}


def test_a_pile_of_bowls_grows_by_what_they_nest_by() -> None:
    """Six bowls of 50 that nest by 12: 110 high and a hair for their tolerance, two and a half widths at the most."""
    bowls = lot(shape="round", diameter=[120, 120], height=[50, 50], nests_by=12, count=6, grow_percent=0)
    ways = ways_of(bowls, LIMITS)
    assert all(way.kind is PartKind.TRAY and way.thing.round_axis == "z" for way in ways)
    (pile,) = (way for way in ways if way.each == 6)
    assert pile.places == 1
    assert pile.stack_height == pytest.approx(
        ways_of(
            lot(
                shape="round",
                diameter=[120, 120],
                height=[50, 50],
                count=1,
                grow_percent=0,
                keep="tray",
                stands=["upright"],
            ),
            LIMITS,
        )[0].thing.height
        + 60,
        abs=1.5,
    )
    slim = lot(shape="round", diameter=30, height=40, nests_by=10, count=40, grow_percent=0)
    assert max(way.stack_height for way in ways_of(slim, LIMITS)) <= 2.5 * 32


def test_nested_things_take_less_height_than_stacked_ones() -> None:
    """The same bowls, stacked: three of them are as high as nine nested ones."""
    keys = {"shape": "round", "diameter": 120, "height": 50, "grow_percent": 0, "keep": "tray", "stands": ["upright"]}
    nested = ways_of(lot(**keys, nests_by=12, count=8), LIMITS)
    assert any(way.each == 8 for way in nested)
    stacked = ways_of(lot(**keys, count=8), LIMITS)
    assert all(way.places >= 8 and way.each == 1 for way in stacked)
    assert min(way.inner_width * way.inner_depth for way in nested) < min(
        way.inner_width * way.inner_depth for way in stacked
    )


@st.composite
def stacked(draw: st.DrawFn) -> Lot:
    """Boxes, rods and sheets that are kept on each other."""
    side = st.floats(37, 90)
    keys: dict[str, Any] = {"count": draw(st.integers(4, 80)), "grow_percent": 0, "keep": "tray"}
    shape = draw(st.sampled_from(["box", "round", "flat"]))
    sides: dict[str, dict[str, Any]] = {
        "box": {"width": draw(side), "depth": draw(side), "height": draw(st.floats(3, 70))},
        "round": {"diameter": draw(st.floats(6, 40)), "height": draw(side), "stands": ["lying"]},
        "flat": {"width": draw(side), "depth": draw(side), "thickness": draw(st.floats(0.2, 12)), "stands": ["lying"]},
    }
    return lot(shape=shape, **keys, **sides[shape])


@settings(max_examples=60)
@given(one=stacked())
def test_the_uppermost_thing_of_a_stack_is_held(one: Lot) -> None:
    """The wall reaches 12 past what it stands on, 0.45 of a high thing, or 2 over a low one; and over none by more."""
    ways = [way for way in ways_of(one, LIMITS) if way.layers > 1]
    assume(ways)
    for way in ways:
        high, held = way.thing.height, way.wall_height - (way.layers - 1) * way.thing.height
        assert held >= min(high + 2, max(12, 0.45 * high)) - 1e-6
        assert way.wall_height <= max(12, way.stack_height + 2) + 1e-6


def test_boxes_on_boxes_get_a_wall_past_the_lower_ones() -> None:
    """Of 60, one is held by 0.45 of it, two by one and 0.45; of 20, three by two of them and 12: not by all of them."""
    keys = {"shape": "box", "grow_percent": 0, "measured": "all", "width": 70, "depth": 50, "stands": ["upright"]}
    for high, layers, share, more in ((60, 1, 0.45, 0), (60, 2, 1.45, 0), (20, 3, 2, 12)):
        ways = ways_of(lot(**keys, height=high, count=layers), LIMITS)
        (way,) = (one for one in ways if one.layers == layers)
        assert way.wall_height == pytest.approx(share * way.thing.height + more)


def test_nested_things_hold_each_other() -> None:
    """A pile of six bowls gets the wall of one thing so high, not one past the fifth."""
    bowls = lot(shape="round", diameter=120, height=50, nests_by=12, count=6, grow_percent=0)
    (pile,) = (way for way in ways_of(bowls, LIMITS) if way.each == 6)
    assert pile.wall_height == pytest.approx(0.45 * pile.stack_height)
