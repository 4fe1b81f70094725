from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.sizing.ways import Limits, PartKind, Way, capacity, ways_of
from nookwright.sizing.ways.way import Arrangement
from nookwright.survey.models import FloorStyle, Lot, Stance
from nookwright.survey.readings import Published

LIMITS = Limits(length=400.0, height=90.0, wall=1.2, floor=FloorStyle.SHELL)


def lot(**keys: Any) -> Lot:  # noqa: ANN401 - any key of a lot
    """A lot of ten."""
    found = Lot.model_validate({"id": "a", "count": 10} | keys)
    sides = ("width", "depth", "diameter", "height", "thickness") if found.standard else ()
    return found.model_copy(update={side: Published(floor=(float(keys[side]),)) for side in sides if side in keys})


@st.composite
def lots(draw: st.DrawFn) -> Lot:
    """Boxes, round things and sheets of all sizes, measured once or given by a standard."""
    size = st.floats(3, 260)
    shape = draw(st.sampled_from(["box", "round", "flat"]))
    sides = {
        "box": {"width": draw(size), "depth": draw(size), "height": draw(size)},
        "round": {"diameter": draw(size), "height": draw(size)},
        "flat": {"width": draw(size), "depth": draw(size), "thickness": draw(st.floats(0.1, 12))},
    }[shape]
    keep = draw(st.sampled_from(["any", "tray", "cradle"]))
    extra = {"count": draw(st.integers(1, 400)), "grow_percent": draw(st.floats(0, 100)), "keep": keep}
    if draw(st.booleans()):
        extra["standard"] = "any"
    return lot(shape=shape, **sides, **extra)


LIMIT = st.builds(
    Limits,
    length=st.floats(20, 600),
    height=st.floats(10, 200),
    wall=st.just(1.2),
    floor=st.sampled_from(list(FloorStyle)),
)


@given(one=lots(), limits=LIMIT)
def test_every_way_has_room_for_all_of_the_lot(one: Lot, limits: Limits) -> None:
    """Columns times rows times layers hold the count and its growth; in a heap as many as each of them holds."""
    for way in ways_of(one, limits):
        heaped = way.each if way.arrangement is Arrangement.HEAP else 1
        assert way.columns * way.rows * way.layers * heaped >= capacity(one) >= one.count


@given(one=lots(), limits=LIMIT)
def test_things_with_their_clearance_fit_the_inside(one: Lot, limits: Limits) -> None:
    """Between the outer faces of the first and the last thing there is at least half a millimetre to each wall."""
    for way in ways_of(one, limits):
        across = (way.columns - 1) * way.pitch_x + way.thing.width
        along = (way.rows - 1) * way.pitch_y + way.thing.depth
        assert way.inner_width >= across + 1.0 - 1e-9
        assert way.inner_depth >= along + 1.0 - 1e-9
        assert way.pitch_x >= way.thing.width
        if way.arrangement is Arrangement.STAGGERED:  # rows are nearer, and round things still clear each other
            assert math.hypot(way.pitch_x / 2, way.pitch_y) >= way.thing.depth - 1e-9
        else:
            assert way.pitch_y >= way.thing.depth


@given(one=lots(), limits=LIMIT)
def test_no_way_is_larger_than_the_largest_inside(one: Lot, limits: Limits) -> None:
    """Neither taller than the clear height nor longer than the longest side, a hand's width apart."""
    for way in ways_of(one, limits):
        assert way.stack_height <= limits.height
        assert max(way.inner_width, way.inner_depth) <= max(limits.length, 28.0)
        assert way.stack_height == pytest.approx(way.layers * way.thing.height)


@given(one=lots(), limits=LIMIT)
def test_a_lot_of_which_one_column_fits_has_a_way(one: Lot, limits: Limits) -> None:
    """Sheets that fit lying in enough piles along one side are never left without a way."""
    if one.keep.value == "cradle" or one.width is None or one.depth is None or one.thickness is None:
        return
    grown = 1.0 if one.standard else 1.01
    width, depth, thick = (
        side.largest * grown + (0 if one.standard else 0.3) for side in (one.width, one.depth, one.thickness)
    )
    if width + 8 > limits.length or thick > limits.height:
        return
    piles = math.ceil(capacity(one) / (limits.height // thick))
    if piles * (depth + 4) + 4 <= limits.length:
        assert ways_of(one, limits)


@given(one=lots(), limits=LIMIT)
def test_ways_are_distinct_and_hold_by_their_wall(one: Lot, limits: Limits) -> None:
    """None is said twice; a wall is 12 high, at most 56 over the uppermost foot; no way is easier than the handiest."""
    ways = ways_of(one, limits)
    assert len(set(ways)) == len(ways)
    assert all(12 <= way.wall_height <= 56 + (way.layers - 1) * way.thing.height for way in ways)
    assert all(way.trouble >= 0 for way in ways)


def test_nothing_fits_where_there_is_no_room() -> None:
    """A thing longer than every space, or higher than every space, has no way."""
    assert ways_of(lot(shape="box", width=500, depth=500, height=500), LIMITS) == ()
    assert ways_of(lot(shape="round", diameter=95, height=300, stands=["upright"]), LIMITS) == ()
    assert ways_of(lot(shape="box", width=10, depth=10, height=10), Limits(0.0, 0.0, 1.2, FloorStyle.SHELL)) == ()


def test_a_cradle_holds_round_things_that_stand() -> None:
    """Boxes and lying things have no pocket; asked for one, they have no way."""
    assert ways_of(lot(shape="box", width=50, depth=50, height=50, keep="cradle"), LIMITS) == ()
    assert ways_of(lot(shape="round", diameter=50, height=60, keep="cradle", stands=["lying"]), LIMITS) == ()
    ways = ways_of(lot(shape="round", diameter=50, height=60, keep="cradle"), LIMITS)
    assert ways
    assert all(way.kind is PartKind.CRADLE and way.thing.round_axis == "z" for way in ways)


def test_pockets_stand_apart_by_a_wall() -> None:
    """From pocket to pocket the pocket and one wall; a wall more on each side. The pocket is wider than the thing."""
    way = next(w for w in ways_of(lot(standard="any", shape="round", diameter=50, height=60, keep="cradle"), LIMITS))
    assert way.pitch_x == way.pitch_y == pytest.approx(way.pocket + 1.2)
    assert 50.4 < way.pocket < 51.2
    assert way.inner_width >= way.columns * way.pitch_x + 1.2
    assert way.floor is FloorStyle.SMOOTH


def test_many_sheets_go_into_piles_that_fit_the_height() -> None:
    """500 sheets of 1 mm are ten piles and more below 60 mm of clear height, not left out."""
    limits = Limits(length=900.0, height=60.0, wall=1.2, floor=FloorStyle.SHELL)
    sheets = lot(shape="flat", width=90, depth=60, thickness=[1.0, 1.0, 1.0], count=500, stands=["lying"])
    ways = ways_of(sheets, limits)
    assert ways
    assert all(way.layers * way.thing.height <= 60 for way in ways)


@pytest.mark.parametrize(
    ("keys", "expected"),
    [
        ({"shape": "box", "width": 60, "depth": 40, "height": 20}, FloorStyle.SHELL),
        ({"shape": "box", "width": 20, "depth": 20, "height": 20}, FloorStyle.SMOOTH),
        ({"shape": "flat", "width": 90, "depth": 60, "thickness": 1}, FloorStyle.SMOOTH),
        ({"shape": "box", "width": 20, "depth": 20, "height": 20, "floor": "shell"}, FloorStyle.SHELL),
    ],
)
def test_small_and_flat_things_need_a_smooth_floor(keys: dict[str, Any], expected: FloorStyle) -> None:
    """Others get what the room prefers, and what a lot says of itself counts."""
    assert {way.floor for way in ways_of(lot(keep="tray", **keys), LIMITS)} == {expected}


def test_capacity_is_the_count_and_its_growth_rounded_up() -> None:
    """Without a slip of floating point: 15 % on 20 is 23."""
    assert capacity(lot(shape="box", count=20)) == 23
    assert capacity(lot(shape="box", count=7, grow_percent=0)) == 7
    assert capacity(lot(shape="box", count=7)) == 9


def test_layers_and_leaning_are_trouble() -> None:
    """A second layer costs, so does a crowd without a gap for a finger, and a tall round thing without a pocket."""
    boxes = ways_of(lot(shape="box", width=40, depth=30, height=25, stands=["upright"], count=8), LIMITS)
    short = [way for way in boxes if max(way.inner_width, way.inner_depth) <= 300]
    assert {(way.layers, min(way.columns, way.rows) > 1): way.trouble for way in short} == {
        (1, True): 0.5, (2, False): 2, (2, True): 2.5, (3, False): 4, (3, True): 4.5,
    }  # fmt: skip
    jars = ways_of(lot(shape="round", diameter=50, height=60, stands=["upright"]), LIMITS)
    least = {kind: min(way.trouble for way in jars if way.kind is kind) for kind in (PartKind.CRADLE, PartKind.TRAY)}
    assert least == {PartKind.CRADLE: 0, PartKind.TRAY: 3}


def test_a_tray_that_one_hand_does_not_keep_level_is_trouble() -> None:
    """Of single rows, all whose inside is longer than 300 mm cost three units more than the others."""
    boxes = [
        way
        for count in (3, 6)
        for way in ways_of(lot(shape="box", width=60, depth=50, height=25, stands=["upright"], count=count), LIMITS)
        if way.layers == 1 and min(way.columns, way.rows) == 1
    ]
    found = {max(way.inner_width, way.inner_depth) > 300: way.trouble for way in boxes}
    assert found == {False: 0, True: 3}


def test_things_on_edge_are_filed_without_clearance_between() -> None:
    """Cards on edge touch each other; only the file as a whole has room."""
    card = lot(standard="any", shape="flat", width=90, depth=60, thickness=2, stands=["on-edge"])
    way: Way = next(w for w in ways_of(card, LIMITS) if w.columns == 1)
    assert way.stance is Stance.ON_EDGE
    assert way.pitch_y == 2
