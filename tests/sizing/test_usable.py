from __future__ import annotations

from dataclasses import astuple
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.sizing.usable import usable_of
from nookwright.survey.models import Space

NEAR = st.floats(299, 301)


def space(**changes: Any) -> Space:  # noqa: ANN401 - any key of a space
    """A drawer of 300 x 200 x 80."""
    content = {"id": "a", "kind": "drawer", "width": 300, "depth": 200, "height": 80, "floor_height": 0, "load_kg": 5}
    return Space.model_validate(content | changes)


@given(floor=st.lists(NEAR, min_size=1, max_size=4), rim=st.lists(NEAR, max_size=4), at=st.lists(NEAR, max_size=3))
def test_no_outline_is_wider_than_what_was_read_there(floor: list[float], rim: list[float], at: list[float]) -> None:
    """At the floor, 30 mm above it and at the rim; the floor is sized by its own readings alone."""
    sides = {"floor": floor, "rim": rim} | ({"at": {"30": at}} if at else {})
    usable = usable_of(space(width=sides))
    assert usable.width < min(floor)
    for z, readings in ((30.0, at), (usable.height, rim)):
        walls = usable.up_to(z)
        if readings:
            assert usable.width - max(walls.left, walls.right) < min(readings)


def test_the_floor_is_sized_at_the_floor_and_trays_by_the_narrowest() -> None:
    """A drawer 3 mm narrower at the rim and 1 mm at 20 mm: the liner has all, trays keep clear at both walls."""
    usable = usable_of(space(width={"floor": 300, "at": {"20": 299}, "rim": 297}))
    alone = usable_of(space())
    assert usable.width == alone.width
    assert usable.passed.left == usable.passed.right == pytest.approx(3, abs=0.01)
    assert usable.up_to(20).left == pytest.approx(1, abs=0.01)
    assert usable.foot.left == pytest.approx(3 / 20, abs=0.01)
    assert usable.passed.front == usable.passed.back == 0


def test_a_square_on_the_floor_saves_what_is_kept_free_at_the_other_wall() -> None:
    """3 mm less at the rim, all of it at the right wall: only that one is kept clear of, with 0.5 for the square."""
    usable = usable_of(space(width={"floor": 300, "rim": 297}, lean={"right": 3}))
    assert usable.passed.left == 0
    assert usable.passed.right == pytest.approx(3.5, abs=0.01)


def test_walls_that_lean_out_are_upright() -> None:
    """Room that a space gains towards the rim is not used."""
    wide = usable_of(space(width={"floor": 300, "rim": 310}, lean={"left": -5, "right": -5}))
    assert not wide.levels
    assert [astuple(level.insets) for level in wide.outlines] == [(0, 0, 0, 0)] * 2
    assert wide.outlines[-1].z == wide.height


def test_out_of_square_narrows_the_width_alone() -> None:
    """By what was read at least; a box in the way is kept clear by so much more at its left."""
    pipe = {"reason": "pipe", "x": 100, "y": 50, "width": 20, "depth": 10}
    straight, skew = (usable_of(space(out_of_square=off, blocked=[pipe])) for off in (0, 4))
    assert 3.3 < straight.width - skew.width < 4.2
    assert straight.depth == skew.depth
    assert straight.blocked[0].x0 - skew.blocked[0].x0 == pytest.approx(4, abs=0.01)


def test_the_clear_height_is_the_lowest_thing_passed() -> None:
    """A rail at 70, a worktop at 75, 80 above the drawer when shut; one that is higher changes nothing."""
    rail, top = {"what": "a rail", "height": 70}, {"what": "a worktop", "height": 75}
    bare, low, both, high = (
        usable_of(space(passes_under=under)).height
        for under in ([], [rail], [top, rail], [{"what": "a lamp", "height": 90}])
    )
    assert bare - low == pytest.approx(10, abs=0.01)
    assert (both, high) == (low, bare)


def test_one_reading_has_a_wider_margin_than_three() -> None:
    """What was taken off is said, in the order width, depth, height."""
    usable = usable_of(space(width=[300, 300, 300]))
    assert usable.margins[0] < 1.8 < usable.margins[1]
    assert usable.width == pytest.approx(300 - usable.margins[0])
    assert usable.height == pytest.approx(80 - usable.margins[2])


def test_the_instrument_counts() -> None:
    """A rule is surer than a tape, a tape than a laser."""
    rule, tape, laser = (usable_of(space(instrument=one, width=[300] * 3)).width for one in ("rule", "tape", "laser"))
    assert rule > tape > laser


def test_a_mat_costs_height_only() -> None:
    """What stays in below the liner is taken off the clear height."""
    bare, matted = usable_of(space()), usable_of(space(mat=3))
    assert bare.height - matted.height == 3
    assert (bare.width, bare.depth) == (matted.width, matted.depth)


def test_nothing_is_left_of_a_slit() -> None:
    """Sides end at nothing, not below."""
    usable = usable_of(space(width=0.5, height=2, mat=5))
    assert (usable.width, usable.height) == (0, 0)


def test_blocked_boxes_grow_by_three_but_not_through_the_walls() -> None:
    """On all sides; no further than the walls at the front left and the floor."""
    blocked = {"reason": "pipe", "service": True, "x": 1, "y": 50, "z": 0, "width": 20, "depth": 10, "height": 30}
    box = usable_of(space(blocked=[blocked])).blocked[0]
    assert (box.x0, box.y0, box.z0) == (0, 47, 0)
    assert (box.x1, box.y1, box.z1) == (24, 63, 33)
    assert (box.reason, box.service) == ("pipe", True)


def test_a_blocked_box_without_a_height_reaches_the_top() -> None:
    """All the clear height; with a mat it is counted from the top of the mat, where parts stand."""
    blocked = {"reason": "pipe", "x": 1, "y": 50, "width": 20, "depth": 10}
    usable = usable_of(space(blocked=[blocked], mat=3))
    assert usable.blocked[0].z1 == pytest.approx(usable.height)


def test_what_stays_behind_takes_all_up_to_the_back() -> None:
    """A pipe that is fixed to the building goes out through the back of the drawer; one that moves with it does not."""
    blocked = {"reason": "pipe", "service": True, "x": 1, "y": 50, "width": 20, "depth": 10}
    for stays, end in ((True, None), (False, 63.0), (None, 63.0)):
        usable = usable_of(space(blocked=[blocked | {"stays": stays}]))
        assert usable.blocked[0].y1 == pytest.approx(usable.depth if end is None else end)


def test_heights_of_blocked_boxes_are_counted_from_the_mat() -> None:
    """They were measured from the bare floor; parts stand on the mat."""
    pipe = {"reason": "pipe", "z": 20, "width": 10, "depth": 10, "height": 10}
    bare, matted = (usable_of(space(blocked=[pipe], mat=mat)).blocked[0] for mat in (0, 3))
    assert (bare.z0 - matted.z0, bare.z1 - matted.z1) == (3, 3)


def test_a_lump_all_along_a_wall_narrows_what_passes_it() -> None:
    """2 mm of screw heads at 30 to 38 mm: trays keep 2.5 off that wall, the liner below does not."""
    screw = {"what": "screw heads", "wall": "right", "out": 2, "z": 30, "height": 8}
    usable = usable_of(space(lump=[screw]))
    assert usable.passed.right == 2.5
    assert (usable.foot.right, usable.up_to(25).right, usable.passed.left) == (0, 0, 0)


def test_glue_on_the_floor_narrows_the_liner_too() -> None:
    """A lump from the floor up all along the front."""
    usable = usable_of(space(lump=[{"what": "glue", "wall": "front", "out": 3, "height": 2}]))
    assert usable.foot.front == usable.passed.front == 3.5


@pytest.mark.parametrize(
    ("wall", "box"),
    [
        ("left", (0.0, 37.0, 6.5, 73.0)),
        ("front", (37.0, 0.0, 73.0, 6.5)),
    ],
)
def test_a_lump_at_one_spot_is_in_the_way_there(wall: str, box: tuple[float, float, float, float]) -> None:
    """6 mm out from 40 to 70 along the wall: half a millimetre more across, three more along."""
    usable = usable_of(space(lump=[{"what": "a bracket", "wall": wall, "out": 6, "along": 40, "length": 30}]))
    found = usable.blocked[0]
    assert (found.x0, found.y0, found.x1, found.y1) == box
    assert not usable.levels
    assert found.z1 == pytest.approx(usable.height)


@pytest.mark.parametrize("wall", ["right", "back"])
def test_a_lump_at_a_far_wall_reaches_in_from_what_is_left(wall: str) -> None:
    """From the usable width or depth inwards, so that it never lies behind it."""
    usable = usable_of(space(lump=[{"what": "a bracket", "wall": wall, "out": 6, "along": 40}]))
    found = usable.blocked[0]
    side, low, high = (usable.width, found.x0, found.x1) if wall == "right" else (usable.depth, found.y0, found.y1)
    assert low == pytest.approx(side - 6.5)
    assert high == side
