"""What must hold for any recipe: it is refused, or nothing is left of it, or it is a closed mesh."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, TypeVar

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from nookwright.ground import tolerances
from nookwright.ground.errors import RecipeError, SolidError
from nookwright.shapes.regions import (
    Circle,
    Offset,
    Polygon,
    Rect,
    Region,
    RegionDifference,
    RegionIntersection,
    RegionMove,
    RegionRepeat,
    RegionUnion,
)
from nookwright.shapes.solids import (
    Bowl,
    Difference,
    Intersection,
    Move,
    Prism,
    Repeat,
    Revolution,
    Solid,
    Taper,
    Tip,
    Union,
)
from nookwright.solids.mesh import Mesh, MeshKernel, build

if TYPE_CHECKING:
    from collections.abc import Callable

Node = TypeVar("Node", Region, Solid)
KEPT = settings(max_examples=60, deadline=None, derandomize=True)


def lengths(low: float, high: float) -> st.SearchStrategy[float]:
    """Lengths as people and sums make them: whole, of one decimal, and with all decimals."""
    whole, tenths = st.integers(math.ceil(low), int(high)), st.integers(math.ceil(10 * low), int(10 * high))
    return st.one_of(whole.map(float), tenths.map(lambda n: n / 10), st.floats(low, high))


def around(x: float, y: float) -> st.SearchStrategy[tuple[tuple[float, float], ...]]:
    """Corners of a star-shaped polygon about a point."""

    def star(radii: list[float]) -> tuple[tuple[float, float], ...]:
        angles = [2 * math.pi * n / len(radii) for n in range(len(radii))]
        return tuple((x + r * math.cos(a), y + r * math.sin(a)) for r, a in zip(radii, angles, strict=True))

    return st.lists(lengths(2, 9), min_size=3, max_size=7).map(star)


def if_made(kind: Callable[..., Node], *arguments: st.SearchStrategy[object]) -> st.SearchStrategy[Node]:
    """Nodes of a kind, without those that its rules refuse."""

    def made(values: tuple[object, ...]) -> Node | None:
        try:
            return kind(*values)
        except RecipeError:
            return None

    return st.tuples(*arguments).map(made).filter(lambda node: node is not None)  # type: ignore[return-value]


PLACES = st.lists(st.tuples(lengths(-30, 30), lengths(-30, 30)), min_size=1, max_size=4).map(tuple)
SHIFT, TURNS = lengths(-9, 9), st.integers(0, 3)


def _few(nodes: st.SearchStrategy[Node], least: int) -> st.SearchStrategy[tuple[Node, ...]]:
    return st.lists(nodes, min_size=least, max_size=3).map(tuple)


def _combined_regions(inner: st.SearchStrategy[Region]) -> st.SearchStrategy[Region]:
    return st.one_of(
        if_made(Offset, inner, lengths(-3, 4)),
        if_made(RegionUnion, _few(inner, 1)),
        if_made(RegionDifference, inner, _few(inner, 0)),
        if_made(RegionIntersection, _few(inner, 1)),
        if_made(RegionMove, inner, SHIFT, SHIFT, TURNS),
        if_made(RegionRepeat, inner, PLACES),
    )


def _combined_solids(inner: st.SearchStrategy[Solid]) -> st.SearchStrategy[Solid]:
    return st.one_of(
        if_made(Union, _few(inner, 1)),
        if_made(Difference, inner, _few(inner, 0)),
        if_made(Intersection, _few(inner, 1)),
        if_made(Move, inner, SHIFT, SHIFT, SHIFT, TURNS),
        if_made(Tip, inner, st.sampled_from("xy")),
        if_made(Repeat, inner, PLACES),
    )


RECTS = if_made(Rect, lengths(2, 30), lengths(2, 30), lengths(0, 6))
CIRCLES = if_made(Circle, lengths(1, 15))
REGIONS = st.recursive(st.one_of(RECTS, CIRCLES, if_made(Polygon, around(0, 0))), _combined_regions, max_leaves=4)
PRIMITIVES = st.one_of(
    if_made(Prism, REGIONS, lengths(1, 20)),
    if_made(Taper, st.one_of(RECTS, CIRCLES), lengths(1, 20), lengths(-3, 3)),
    if_made(Revolution, around(10, 0)),
    if_made(Bowl, lengths(3, 30), lengths(3, 30), lengths(0, 6), lengths(0, 4), lengths(1, 20)),
)
SOLIDS = st.recursive(PRIMITIVES, _combined_solids, max_leaves=5)


@st.composite
def solids(draw: st.DrawFn) -> Solid:
    """Any tree of any nodes that the rules let pass."""
    return draw(SOLIDS)


@st.composite
def primitives(draw: st.DrawFn) -> Solid:
    """Any primitive that the rules let pass."""
    return draw(PRIMITIVES)


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
@given(primitives())
def test_the_box_of_a_primitive_is_exact(solid: Solid) -> None:
    """Primitives, but for prisms over offsets and cuts, fill their box to the last grid step."""
    assume(not isinstance(solid, Prism) or isinstance(solid.region, Rect | Circle | Polygon))
    mesh = built(solid)
    assert mesh is not None
    assert mesh.bounds == pytest.approx(solid.bounds, abs=tolerances.FLAT)


@KEPT
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
