"""Level sections: their loops against closed forms, the room about a point against all edges one by one."""

from __future__ import annotations

import math

import manifold3d
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.checks.bodies import Shape, shape_of
from nookwright.checks.seats.level import distances, level_at

size = st.floats(2, 40)


def shape(solid: manifold3d.Manifold) -> Shape:
    """A solid as a check has it."""
    mesh = solid.to_mesh64()
    return shape_of("solid", np.array(mesh.vert_properties)[:, :3], np.array(mesh.tri_verts).astype(np.int64))


@given(width=size, depth=size, x=st.floats(-300, 300), y=st.floats(-300, 300))
def test_the_loop_of_a_box_is_its_rectangle(width: float, depth: float, x: float, y: float) -> None:
    """Area, middle, nearest and farthest point, wherever it stands."""
    loops = level_at(shape(manifold3d.Manifold.cube([width, depth, 10]).translate([x, y, 0])), 4.0).loops
    assert loops.areas_mm2 == pytest.approx([width * depth])
    assert loops.middles[0] == pytest.approx((x + width / 2, y + depth / 2))
    assert loops.near == pytest.approx([min(width, depth) / 2])
    assert loops.far == pytest.approx([math.hypot(width, depth) / 2])


@given(radius=st.floats(1, 8), top=st.floats(0.5, 1), height=st.floats(0.1, 9.9))
def test_the_hole_in_a_block_has_a_negative_area(radius: float, top: float, height: float) -> None:
    """A cone bored into a block: at each height a loop with the radius there, and the outline about it."""
    block = manifold3d.Manifold.cube([40, 40, 10])
    bore = manifold3d.Manifold.cylinder(10, radius, radius * top, 48).translate([12, 25, 0])
    loops = level_at(shape(block - bore), height).loops
    (hole,), (outline,) = np.flatnonzero(loops.areas_mm2 < 0), np.flatnonzero(loops.areas_mm2 > 0)
    expected = radius + (radius * top - radius) * height / 10
    assert loops.far[hole] == pytest.approx(expected, abs=1e-4)
    assert loops.near[hole] == pytest.approx(expected * math.cos(math.pi / 48), abs=1e-4)
    assert loops.middles[hole] == pytest.approx((12, 25), abs=1e-6)
    assert loops.areas_mm2[outline] == pytest.approx(1600)


@pytest.mark.parametrize(
    ("low", "high", "met"),
    [
        ((12, 12), (28, 28), False),  # in the hole
        ((10, 10), (30, 30), False),  # all of it, to its edges
        ((12, 12), (31, 28), True),
        ((2, 2), (8, 8), True),  # within the solid, with no edge in it
        ((-5, -5), (45, 45), True),  # about it all
        ((19, -5), (21, 45), True),  # across
        ((41, 0), (50, 40), False),  # beside
        ((40, 0), (50, 40), False),  # against its side
    ],
)
def test_a_rectangle_meets_a_frame_where_it_is_solid(
    low: tuple[float, float],
    high: tuple[float, float],
    met: bool,  # noqa: FBT001
) -> None:
    """A square frame of 40 mm about a hole of 20 mm."""
    hole = manifold3d.Manifold.cube([20, 20, 10]).translate([10, 10, 0])
    frame = level_at(shape(manifold3d.Manifold.cube([40, 40, 10]) - hole), 5.0)
    assert frame.meets(np.array(low, dtype=float), np.array(high, dtype=float)) is met


def test_a_rectangle_meets_what_is_askew() -> None:
    """A square on its corner: the corner of its box is empty."""
    askew = level_at(shape(manifold3d.Manifold.cube([20, 20, 10], center=True).rotate([0, 0, 45])), 1.0)
    assert not askew.meets(np.array([9.0, 9.0]), np.array([14.0, 14.0]))
    assert askew.meets(np.array([6.0, 6.0]), np.array([14.0, 14.0]))


def test_loops_of_one_section_are_told_apart() -> None:
    """Nine posts on a plate are nine loops, whatever the order of their triangles."""
    posts = [
        manifold3d.Manifold.cylinder(8, 2, 2, 16).translate([10 * i, 10 * j, 1]) for i in range(3) for j in range(3)
    ]
    solid = manifold3d.Manifold.batch_boolean(
        [manifold3d.Manifold.cube([30, 30, 2]).translate([-5, -5, 0]), *posts], manifold3d.OpType.Add
    )
    loops = level_at(shape(solid), 5.0).loops
    assert sorted(map(tuple, loops.middles.round(6).tolist())) == [(10 * i, 10 * j) for i in range(3) for j in range(3)]


def test_above_and_below_a_solid_there_is_nothing() -> None:
    """No edges, no loops, and endless room about any point."""
    level = level_at(shape(manifold3d.Manifold.cube([5, 5, 5])), 6.0)
    assert len(level.loops.far) == 0
    assert level.clear(np.array([[1.0, 1.0]])) == np.inf


@given(x=st.floats(-5, 25), y=st.floats(-5, 25))
def test_the_room_about_a_point_is_negative_in_plastic(x: float, y: float) -> None:
    """A frame: the distance to the nearest of its two outlines, with the sign of the side."""
    frame = manifold3d.Manifold.cube([20, 20, 5]) - manifold3d.Manifold.cube([12, 12, 5]).translate([4, 4, 0])
    level = level_at(shape(frame), 2.0)
    clear = float(level.clear(np.array([[x, y]]))[0])
    nearest = min(
        float(distances(np.array([x, y]), start, end)) for start, end in zip(level.starts, level.ends, strict=True)
    )
    inside = 0 < x < 20 and 0 < y < 20 and not (4 < x < 16 and 4 < y < 16)
    assert abs(clear) == pytest.approx(nearest, abs=1e-9)
    if nearest > 1e-6:
        assert (clear < 0) is inside
