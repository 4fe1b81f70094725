from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nookwright.ground.errors import RecipeError
from nookwright.parts.lids.lid import LidFit, LidSpec, lid, lid_clearance, pressing_sides, worn
from nookwright.parts.trays.tray import tray

if TYPE_CHECKING:
    from tests.parts.conftest import Bench

    from nookwright.module.module import Module

HEIGHT = 24.0


@pytest.mark.parametrize("fit", [LidFit.EASY, LidFit.SNUG])
@pytest.mark.parametrize("cells", [(1, 1), (1, 2), (4, 3)])
def test_a_lid_lies_on_its_tray_and_lifts_off(
    bench: Bench, module: Module, cells: tuple[int, int], fit: LidFit
) -> None:
    """In its place and on its way up it shares nothing with the tray; its plate lies on the rim, flush all round."""
    cols, rows = cells
    below = bench.solid(tray(module, cols=cols, rows=rows, height=HEIGHT, smooth=False))
    part = lid(module, LidSpec(cols, rows, fit))
    above = bench.made(worn(module, part, HEIGHT))
    for up in (0.0, 1.0, 3.5, 6.9, 8.0):
        assert bench.shared_mm3(above.translate([0, 0, up]), below) < 0.001
    assert bench.shared_mm3(above.translate([0, 0, -0.05]), below) > 0.01
    assert above.bounding_box()[:2] == pytest.approx((0, 0), abs=1e-4)
    assert above.bounding_box()[3:] == pytest.approx((*part.size[:2], HEIGHT + 1.6), abs=1e-4)


@pytest.mark.parametrize("fit", [LidFit.EASY, LidFit.SNUG])
def test_the_skirt_has_its_clearance(bench: Bench, module: Module, fit: LidFit) -> None:
    """Pushed to any side it meets the wall after its clearance, to within the mesh's tolerance."""
    spec = LidSpec(4, 3, fit)
    below = bench.solid(tray(module, cols=4, rows=3, height=HEIGHT, smooth=False))
    above, gap = bench.made(worn(module, lid(module, spec), HEIGHT)), lid_clearance(module, spec)
    for x, y in ((1, 0), (-1, 0), (0, 1), (0, -1)):
        assert bench.shared_mm3(above.translate([x * (gap - 0.02), y * (gap - 0.02), 0.0]), below) < 0.001
        assert bench.shared_mm3(above.translate([x * (gap + 0.02), y * (gap + 0.02), 0.0]), below) > 0.001


def test_clearances_stand_in_order_and_grow_with_the_lid(module: Module) -> None:
    """Snug is tighter than easy, and a longer lid may differ more in scale."""
    easy, snug, long = (lid_clearance(module, spec) for spec in (
        LidSpec(2, 2), LidSpec(2, 2, LidFit.SNUG), LidSpec(2, 20)))  # fmt: skip
    assert 0 < snug < easy < long


def test_a_pressing_lid_presses_with_its_ridges_alone(bench: Bench, module: Module) -> None:
    """What it shares with the tray is four ridges of 10, each a right angle 0.1 deep in the wall: 10 x 0.1^2 mm3."""
    spec = LidSpec(4, 3, LidFit.PRESS)
    below = bench.solid(tray(module, cols=4, rows=3, height=HEIGHT, smooth=False))
    above = bench.made(worn(module, lid(module, spec), HEIGHT))
    assert bench.shared_mm3(above, below) == pytest.approx(4 * 10 * 0.1**2, rel=1e-3)
    assert bench.shared_mm3(above.translate([0, 0, 8.0]), below) == 0


def test_tongues_are_where_they_have_room(module: Module) -> None:
    """A narrow lid presses with its long sides; one of a single cell has no room and is refused."""
    assert pressing_sides(module, LidSpec(4, 3, LidFit.PRESS)) == (True, False)
    assert pressing_sides(module, LidSpec(1, 3, LidFit.PRESS)) == (False,)
    with pytest.raises(RecipeError, match=r"tongue has room.*Take the snug fit"):
        lid(module, LidSpec(1, 1, LidFit.PRESS))


def test_a_nail_gets_under_the_plate(bench: Bench, module: Module) -> None:
    """Just above the rim the plate is smaller than the tray by 0.6 all round."""
    above = bench.made(worn(module, lid(module, LidSpec(4, 3)), HEIGHT))
    x0, _, x1, _ = above.slice(HEIGHT + 0.001).bounds()
    assert (x0, x1) == pytest.approx((0.6, 71.4 - 0.6), abs=0.01)
