from __future__ import annotations

import math
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.ground.errors import RecipeError
from nookwright.layout.liner import Side
from nookwright.module.choice import module_of
from nookwright.parts.trays.front import sweep_length, sweep_rise, swept_radius
from nookwright.parts.trays.tray import tray
from nookwright.parts.trays.tray_frame import TrayFrame
from nookwright.parts.trays.tray_options import DividerKind, Dividers, Front, LowSide, Split, TrayOptions
from nookwright.survey.models import FloorStyle

if TYPE_CHECKING:
    from tests.parts.conftest import Bench

    from nookwright.module.module import Module

SWEPT = TrayOptions(front=Front.SWEPT, floor=FloorStyle.SMOOTH)


@given(depth=st.floats(12.5, 500), rises=st.integers(3, 20))
def test_the_curve_keeps_its_rules(depth: float, rises: int) -> None:
    """No tighter than a fingertip, no longer than half the depth, below the rim: whatever the tray."""
    frame = TrayFrame(module_of(18.0, 6.0, 0.2, ""), 6, 6, 6.0 * rises, SWEPT)
    radius = swept_radius(frame, depth)
    assert radius >= 8
    assert sweep_length(radius) <= depth / 2 + 0.05
    assert frame.floor + sweep_rise(radius) <= frame.height + 0.05


def test_a_fingertip_that_has_no_room_is_refused(module: Module) -> None:
    """Half of 11 mm is shorter than the curve of a radius of 8."""
    with pytest.raises(RecipeError, match=r"fingertip's curve; found radius 7\.2, allowed: at least 8\. Make"):
        swept_radius(TrayFrame(module, 6, 6, 48.0, SWEPT), 11.0)


def test_the_curve_rises_from_the_floor_to_the_front(bench: Bench, module: Module) -> None:
    """Looked at in the middle of the tray, the surface leaves the floor, follows one arc and ends at the front."""
    part = tray(module, cols=6, rows=8, height=48, options=SWEPT)
    frame = TrayFrame(module, 6, 8, 48.0, SWEPT)
    radius = swept_radius(frame, module.inner(8))
    solid = bench.solid(part)
    low, high = math.radians(10), math.radians(70)
    for angle in (low, 0.4, 0.8, 1.1, 1.2):
        y = 1.2 + radius * (math.sin(high) - math.sin(angle))
        z = frame.floor + radius * (math.cos(low) - math.cos(angle))
        column = solid.trim_by_plane([0, 1, 0], y - 0.01).trim_by_plane([0, -1, 0], -y - 0.01)
        top = max(
            p[2] for p in column.trim_by_plane([1, 0, 0], 50).trim_by_plane([-1, 0, 0], -52).to_mesh64().vert_properties
        )
        assert top == pytest.approx(z, abs=0.06)


def test_the_floor_behind_the_curve_stays_flat(bench: Bench, module: Module) -> None:
    """Just above the floor, the section is open from behind the curve to the back wall."""
    frame = TrayFrame(module, 6, 8, 48.0, SWEPT)
    end = 1.2 + sweep_length(swept_radius(frame, module.inner(8)))
    open_at = bench.solid(tray(module, cols=6, rows=8, height=48, options=SWEPT)).slice(frame.floor + 0.05)
    x0, y0, x1, y1 = (53.0, end + 1.5, 54.0, 138.0)
    import manifold3d

    window = manifold3d.CrossSection.square([x1 - x0, y1 - y0]).translate([x0, y0])
    assert (open_at ^ window).area() == 0


def test_a_low_front_and_a_strip_limit_the_curve(module: Module) -> None:
    """It ends below both, or things would roll over it."""
    free = swept_radius(TrayFrame(module, 6, 8, 48.0, SWEPT), 140.0)
    low = TrayOptions(front=Front.SWEPT, low_side=LowSide(Side.FRONT, 0.3))
    strip = TrayOptions(front=Front.SWEPT, strip_height=12.0)
    for options, top in ((low, 14.4), (strip, 48 - 12 - 1.2 - 2.4)):
        frame = TrayFrame(module, 6, 8, 48.0, options)
        radius = swept_radius(frame, 140.0)
        assert radius < free
        assert frame.floor + sweep_rise(radius) <= top + 0.05


def test_slots_in_a_swept_front_are_refused(module: Module) -> None:
    """A loose divider that ends there would stand on the curve."""
    slots = Dividers(Split.COLUMNS, DividerKind.REMOVABLE, compartments=2)
    with pytest.raises(RecipeError, match="a swept front has no slots"):
        tray(module, cols=6, rows=8, height=48, options=TrayOptions(front=Front.SWEPT, dividers=(slots,)))
