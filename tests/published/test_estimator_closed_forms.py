"""The estimator against what can be worked out by hand.

Cross-section of a line: a rectangle with round ends, (w - h) h + pi h^2 / 4. Motion: moves of constant acceleration
from rest to rest take L/v + v/a, and with an entry and an exit speed (v - v0)/a + (v - v1)/a + the rest at v, as any
textbook of kinematics has it. A round is passed at v^2 = a r at most. Nothing below uses the estimator's own formulas.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
import pytest
from manifold3d import CrossSection, FillRule, Manifold

from nookwright.making.estimate.kinds import Laid, Spent
from nookwright.making.estimate.piece import estimate
from nookwright.making.estimate.settings import Machine, PrintSettings, Speeds
from nookwright.solids.triangles import Mesh
from nookwright.survey.printer_profile import Pattern, Seam

if TYPE_CHECKING:
    from collections.abc import Callable

W, H = 0.45, 0.2
S = W - H * (1 - math.pi / 4)
V, V_IN, V_FILL, A, CORNER = 50.0, 70.0, 80.0, 1500.0, 8.0


def settings(**changes: object) -> PrintSettings:
    """Two walls and full infill; every layer as quick as the others, and nothing but moves that lay plastic."""
    speeds = Speeds(
        outer_mm_s=V, inner_mm_s=V_IN, skin_mm_s=V_FILL, infill_mm_s=V_FILL, gap_mm_s=40.0, first_mm_s=1000.0
    )
    machine = Machine(
        travel_mm_s=150.0, acceleration_mm_s2=A, corner_mm_s=CORNER, retract_s=0.1, retract_over=2.0,
        layer_change_s=1.0, least_layer_s=0.0, heat_up_s=300.0, filament=1.75,
    )  # fmt: skip
    plain = {
        "line_width": W, "layer": H, "walls": 2, "skin_below": 3, "skin_above": 5, "infill_share": 1.0,
        "pattern": Pattern.LINES, "seam": Seam.BACK_CORNER, "brim": 0.0, "skirt_loops": 0,
        "skirt": 0.0, "speeds": speeds, "machine": machine,
    }  # fmt: skip
    return PrintSettings(**(plain | changes))  # type: ignore[arg-type]


def mesh_of(solid: Manifold) -> Mesh:
    """A solid of the kernel as a mesh."""
    made = solid.to_mesh64()
    return Mesh(np.array(made.vert_properties[:, :3]), np.array(made.tri_verts, dtype=np.uint32))


def ring(outer: float, inner: float, height: float, facets: int = 256) -> Mesh:
    """A tube on the bed."""
    section = CrossSection.circle(outer, facets) - CrossSection.circle(inner, facets)
    return mesh_of(section.extrude(height))


def side_s(length: float, speed: float, enter: float, leave: float) -> float:
    """A straight move that is long enough to reach its speed."""
    ways = ((speed**2 - end**2) / (2 * A) for end in (enter, leave))
    rest = length - sum(ways)
    assert rest >= 0
    return (speed - enter) / A + (speed - leave) / A + rest / speed


def square_s(side: float, speed: float) -> float:
    """A square, begun and ended at rest in a corner."""
    return 2 * side_s(side, speed, 0, CORNER) + 2 * side_s(side, speed, CORNER, CORNER)


def fill_s(side: float) -> float:
    """A square filled with lines at 45 degrees: each line twice as long as its distance from the nearest corner."""
    diagonal, time, lines = side * math.sqrt(2), 0.0, 0
    while (lines + 0.5) * S < diagonal:
        place = (lines + 0.5) * S
        length = 2 * min(place, diagonal - place)
        for speed, ends in ((V_FILL, CORNER),):
            peak = min(speed, math.sqrt(A * length + ends**2))
            time += 2 * (peak - ends) / A + (length - (peak**2 - ends**2) / A) / peak
        lines += 1
    peak = math.sqrt(A * S + CORNER**2)  # along the edge to the next line, too short to reach any speed
    return time + (lines - 1) * 2 * (peak - CORNER) / A


def test_a_solid_block() -> None:
    """60 x 60 x 2 mm: two squares and a fill in each of ten layers; lengths, mass and time by hand."""
    side, layers = 60.0, 10
    found = estimate(mesh_of(Manifold.cube((side, side, layers * H))), settings())
    outer, inner, inside = side - W, side - W - 2 * S, side - W - 3 * S
    assert found.layers == layers
    assert found.laid_mm3[Laid.OUTER] == pytest.approx(layers * 4 * outer * S * H, rel=3e-4)
    assert found.laid_mm3[Laid.INNER] == pytest.approx(layers * 4 * inner * S * H, rel=3e-4)
    assert found.laid_mm3[Laid.SKIN] + found.laid_mm3[Laid.INFILL] == pytest.approx(layers * inside**2 * H, rel=1e-6)
    assert found.laid_mm3[Laid.GAP] == pytest.approx(0.0, abs=0.01)
    assert found.mass_g(1.24) == pytest.approx(layers * H * (side**2 - 4 * side * (W - S) / 2) * 1.24e-3, rel=1e-6)
    assert found.filament_mm(1.75) == pytest.approx(found.mass_g(1.24) / 1.24e-3 / (math.pi * 1.75**2 / 4), rel=1e-12)
    assert found.spent_s[Spent.OUTER] == pytest.approx(layers * square_s(outer, V), rel=3e-4)
    assert found.spent_s[Spent.INNER] == pytest.approx(layers * square_s(inner, V_IN), rel=3e-4)
    assert found.spent_s[Spent.SKIN] + found.spent_s[Spent.INFILL] == pytest.approx(layers * fill_s(inside), rel=2e-3)
    assert found.spent_s[Spent.LAYER_CHANGE] == layers


def test_a_thin_walled_cylinder() -> None:
    """As thick as two lines: one round outside, one inside, each passed at the speed that its radius allows."""
    radius, height = 30.0, 12.0
    found = estimate(ring(radius, radius - W - S, height), settings())
    rounds = radius - W / 2, radius - W / 2 - S
    layers, length = 60, 2 * math.pi * sum(rounds)
    assert found.laid_mm3[Laid.OUTER] == pytest.approx(layers * length * S * H, rel=5e-4)
    assert found.plastic_mm3 == pytest.approx(layers * length * S * H, rel=5e-4)
    by_hand = sum(2 * math.pi * r / V + V / A for r in rounds)
    assert found.spent_s[Spent.OUTER] == pytest.approx(layers * by_hand, rel=1e-3)


@pytest.mark.parametrize("radius", [0.8, 1.2])
def test_a_small_round_is_passed_at_the_speed_of_its_radius(radius: float) -> None:
    """A peg so thin that v = sqrt(a r) is below the speed asked for, whatever its facets."""
    times = []
    for facets in (24, 48, 96):
        peg = mesh_of(CrossSection.circle(radius, facets).extrude(2.0))
        times.append(estimate(peg, settings(walls=1)).spent_s[Spent.OUTER] / 10)
    line = radius - W / 2
    speed = min(V, math.sqrt(A * line))
    assert times[-1] == pytest.approx(2 * math.pi * line / speed + speed / A, rel=0.01)
    assert times == pytest.approx([times[-1]] * 3, rel=0.02)


def test_a_single_straight_wall() -> None:
    """One line thick: a line from rest to rest in each layer, not two on one another; its ends are round."""
    length, height = 200.0, 10.0
    found = estimate(mesh_of(Manifold.cube((length, W, height))), settings())
    layers, line = 50, length - W
    assert found.plastic_mm3 == pytest.approx(layers * line * S * H, rel=3e-3)
    assert found.spent_s[Spent.OUTER] == pytest.approx(layers * (line / V + V / A), rel=3e-3)
    assert found.spent_s[Spent.GAP] == pytest.approx(0.0, abs=1e-3)


def test_a_wall_of_three_lines_has_its_third_inside() -> None:
    """As thick as three lines: a loop round it, and one line in the middle."""
    thick = W + 2 * S
    found = estimate(mesh_of(Manifold.cube((200.0, thick, 1.0))), settings())
    assert found.laid_mm3[Laid.OUTER] == pytest.approx(5 * 2 * (200 - W + thick - W) * S * H, rel=1e-3)
    assert found.laid_mm3[Laid.INNER] == pytest.approx(5 * (200 - W - 2 * S) * S * H, rel=3e-3)


def _star() -> CrossSection:
    angles = np.linspace(0, 2 * np.pi, 14, endpoint=False)
    radii = np.where(np.arange(14) % 2, 12.0, 30.0)
    return CrossSection([np.stack([radii * np.cos(angles), radii * np.sin(angles)], 1)], FillRule.Positive)


def _plate_with_holes() -> CrossSection:
    plate = CrossSection.square((90.0, 60.0))
    for x, y, r in ((20, 20, 6), (50, 30, 10), (72, 40, 4), (75, 12, 5)):
        plate -= CrossSection.circle(float(r), 64).translate((float(x), float(y)))
    return plate


def _walls_of_a_box() -> CrossSection:
    return CrossSection.square((80.0, 50.0)) - CrossSection.square((77.6, 47.6)).translate((1.2, 1.2))


@pytest.mark.parametrize("section", [_star, _plate_with_holes, _walls_of_a_box])
def test_at_full_infill_lines_and_their_missing_edges_make_up_the_section(section: Callable[[], CrossSection]) -> None:
    """Bands of the lines, drawn by another library of shapes, cover the section to 0.1 % with what is called gap."""
    from shapely.geometry import LinearRing, Polygon
    from shapely.ops import unary_union

    from nookwright.making.estimate.layers import layers_of
    from nookwright.making.estimate.regions import regions_of

    mesh, full = mesh_of(section().extrude(1.0)), settings()
    (region,), _ = regions_of(mesh, layers_of(mesh, H), full)
    area, length = section().area(), sum(LinearRing(one).length for one in section().to_polygons())
    whole = unary_union([Polygon(one) for one in region.outline.contours() if LinearRing(one).is_ccw])
    whole = whole.difference(
        unary_union([Polygon(one) for one in region.outline.contours() if not LinearRing(one).is_ccw])
    )
    lines = [LinearRing(one) for wall in region.walls for one in wall.lines.contours()]
    bands = unary_union([line.buffer(S / 2, join_style="mitre") for line in lines])
    inside = whole.buffer(-(W / 2 + 1.5 * S), join_style="mitre")
    laid = bands.union(inside).intersection(whole).area
    missing = length * H * (1 - math.pi / 4) / 2
    assert region.missing_mm2 == pytest.approx(missing, rel=1e-9)
    assert laid + region.gap_mm2 + missing == pytest.approx(area, rel=1e-3)
    found = estimate(mesh, full)
    assert found.plastic_mm3 + found.missing_mm3 == pytest.approx(area * 1.0, rel=1e-6)


def test_layers_make_up_the_volume() -> None:
    """A cone and a ball: areas of the layers times their height are the volume of the mesh to 0.1 %."""
    for solid in (Manifold.cylinder(30.0, 20.0, 4.0, 128), Manifold.sphere(20.0, 96)):
        mesh = mesh_of(solid)
        assert estimate(mesh, settings()).sections_mm3 == pytest.approx(mesh.volume_mm3, rel=1e-3)
