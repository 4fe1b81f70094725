from __future__ import annotations

import numpy as np
import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st

from nookwright.checks.bodies import box_shape, rounds_shape
from nookwright.checks.room_fit.distances import distances
from nookwright.checks.room_fit.sweeps import RUB, free_share, meets

Box = tuple[np.ndarray, np.ndarray]

sizes = st.floats(0.2, 5, allow_nan=False)
places = st.floats(-8, 8, allow_nan=False)
boxes = st.tuples(st.tuples(places, places, places), st.tuples(sizes, sizes, sizes)).map(
    lambda one: (np.array(one[0]), np.array(one[0]) + np.array(one[1]))
)
ways = st.one_of(
    st.tuples(places, places, places),
    st.tuples(places, st.just(0.0), st.just(0.0)),
    st.tuples(st.just(0.0), st.just(0.0), places),
).map(np.array)


def corners(low: np.ndarray, high: np.ndarray) -> np.ndarray:
    """A box as triangles."""
    return box_shape(tuple(low), tuple(high)).corners


def first_meeting(some: Box, way: np.ndarray, other: Box, shrunk: float) -> float:
    """When a moving box first meets another that is smaller by so much on all sides, as a share of the way; else 1."""
    begin, end = 0.0, 1.0
    for axis in range(3):
        low, high = other[0][axis] + shrunk - some[1][axis], other[1][axis] - shrunk - some[0][axis]
        if abs(way[axis]) < 1e-9:
            if not low < 0 < high:
                return 1.0
            continue
        first, last = sorted((low / way[axis], high / way[axis]))
        begin, end = max(begin, first), min(end, last)
    return begin if begin < end else 1.0


@given(some=boxes, other=boxes, way=ways)
@settings(max_examples=250, deadline=None)
def test_a_moving_box_meets_another_when_their_intervals_do(some: Box, other: Box, way: np.ndarray) -> None:
    """Against the closed form: never later than boxes that meet deeper than the rub, never before they touch."""
    assume(not (np.minimum(some[1], other[1]) > np.maximum(some[0], other[0])).all())
    share, length = free_share(corners(*some), way, corners(*other)), float(np.linalg.norm(way))
    slack = length / 4096 + 2 * RUB * max(1.0, length / max(1e-9, np.abs(way[np.abs(way) > 1e-9]).min(initial=1e9)))
    touched = first_meeting(some, way, other, 0.0)
    deep = first_meeting(some, way, other, 2 * RUB)
    assert (touched - share) * length <= slack
    if deep < 1:
        assert share < 1
        assert (share - deep) * length <= slack


@given(seed=st.integers(0, 10_000))
@example(seed=1249)  # two edges pass each other 0.3 mm apart: no face parts them
@example(seed=2212)
@settings(max_examples=40, deadline=None)
def test_a_sweep_is_what_many_places_on_the_way_are(seed: int) -> None:
    """Tilted triangles against places on the way: where one meets deeply, so does the sweep; where all are far, not."""
    random = np.random.default_rng(seed)
    moving, still = random.uniform(-1, 1, (1, 3, 3)), random.uniform(-1, 1, (1, 3, 3)) + random.uniform(-2, 2, 3)
    way = random.uniform(-4, 4, 3)
    sampled = any(meets(moving + share * way, way * 1e-9, still, 0.05) for share in np.linspace(0, 1, 200))
    if sampled:
        assert meets(moving, way, still, 0.04)
    if not meets(moving, way, still, 0.0):
        assert not sampled
    places = np.concatenate([moving + share * way for share in np.linspace(0, 1, 400)])
    apart = distances(places, np.repeat(still, len(places), axis=0)).min()
    if apart > np.linalg.norm(way) / 400:  # too far from all of them to be met between two
        assert not meets(moving, way, still, 0.0)


def test_what_slides_along_a_face_is_free() -> None:
    """A box on a floor, pushed along it: they touch all the way, and never meet."""
    floor = corners(np.array([-50.0, -50, -1]), np.array([50.0, 50, 0]))
    on_it = corners(np.array([0.0, 0, 0]), np.array([5.0, 5, 5]))
    assert free_share(on_it, np.array([40.0, 3.0, 0.0]), floor) == 1
    assert free_share(on_it, np.array([40.0, 0.0, -1.0]), floor) < 0.05


@pytest.mark.parametrize(("radius", "free"), [(4.95, True), (5.05, False)])
def test_a_peg_goes_into_a_hole_that_is_larger(radius: float, free: bool) -> None:  # noqa: FBT001
    """A round peg along its axis through a square frame of 10: by 0.05 it goes, by 0.05 it does not."""
    peg = rounds_shape(np.array([[-radius, -radius, 20.0]]), np.array([[radius, radius, 30.0]]), "z").corners
    frame = [
        corners(np.array(low, dtype=float), np.array(high, dtype=float))
        for low, high in (
            ((-9, -9, 0), (-5, 9, 5)), ((5, -9, 0), (9, 9, 5)), ((-5, -9, 0), (5, -5, 5)), ((-5, 5, 0), (5, 9, 5)),
        )
    ]  # fmt: skip
    share = free_share(peg, np.array([0.0, 0.0, -30.0]), np.concatenate(frame))
    assert (share == 1) is free
    if not free:
        assert share * 30 == pytest.approx(15.0, abs=0.05)  # from 20 down to 5


def test_a_way_is_free_up_to_where_it_ends() -> None:
    """A wall that begins 7 away, on a way of 10: free for 0.7 of it; a way of 6 is free."""
    box, wall = corners(np.zeros(3), np.ones(3)), corners(np.array([8.0, -5, -5]), np.array([9.0, 5, 5]))
    assert free_share(box, np.array([10.0, 0, 0]), wall) == pytest.approx(0.7, abs=2e-3)
    assert free_share(box, np.array([6.0, 0, 0]), wall) == 1
    assert not meets(box, np.array([6.0, 0, 0]), wall)
    assert free_share(box[:0], np.array([10.0, 0, 0]), wall) == 1


def test_a_hair_of_a_touch_is_let_pass_and_more_is_not() -> None:
    """A box that is pushed past a corner that stands in by half of what may rub, or by twice."""
    box = corners(np.zeros(3), np.ones(3))
    for deep, free in ((RUB / 2, True), (2 * RUB, False)):
        post = corners(np.array([5.0, 1 - deep, -5]), np.array([6.0, 2, 5]))
        assert (free_share(box, np.array([9.0, 0, 0]), post) == 1) is free
