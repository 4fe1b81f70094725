from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from manifold3d import CrossSection, Manifold

from nookwright.layout.liner import PanelSpec, Side, Slot
from nookwright.module.choice import module_of
from nookwright.parts.liner.panel import panel
from nookwright.parts.model import Kind

if TYPE_CHECKING:
    from collections.abc import Callable

    from tests.parts.conftest import Bench

    from nookwright.module.module import Module

CORNER = ((0, 0), (1, 0), (0, 1), (1, 1))
MIDDLE = tuple((c, r) for c in (3, 4) for r in (3, 4))
SLOTS = (Slot(Side.LEFT, 2), Slot(Side.RIGHT, 1), Slot(Side.FRONT, 3), Slot(Side.BACK, 2))
SPECS = {
    "smallest": PanelSpec(2, 2, (), first_has_cone=True, slots=()),
    "smallest, other phase": PanelSpec(2, 2, (), first_has_cone=False, slots=()),
    "strip": PanelSpec(2, 9, (), first_has_cone=True, slots=()),
    "middle, with slots": PanelSpec(6, 5, (), first_has_cone=False, slots=SLOTS),
    "a corner missing": PanelSpec(6, 5, CORNER, first_has_cone=True, slots=()),
    "a hole": PanelSpec(8, 8, MIDDLE, first_has_cone=True, slots=()),
    "largest": PanelSpec(20, 14, (), first_has_cone=True, slots=()),
}


@pytest.mark.parametrize("spec", SPECS.values(), ids=SPECS.keys())
def test_a_panel_is_one_closed_body_with_openings(
    bench: Bench, module: Module, sound: Callable[..., None], spec: PanelSpec
) -> None:
    """Its genus is the number of openings in its section; its box is its cells less the inset."""
    part = panel(module, spec)
    sound(bench, part, (spec.cols * 18 - 0.4, spec.rows * 18 - 0.4, 3.6))
    assert bench.genus(part) == bench.openings(part, 0.5)
    assert part.kind is Kind.PANEL
    assert not part.seated


@pytest.mark.parametrize("spec", SPECS.values(), ids=SPECS.keys())
def test_a_panel_has_a_cone_in_every_second_cell(bench: Bench, module: Module, spec: PanelSpec) -> None:
    """A section above the sheet shows one disc in the middle of each of its cells."""
    discs = bench.solid(panel(module, spec)).slice(2.0).decompose()
    found = set()
    for disc in discs:
        x0, y0, x1, y1 = disc.bounds()
        found.add((round((x0 + x1) / 2 + 0.2, 3), round((y0 + y1) / 2 + 0.2, 3)))
    assert found == {((c + 0.5) * 18, (r + 0.5) * 18) for c, r in spec.cones}
    assert len(discs) == len(spec.cones)


@pytest.mark.parametrize("spec", SPECS.values(), ids=SPECS.keys())
def test_a_panel_stays_on_its_cells(bench: Bench, module: Module, spec: PanelSpec) -> None:
    """Nothing of it reaches into a cell that is missing, nor nearer than 0.2 to a border where it ends."""
    solid = bench.solid(panel(module, spec))
    for col, row in spec.missing:
        cell = Manifold.cube([18.0, 18.0, 10.0]).translate([col * 18 - 0.2, row * 18 - 0.2, -1.0])
        assert bench.shared_mm3(solid, cell) < 1e-3


@pytest.mark.parametrize("layer", [0.1, 0.16, 0.25, 0.28, 0.3, 0.6])
def test_panels_can_be_made_at_every_layer(bench: Bench, layer: float) -> None:
    """Also where the panel is a single common layer thick, as with printers of 0.2 and 0.3."""
    module = module_of(18.0, 6.0, layer, "")
    part = panel(module, PanelSpec(4, 3, (), first_has_cone=True, slots=(Slot(Side.LEFT, 1),)))
    assert bench.genus(part) == bench.openings(part, module.seat.panel * 0.9)
    assert part.size[2] == pytest.approx(module.seat.panel + module.seat.cone_height)


def test_the_first_layer_is_drawn_in(bench: Bench, module: Module) -> None:
    """By 0.3 on every side, since it spreads."""
    solid = bench.solid(panel(module, PanelSpec(4, 3, (), first_has_cone=True, slots=())))
    for z, size in ((0.1, 72 - 0.4 - 0.6), (0.3, 72 - 0.4)):
        x0, _, x1, _ = solid.slice(z).bounds()
        assert x1 - x0 == pytest.approx(size, abs=1e-3)


def test_every_strap_is_at_least_as_wide_as_its_rule(bench: Bench, module: Module) -> None:
    """Worn away by a little less than half a strap the sheet still hangs together."""
    section = bench.solid(panel(module, PanelSpec(4, 4, (), first_has_cone=True, slots=()))).slice(0.4)
    assert len(section.offset(-1.75).decompose()) == 1


def test_the_phase_is_part_of_the_shape(module: Module) -> None:
    """A panel of even cells that begins with a cone is another part than one that does not."""
    one, other = (panel(module, PanelSpec(4, 4, (), first_has_cone=first, slots=())) for first in (True, False))
    assert one.recipe.digest != other.recipe.digest
    assert one.name == other.name == "panel 72x72"


def test_the_first_layer_of_a_slot_is_drawn_in(bench: Bench, module: Module) -> None:
    """0.3 wider on each side in the first layer than above it, like the outer edge."""
    spec = PanelSpec(4, 4, (), first_has_cone=True, slots=(Slot(Side.FRONT, 2),))
    solid = bench.solid(panel(module, spec))
    slot = Manifold.cube([9.0, 1.0, 10.0]).translate([36 - 0.2 - 4.5, 2.0, -1.0])
    wide = [float((slot - solid).slice(z).area()) for z in (0.1, 0.5)]
    assert wide[0] - wide[1] == pytest.approx(0.6, abs=0.01)


@pytest.mark.parametrize("pitch", [17.0, 17.5, 18.0, 18.5, 19.0, 22.0, 24.0])
def test_no_slit_is_left_beside_a_stub(bench: Bench, pitch: float) -> None:
    """Every opening of a plain panel is open to a disc of 0.7 at least."""
    part = panel(module_of(pitch, 6.0, 0.2, ""), PanelSpec(6, 5, (), first_has_cone=True, slots=()))
    outlines = bench.solid(part).slice(0.5).to_polygons()
    holes = [hole for ring in outlines if (hole := CrossSection([ring[::-1]])).area() > 0]
    assert len(holes) == bench.openings(part, 0.5)
    assert [hole.area() for hole in holes if hole.offset(-0.7).is_empty()] == []
