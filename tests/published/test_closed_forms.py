"""Volumes and areas of meshes against closed forms.

Sources: Pappus of Alexandria, Collection, book VII, restated by Guldin (1641): a body of revolution has the area of its
profile times the way of the profile's centroid, its surface the length of the profile's edge times the way of that
edge's centroid; centroids of a quarter disc, 4 r / (3 pi), and of a quarter circle, 2 r / pi, from any handbook of
mathematics. The prismoidal formula, h (A0 + 4 Am + A1) / 6, is exact where areas are quadratic in height. The
tolerances are not fitted: a mesh inscribed within t of a surface of area A misses at most t A of volume.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import pytest

from nookwright.ground.tolerances import FLAT
from nookwright.shapes.regions import Circle, Offset, Polygon, Rect, RegionDifference, RegionMove
from nookwright.shapes.solids import Bowl, Difference, Move, Prism, Repeat, Revolution, Solid, Taper
from nookwright.solids.exact import exact
from nookwright.solids.mesh import build

PI = math.pi


@dataclass(frozen=True)
class Closed:
    """A body whose measures are known."""

    name: str
    solid: Solid
    volume_mm3: float
    area_mm2: float


def rounded_area(width: float, depth: float, radius: float) -> float:
    """A rectangle less its four corners, each a square less a quarter disc."""
    return width * depth - (4 - PI) * radius**2


def rounded_edge(width: float, depth: float, radius: float) -> float:
    """The edge of a rounded rectangle."""
    return 2 * (width + depth) - (8 - 2 * PI) * radius


def cylinder(radius: float, height: float) -> Closed:
    """A cylinder."""
    area = 2 * PI * radius * (radius + height)
    return Closed("cylinder", Prism(Circle(radius), height), PI * radius**2 * height, area)


def rounded_prism(width: float, depth: float, radius: float, height: float) -> Closed:
    """A prism with rounded corners."""
    base = rounded_area(width, depth, radius)
    area = 2 * base + rounded_edge(width, depth, radius) * height
    return Closed("rounded prism", Prism(Rect(width, depth, radius), height), base * height, area)


def frustum(radius: float, height: float, draw: float) -> Closed:
    """A cone without its tip."""
    top, slant = radius - draw, math.hypot(height, draw)
    volume = PI * height * (radius**2 + radius * top + top**2) / 3
    area = PI * (radius**2 + top**2 + (radius + top) * slant)
    return Closed("frustum", Taper(Circle(radius), height, draw), volume, area)


def tapered_block(width: float, depth: float, radius: float, height: float, draw: float) -> Closed:
    """A rounded rectangle drawn in: four quarters of a cone, four leaning planes."""
    areas = [rounded_area(width - 2 * d, depth - 2 * d, radius - d) for d in (0, draw / 2, draw)]
    slant = math.hypot(height, draw)
    planes = 2 * (width + depth - 4 * radius) * slant
    cones = PI * (radius + radius - draw) * slant
    volume = height * (areas[0] + 4 * areas[1] + areas[2]) / 6
    solid = Taper(Rect(width, depth, radius), height, draw)
    return Closed("tapered block", solid, volume, areas[0] + areas[2] + planes + cones)


def bowl(width: float, depth: float, radius: float, fillet: float, height: float) -> Closed:
    """A rounded prism less what the fillet takes off its bottom edge: along the sides, and turned about the corners."""
    straight, full = 2 * (width + depth - 4 * radius), rounded_prism(width, depth, radius, height)
    square, quarter = fillet**2, PI * fillet**2 / 4
    moment = square * (radius - fillet / 2) - quarter * (radius - fillet + 4 * fillet / (3 * PI))
    rolled = PI / 2 * fillet * straight + (PI / 2 * fillet) * 2 * PI * (radius - fillet + 2 * fillet / PI)
    floor = rounded_area(width - 2 * fillet, depth - 2 * fillet, radius - fillet)
    walls = rounded_edge(width, depth, radius) * (height - fillet)
    area = rounded_area(width, depth, radius) + walls + rolled + floor
    volume = full.volume_mm3 - (square - quarter) * straight - 2 * PI * moment
    return Closed("bowl", Bowl(width, depth, radius, fillet, height), volume, area)


def turned(profile: tuple[tuple[float, float], ...]) -> Closed:
    """A body of revolution: the profile's area and its edges, each times the way of its centroid."""
    r, z = np.array(profile).T
    r2, z2 = np.roll(r, -1), np.roll(z, -1)
    cross = r * z2 - r2 * z
    volume = 2 * PI * float(((r + r2) * cross).sum()) / 6
    area = 2 * PI * float((np.hypot(r2 - r, z2 - z) * (r + r2) / 2).sum())
    return Closed("revolution", Revolution(profile), volume, area)


def hemisphere(radius: float) -> Closed:
    """The limit of a bowl: all of it is fillet."""
    return Closed(
        "hemisphere", Bowl(2 * radius, 2 * radius, radius, radius, radius), 2 / 3 * PI * radius**3, 3 * PI * radius**2
    )


def drilled_plate() -> Closed:
    """A plate with three holes, drilled as solids."""
    plate, hole = rounded_prism(60, 20, 4, 3), cylinder(2.5, 3)
    cutter = Move(Repeat(Prism(Circle(2.5), 5), ((10, 10), (30, 10), (50, 10))), z=-1)
    volume = plate.volume_mm3 - 3 * hole.volume_mm3
    area = plate.area_mm2 - 3 * 2 * PI * 2.5**2 + 3 * 2 * PI * 2.5 * 3
    return Closed("drilled plate", Difference(plate.solid, (cutter,)), volume, area)


def tray() -> Closed:
    """A tray: a rounded prism less a bowl of which 1 mm stands out at the top."""
    outside, inside = rounded_prism(100, 60, 5, 30), bowl(97.6, 57.6, 3.8, 3, 29)
    cavity = Move(Bowl(97.6, 57.6, 3.8, 3, 30), x=1.2, y=1.2, z=1)
    mouth = rounded_area(97.6, 57.6, 3.8)
    area = outside.area_mm2 + inside.area_mm2 - 2 * mouth
    return Closed("tray", Difference(outside.solid, (cavity,)), outside.volume_mm3 - inside.volume_mm3, area)


def washer() -> Closed:
    """A ring cut in the plane, around a hexagon of side 4."""
    hexagon = Polygon(tuple((4 * math.cos(PI * n / 3), 4 * math.sin(PI * n / 3)) for n in range(6)))
    region = RegionDifference(Circle(9), (RegionMove(hexagon, x=1, quarter_turns=1),))
    base = PI * 81 - 24 * math.sqrt(3)
    return Closed("washer", Prism(region, 2), 2 * base, 2 * base + 2 * (2 * PI * 9 + 24))


def grown_triangle() -> Closed:
    """Steiner (1840): a convex region with area A, edge L, grown by r: area A + L r + pi r^2, edge L + 2 pi r."""
    region = Offset(Polygon(((0, 0), (30, 0), (0, 40))), 5)
    base, edge = 600 + 120 * 5 + PI * 25, 120 + 2 * PI * 5
    return Closed("grown triangle", Prism(region, 7), 7 * base, 2 * base + 7 * edge)


BODIES = [
    cylinder(5, 10),
    cylinder(60, 1),
    rounded_prism(40, 30, 5, 10),
    frustum(5, 3, 0.8),
    frustum(5, 3, -2),
    tapered_block(40, 30, 5, 10, 3),
    tapered_block(40, 30, 5, 10, -4),
    bowl(97.6, 57.6, 3.8, 3, 40),
    bowl(30, 20, 8, 8, 12),
    hemisphere(6),
    turned(((3, 0), (5, 0), (5, 2), (3, 2))),
    turned(((0, -1), (4, 0), (7, 5), (0, 9))),
    drilled_plate(),
    tray(),
    washer(),
    grown_triangle(),
]
each_body = pytest.mark.parametrize("body", BODIES, ids=lambda body: body.name)


@each_body
@pytest.mark.parametrize("tolerance", [0.05, 0.01, 0.002])
def test_volume_and_area_are_those_of_the_closed_form(body: Closed, tolerance: float) -> None:
    """The volume is off by no more than the tolerance times the surface; the area by a few of its parts."""
    mesh = build(body.solid, tolerance)
    assert abs(mesh.volume_mm3 - body.volume_mm3) <= (tolerance + FLAT) * body.area_mm2
    assert mesh.area_mm2 == pytest.approx(body.area_mm2, rel=0.2 * tolerance)


@each_body
def test_the_error_is_linear_in_the_tolerance(body: Closed) -> None:
    """Sixteen times finer is about sixteen times nearer: the mesh converges to the closed form, and to nothing else."""
    coarse, fine = (abs(build(body.solid, t).volume_mm3 - body.volume_mm3) for t in (0.032, 0.002))
    # The number of chords is rounded up to a multiple of four, so the ratio wanders; FLAT is what cleaning may add.
    assert fine <= coarse / 8 + 0.1 * FLAT * body.area_mm2
    assert coarse <= 40 * fine


@each_body
def test_the_exact_solid_is_that_of_the_closed_form(body: Closed) -> None:
    """To thirteen digits, where the recipe's numbers are whole on its grid."""
    found = exact(body.solid)
    # The washer's hexagon has corners that the grid of recipes has rounded.
    digits = 1e-6 if body.name == "washer" else 1e-13
    assert found.volume_mm3 == pytest.approx(body.volume_mm3, rel=digits)
    assert found.area_mm2 == pytest.approx(body.area_mm2, rel=digits)
    assert found.valid


@pytest.mark.parametrize("tolerance", [0.1, 0.02])
@pytest.mark.parametrize("sizes", [(30, 20, 8, 5, 12), (30, 20, 8, 8, 12), (30, 20, 4, 1, 3)])
def test_no_point_of_a_bowl_is_further_off_than_the_tolerance(
    sizes: tuple[float, float, float, float, float], tolerance: float
) -> None:
    """Where it curves both ways too: points all over each triangle lie inside, and within the tolerance of the surface.

    The depth of a point below the surface is that below the nearest of wall, floor, rim and fillet.
    """
    width, depth, radius, fillet, height = sizes
    mesh = build(Bowl(*sizes), tolerance)
    weights = np.random.default_rng(1).dirichlet([1, 1, 1], size=20)
    x, y, z = np.einsum("kc,tcd->dtk", weights, mesh.vertices[mesh.triangles])
    across, along = np.abs(x - width / 2) - width / 2 + radius, np.abs(y - depth / 2) - depth / 2 + radius
    wall = np.where(
        np.minimum(across, along) > 0,
        radius - np.hypot(np.maximum(across, 0), np.maximum(along, 0)),
        radius - np.maximum(across, along),
    )
    rolled = fillet - np.hypot(np.maximum(fillet - wall, 0), np.maximum(fillet - z, 0))
    inside = np.where(np.minimum(wall, z) < fillet, rolled, np.minimum(wall, z))
    below = np.minimum(inside, height - z)
    assert below.min() >= -FLAT
    assert below.max() <= tolerance + FLAT
