from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.checks.room_fit.scene import box, shape, tray

from nookwright.checks.bodies import Body, Sort, moved_by
from nookwright.checks.room_fit.cuts import Strip, cut, cut_of, hits, joined, rectangle, room


def length(lines: np.ndarray) -> float:
    return float(np.linalg.norm(lines[:, 1] - lines[:, 0], axis=1).sum())


def test_a_cut_through_a_tray_is_its_walls_from_above() -> None:
    """40 x 30 with walls of 1.2: 140 outside and 130.4 inside; below the floor only the outside; above it nothing."""
    corners = shape(tray(40, 30, 20)).corners
    assert length(cut(corners, 10)) == pytest.approx(140 + 130.4)
    assert length(cut(corners, 0.5)) == pytest.approx(140)
    assert len(cut(corners, 21)) == 0


def test_a_cut_in_the_plane_of_a_face_is_one_just_above_it() -> None:
    """At the height of the floor's upper side it is in the cavity; at that of the rim it is above all."""
    corners = shape(tray(40, 30, 20)).corners
    assert length(cut(corners, 1.0)) == pytest.approx(140 + 130.4)
    assert len(cut(corners, 20.0)) == 0


@pytest.mark.parametrize("z", [5.0, 10.0, 25.0, 29.999])
def test_a_cut_of_a_body_is_that_of_its_surface_in_its_place(z: float) -> None:
    """Turned on its side and lifted, at heights of faces and between them."""
    rows = np.array([[1.0, 0, 0, 7], [0, 0, -1, 9], [0, 1, 0, 5], [0, 0, 0, 1]])
    body = Body("it", Sort.PART, shape(tray(40, 30, 20)), rows)
    np.testing.assert_array_equal(cut_of(body, z), cut(moved_by(rows, body.shape.corners), z))
    assert len(cut_of(body, z))


def test_room_is_what_is_left_in_a_direction() -> None:
    """A square of 10 seen from its left at 7, from inside, from beside it, and where a finger grazes it."""
    lines = rectangle(np.array([0.0, 0.0]), np.array([10.0, 10.0]))
    assert room(lines, Strip((-7, 5), 0, 4)) == pytest.approx(7)
    assert room(lines, Strip((5, 5), 90, 4)) == pytest.approx(5)
    assert room(lines, Strip((-7, 13), 0, 4)) == math.inf
    assert room(lines, Strip((-7, 11.9), 0, 4)) == pytest.approx(7)
    assert room(lines, Strip((17, 5), 0, 4)) == math.inf  # behind
    assert room(lines[:0], Strip((0, 0), 0, 4)) == math.inf


def test_hits_come_in_order_of_their_distance() -> None:
    """Two walls of a tray of 40 from outside: at 0, 1.2, 38.8 and 40."""
    lines = cut(shape(tray(40, 30, 20)).corners, 10)
    found = hits(lines, Strip((0.0, 15.0), 0.0, 4.0))
    assert np.unique(np.round(found, 6)).tolist() == [0.0, 1.2, 38.8, 40.0]


@given(x=st.floats(-30, 30), y=st.floats(-30, 30), angle=st.floats(0, 360), width=st.floats(0.5, 10))
@settings(max_examples=80, deadline=None)
def test_no_point_of_a_strip_is_past_a_line_before_its_room_ends(
    x: float, y: float, angle: float, width: float
) -> None:
    """Against rays spread over the width of the strip, outside of a square: none meets it sooner."""
    if -1 < x < 11 and -1 < y < 11:
        return
    lines = rectangle(np.array([0.0, 0.0]), np.array([10.0, 10.0]))
    whole = room(lines, Strip((x, y), angle, width))
    turn = math.radians(angle)
    rays = [
        room(lines, Strip((x - aside * math.sin(turn), y + aside * math.cos(turn)), angle, 1e-6))
        for aside in np.linspace(-0.499, 0.499, 21) * width
    ]
    assert min(rays) >= whole - 1e-4 or whole == 0  # a strip that begins on both sides of a line has no room


def test_lines_of_several_surfaces_are_joined() -> None:
    """None at all is no lines."""
    lines = cut(shape(box(4, 4, 4)).corners, 2)
    assert len(joined([])) == 0
    assert len(joined([lines, lines])) == 2 * len(lines)
