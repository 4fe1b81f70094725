from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.module.seat import (
    LEAD_IN,
    PART_GAP,
    RING_STEP,
    SCALE_SHARE,
    SIZE_STEP,
    STRAP_WIDTH,
    common_layer,
    draw_of,
    has_cone,
    outer_size,
    rings_of,
    seat_of,
    socket_clearance,
    whole_layers,
    widest_mouth,
)

SIDES = st.integers(1, 22)
PITCHES = st.sampled_from([17.0, 18.0, 19.0, 22.0, 24.0])


@pytest.mark.parametrize("micron", range(100, 301, 10))
def test_every_height_of_the_seat_is_whole_layers(micron: int) -> None:
    """From layers of 0.1 to 0.3, whatever is added to the seat's heights meets a layer."""
    layer = micron / 1000
    seat = seat_of(layer)
    for height in (seat.panel, seat.cone_height, seat.socket_depth, seat.shell_floor, seat.dome):
        assert height / layer == pytest.approx(round(height / layer), abs=1e-6)


@pytest.mark.parametrize("micron", [*range(100, 301, 10), 400, 500, 600])
def test_a_socket_is_deeper_than_its_cone_and_under_a_roof(micron: int) -> None:
    """At least 0.3 of room over the cone for crumbs and warp, and at least 1 of roof above that."""
    seat = seat_of(micron / 1000)
    assert seat.socket_depth - seat.cone_height >= 0.3 - 1e-9
    assert seat.dome - seat.socket_depth >= 1.0 - 1e-9
    assert seat.shell_floor >= 1.0 - 1e-9
    assert 0 < seat.cone_top < seat.cone_base
    assert 2 * seat.cone_base == pytest.approx(STRAP_WIDTH + 1.4)


@given(cols=SIDES, rows=SIDES, pitch=PITCHES)
def test_rings_are_the_same_after_half_a_turn(cols: int, rows: int, pitch: float) -> None:
    """Turned by 180 degrees a part has every socket where it had one of the same clearance."""
    width, depth = outer_size(cols, pitch), outer_size(rows, pitch)
    for ring in rings_of(cols, rows, pitch):
        places = {(round(x, 6), round(y, 6)) for x, y in ring.places}
        assert {(round(width - x, 6), round(depth - y, 6)) for x, y in ring.places} == places


@given(cols=SIDES, rows=SIDES, pitch=PITCHES)
def test_rings_are_the_same_after_a_quarter_turn(cols: int, rows: int, pitch: float) -> None:
    """Turned by 90 degrees a part has the sockets of the part with columns and rows exchanged."""
    depth = outer_size(rows, pitch)
    turned = {
        (ring.clearance, round(depth - y, 6), round(x, 6))
        for ring in rings_of(cols, rows, pitch)
        for x, y in ring.places
    }
    other = rings_of(rows, cols, pitch)
    assert turned == {(ring.clearance, round(x, 6), round(y, 6)) for ring in other for x, y in ring.places}


@given(cols=SIDES, rows=SIDES, pitch=PITCHES)
def test_a_part_has_one_socket_a_cell_in_few_rings(cols: int, rows: int, pitch: float) -> None:
    """Every cell has a socket at its middle; rings go outwards from the tightest."""
    rings = rings_of(cols, rows, pitch)
    assert sum(len(ring.places) for ring in rings) == cols * rows
    assert len({place for ring in rings for place in ring.places}) == cols * rows
    assert [ring.clearance for ring in rings] == sorted({ring.clearance for ring in rings})
    assert len(rings) <= 19


@given(pitch=st.floats(17, 24))
def test_mouths_leave_land_between_sockets(pitch: float) -> None:
    """Up to 22 x 22 cells a mouth with its lead-in is at most the pitch less 4, so that 4 of floor stay between two."""
    seat = seat_of(0.2)
    widest = max(ring.clearance for ring in rings_of(22, 22, pitch))
    assert 2 * (seat.cone_base + widest + LEAD_IN) <= widest_mouth(pitch) == pitch - 4


@given(near=st.floats(0, 600), further=st.floats(0, 600))
def test_clearance_never_shrinks_outwards(near: float, further: float) -> None:
    """It grows with the distance, is rounded up by less than a step, and is 0.25 + 0.005 d or more."""
    near, further = sorted((near, further))
    assert socket_clearance(near) <= socket_clearance(further)
    assert 0.25 + 0.005 * near - 1e-6 <= socket_clearance(near) <= 0.25 + 0.005 * near + RING_STEP


@given(cells=st.integers(1, 60), pitch=st.floats(17, 24))
def test_the_outer_size_leaves_the_gap(cells: int, pitch: float) -> None:
    """A part is smaller than its cells by 0.6, or by 0.2 and 0.2 %, and by less than a step of size more."""
    gap = cells * pitch - outer_size(cells, pitch)
    least = max(PART_GAP, 0.2 + SCALE_SHARE * cells * pitch)
    assert least - 1e-6 <= gap <= least + SIZE_STEP + 1e-6


@given(left=st.integers(1, 40), right=st.integers(1, 40), pitch=st.floats(17, 24))
def test_neighbours_never_touch_when_printed_too_large(left: int, right: int, pitch: float) -> None:
    """Both printed 0.2 % too large, two neighbours in the middle of their cells are still 0.2 apart."""
    sizes = (outer_size(left, pitch), outer_size(right, pitch))
    apart = (left + right) * pitch / 2 - sum(sizes) / 2
    assert apart - SCALE_SHARE * sum(sizes) / 2 >= 0.2 - 1e-6


@given(height=st.floats(0.01, 50), layer=st.sampled_from([0.1, 0.12, 0.16, 0.2, 0.25, 0.28, 0.3]))
def test_whole_layers_round_up_by_less_than_one(height: float, layer: float) -> None:
    """A height becomes the next whole number of layers."""
    rounded = whole_layers(height, layer)
    assert height - 1e-6 <= rounded < height + layer + 1e-6
    assert rounded / layer == pytest.approx(round(rounded / layer), abs=1e-5)


def test_a_common_layer_is_whole_layers_of_each_printer() -> None:
    """The least common multiple where it is fine enough; printers that agree share theirs, however coarse."""
    assert common_layer((0.2, 0.1, 0.15)) == 0.6
    assert common_layer((0.2, 0.25)) is None
    assert common_layer((0.8,)) == 0.8
    assert common_layer((0.8, 0.8)) == 0.8


def test_every_footprint_of_two_cells_meets_a_cone_everywhere() -> None:
    """In every place and turn each footprint from 1 x 2 to 6 x 6 cells stands on half its cells, less at most half."""
    for cols in range(1, 7):
        for rows in range(1, 7):
            counts = {
                sum(has_cone(col + i, row + j) for i in range(cols) for j in range(rows))
                for col in range(2)
                for row in range(2)
            }
            assert min(counts) == cols * rows // 2
    assert not has_cone(0, 1)


def test_cone_and_socket_have_the_same_slope() -> None:
    """Then clearance is play only: the mouth is wider than the base by the clearance, and so at every height."""
    seat = seat_of(0.2)
    assert draw_of(seat.cone_height) == pytest.approx(seat.cone_base - seat.cone_top)
    assert [round(math.degrees(math.atan2(h, draw_of(h))), 6) for h in (1.0, 3.0)] == [75.0, 75.0]


def test_rings_widen_with_the_part() -> None:
    """The corner sockets of a larger part are never tighter than those of a smaller one."""
    outermost = [rings_of(cells, cells, 18.0)[-1].clearance for cells in range(1, 23)]
    assert all(small <= large for small, large in pairwise(outermost))
    assert (outermost[0], outermost[-1]) == (0.3, 1.6)
