from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from nookwright.layout.liner_levels import Level
from nookwright.layout.liner_model import FillerSpec, PanelSpec
from nookwright.making.forecast import SpaceForecast, forecast, liners_of, wall_m_mm
from nookwright.making.jobs import make
from nookwright.module.pattern import Pattern
from nookwright.parts.model import Kind
from nookwright.parts.workshop import TraySpec

if TYPE_CHECKING:
    from nookwright.build import Designed
    from nookwright.solids.mesh import MeshKernel


def test_the_forecast_is_what_the_meshes_weigh(tiny: Designed, kernel: MeshKernel) -> None:
    """Before any geometry the grams are within 3 % of those of the pieces, cuts of panels aside."""
    making = make(tiny.room, tiny.copies, tiny.cut, lambda piece: kernel.mesh(piece.recipe).volume_mm3)
    panels = {part.id for part in making.parts if part.part.kind.value == "panel"}
    printed_g = sum(piece.mass_g * piece.count for piece in making.pieces if piece.part not in panels)
    density = {material.id: material.density_g_cm3 for material in tiny.room.material}
    whole = [copy for copy in tiny.copies if copy.part.kind.value == "panel"]
    forecast_g = tiny.forecast[0].mass_g - sum(copy.part.plastic.mass_g(density[copy.material]) for copy in whole)
    assert forecast_g == pytest.approx(printed_g, rel=0.03)


def test_the_budget_is_area_and_wall(tiny: Designed) -> None:
    """20 g for each dm2 of the usable floor and 1.5 g for each metre of wall and millimetre of height."""
    (row,) = tiny.forecast
    walls = sum(
        2 * (copy.part.size[0] + copy.part.size[1]) / 1000 * (copy.part.size[2] - 1.0)
        for copy in tiny.copies
        if isinstance(copy.spec, TraySpec)
    )
    assert wall_m_mm(tiny.copies, tiny.plan) == pytest.approx(walls)
    usable = tiny.plan.spaces[0].usable
    assert row.area_dm2 == pytest.approx(usable.width * usable.depth / 1e4)
    assert row.budget_g == pytest.approx(20 * row.area_dm2 + 1.5 * walls)
    assert row.g_per_dm2 == pytest.approx(row.mass_g / row.area_dm2)


def test_a_space_without_prints_is_not_forecast(tiny: Designed) -> None:
    """Nothing is said about what stays empty, and nothing is divided by nothing."""
    assert forecast(tiny.room, tiny.plan, ()) == ()
    assert SpaceForecast("a", "A", 0.0, 0.0, 0.0, 0.0).g_per_dm2 == 0


def test_every_level_of_liner_is_priced(tiny: Designed) -> None:
    """Just one is what the space has; its grams are those of the panels and plain fillers that were designed."""
    (row,) = tiny.forecast
    (chosen,) = (one for one in row.liners if one.chosen)
    laid = [copy for copy in tiny.copies if isinstance(copy.spec, PanelSpec | FillerSpec)]
    liner = [copy.part.plastic.mass_g(1.24) for copy in laid if copy.part.kind is not Kind.KEY]
    tall = [copy for copy in tiny.copies if isinstance(copy.spec, FillerSpec) and copy.spec.height]
    assert chosen.level is Level.FULL
    assert (chosen.mass_g < sum(liner)) if tall else chosen.mass_g == pytest.approx(sum(liner))
    assert {one.level for one in row.liners} == set(Level)
    assert [one.pattern for one in row.liners].count(Pattern.UNDER_LAYOUT) == 1


def test_a_space_without_a_floor_has_no_liner_to_price(tiny: Designed) -> None:
    """Under a shelf nothing lies."""
    (space,) = tiny.plan.spaces
    assert liners_of(tiny.room, tiny.plan, replace(space, grid=replace(space.grid, fill=False))) == ()
