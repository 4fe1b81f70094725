"""What must hold for any recipe: it is refused, or nothing is left of it, or it is a closed mesh."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
from fuzz.recipes import DEPTH, Shapes
from hypothesis import HealthCheck, assume, given, reject, settings
from hypothesis import strategies as st

from nookwright.ground import tolerances
from nookwright.ground.errors import RecipeError, SolidError
from nookwright.shapes.regions import Circle, Polygon, Rect, Region
from nookwright.shapes.solids import Difference, Intersection, Move, Prism, Solid, Union
from nookwright.solids.edges import area_of
from nookwright.solids.exact_outlines import ExactOutlines
from nookwright.solids.mesh import Mesh, MeshKernel, build
from nookwright.solids.outlines import Outlines

if TYPE_CHECKING:
    from collections.abc import Callable

KEPT = settings(
    max_examples=80,
    deadline=None,
    derandomize=True,
    # Rules refuse a good part of what is drawn blindly, and that is what they are for.
    suppress_health_check=[HealthCheck.filter_too_much, HealthCheck.too_slow],
)
SHIFT, TURNS = st.floats(-9, 9), st.integers(0, 3)
CHANCE = st.randoms(use_true_random=False)


@st.composite
def regions(draw: st.DrawFn) -> Region:
    """Any region that the rules let pass."""
    return Shapes(draw(CHANCE)).region()


@st.composite
def solids(draw: st.DrawFn, depth: int = DEPTH) -> Solid:
    """Any solid that the rules let pass."""
    return Shapes(draw(CHANCE)).solid(depth)


def built(solid: Solid, kernel: MeshKernel | None = None) -> Mesh | None:
    """The mesh, or nothing where nothing is left; examples of bodies that touch, or of no region, are passed over."""
    try:
        return build(solid, kernel=kernel)
    except SolidError as error:
        assume("touches itself" not in str(error))
        assume("nothing is left of this region" not in str(error))
        if "nothing is left of this solid" in str(error):
            return None
        raise


def volume(make: Callable[[], Solid]) -> float:
    """The volume of a recipe that may be refused since its boxes do not meet, or may vanish."""
    try:
        mesh = built(make())
    except RecipeError:
        return 0.0
    return mesh.volume_mm3 if mesh else 0.0


@KEPT
@given(solids())
def test_a_recipe_becomes_a_closed_mesh_in_its_box(faults: Callable[[Mesh], list[str]], solid: Solid) -> None:
    """Closed, outward, no flat triangle, inside the box of the recipe: for any tree of any nodes."""
    mesh = built(solid)
    assume(mesh is not None)
    assert mesh is not None
    assert faults(mesh) == []
    # Wearing away, cutting and cleaning move a surface by this at most.
    slack = 2 * tolerances.FLAT
    assert all(low >= edge - slack for low, edge in zip(mesh.bounds[:3], solid.bounds[:3], strict=True))
    assert all(high <= edge + slack for high, edge in zip(mesh.bounds[3:], solid.bounds[3:], strict=True))


@KEPT
@given(solids(0))
def test_the_box_of_a_primitive_is_exact(solid: Solid) -> None:
    """Primitives, but for prisms over offsets and cuts, fill their box to the last grid step."""
    assume(not isinstance(solid, Prism) or isinstance(solid.region, Rect | Circle | Polygon))
    mesh = built(solid)
    assert mesh is not None
    assert mesh.bounds == pytest.approx(solid.bounds, abs=tolerances.FLAT)


@settings(KEPT, max_examples=40)
@given(solids(), solids())
def test_inclusion_and_exclusion(one: Solid, other: Solid) -> None:
    """What two solids cover, and what both cover, add up to the two; a difference is what is left."""
    both, common = volume(lambda: Union((one, other))), volume(lambda: Intersection((one, other)))
    first, second = volume(lambda: one), volume(lambda: other)
    slack = 1e-6 * both + 4 * tolerances.SHARED_VOLUME_MM3
    assert both + common == pytest.approx(first + second, abs=slack)
    assert volume(lambda: Difference(one, (other,))) == pytest.approx(first - common, abs=slack)


@KEPT
@given(solids(), SHIFT, SHIFT, SHIFT, TURNS)
def test_a_move_keeps_volume_area_and_topology(solid: Solid, x: float, y: float, z: float, turns: int) -> None:
    """Wherever a solid is put, it is the same solid."""
    kernel = MeshKernel()
    here, there = built(solid, kernel), built(Move(solid, x, y, z, turns), kernel)
    assume(here is not None)
    assume(there is not None)
    assert here is not None
    assert there is not None
    assert there.volume_mm3 == pytest.approx(here.volume_mm3, rel=1e-6, abs=tolerances.SHARED_VOLUME_MM3)
    assert there.area_mm2 == pytest.approx(here.area_mm2, rel=1e-4)
    assert (there.components, there.genus) == (here.components, here.genus)


@KEPT
@given(regions())
def test_contours_converge_to_the_exact_area(region: Region) -> None:
    """For any tree of regions, the contours of the mesh kernel have the exact area to within their tolerance."""
    try:
        contours = Outlines(0.002).of(region)
    except SolidError:
        reject()
    edge = sum(np.linalg.norm(c - np.roll(c, 1, axis=0), axis=1).sum() for c in contours)
    found = sum(float(c[:, 0] @ np.roll(c[:, 1], -1) - c[:, 1] @ np.roll(c[:, 0], -1)) / 2 for c in contours)
    exact = sum(map(area_of, ExactOutlines().of(region)))
    assert exact == pytest.approx(found, abs=2 * 0.002 * edge + 1e-3)
