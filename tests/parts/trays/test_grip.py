from __future__ import annotations

from typing import TYPE_CHECKING

import manifold3d
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.ground.errors import RecipeError
from nookwright.layout.liner import Side
from nookwright.module.choice import module_of
from nookwright.parts.trays.grip import grip_of
from nookwright.parts.trays.tray import handles, tray
from nookwright.parts.trays.tray_frame import TrayFrame
from nookwright.parts.trays.tray_options import Dividers, Front, Grip, Split, TrayOptions

if TYPE_CHECKING:
    from tests.parts.conftest import Bench

    from nookwright.module.module import Module

LYING, STANDING = (Side.FRONT, Side.BACK), (Side.LEFT, Side.RIGHT)


def choice(module: Module, cols: int, rows: int, height: float, options: TrayOptions) -> tuple[Grip, tuple[Side, ...]]:
    """The grip of a tray, without its reason."""
    found = grip_of(TrayFrame(module, cols, rows, height, options))
    return found.kind, found.sides


@given(cols=st.integers(1, 28), rows=st.integers(1, 25), rises=st.integers(2, 20))
def test_every_tray_larger_than_a_cell_has_a_grip(cols: int, rows: int, rises: int) -> None:
    """By default: a notch where it fits, fingers from inside elsewhere; a single cell alone has none, and says why."""
    options = TrayOptions(picked_by_hand=False)
    found = grip_of(TrayFrame(module_of(18.0, 6.0, 0.2, ""), cols, rows, 6.0 * rises, options))
    assert (found.kind is Grip.NONE) == (cols == rows == 1)
    assert bool(found.reason) == (found.kind is not Grip.NOTCH)
    assert (found.kind is Grip.NOTCH) == (max(cols, rows) > 1 and rises >= 4)


def test_notches_are_in_the_walls_that_a_hand_spans(module: Module) -> None:
    """The two that are nearer to each other, unless these are taken or a divider stands there."""
    assert choice(module, 6, 8, 48.0, TrayOptions()) == (Grip.NOTCH, STANDING)
    assert choice(module, 8, 6, 48.0, TrayOptions()) == (Grip.NOTCH, LYING)
    assert choice(module, 8, 6, 48.0, TrayOptions(strip_height=12.0)) == (Grip.NOTCH, STANDING)
    assert choice(module, 8, 6, 48.0, TrayOptions(front=Front.SWEPT)) == (Grip.NOTCH, STANDING)
    halved = (Dividers(Split.COLUMNS, compartments=2),)
    assert choice(module, 8, 6, 48.0, TrayOptions(dividers=halved)) == (Grip.NOTCH, STANDING)
    low = (Dividers(Split.COLUMNS, compartments=2, below_rim=12.0),)
    assert choice(module, 8, 6, 48.0, TrayOptions(dividers=low)) == (Grip.NOTCH, LYING)
    quartered = (*halved, Dividers(Split.ROWS, compartments=2))
    assert choice(module, 8, 6, 48.0, TrayOptions(dividers=quartered)) == (Grip.SPREAD, ())


def test_a_finger_goes_through_a_notch(bench: Bench, module: Module) -> None:
    """A box of 22 x 12 below the rim meets nothing in the wall; the wall under it stands."""
    solid = bench.solid(tray(module, cols=6, rows=8, height=48, options=TrayOptions()))
    finger = manifold3d.Manifold.cube([3, 16, 12]).translate([-1, 143.4 / 2 - 8, 36.001])
    wide = manifold3d.Manifold.cube([3, 22, 4]).translate([-1, 143.4 / 2 - 11, 41])
    assert bench.shared_mm3(solid, finger) < 0.001
    assert bench.shared_mm3(solid, wide) < 0.001
    assert bench.shared_mm3(solid, finger.translate([0, 0, -0.1])) > 0.1
    assert bench.shared_mm3(solid, wide.translate([106.4 - 1, 0, 0])) < 0.001


def test_a_hand_hole_is_a_handle(bench: Bench, module: Module) -> None:
    """Two of them, two; the strip above each is 6 high, the sill below stands over what lies in the tray."""
    options = TrayOptions(grip=Grip.HAND_HOLE)
    part = tray(module, cols=6, rows=8, height=66, options=options)
    assert bench.genus(part) == handles(TrayFrame(module, 6, 8, 66.0, options)) == 2
    solid = bench.solid(part)
    fingers = manifold3d.Manifold.cube([3, 44, 13]).translate([-1, 143.4 / 2 - 22, 66 - 6 - 31 + 3.01])
    assert bench.shared_mm3(solid, fingers) < 0.001
    strip = manifold3d.Manifold.cube([1.2, 40, 6]).translate([0, 143.4 / 2 - 20, 60])
    assert bench.shared_mm3(solid, strip) == pytest.approx(1.2 * 40 * 6, rel=1e-3)


@pytest.mark.parametrize(
    ("cols", "height", "options", "message"),
    [
        (6, 48.0, TrayOptions(notch_width=20.0), "a notch takes a finger"),
        (6, 48.0, TrayOptions(notch_depth=11.9), "a notch takes a finger"),
        (6, 36.0, TrayOptions(grip=Grip.HAND_HOLE), r"a wall around it; found 36 high.*Choose a notch"),
        (2, 96.0, TrayOptions(grip=Grip.HAND_HOLE), "a hand hole has a wall around it"),
        (6, 96.0, TrayOptions(grip=Grip.HAND_HOLE, hole_width=14.0), "upright edges and slopes"),
        (6, 48.0, TrayOptions(grip=Grip.LOW_SIDE), "a low side is a grip where there is one"),
    ],
)
def test_grips_that_cannot_be_are_refused(
    module: Module, cols: int, height: float, options: TrayOptions, message: str
) -> None:
    """With what was found, what is allowed, and what to do."""
    with pytest.raises(RecipeError, match=message):
        tray(module, cols=cols, rows=2, height=height, options=options)
