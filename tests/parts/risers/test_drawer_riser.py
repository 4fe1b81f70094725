from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nookwright.ground.errors import RecipeError
from nookwright.parts.lids.deck_lid import DeckSpec, deck_lid_place, deck_tray
from nookwright.parts.lids.lid_mechanics import beam_sag
from nookwright.parts.model import Kind
from nookwright.parts.risers.drawer_riser import (
    JAMB,
    SIDE,
    STOP,
    Bay,
    DrawerSpec,
    box_riser,
    drawer_place,
    drawer_riser,
    drawer_roof,
    little_drawer,
    roof_thickness,
)
from nookwright.parts.trays.tray import tray

if TYPE_CHECKING:
    from manifold3d import Manifold
    from tests.parts.conftest import Bench

    from nookwright.module.module import Module

SPECS = [DrawerSpec(2, 2, 3), DrawerSpec(4, 3, 4, first_has_cone=False)]


def bodies(bench: Bench, module: Module, spec: DrawerSpec) -> tuple[Manifold, Manifold, Manifold]:
    """Riser, roof and closed drawer in their places."""
    x, y, z = deck_lid_place(module, Bay(module, spec).deck)
    at = drawer_place(module, spec)
    return (
        bench.solid(drawer_riser(module, spec)),
        bench.solid(drawer_roof(module, spec), x=x, y=y, z=z),
        bench.solid(little_drawer(module, spec), x=at[0], y=at[1], z=at[2]),
    )


@pytest.mark.parametrize("spec", SPECS)
def test_the_drawer_runs_out_to_its_stop(bench: Bench, module: Module, spec: DrawerSpec) -> None:
    """Closed, half open and at its stop it shares nothing with riser and roof; further out, or in, it meets them."""
    block, roof, drawer = bodies(bench, module, spec)
    way = Bay(module, spec).way
    for out in (0.0, way / 2, way - 0.01):
        for other in (block, roof):
            assert bench.shared_mm3(drawer.translate([0, -out, 0]), other) < 0.001
    assert bench.shared_mm3(drawer.translate([0, -way - 0.05, 0]), block) > 0.1
    assert bench.shared_mm3(drawer.translate([0, 0.49, 0]), block) < 0.001
    assert bench.shared_mm3(drawer.translate([0, 0.51, 0]), block) > 0.001


@pytest.mark.parametrize("spec", SPECS)
def test_the_stop_holds_at_either_side_and_leaves_an_open_drawer(module: Module, spec: DrawerSpec) -> None:
    """Pushed against one cheek the heel still lies 0.8 behind the other jamb; most of the drawer comes out."""
    bay = Bay(module, spec)
    assert STOP - 2 * SIDE >= 0.8 - 1e-9
    assert bay.way >= 0.5 * bay.drawer[1]
    assert bay.heel + JAMB >= 12.0


@pytest.mark.parametrize("spec", SPECS)
def test_the_drawer_goes_in_from_above(bench: Bench, module: Module, spec: DrawerSpec) -> None:
    """With the roof off it is lowered behind the jambs without touching."""
    block, _, drawer = bodies(bench, module, spec)
    for up in (0.0, 3.0, 12.0, 40.0):
        assert bench.shared_mm3(drawer.translate([0, 0, up]), block) < 0.001


@pytest.mark.parametrize("spec", SPECS)
def test_the_drawer_has_its_clearances(bench: Bench, module: Module, spec: DrawerSpec) -> None:
    """0.4 on each side, 0.4 to 0.6 (whole layers) under the roof."""
    block, roof, drawer = bodies(bench, module, spec)
    for side in (1, -1):
        assert bench.shared_mm3(drawer.translate([side * 0.39, 0, 0.01]), block) < 0.001
        assert bench.shared_mm3(drawer.translate([side * 0.41, 0, 0.01]), block) > 0.001
    assert bench.shared_mm3(drawer.translate([0, 0, 0.39]), roof) < 0.001
    assert bench.shared_mm3(drawer.translate([0, 0, 0.61]), roof) > 0.001


@pytest.mark.parametrize("spec", SPECS)
def test_the_roof_lies_flush_and_a_tray_sits_on_it(bench: Bench, module: Module, spec: DrawerSpec) -> None:
    """At whole rises, on three sides."""
    block, roof, _ = bodies(bench, module, spec)
    high = spec.rises * 6.0
    assert bench.shared_mm3(roof, block) < 0.001
    assert bench.shared_mm3(roof.translate([0, 0, -0.05]), block) > 0.01
    assert block.bounding_box()[5] == pytest.approx(high)
    upper = bench.solid(tray(module, cols=spec.cols, rows=spec.rows, height=12, smooth=False), z=high)
    assert bench.shared_mm3(upper, roof) < 0.001
    assert bench.shared_mm3(upper.translate([0.7, 0, 0]), roof) > 0.001


@pytest.mark.parametrize("span", [20.0, 45.0, 80.0, 100.0])
def test_the_roof_is_as_thick_as_its_span_needs(module: Module, span: float) -> None:
    """10 N in the middle of a strip of 20 sag it by 1.5 at most; a layer less would not do, or would be no lid."""
    thick = roof_thickness(module, span)
    assert beam_sag(10, span, 20, thick) <= 1.5
    assert thick == pytest.approx(1.2) or beam_sag(10, span, 20, thick - 0.2) > 1.5


def test_a_finger_gets_into_the_front(bench: Bench, module: Module) -> None:
    """The front is lower in its middle than at its sides, not the back."""
    part = little_drawer(module, SPECS[1])
    body, (width, depth, high) = bench.solid(part), part.size
    section = body.slice(high - 0.1)
    assert section.area() > 0
    rays = [body.ray_cast([width / 2, y, high - 1.0], [width / 2, y + 3.0, high - 1.0]) for y in (-1.0, depth - 2.0)]
    assert [len(hits) for hits in rays] == [0, 2]


def test_a_box_is_a_riser_that_opens_above(module: Module) -> None:
    """The tray of a deck lid, by another kind and name; its height is whole rises."""
    spec = DeckSpec(3, 2, 24.0)
    part = box_riser(module, spec)
    assert part.kind is Kind.RISER
    assert part.recipe.digest == deck_tray(module, spec).recipe.digest
    assert part.name == "riser 53x35 h24 for a deck lid"
    with pytest.raises(RecipeError, match=r"whole number of rises; found 25, .*Take 30"):
        box_riser(module, DeckSpec(3, 2, 25.0))


@pytest.mark.parametrize(
    ("spec", "why"),
    [
        (DrawerSpec(1, 3, 4), "a hand gets into its drawer"),
        (DrawerSpec(3, 3, 2), "its drawer holds something.*Take more rises"),
        (DrawerSpec(20, 3, 6), "its roof carries.*two narrower ones"),
    ],
)
def test_what_makes_no_drawer_is_refused(module: Module, spec: DrawerSpec, why: str) -> None:
    """Riser and drawer alike."""
    for make in (drawer_riser, little_drawer, drawer_roof):
        with pytest.raises(RecipeError, match=why):
            make(module, spec)
