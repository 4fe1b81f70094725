from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nookwright.ground.errors import RecipeError
from nookwright.layout.liner import Side
from nookwright.parts.trays.grip import grip_of
from nookwright.parts.trays.tray import tray
from nookwright.parts.trays.tray_frame import TrayFrame
from nookwright.parts.trays.tray_options import DividerKind, Dividers, Grip, LowSide, Split, TrayOptions

if TYPE_CHECKING:
    from tests.parts.conftest import Bench

    from nookwright.module.module import Module

WIDTH, DEPTH = 107.4, 143.4


@pytest.mark.parametrize("side", list(Side))
def test_only_the_low_side_is_low(bench: Bench, module: Module, side: Side) -> None:
    """Above its height the middle of that wall is gone, below it and in the other walls nothing is."""
    options = TrayOptions(low_side=LowSide(side, 0.5))
    solid = bench.solid(tray(module, cols=6, rows=8, height=48, options=options))
    middles = {
        Side.LEFT: (0.6, DEPTH / 2),
        Side.RIGHT: (WIDTH - 0.6, DEPTH / 2),
        Side.FRONT: (WIDTH / 2, 0.6),
        Side.BACK: (WIDTH / 2, DEPTH - 0.6),
    }
    import manifold3d

    for wall, (x, y) in middles.items():
        spot = manifold3d.CrossSection.square([0.2, 0.2], center=True).translate([x, y])
        for z, there in ((23.9, True), (24.1, wall is not side), (47.9, wall is not side)):
            assert ((solid.slice(z) ^ spot).area() > 0) is there


def test_the_height_is_in_whole_layers_and_the_corners_are_round(bench: Bench, module: Module) -> None:
    """0.45 of 48 is 21.6, 108 layers; there the opening is 6 narrower than a radius higher."""
    options = TrayOptions(low_side=LowSide(Side.FRONT, 0.449))
    solid = bench.solid(tray(module, cols=6, rows=8, height=48, options=options))
    full = solid.slice(15.0).area()
    assert solid.slice(21.5).area() == pytest.approx(full, rel=1e-3)
    opening = WIDTH - 2 * (5 + 3)
    assert full - solid.slice(30.0).area() == pytest.approx(opening * 1.2, rel=1e-3)
    assert full - solid.slice(21.61).area() == pytest.approx((opening - 6) * 1.2, rel=0.01)


def test_a_low_side_is_the_grip(module: Module) -> None:
    """No notch besides, unless a hand hole is asked for, which then goes into the other two walls."""
    low = LowSide(Side.FRONT)
    assert grip_of(TrayFrame(module, 6, 8, 48.0, TrayOptions(low_side=low))).kind is Grip.LOW_SIDE
    hole = TrayOptions(low_side=low, grip=Grip.HAND_HOLE)
    assert grip_of(TrayFrame(module, 6, 8, 72.0, hole)).sides == (Side.LEFT, Side.RIGHT)


@pytest.mark.parametrize(
    ("options", "message"),
    [
        (TrayOptions(low_side=LowSide(Side.FRONT, 0.1)), r"holds what lies in the tray.*found 4\.8 high"),
        (TrayOptions(low_side=LowSide(Side.FRONT, 0.95)), "lower than the others"),
        (TrayOptions(low_side=LowSide(Side.FRONT, float("nan"))), "share of a low side is a length or a share"),
        (TrayOptions(low_side=LowSide(Side.FRONT), strip_height=12.0), "the front with a name strip has no other use"),
        (
            TrayOptions(
                low_side=LowSide(Side.LEFT), dividers=(Dividers(Split.ROWS, DividerKind.REMOVABLE, compartments=2),)
            ),
            "a low side has no slots",
        ),
    ],
)
def test_low_sides_that_cannot_be_are_refused(module: Module, options: TrayOptions, message: str) -> None:
    """Too low, hardly lower, taken by something else."""
    with pytest.raises(RecipeError, match=message):
        tray(module, cols=6, rows=8, height=48, options=options)


def test_a_short_low_side_is_refused(module: Module) -> None:
    """A side of one cell is all corner."""
    options = TrayOptions(low_side=LowSide(Side.FRONT), picked_by_hand=False)
    with pytest.raises(RecipeError, match="room between its corners"):
        tray(module, cols=1, rows=3, height=48, options=options)
