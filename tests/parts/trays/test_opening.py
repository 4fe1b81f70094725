from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.parts.trays.opening import (
    CROWN,
    arch_height,
    arched_opening,
    arched_opening_mm2,
    rim_opening,
    rim_opening_mm2,
    rim_opening_reach,
)
from nookwright.shapes.regions import Path, Rect, RegionIntersection, RegionMove
from nookwright.shapes.solids import Prism
from nookwright.solids.mesh import MeshKernel

KERNEL = MeshKernel(0.001)
WIDTHS, DROPS = st.floats(10, 300), st.floats(6.5, 80)


@given(WIDTHS, DROPS)
def test_an_opening_at_the_rim_is_as_wide_and_deep_as_said(width: float, drop: float) -> None:
    """Its bottom lies at the drop; it flares out by the corner radius above the rim, and nowhere else."""
    x0, z0, x1, z1 = rim_opening(width, drop).bounds
    reach = rim_opening_reach(width)
    assert (x0, z0, x1) == pytest.approx((-reach, -drop, reach), abs=1e-3)
    assert z1 > 0


@pytest.mark.parametrize(("width", "drop"), [(22.0, 12.0), (90.0, 30.0)])
def test_area_of_an_opening_at_the_rim(width: float, drop: float) -> None:
    """Below the rim, two rounded corners and two flares of the same radius nearly cancel: width times drop."""
    below = RegionMove(Rect(400, 100), x=-200, y=-100)
    area = KERNEL.mesh(Prism(RegionIntersection((rim_opening(width, drop), below)), 1)).volume_mm3
    assert area == pytest.approx(rim_opening_mm2(width, drop), rel=0.02)


@pytest.mark.parametrize(("width", "height"), [(17.0, 5.0), (44.0, 16.0), (100.0, 30.0)])
def test_area_of_an_arched_opening(width: float, height: float) -> None:
    """Closed form against the mesh."""
    area = KERNEL.mesh(Prism(arched_opening(width, height), 1)).volume_mm3
    assert area == pytest.approx(arched_opening_mm2(width, height), rel=1e-3)


@given(st.floats(17, 150), st.floats(4.5, 40))
def test_an_arch_needs_no_support(width: float, height: float) -> None:
    """No edge above the sill is flatter than 45 degrees but the crown, which is one bridge of 14."""
    outline = arched_opening(width, height)
    assert isinstance(outline, Path)
    assert outline.bounds[3] == pytest.approx(arch_height(width, height), abs=1e-3)
    for side in outline.sides:
        (x0, z0), (x1, z1) = side.start, side.end
        if min(z0, z1) < height - 1e-3:
            continue
        flat = abs(z1 - z0) < 1e-3
        assert math.dist(side.start, side.end) <= CROWN + 1e-3 if flat else abs(z1 - z0) >= abs(x1 - x0) - 1e-3
