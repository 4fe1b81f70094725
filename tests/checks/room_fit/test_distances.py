from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.checks.bodies import box_shape
from nookwright.checks.room_fit.distances import distances, least_distance, within

Box = tuple[np.ndarray, np.ndarray]

sizes = st.floats(0.1, 5, allow_nan=False)
places = st.floats(-9, 9, allow_nan=False)
points = st.tuples(places, places, places)
boxes = st.tuples(points, st.tuples(sizes, sizes, sizes)).map(
    lambda one: (np.array(one[0]), np.array(one[0]) + np.array(one[1]))
)


def corners(low: np.ndarray, high: np.ndarray) -> np.ndarray:
    """A box as triangles."""
    return box_shape(tuple(low), tuple(high)).corners


@given(some=boxes, other=boxes)
@settings(max_examples=150, deadline=None)
def test_the_distance_of_two_boxes_is_that_of_their_intervals(some: Box, other: Box) -> None:
    """For boxes along the axes it is the length of the gaps between their sides, axis by axis."""
    expected = np.linalg.norm(np.maximum(0.0, np.maximum(other[0] - some[1], some[0] - other[1])))
    found = least_distance(corners(*some), corners(*other), 100.0)
    nested = ((some[0] < other[0]) & (other[1] < some[1])).all() or ((other[0] < some[0]) & (some[1] < other[1])).all()
    if not nested:  # surfaces of boxes one in the other are apart
        assert found == pytest.approx(expected, abs=1e-9)


@given(seed=st.integers(0, 10_000))
@settings(max_examples=60, deadline=None)
def test_no_two_points_of_two_triangles_are_nearer_and_some_are_as_near(seed: int) -> None:
    """Against points spread over both: none nearer than the distance, the nearest within the spread of the points."""
    random = np.random.default_rng(seed)
    some, other = random.uniform(-1, 1, (2, 3, 3)) + random.uniform(-2, 2, (2, 1, 3))
    weights = random.dirichlet((0.6, 0.6, 0.6), 500)
    apart = np.linalg.norm((weights @ some)[:, None] - (weights @ other)[None], axis=2).min()
    found = float(distances(some[None], other[None])[0])
    assert found <= apart + 1e-12
    assert apart < found + 0.4


@pytest.mark.parametrize(
    ("moved", "expected"),
    [
        ((0, 0, 3), 3.0),  # face over face
        ((9, 0, 0), 5.0),  # corner to corner in one plane
        ((0, 0, 0), 0.0),  # the same
        ((1, 1, 0), 0.0),  # overlapping in one plane
        ((7, 0, 4), 5.0),  # edge to corner: 3, 4, 5
    ],
)
def test_triangles_in_special_places(moved: tuple[float, float, float], expected: float) -> None:
    """Coplanar, parallel and touching ones, by hand."""
    flat = np.array([[[0.0, 0, 0], [4, 0, 0], [0, 4, 0]]])
    assert float(distances(flat, flat + np.array(moved, dtype=float))[0]) == pytest.approx(expected)


def test_triangles_that_pass_through_each_other_are_not_apart() -> None:
    """A triangle that stands in the middle of another touches none of its edges."""
    flat = np.array([[[0.0, 0, 0], [8, 0, 0], [0, 8, 0]]])
    steep = np.array([[[2.0, 2, -1], [2, 2, 1], [2.2, 2, 1]]])
    assert float(distances(flat, steep)[0]) == 0.0


def test_what_is_beyond_the_reach_is_infinitely_far() -> None:
    """Two boxes 3 apart: seen with a reach of 3.5, not with one of 2.5; nothing is far from everything."""
    one, other = corners(np.zeros(3), np.ones(3)), corners(np.array([4.0, 0, 0]), np.array([5.0, 1, 1]))
    assert least_distance(one, other, 3.5) == pytest.approx(3.0)
    assert least_distance(one, other, 2.5) == np.inf
    assert least_distance(one, one[:0], 9.0) == np.inf


def test_only_triangles_within_the_reach_are_kept() -> None:
    """Of a box of 1, seen from one that begins 3 farther on, its nearest side alone lies within 3.5."""
    one, other = corners(np.zeros(3), np.ones(3)), corners(np.array([4.0, 0, 0]), np.array([5.0, 1, 1]))
    kept = within(one, other, 3.5)
    assert len(kept) < len(one)
    assert (kept[:, :, 0].max(axis=1) == 1).all()
