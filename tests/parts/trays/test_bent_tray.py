from __future__ import annotations

from typing import TYPE_CHECKING

import manifold3d
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from nookwright.ground.errors import RecipeError
from nookwright.layout.liner import PanelSpec
from nookwright.module.choice import module_of
from nookwright.module.seat import outer_size
from nookwright.parts.liner.panel import panel
from nookwright.parts.trays.bent_plan import BentPlan, Missing
from nookwright.parts.trays.bent_tray import bent_tray, examples
from nookwright.parts.trays.tray import tray
from nookwright.solids.mesh import MeshKernel

if TYPE_CHECKING:
    from tests.parts.conftest import Bench

    from nookwright.module.module import Module

CORNERS = [Missing(0, 0, 2, 1), Missing(2, 0, 2, 1), Missing(2, 2, 2, 1), Missing(0, 2, 2, 1)]
NOTCHES = [Missing(1, 0, 2, 1), Missing(1, 2, 2, 1), Missing(0, 1, 2, 1), Missing(2, 1, 2, 1)]


@st.composite
def plans(draw: st.DrawFn) -> BentPlan:
    """Any bite out of a corner or a side of a footprint of up to 8 x 8 cells."""
    cols, rows = draw(st.integers(2, 8)), draw(st.integers(2, 8))
    wide, deep = draw(st.integers(1, cols - 1)), draw(st.integers(1, rows - 1))
    gone = Missing(draw(st.integers(0, cols - wide)), draw(st.integers(0, rows - deep)), wide, deep)
    touched = [gone.col == 0, gone.row == 0, gone.col + wide == cols, gone.row + deep == rows]
    assume(any(touched))
    return BentPlan(module_of(18.0, 6.0, 0.2, ""), cols, rows, gone)


@settings(max_examples=40)
@given(plan=plans(), smooth=st.booleans())
def test_any_bite_leaves_one_closed_body(plan: BentPlan, *, smooth: bool) -> None:
    """Without a hole, with the box of its cells, and the plastic of its closed form."""
    part = bent_tray(
        plan.module,
        cols=plan.cols,
        rows=plan.rows,
        missing=plan.missing,
        height=18,
        smooth=smooth,
        picked_by_hand=False,
    )
    mesh = MeshKernel(0.05).mesh(part.recipe)
    assert (mesh.components, mesh.genus) == (1, 0)
    assert mesh.bounds == pytest.approx((0, 0, 0, outer_size(plan.cols, 18), outer_size(plan.rows, 18), 18))
    assert part.plastic.body_mm3 == pytest.approx(mesh.volume_mm3, rel=0.03)


@pytest.mark.parametrize("missing", [*CORNERS, *NOTCHES], ids=str)
def test_it_sits_where_the_cells_are_and_clears_the_rest(bench: Bench, module: Module, missing: Missing) -> None:
    """On a liner it meets no cone; a tray of the missing cells fits beside it at the gap between parts."""
    part = bench.solid(bent_tray(module, cols=4, rows=3, missing=missing, height=18, picked_by_hand=False))
    liner = bench.solid(panel(module, PanelSpec(4, 3, (), first_has_cone=True, slots=())))
    there = part.translate([0.3 - 0.2, 0.3 - 0.2, 0.6])
    assert bench.shared_mm3(there, liner) < 0.001
    assert bench.shared_mm3(there.translate([0.7, 0, 0]), liner) > 0.001
    guest = tray(module, cols=missing.cols, rows=missing.rows, height=18, smooth=True)
    beside = bench.solid(guest, x=missing.col * 18.0, y=missing.row * 18.0)
    assert part.min_gap(beside, 2.0) == pytest.approx(0.6, abs=1e-3)


def test_the_wall_follows_the_bite_with_its_full_thickness(bench: Bench, module: Module) -> None:
    """A section is a ring whose area is that of the outline less the outline drawn in by a wall."""
    plan = BentPlan(module, 6, 5, Missing(3, 3, 3, 2))
    solid = bench.solid(bent_tray(module, cols=6, rows=5, missing=plan.missing, height=36))
    assert solid.slice(20.0).area() == pytest.approx(plan.area_mm2(0.0, 5.0) - plan.area_mm2(1.2, 3.8), rel=1e-3)
    x0, y0, _, _ = plan.bite(0.0)
    corner = manifold3d.CrossSection.square([1.2, 1.2]).translate([x0 - 1.2, y0 - 1.2])
    assert (solid.slice(20.0) ^ corner).area() == pytest.approx(1.44, rel=1e-3)


def test_the_outline_is_that_of_its_legs(module: Module) -> None:
    """Two ways to the same area: the rounded outline, and the union of rounded legs."""
    for missing in (*CORNERS, *NOTCHES):
        plan = BentPlan(module, 4, 3, missing)
        (contour,) = MeshKernel(0.001)._outlines.of(plan.outline(1.2, 3.8))
        assert manifold3d.CrossSection([contour]).area() == pytest.approx(plan.area_mm2(1.2, 3.8), rel=1e-4)


@pytest.mark.parametrize(
    "missing",
    [
        Missing(1, 1, 1, 1), Missing(0, 0, 4, 1), Missing(1, 0, 1, 3), Missing(0, 0, 4, 3), Missing(3, 0, 2, 1),
        Missing(-1, 0, 2, 1), Missing(0, 0, 0, 1),
    ],
)  # fmt: skip
def test_other_bites_are_refused(module: Module, missing: Missing) -> None:
    """A hole, a cut right through, a whole side, nothing, or cells outside."""
    with pytest.raises(RecipeError, match="take away one corner, or a notch from one side"):
        bent_tray(module, cols=4, rows=3, missing=missing, height=18, picked_by_hand=False)


def test_a_leg_takes_a_hand(module: Module) -> None:
    """One cell of 18 is too narrow to pick from, and 6 is too low for a floor."""
    with pytest.raises(RecipeError, match="each leg takes a hand"):
        bent_tray(module, cols=4, rows=3, missing=Missing(0, 0, 3, 1), height=18)
    with pytest.raises(RecipeError, match="room above the floor"):
        bent_tray(module, cols=4, rows=4, missing=CORNERS[0], height=6)


def test_examples_are_sound(bench: Bench, module: Module) -> None:
    """Round each corner and each kind of side, from the smallest to a large one; names tell them apart."""
    found = examples(module)
    assert len({example.part.name for example in found}) == len(found)
    for example in found:
        mesh = bench.mesh(example.part)
        assert (mesh.components, mesh.genus) == (1, example.genus)
        assert mesh.volume_mm3 == pytest.approx(example.part.plastic.body_mm3, rel=0.05)
