"""Floors and walls as they are found in meshes."""

from __future__ import annotations

from typing import TYPE_CHECKING

import manifold3d
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.checks.conftest import box
from tests.checks.strength.conftest import NOTHING, shape, vessel

from nookwright.checks.strength.probes import scattered, solid_along
from nookwright.checks.strength.roofs import roof_of
from nookwright.checks.strength.vessels import vessel_of
from nookwright.checks.verdicts import Verdicts

if TYPE_CHECKING:
    from pathlib import Path


@settings(max_examples=15)
@given(
    width=st.floats(40, 250),
    depth=st.floats(40, 250),
    height=st.floats(20, 90),
    wall=st.floats(0.8, 3.0),
    floor=st.floats(0.8, 5.0),
)
def test_an_open_box_is_read_off_as_it_was_made(
    width: float, depth: float, height: float, wall: float, floor: float
) -> None:
    """Floor, walls, inside and free height, whatever its size; its four walls, and none inside."""
    found = vessel_of(shape(vessel(width, depth, height, wall=wall, floor=floor)), NOTHING)
    assert (found.floor, found.top) == pytest.approx((floor, floor), abs=1e-4)
    assert (found.width, found.depth) == pytest.approx((width - 2 * wall, depth - 2 * wall), abs=1e-4)
    assert sorted(one.side for one in found.panels) == ["back", "front", "left", "right"]
    for panel in found.panels:
        assert (panel.thickness, panel.height) == pytest.approx((wall, height - floor), abs=1e-4)
        assert panel.span == pytest.approx(depth - 2 * wall if panel.axis == 0 else width - 2 * wall, abs=1e-4)


def test_dividers_hold_the_walls_they_meet() -> None:
    """Two columns at 40 and 90 of 120: the front is held over 49 at most, the sides over all of their length."""
    parted = vessel() + box(1.6, 80, 50, at=(39.2, 0, 0)) + box(1.6, 80, 50, at=(89.2, 0, 0))
    found = vessel_of(shape(parted), NOTHING)
    by_side = {one.side: one for one in found.panels}
    columns = [one for one in found.panels if one.side == "column"]
    assert [one.thickness for one in columns] == pytest.approx([1.6, 1.6], abs=1e-4)
    assert by_side["front"].span == pytest.approx(50, abs=1.5)
    assert by_side["left"].span == pytest.approx(77.6, abs=1e-4)


def test_a_low_side_is_as_high_as_it_is() -> None:
    """Cut down to 30 of 60: a wall is known to a fifth of its height, since it is looked at in five levels."""
    low = vessel() - box(110, 10, 40, at=(5, -5, 30))
    by_side = {one.side: one for one in vessel_of(shape(low), NOTHING).panels}
    assert by_side["front"].height == pytest.approx(29, abs=59 / 5)
    assert by_side["back"].height == pytest.approx(59, abs=1e-4)


def test_a_notch_is_not_the_end_of_a_wall() -> None:
    """A quarter of the rim is cut out for a finger: the wall is as high as before."""
    notched = vessel() - box(28, 10, 20, at=(46, -5, 45))
    by_side = {one.side: one for one in vessel_of(shape(notched), NOTHING).panels}
    assert by_side["front"].height == pytest.approx(59, abs=1e-4)


def test_a_fillet_is_no_part_of_the_free_height() -> None:
    """A bar of 3 x 3 along the foot of the walls: they bend above it."""
    found = vessel_of(shape(vessel() + (box(120, 80, 4) - box(111.6, 71.6, 5, at=(4.2, 4.2, -0.5)))), NOTHING)
    assert all(one.height == pytest.approx(59 - 2.4, abs=1.0) for one in found.panels)
    assert all(one.thickness == pytest.approx(1.2, abs=1e-4) for one in found.panels)


def test_sockets_do_not_thin_a_floor_and_domes_do_not_thicken_it() -> None:
    """A smooth floor of 4.4 with a pit in each of its cells of 18, and a thin one of 1.0 with a dome over each pit."""
    places = [(9 + 18 * i, 9 + 18 * j) for i in range(6) for j in range(4)]
    pit, dome = manifold3d.Manifold.cylinder(3.9, 3.0, 2.2, 32), manifold3d.Manifold.cylinder(4.4, 4.2, 3.6, 32)
    pits, domes = (
        manifold3d.Manifold.batch_boolean([one.translate([x, y, z]) for x, y in places], manifold3d.OpType.Add)
        for one, z in ((pit, -0.5), (dome, 0.0))
    )
    smooth = vessel(108, 72, 40, floor=4.4) - pits
    shell = vessel(108, 72, 40, floor=1.0) + domes - pits
    assert vessel_of(shape(smooth), NOTHING).floor == pytest.approx(4.4, abs=1e-4)
    assert vessel_of(shape(shell), NOTHING).floor == pytest.approx(1.0, abs=1e-4)


def test_a_solid_block_has_no_walls() -> None:
    """Nothing of it bends."""
    assert vessel_of(shape(box(40, 30, 20)), NOTHING).panels == ()


def test_a_vessel_is_remembered(tmp_path: Path) -> None:
    """What was found once is found again, panels and all."""
    verdicts, mesh = Verdicts(tmp_path), shape(vessel())
    assert vessel_of(mesh, verdicts) == vessel_of(mesh, verdicts) == vessel_of(mesh, NOTHING)
    assert len(list(tmp_path.iterdir())) == 1


@pytest.mark.parametrize(("roof", "height"), [(1.2, 24.0), (2.0, 40.0)])
def test_a_roof_is_read_off_over_its_hollow(roof: float, height: float) -> None:
    """A block with a hollow of 60 x 40 that is open below."""
    hollow = box(80, 60, height) - box(60, 40, height - roof + 1, at=(10, 10, -1))
    found = roof_of(shape(hollow), NOTHING)
    assert found is not None
    assert found.thickness == pytest.approx(roof, abs=1e-4)
    assert (found.width, found.depth) == pytest.approx((60, 40), abs=7)


def test_a_block_has_no_roof() -> None:
    """Solid below its top."""
    assert roof_of(shape(box(80, 60, 24)), NOTHING) is None


@given(at=st.floats(0.1, 0.9), up=st.floats(0.1, 0.9))
def test_a_line_through_a_wall_with_a_slit_has_two_stretches(at: float, up: float) -> None:
    """Slits of 0.2 part it; a touch does not."""
    parted = box(10, 10, 10) + box(10, 10, 10, at=(10.2, 0, 0)) + box(10, 10, 10, at=(20.2, 0, 0))
    found = solid_along(shape(parted), 0, np.array([[10 * at, 10 * up]]))
    assert found.thickness == pytest.approx([10, 20], abs=1e-9)


@given(count=st.integers(50, 400))
def test_scattered_places_leave_no_quarter_out(count: int) -> None:
    """Each sixteenth of a rectangle has its share of places, within a half."""
    places = scattered((10.0, 20.0), (90.0, 60.0), count)
    cells = ((places - (10, 20)) / (20, 10)).astype(int)
    shares = [int(((cells == (i, j)).all(axis=1)).sum()) for i in range(4) for j in range(4)]
    assert min(shares) >= count / 16 / 2
    assert max(shares) <= count / 16 * 1.5 + 1
