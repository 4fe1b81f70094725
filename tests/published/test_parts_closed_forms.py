"""Volumes and areas of parts against closed forms that are written here anew, from the dimensions alone.

Sources: the frustum, ``V = pi h / 3 (R^2 + R r + r^2)`` and ``A = pi (R + r) s``, and the rules of Pappus and Guldin
for bodies of revolution, as in I.N. Bronshtein, K.A. Semendyayev et al., Handbook of Mathematics, chapters on solids
and on the applications of integrals. The spandrel between a quarter circle of radius f and its two tangents has the
area ``(1 - pi/4) f^2``, its centroid lies ``(1/2 - pi/4 (1 - 4/(3 pi))) / (1 - pi/4) f`` from each tangent.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import pytest

from nookwright.layout.liner import FillerSpec, PanelSpec
from nookwright.module.seat import rings_of
from nookwright.parts.liner.filler import filler
from nookwright.parts.liner.keys import key
from nookwright.parts.liner.panel import panel
from nookwright.parts.trays.tray import tray
from nookwright.parts.underside import _socket
from nookwright.solids.mesh import MeshKernel

if TYPE_CHECKING:
    from nookwright.module.module import Module

TAN = math.tan(math.radians(75))
LEAD = 0.4 / (1 - 1 / TAN)  # over this height 0.4 of lead-in and the cone's own slope make 45 degrees


@pytest.fixture(scope="module")
def fine() -> MeshKernel:
    """A kernel whose meshes are within a micron of the true surface."""
    return MeshKernel(0.001)


def frustum(lower: float, upper: float, height: float) -> float:
    """Volume of a truncated cone, mm3."""
    return math.pi * height / 3 * (lower**2 + lower * upper + upper**2)


def mantle(lower: float, upper: float, height: float) -> float:
    """Its side, mm2."""
    return math.pi * (lower + upper) * math.hypot(height, lower - upper)


def rounded(width: float, depth: float, radius: float) -> float:
    """Area of a rectangle with round corners, mm2."""
    return width * depth - (4 - math.pi) * radius**2


def socket_mm3(clearance: float) -> float:
    """A socket of 3.4 with its lead-in of 0.4, from the underside up."""
    mouth = 2.5 + clearance
    neck = mouth - LEAD / TAN
    return frustum(mouth + 0.4, neck, LEAD) + frustum(neck, mouth - 3.4 / TAN, 3.4 - LEAD)


@pytest.mark.parametrize(("cols", "rows", "height"), [(2, 2, 18.0), (5, 3, 36.0)])
def test_the_volume_of_a_smooth_tray(module: Module, fine: MeshKernel, cols: int, rows: int, height: float) -> None:
    """Block with a drawn-in foot, less the inside with its fillet, less the sockets."""
    width, depth = (18.0 * count - 0.6 for count in (cols, rows))
    insets = [(0.4, 1), (0.2, 4), (0.0, 1)]  # Simpson's rule over the foot, exact for a square of a length
    foot = 0.4 / 6 * sum(weight * rounded(width - 2 * i, depth - 2 * i, 5 - i) for i, weight in insets)
    block = foot + rounded(width, depth, 5) * (height - 0.4)
    wide, deep, radius, fillet = width - 2.4, depth - 2.4, 3.8, 3.0
    inside = rounded(wide, deep, radius) * (height - 4.4)
    spandrel = (1 - math.pi / 4) * fillet**2
    from_wall = (1 / 2 - math.pi / 4 * (1 - 4 / (3 * math.pi))) / (1 - math.pi / 4) * fillet
    path = 2 * (wide + deep - 4 * radius) + 2 * math.pi * (radius - from_wall)
    sockets = sum(len(ring.places) * socket_mm3(ring.clearance) for ring in rings_of(cols, rows, 18.0))
    made = fine.mesh(tray(module, cols=cols, rows=rows, height=height, smooth=True).recipe)
    assert made.volume_mm3 == pytest.approx(block - inside + spandrel * path - sockets, rel=2e-4)


def test_a_socket(module: Module, fine: MeshKernel) -> None:
    """Volume and area, without the half millimetre by which its cutter sticks out below."""
    mouth, clearance = 2.9, 0.4
    made = fine.mesh(_socket(module.seat, clearance))
    stub = math.pi * (mouth + 0.4) ** 2 * 0.5
    assert made.volume_mm3 == pytest.approx(stub + socket_mm3(clearance), rel=1e-3)
    neck, roof = mouth - LEAD / TAN, mouth - 3.4 / TAN
    sides = 2 * math.pi * (mouth + 0.4) * 0.5 + mantle(mouth + 0.4, neck, LEAD) + mantle(neck, roof, 3.4 - LEAD)
    assert made.area_mm2 == pytest.approx(math.pi * (mouth + 0.4) ** 2 + sides + math.pi * roof**2, rel=1e-3)


def test_the_cones_of_a_panel(module: Module, fine: MeshKernel) -> None:
    """What stands above the sheet: two cones of 5 mm at the base, 3 high, at 75 degrees."""
    made = fine.mesh(panel(module, PanelSpec(2, 2, (), first_has_cone=True, slots=())).recipe)
    above = made.vertices[:, 2] > 0.6 - 1e-6
    a, b, c = (made.vertices[made.triangles[:, n]] for n in range(3))
    tops = above[made.triangles].all(axis=1)
    top_radius = 2.5 - 3 / TAN
    area = 2 * (mantle(2.5, top_radius, 3.0) + math.pi * top_radius**2)
    import numpy as np

    steep = np.cross(b - a, c - a)[tops]
    level = np.abs(a[tops][:, 2] + b[tops][:, 2] + c[tops][:, 2] - 1.8) < 1e-5  # the top of the sheet itself
    found = np.linalg.norm(steep[~level], axis=1).sum() / 2
    assert found == pytest.approx(area, rel=1e-3)
    # by the divergence theorem with z as the field: the volume over the level of the sheet
    heights = (a[tops][~level][:, 2] + b[tops][~level][:, 2] + c[tops][~level][:, 2]) / 3 - 0.6
    volume = float((heights * steep[~level][:, 2]).sum() / 2)
    assert volume == pytest.approx(2 * frustum(2.5, top_radius, 3.0), rel=1e-3)


def test_a_key(module: Module, fine: MeshKernel) -> None:
    """Two trapezia of 5 and 8 by 6, 0.6 thick: exact, volume and area."""
    made = fine.mesh(key(module).recipe)
    plan = 2 * (5 + 8) / 2 * 6
    round_it = 2 * 8 + 4 * math.hypot(6, 1.5)
    assert made.volume_mm3 == pytest.approx(plan * 0.6, rel=1e-6)
    assert made.area_mm2 == pytest.approx(2 * plan + round_it * 0.6, rel=1e-6)


def test_a_filler(module: Module, fine: MeshKernel) -> None:
    """A strip of 71.6 x 5.8 x 0.6, two lips of 1.2 x 2 on it, two tongues from the strip's edge on: exact."""
    made = fine.mesh(filler(module, FillerSpec(71.6, 6.0, (17.8, 53.8))).recipe)
    at_edge = 5 - 2 * 0.2 * 0.25  # the flanks of a tongue draw in by 1.5 in 6
    tongue = (at_edge + 8) / 2 * 6.2
    plan = 71.6 * 5.8 + 2 * tongue
    assert made.volume_mm3 == pytest.approx(plan * 0.6 + 2 * 71.6 * 1.2 * 2.0, rel=1e-6)
    flanks = 2 * (2 * math.hypot(6.2, 6.2 * 0.25) + 8 - at_edge)
    sides = (2 * (71.6 + 5.8) + flanks) * 0.6
    lips = 2 * 2 * (71.6 + 1.2) * 2.0
    assert made.area_mm2 == pytest.approx(2 * plan + sides + lips, rel=1e-6)
