from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from manifold3d import Manifold, Mesh64

from nookwright.ground.errors import RecipeError
from nookwright.parts.cradles.pocket import Funnel, Pocket, Round, Tapered, seat_height
from nookwright.parts.cradles.pocket_boxes import Boxed, Cornered
from nookwright.solids.mesh import MeshKernel

if TYPE_CHECKING:
    from nookwright.shapes.solids import Solid

HIGH = 20.0
SHAPES = [
    Round(12.0),
    Tapered(20.0, 26.0, 30.0),
    Tapered(20.0, 26.0, 8.0),
    Funnel(24.0, 16.0),
    Boxed(18.0, 11.0),
    Boxed(18.0, 11.0, 3.0),
    Cornered(6, 9.0),
    Cornered(3, 14.0),
]


@pytest.fixture(scope="module")
def fine() -> MeshKernel:
    """A kernel whose meshes are within a micron of the true surface."""
    return MeshKernel(0.001)


def _cutter(kernel: MeshKernel, solid: Solid) -> Manifold:
    """The mesh of a solid as a body that can be cut and sliced."""
    mesh = kernel.mesh(solid)
    return Manifold(Mesh64(np.array(mesh.vertices), np.array(mesh.triangles, dtype=np.uint64)))


@pytest.mark.parametrize("lead_in", [0.0, 1.0])
@pytest.mark.parametrize("pocket", SHAPES, ids=lambda pocket: pocket.words)
def test_a_cutter_takes_away_what_the_closed_form_says(fine: MeshKernel, pocket: Pocket, lead_in: float) -> None:
    """Volume below the mouth within one per cent; the triangle, whose corners a chamfer does not reach, within two."""
    cutter = _cutter(fine, pocket.cutter(HIGH, lead_in))
    assert cutter.bounding_box()[2::3] == pytest.approx((0.0, HIGH + 0.5), abs=1e-4)
    below = cutter.trim_by_plane([0, 0, -1], -HIGH).volume()
    slack = 0.02 if isinstance(pocket, Cornered) and pocket.corners == 3 else 0.01
    assert below == pytest.approx(pocket.volume_mm3(HIGH, lead_in), rel=slack)
    assert len(cutter.decompose()) == 1


@pytest.mark.parametrize("pocket", SHAPES, ids=lambda pocket: pocket.words)
def test_no_pocket_is_narrower_above(fine: MeshKernel, pocket: Pocket) -> None:
    """Level sections only grow on the way up: what goes in comes out, and nothing overhangs."""
    cutter = _cutter(fine, pocket.cutter(HIGH, 1.0))
    areas = [cutter.slice(z).area() for z in (0.1, 2.0, 6.0, 12.0, 18.9, 19.3, 19.8, 20.2)]
    assert all(low <= high + 1e-6 for low, high in pairwise(areas))
    assert areas[-1] > areas[4]


def test_a_lead_in_is_a_chamfer_of_45_degrees(fine: MeshKernel) -> None:
    """At the mouth a round pocket is wider by twice its lead-in, half-way up the chamfer by once."""
    cutter = _cutter(fine, Round(12.0).cutter(HIGH, 1.0))
    radii = [math.sqrt(cutter.slice(z).area() / math.pi) for z in (18.9, 19.5, 20.0 - 1e-6)]
    assert radii == pytest.approx([6.0, 6.5, 7.0], abs=2e-3)


def test_a_funnel_seat_stands_at_45_degrees(fine: MeshKernel) -> None:
    """A body of a diameter meets the seat at half of what it is wider than the seat's foot."""
    cutter = _cutter(fine, Funnel(24.0, 16.0).cutter(HIGH, 0.0))
    for diameter in (17.0, 20.0, 23.9):
        z = seat_height(diameter, 16.0)
        assert math.sqrt(cutter.slice(z).area() / math.pi) == pytest.approx(diameter / 2, abs=2e-3)


def test_a_hexagon_is_measured_across_its_flats(fine: MeshKernel) -> None:
    """Its box is its size across flats along x, and 2/sqrt(3) of it along y."""
    x0, y0, _, x1, y1, _ = fine.mesh(Cornered(6, 9.0).cutter(HIGH, 0.0)).bounds
    assert (x1 - x0, y1 - y0) == pytest.approx((9.0, 9.0 * 2 / math.sqrt(3)), abs=2e-4)


@given(foot=st.floats(3, 60), more=st.floats(0, 20), over=st.floats(3, 90), high=st.floats(5, 90))
def test_a_taper_follows_the_thing(foot: float, more: float, over: float, high: float) -> None:
    """At any height the pocket is as wide as a line from foot to top says, and never wider than the top."""
    outline = Tapered(foot, foot + more, over).outline(high)
    assert 2 * outline.radius == pytest.approx(foot + more * min(1.0, high / over))


@pytest.mark.parametrize(
    "make",
    [
        lambda: Round(2.9),
        lambda: Round(math.nan),
        lambda: Tapered(20.0, 19.0, 10.0),
        lambda: Tapered(20.0, 22.0, 0.0),
        lambda: Funnel(20.0, 20.0),
        lambda: Boxed(10.0, 2.0),
        lambda: Boxed(10.0, 8.0, 4.1),
        lambda: Cornered(2, 9.0),
        lambda: Cornered(13, 9.0),
    ],
)
def test_impossible_pockets_are_refused(make: object) -> None:
    """Before any kernel sees them, with what is allowed and what to do."""
    assert callable(make)
    with pytest.raises(RecipeError, match=r"found .*, allowed: .*\. [A-Z].*\."):
        make()
