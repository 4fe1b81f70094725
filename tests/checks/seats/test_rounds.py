"""Cones and sockets found in meshes: where they are and what they measure, of parts of ours and of others."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import manifold3d
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.checks.bodies import shape_of
from nookwright.checks.seats.rounds import Rounds, cones_of, sockets_of
from nookwright.checks.verdicts import Verdicts
from nookwright.layout.liner_model import PanelSpec
from nookwright.module.pattern import Pattern
from nookwright.module.seat import CONE_SLOPE_DEG, LEAD_IN, rings_of
from nookwright.parts.lids.deck_lid import DeckSpec, cone_middles, deck_lid
from nookwright.parts.liner.panel import panel
from nookwright.parts.liner.panel_members import middles
from nookwright.parts.risers.riser import RiserInside, RiserSpec, riser
from nookwright.parts.risers.riser import cones_of as riser_cones
from nookwright.parts.trays.tray import tray

from .conftest import cylinder, written

if TYPE_CHECKING:
    from pathlib import Path

    from nookwright.checks.bodies import Shape
    from nookwright.module.module import Module
    from nookwright.solids.mesh import MeshKernel

NOTHING = Verdicts(None)
TAN = math.tan(math.radians(CONE_SLOPE_DEG))


def shape(solid: manifold3d.Manifold) -> Shape:
    """A solid as a check has it."""
    mesh = solid.to_mesh64()
    return shape_of("solid", np.array(mesh.vert_properties)[:, :3], np.array(mesh.tri_verts).astype(np.int64))


def places(found: Rounds) -> list[tuple[float, float]]:
    """Middles to a hundredth, in order."""
    return sorted((round(x, 2), round(y, 2)) for x, y in found.places.tolist())


def rounded(points: tuple[tuple[float, float], ...]) -> list[tuple[float, float]]:
    return sorted((round(x, 2), round(y, 2)) for x, y in points)


@pytest.mark.parametrize("smooth", [False, True])
@pytest.mark.parametrize(("cols", "rows"), [(1, 2), (3, 2), (9, 7)])
def test_the_sockets_of_a_tray_are_those_of_its_rings(
    module: Module, kernel: MeshKernel, cols: int, rows: int, smooth: bool  # noqa: FBT001
) -> None:  # fmt: skip
    """Each ring's places with its clearance, slope, depth and lead-in, to a hundredth."""
    found = sockets_of(written(tray(module, cols=cols, rows=rows, height=24.0, smooth=smooth), kernel), NOTHING)
    rings = rings_of(cols, rows, module.pitch)
    assert places(found) == rounded(tuple(place for ring in rings for place in ring.places))
    for ring in rings:
        mine = [places(found).index(place) for place in rounded(ring.places)]
        order = np.lexsort((np.round(found.y, 2), np.round(found.x, 2)))
        assert found.wide[order][mine] == pytest.approx(module.seat.cone_base + ring.clearance, abs=0.01)
    assert found.draw == pytest.approx(1 / TAN, abs=0.002)
    assert found.height == pytest.approx(module.seat.socket_depth, abs=1e-3)
    assert found.lead == pytest.approx(float(LEAD_IN), abs=0.01)


@pytest.mark.parametrize("pattern", [Pattern.CHESSBOARD, Pattern.EVERY_CELL, Pattern.EVERY_SECOND])
def test_the_cones_of_a_panel_are_those_of_its_pattern(module: Module, kernel: MeshKernel, pattern: Pattern) -> None:
    """Places, radius at the straps, slope and height; a hole in the panel has none."""
    spec = PanelSpec(6, 5, ((2, 2), (3, 2)), first_has_cone=True, slots=(), pattern=pattern)
    found = cones_of(written(panel(module, spec), kernel), NOTHING)
    assert places(found) == rounded(tuple((x - 0.2, y - 0.2) for x, y in middles(spec, module.pitch)))
    assert found.wide == pytest.approx(module.seat.cone_base, abs=0.01)
    assert found.draw == pytest.approx(1 / TAN, abs=0.002)
    assert found.height == pytest.approx(module.seat.cone_height, abs=1e-3)
    assert found.face == pytest.approx(module.seat.panel, abs=1e-3)


def test_the_cones_of_a_deck_lid_stand_on_its_face(module: Module, kernel: MeshKernel) -> None:
    """Lower than those of a panel, on a plate with finger notches."""
    spec = DeckSpec(5, 4, 36.0)
    found = cones_of(written(deck_lid(module, spec), kernel), NOTHING)
    assert places(found) == rounded(cone_middles(module, spec))
    assert found.height == pytest.approx(2.4, abs=1e-3)
    assert found.face == pytest.approx(1.2, abs=1e-3)


@pytest.mark.parametrize("inside", list(RiserInside))
def test_the_cones_of_a_riser_stand_on_its_deck(module: Module, kernel: MeshKernel, inside: RiserInside) -> None:
    """On a closed top, and on columns between ribs."""
    found = cones_of(written(riser(module, RiserSpec(4, 3, 3, inside)), kernel), NOTHING)
    assert places(found) == rounded(riser_cones(module, 4, 3, first_has_cone=True))
    assert found.face == pytest.approx(18.0, abs=1e-3)


def test_a_tray_carries_no_cones(module: Module, kernel: MeshKernel) -> None:
    """Its rim is its highest face; domes on its floor are no cones."""
    assert len(cones_of(written(tray(module, cols=3, rows=3, height=24.0), kernel), NOTHING)) == 0


@given(
    x=st.floats(8, 22),
    wide=st.floats(2.0, 5.0),
    slope=st.floats(70, 85),
    height=st.floats(1.5, 3.5),
)
def test_any_cone_is_measured_as_it_is(x: float, wide: float, slope: float, height: float) -> None:
    """Place, radius at its foot, draw and height of a cone of any slope on a plate."""
    draw = 1 / math.tan(math.radians(slope))
    if wide - draw * height < 1.05:  # its top would be taken for a pin
        return
    plate = manifold3d.Manifold.cube([30, 30, 0.6])
    found = cones_of(shape(plate + cylinder(0.6, 0.6 + height, wide, wide - draw * height, (x, 15.0))), NOTHING)
    assert found.places[0] == pytest.approx((x, 15.0), abs=1e-4)
    assert found.wide == pytest.approx([wide], abs=0.01)
    assert found.draw == pytest.approx([draw], abs=0.01)
    assert found.height == pytest.approx([height], abs=1e-3)


def test_cones_of_several_heights_are_each_measured() -> None:
    """A short one beside a tall one; their tops are no faces to stand on."""
    plate = manifold3d.Manifold.cube([60, 20, 0.6])
    cones = [
        cylinder(0.6, 0.6 + high, 2.5, 2.5 - high / TAN, (10.0 + 18 * n, 10.0)) for n, high in enumerate((3, 2, 3))
    ]
    found = cones_of(shape(manifold3d.Manifold.batch_boolean([plate, *cones], manifold3d.OpType.Add)), NOTHING)
    assert sorted(found.height.round(3).tolist()) == [2, 3, 3]


def test_a_hole_through_the_floor_has_no_depth() -> None:
    """A tapered hole that goes all the way up holds a cone as well; its depth is endless."""
    block = manifold3d.Manifold.cube([20, 20, 14]) - cylinder(-0.1, 14.1, 6.0, 2.2, (10.0, 10.0))
    found = sockets_of(shape(block), NOTHING)
    assert found.height.tolist() == [math.inf]


def test_what_was_found_is_remembered(module: Module, kernel: MeshKernel, tmp_path: Path) -> None:
    """From a cache the same figures come back, without a look at the mesh."""
    there = written(tray(module, cols=2, rows=2, height=24.0), kernel)
    first = sockets_of(there, Verdicts(tmp_path))
    other = shape_of(there.key, there.vertices[:3], there.triangles[:0])
    again = sockets_of(other, Verdicts(tmp_path))
    assert len(again) == 4
    assert np.array_equal(first.places, again.places)
