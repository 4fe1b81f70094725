"""Drains of trays: in every compartment, clear of all else, found again in the mesh by the proof."""

from __future__ import annotations

import math
from itertools import combinations
from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.checks.bodies import shape_of
from nookwright.checks.care.drains import drains_of
from nookwright.module.choice import module_of
from nookwright.module.seat import rings_of
from nookwright.parts.trays.drains import APART, OFF_LINE, RADIUS, drain_places, drains
from nookwright.parts.trays.tray import tray
from nookwright.parts.trays.tray_frame import TrayFrame
from nookwright.parts.trays.tray_options import DividerKind, Dividers, Front, Split, TrayOptions
from nookwright.survey.models import FloorStyle

if TYPE_CHECKING:
    from tests.parts.conftest import Bench

    from nookwright.module.module import Module


def frame(module: Module, cols: int, rows: int, *, high: float = 48.0, **options: object) -> TrayFrame:
    """A drained tray."""
    wishes = TrayOptions(drained=True, picked_by_hand=False, **options)  # type: ignore[arg-type] # any option
    return TrayFrame(module, cols, rows, high, wishes)


def found(bench: Bench, one: TrayFrame) -> list[int]:
    """How many drains the proof finds in each compartment of the mesh."""
    mesh = bench.mesh(tray(one.module, cols=one.cols, rows=one.rows, height=one.height, options=one.options))
    shape = shape_of("tray", np.array(mesh.vertices), np.array(mesh.triangles))
    return sorted(len(holes) for holes in drains_of(shape))


@pytest.mark.parametrize("floor", FloorStyle)
@pytest.mark.parametrize(("cols", "rows"), [(2, 2), (4, 1), (6, 8), (14, 9)])
def test_each_corner_of_a_tray_has_a_drain(
    bench: Bench, module: Module, cols: int, rows: int, floor: FloorStyle
) -> None:
    """Four holes, seen through in the mesh; a plain tray has none."""
    one = frame(module, cols, rows, floor=floor)
    assert found(bench, one) == [4]
    assert drains(TrayFrame(module, cols, rows, 48.0, TrayOptions(picked_by_hand=False))).cuts == ()


def test_each_compartment_has_its_own(bench: Bench, module: Module) -> None:
    """Fixed dividers that cross, and loose ones, which stand in slots."""
    crossed = (Dividers(Split.COLUMNS, compartments=3), Dividers(Split.ROWS, compartments=2))
    assert min(found(bench, frame(module, 9, 8, dividers=crossed))) >= 1
    assert len(found(bench, frame(module, 9, 8, dividers=crossed))) == 6
    loose = frame(module, 6, 8, dividers=(Dividers(Split.ROWS, DividerKind.REMOVABLE, compartments=2),))
    middle = loose.depth / 2
    assert {y < middle for _, y in drain_places(loose)} == {True, False}


def test_a_swept_front_is_kept_clear(bench: Bench, module: Module) -> None:
    """A hole below its curve would not be one."""
    assert found(bench, frame(module, 6, 8, front=Front.SWEPT)) == [4]


@settings(max_examples=30, deadline=None)
@given(
    pitch=st.sampled_from([17.0, 18.0, 19.0, 20.0, 22.0, 24.0]),
    cols=st.integers(1, 16),
    rows=st.integers(1, 16),
    smooth=st.booleans(),
)
def test_drains_are_clear_of_sockets_lines_and_each_other(pitch: float, cols: int, rows: int, smooth: bool) -> None:  # noqa: FBT001
    """Domes by a little, the lines that a tray is cut on by a line of floor."""
    module = module_of(pitch, 6.0, 0.2, "")
    floor = FloorStyle.SMOOTH if smooth else FloorStyle.SHELL
    places = drain_places(frame(module, cols, rows, floor=floor))
    rings = rings_of(cols, rows, pitch, module.seat.growth, module.seat.clearance)
    sockets = [(at, module.seat.cone_base + ring.clearance) for ring in rings for at in ring.places]
    (x0, y0), _ = min(sockets)
    for x, y in places:
        assert all(math.dist((x, y), at) > radius + RADIUS + 1.0 for at, radius in sockets)
        for along, first in ((x, x0), (y, y0)):
            off = (along - first) / pitch % 1
            assert abs(off - 0.5) * pitch >= OFF_LINE - 1e-3
    assert all(math.dist(one, other) >= APART for one, other in combinations(places, 2))
