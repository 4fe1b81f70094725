from __future__ import annotations

import math
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.layout.liner import FillerSpec, PanelSpec, Side, Slot
from nookwright.module.estimates import Plastic, budget_g, frustum_mm3
from nookwright.parts.cradles.cradle import cradle, pockets_of
from nookwright.parts.liner.filler import filler
from nookwright.parts.liner.panel import panel
from nookwright.parts.trays.tray import tray

if TYPE_CHECKING:
    from nookwright.module.module import Module
    from nookwright.solids.mesh import MeshKernel


@pytest.mark.parametrize("smooth", [False, True])
@pytest.mark.parametrize(("cols", "rows", "height"), [(2, 2, 18), (4, 3, 30), (9, 5, 48)])
def test_a_tray_weighs_what_was_forecast(
    module: Module, kernel: MeshKernel, *, cols: int, rows: int, height: float, smooth: bool
) -> None:
    """The closed form, round corners and fillets included, is within 1 % of the mesh."""
    part = tray(module, cols=cols, rows=rows, height=height, smooth=smooth)
    assert part.plastic.body_mm3 == pytest.approx(kernel.mesh(part.recipe).volume_mm3, rel=0.01)


@pytest.mark.parametrize(("cols", "rows", "columns", "lines"), [(4, 2, 2, 1), (6, 6, 3, 3)])
def test_a_cradle_weighs_what_was_forecast(
    module: Module, kernel: MeshKernel, *, cols: int, rows: int, columns: int, lines: int
) -> None:
    """The closed form is within 3 % of the mesh."""
    pockets = pockets_of(module, cols=cols, rows=rows, diameter=30, columns=columns, lines=lines, pitch=31.2)
    part = cradle(module, cols=cols, rows=rows, height=30, pockets=pockets)
    assert part.plastic.body_mm3 == pytest.approx(kernel.mesh(part.recipe).volume_mm3, rel=0.03)


@pytest.mark.parametrize(
    ("cols", "rows", "slots"),
    [
        (4, 4, ()),
        (10, 8, ()),
        (12, 10, (Slot(Side.LEFT, 3), Slot(Side.LEFT, 8), Slot(Side.FRONT, 3), Slot(Side.FRONT, 9))),
    ],
)
def test_a_panel_weighs_what_was_forecast(
    module: Module, kernel: MeshKernel, cols: int, rows: int, slots: tuple[Slot, ...]
) -> None:
    """The closed form is within 3 % of the mesh."""
    part = panel(module, PanelSpec(cols, rows, (), first_has_cone=True, slots=slots))
    assert part.plastic.body_mm3 == pytest.approx(kernel.mesh(part.recipe).volume_mm3, rel=0.03)


@pytest.mark.parametrize(("length", "width", "tongues"), [(40.0, 4.0, (18.0,)), (200.0, 9.0, (50.0, 150.0))])
def test_a_filler_weighs_what_was_forecast(
    module: Module, kernel: MeshKernel, length: float, width: float, tongues: tuple[float, ...]
) -> None:
    """The closed form is within 3 % of the mesh."""
    part = filler(module, FillerSpec(length, width, tongues))
    assert part.plastic.body_mm3 == pytest.approx(kernel.mesh(part.recipe).volume_mm3, rel=0.03)


@given(lower=st.floats(0.1, 10), upper=st.floats(0.1, 10), height=st.floats(0.1, 10), cut=st.floats(0.1, 0.9))
def test_a_frustum_is_the_sum_of_its_two_halves(lower: float, upper: float, height: float, cut: float) -> None:
    """Cut anywhere across, the two pieces make up the whole."""
    middle = lower + (upper - lower) * cut
    both = frustum_mm3(lower, middle, height * cut) + frustum_mm3(middle, upper, height * (1 - cut))
    assert both == pytest.approx(frustum_mm3(lower, upper, height))


def test_a_smooth_floor_is_printed_sparsely_inside(module: Module) -> None:
    """A smooth floor's inside counts at its infill, a shell floor has none, and never is less laid than nothing."""
    smooth = tray(module, cols=4, rows=3, height=30, smooth=True).plastic
    shell = tray(module, cols=4, rows=3, height=30, smooth=False).plastic
    assert shell.sparse_mm3 == 0
    assert shell.laid_mm3 == shell.body_mm3
    assert 0 < smooth.sparse_mm3 < smooth.body_mm3
    assert smooth.laid_mm3 == pytest.approx(smooth.body_mm3 - 0.85 * smooth.sparse_mm3)


def test_mass_and_time_grow_with_the_plastic() -> None:
    """A cubic centimetre at 1.24 g/cm3 is 1.24 g; twice the plastic takes longer, and more layers do."""
    one = Plastic(body_mm3=1000, sparse_mm3=0, first_mm2=100, height=10, hops=0)
    two = Plastic(body_mm3=2000, sparse_mm3=0, first_mm2=100, height=10, hops=0)
    assert one.mass_g(1.24) == pytest.approx(1.24)
    assert one.time_s(0.2) < two.time_s(0.2)
    assert one.time_s(0.2) < one.time_s(0.1)


def test_the_budget_is_20_g_a_dm2_and_the_mass_of_the_walls() -> None:
    """One dm2 with a metre of wall 10 high may weigh 20 + 15 g; that wall of 1.2 in PLA weighs 14.9 g."""
    assert budget_g(100 * 100, 10.0) == pytest.approx(35)
    assert math.isclose(1000 * 1.2 * 10 / 1000 * 1.24, 15, rel_tol=0.01)
