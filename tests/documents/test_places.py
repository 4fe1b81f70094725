"""Where parts and things lie."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.documents import places
from nookwright.documents.places import Area

if TYPE_CHECKING:
    from nookwright.exchange.kit import Kit, Matrix

QUARTERS = ((1, 0, 0, 1), (0, -1, 1, 0), (-1, 0, 0, -1), (0, 1, -1, 0))


@given(st.sampled_from(QUARTERS), st.floats(-500, 500), st.floats(-500, 500), st.floats(1, 300), st.floats(1, 300))
def test_a_quarter_turn_swaps_the_sides(
    turn: tuple[int, int, int, int], x: float, y: float, width: float, depth: float
) -> None:
    """Whatever way a part is turned, it covers its own area, its origin at a corner of it."""
    a, b, c, d = turn
    matrix: Matrix = ((a, b, 0, x), (c, d, 0, y), (0, 0, 1, 7), (0, 0, 0, 1))
    area = places.covered(matrix, (0, 0, 0), (width, depth, 20))
    expected = (width, depth) if a else (depth, width)
    assert (area.width, area.depth) == pytest.approx(expected)
    assert x == pytest.approx(area.x0) or x == pytest.approx(area.x1)
    assert y == pytest.approx(area.y0) or y == pytest.approx(area.y1)


def test_every_placement_is_there_once(kit: Kit) -> None:
    """Each space has its own placements, all of them, liner first."""
    for space in kit.spaces:
        laid = places.laid_in(kit, space.id)
        ids = [one.placement.id for one in laid]
        assert sorted(ids) == sorted(one.id for one in kit.placements if one.space == space.id)
        kinds = [one.is_liner for one in laid]
        assert kinds == sorted(kinds, reverse=True)


def test_things_lie_in_their_parts(kit: Kit) -> None:
    """Each thing of a lot is inside the part that holds it, in turned parts too."""
    counted = 0
    for space in kit.spaces:
        for one in places.laid_in(kit, space.id):
            for thing in one.things:
                counted += 1
                assert one.area.x0 <= thing.area.x0 < thing.area.x1 <= one.area.x1
                assert one.area.y0 <= thing.area.y0 < thing.area.y1 <= one.area.y1
    assert counted == sum(len(place.at) for lot in kit.lots for place in lot.places)


def test_joints_are_those_of_parts_in_pieces(kit: Kit) -> None:
    """A part of one piece has no joints; the pieces of a long tray make up its whole area."""
    laid = places.laid_in(kit, "bench-left")
    long = next(one for one in laid if one.placement.label == "knitting needles 3 to 8")
    assert len(long.joints) == 2
    assert sum(joint.width * joint.depth for joint in long.joints) == pytest.approx(long.area.width * long.area.depth)
    assert not any(one.joints for one in laid if one is not long)


def test_round_things_are_round(kit: Kit) -> None:
    """A thing standing round is drawn round, a box is not."""
    laid = {one.placement.label: one for one in places.laid_in(kit, "bench-left")}
    assert {thing.round for thing in laid["thread reels"].things} == {True}
    assert {thing.round for thing in laid["rulers and curves"].things} == {False}


def test_area_has_its_sides() -> None:
    """Width is along x, depth along y."""
    assert (Area(1, 2, 4, 8).width, Area(1, 2, 4, 8).depth) == (3, 6)
