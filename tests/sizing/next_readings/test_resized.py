"""Ways to keep a lot, with things of another size."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.sizing.lot_sizes import Terms, sized
from nookwright.sizing.next_readings.resized import Along, along_of, resized
from nookwright.sizing.ways import Arrangement, Limits, PartKind, Way, ways_of
from nookwright.survey.models import FloorStyle, Lot

LIMITS = Limits(length=400.0, height=120.0, wall=1.2, floor=FloorStyle.SHELL)


def lot(**keys: Any) -> Lot:  # noqa: ANN401 - any key of a lot
    """Six boxes, all measured, so that a size moves its limit by as much."""
    return Lot.model_validate({"id": "a", "count": 6, "shape": "box", "width": 50, "depth": 34, "height": 21} | keys)


def ways(one: Lot) -> tuple[Way, ...]:
    """All its ways in a large drawer."""
    return ways_of(one, LIMITS)


def test_every_dimension_is_found_in_every_way() -> None:
    """A box lies in three ways, and each time its sides are told by their size."""
    box = lot()
    for way in ways(box):
        sides = {"x": way.thing.width, "y": way.thing.depth, "z": way.thing.height}
        for dimension in ("width", "depth", "height"):
            along = along_of(box, way, dimension)
            axes = [axis for axis in "xyz" if getattr(along, axis)]
            assert [sides[axis] for axis in axes] == pytest.approx([sized(box, dimension, Terms()).limit])


@pytest.mark.parametrize(
    ("stands", "diameter", "height"),
    [("upright", Along(x=True, y=True, z=False), Along(x=False, y=False, z=True)),
     ("lying", Along(x=False, y=True, z=True), Along(x=True, y=False, z=False))],
)  # fmt: skip
def test_round_things_lie_along_their_axis(stands: str, diameter: Along, height: Along) -> None:
    """Two sides of the box of a round thing are its diameter."""
    jar = lot(shape="round", width=None, depth=None, diameter=50, height=60, stands=[stands], keep="tray")
    way = ways(jar)[0]
    assert (along_of(jar, way, "diameter"), along_of(jar, way, "height")) == (diameter, height)


@given(change=st.floats(-3, 3), which=st.integers(0, 30), axis=st.sampled_from(["x", "y", "z"]))
@settings(max_examples=60)
def test_larger_things_need_no_less_room(change: float, which: int, axis: str) -> None:
    """Along the axis that changes, by one for each column, row or layer; nothing else moves, and no change is none."""
    every = ways(lot())
    way = every[which % len(every)]
    later = resized(way, Along(axis == "x", axis == "y", axis == "z"), change)
    assert resized(later, Along(axis == "x", axis == "y", axis == "z"), -change).pitch_x == pytest.approx(way.pitch_x)
    assert (later.inner_width - way.inner_width) * change >= 0
    assert (later.inner_depth - way.inner_depth) * change >= 0
    assert later.stack_height - way.stack_height == pytest.approx(change * way.layers * (axis == "z"))
    assert resized(way, Along(axis == "x", axis == "y", axis == "z"), 0.0) == way


@pytest.mark.parametrize("stands", ["upright", "lying"])
@pytest.mark.parametrize("dimension", ["width", "depth", "height"])
@pytest.mark.parametrize("count", [1, 3])
def test_it_is_the_way_that_would_have_been_made(stands: str, dimension: str, count: int) -> None:
    """Boxes 2 mm larger, exactly measured, side by side or on each other: the same numbers as when surveyed so."""
    keys = {"measured": "all", "count": count, "grow_percent": 0, "stands": [stands]}
    small, large = lot(**keys), lot(**{**keys, dimension: {"width": 52, "depth": 36, "height": 23}[dimension]})
    change = sized(large, dimension, Terms()).limit - sized(small, dimension, Terms()).limit
    assert max(way.layers for way in ways(small)) == count
    for before, after in zip(ways(small), ways(large), strict=True):
        made = resized(before, along_of(small, before, dimension), change)
        for key in ("pitch_x", "pitch_y", "inner_width", "inner_depth", "stack_height", "wall_height"):
            assert getattr(made, key) == pytest.approx(getattr(after, key)), key


def test_pockets_move_with_their_things() -> None:
    """A pocket that is drawn 0.5 tighter, and its neighbour that much nearer."""
    jar = lot(shape="round", width=None, depth=None, diameter=50, height=60, keep="cradle")
    way = next(one for one in ways(jar) if one.kind is PartKind.CRADLE)
    later = resized(way, along_of(jar, way, "diameter"), -0.5)
    assert later.pocket == pytest.approx(way.pocket - 0.5)
    assert later.pitch_x == pytest.approx(way.pitch_x - 0.5)


@pytest.mark.parametrize("dimension", ["diameter", "height"])
@pytest.mark.parametrize("nests_by", [None, 10])
def test_staggered_and_nested_things_are_made_anew_too(dimension: str, nests_by: float | None) -> None:
    """Cups 2 mm larger: rows lie sin 60 times as much further apart, and piles are as much higher as one cup."""
    keys = {
        "shape": "round", "width": None, "depth": None, "diameter": 50, "height": 40, "measured": "sample", "count": 10,
        "grow_percent": 0, "stands": ["upright"], "keep": "tray", "nests_by": nests_by,
    }  # fmt: skip
    small, large = lot(**keys), lot(**{**keys, dimension: {"diameter": 52, "height": 42}[dimension]})
    change = sized(large, dimension, Terms()).limit - sized(small, dimension, Terms()).limit
    later = {alike(way): way for way in ways(large)}
    compared = 0
    for before in ways(small):
        after = later.get(alike(before))
        if after is not None:
            made = resized(before, along_of(small, before, dimension), change)
            for key in ("pitch_x", "pitch_y", "inner_width", "inner_depth", "stack_height", "wall_height"):
                assert getattr(made, key) == pytest.approx(getattr(after, key)), key
            compared += before.arrangement is Arrangement.STAGGERED or before.each > 1
    assert compared > 0


def alike(way: Way) -> tuple[object, ...]:
    """What stays when things change their size."""
    return way.columns, way.rows, way.layers, way.each, way.arrangement, way.short
