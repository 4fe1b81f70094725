from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nookwright.module.choice import module_of
from nookwright.module.seat import outer_size
from nookwright.parts.model import Kind
from nookwright.parts.tray import tray

if TYPE_CHECKING:
    from collections.abc import Callable

    from nookwright.module.module import Module
    from nookwright.parts.model import Part

    from .conftest import Bench

SIZES = [(1, 2, 12.0), (2, 2, 18.0), (5, 3, 36.0), (14, 9, 66.0)]


@pytest.mark.parametrize("smooth", [False, True])
@pytest.mark.parametrize("size", SIZES)
def test_a_tray_is_one_closed_body_of_its_size(
    bench: Bench, module: Module, sound: Callable[..., None], size: tuple[int, int, float], *, smooth: bool
) -> None:
    """Smallest, middle and largest: the closed form of its box, no hole anywhere."""
    cols, rows, height = size
    part = tray(module, cols=cols, rows=rows, height=height, smooth=smooth)
    sound(bench, part, (outer_size(cols, 18.0), outer_size(rows, 18.0), height))
    assert bench.genus(part) == 0
    assert part.kind is Kind.TRAY
    assert part.seated


@pytest.mark.parametrize("layer", [0.1, 0.16, 0.25, 0.28, 0.3, 0.6])
@pytest.mark.parametrize("smooth", [False, True])
def test_trays_can_be_made_at_every_layer(bench: Bench, layer: float, *, smooth: bool) -> None:
    """Also at the coarse layer that printers of 0.2 and 0.3 have in common."""
    module = module_of(18.0, 6.0, layer, "")
    part = tray(module, cols=2, rows=3, height=module.height(30), smooth=smooth)
    assert bench.genus(part) == 0


def test_a_smooth_floor_is_flat_and_a_shell_floor_has_domes(bench: Bench, module: Module) -> None:
    """Above the smooth floor a section shows walls alone; above the shell one dome a cell, below the dome's top."""
    smooth, shell = (tray(module, cols=3, rows=2, height=30, smooth=kind) for kind in (True, False))

    def bodies(part: Part, z: float) -> int:
        return len(bench.solid(part).slice(z).decompose())

    assert (bodies(smooth, 4.5), bodies(shell, 4.3), bodies(shell, 4.5)) == (1, 1 + 6, 1)


def test_the_wall_is_as_thick_as_the_module_says(bench: Bench, module: Module) -> None:
    """The area of a section through the walls is that of a ring with rounded corners."""
    part = tray(module, cols=4, rows=3, height=30, smooth=True)
    pi = 3.14159265
    outside, inside = (71.4, 53.4, 5.0), (71.4 - 2.4, 53.4 - 2.4, 3.8)
    ring = [w * d - (4 - pi) * r * r for w, d, r in (outside, inside)]
    assert bench.solid(part).slice(20.0).area() == pytest.approx(ring[0] - ring[1], rel=1e-3)


def test_the_name_is_the_outer_size(module: Module) -> None:
    """In whole millimetres."""
    assert tray(module, cols=6, rows=8, height=48, smooth=False).name == "tray 107x143 h48"


def test_the_same_parameters_are_the_same_part(module: Module) -> None:
    """And others are another one."""
    one = tray(module, cols=2, rows=3, height=24, smooth=False)
    assert one.recipe.digest == tray(module, cols=2, rows=3, height=24, smooth=False).recipe.digest
    assert one.recipe.digest != tray(module, cols=3, rows=2, height=24, smooth=False).recipe.digest
