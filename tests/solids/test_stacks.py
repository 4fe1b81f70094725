"""Upright bodies made into triangles slab by slab, against booleans of the same."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from nookwright.ground.errors import SolidError
from nookwright.ground.tolerances import FLAT
from nookwright.shapes.regions import Circle, Rect, RegionDifference, RegionMove
from nookwright.shapes.solids import Bowl, Difference, Intersection, Move, Prism, Repeat, Solid, Taper, Union
from nookwright.solids.mending import heights
from nookwright.solids.mesh import MeshKernel, build
from nookwright.solids.outlines import Outlines
from nookwright.solids.slices import MOST_SLABS, Slab, Slicer
from nookwright.solids.stacks import stacked
from nookwright.solids.triangles import is_closed

if TYPE_CHECKING:
    from collections.abc import Callable

    from nookwright.solids.mesh import Mesh
    from nookwright.solids.stamps import Triangles

BLOCK = Prism(Rect(40, 30, 4), 10)
RIM = RegionDifference(Rect(60, 60), (RegionMove(Rect(38, 28, 3), 11, 11),))
OPENED = RegionDifference(Rect(40, 30, 4), (RegionMove(Rect(8, 8), 0.5, 10),))
HOLE = Move(Prism(Circle(5), 20), 20, 15, -5)


def slabs(solid: Solid) -> list[Slab] | None:
    """Its slabs."""
    return Slicer(Outlines(0.01), 0.01).slabs_of(solid)


def stack(solid: Solid) -> Triangles | None:
    """Its triangles, put together directly."""
    found = slabs(solid)
    return stacked(found) if found else None


UPRIGHT: dict[str, Solid] = {
    "block": BLOCK,
    "ring": Prism(RegionDifference(Circle(9), (Circle(4),)), 3),
    "hole": Difference(BLOCK, (HOLE,)),
    "pocket": Difference(BLOCK, (Move(Prism(Circle(5), 20), 20, 15, 4),)),
    "step": Union((BLOCK, Move(Prism(Rect(10, 10), 20), x=5, y=5))),
    "flush step": Union((BLOCK, Move(Prism(Rect(20, 30, 4), 20), quarter_turns=0))),
    "overhang": Union((BLOCK, Move(Prism(Rect(60, 50), 5), x=-10, y=-10, z=10))),
    "drawn in": Difference(BLOCK, (Move(Prism(RIM, 2), -10, -10, -1),)),
    "drawn in across an opening": Difference(Prism(OPENED, 10), (Move(Prism(RIM, 2), -10, -10, -1),)),
    "common": Intersection((BLOCK, Move(Prism(Circle(15), 8), 20, 15, 5))),
    "lead-in": Union((Move(Taper(Rect(38, 28, 3), 1, -1), x=1, y=1), Move(Prism(Rect(40, 30, 4), 9), z=1))),
    "bowl": Difference(BLOCK, (Move(Bowl(36, 26, 2, 0, 20), 2, 2, 3),)),
    "grid": Repeat(Prism(Rect(5, 5), 3), ((0, 0), (5, 0), (20, 20))),
    "turned": Move(Difference(BLOCK, (HOLE,)), 3, 4, 5, 3),
}  # fmt: skip


@pytest.mark.parametrize("name", UPRIGHT)
def test_slabs_make_what_booleans_make(name: str, faults: Callable[[Mesh], list[str]]) -> None:
    """Closed, with the same box, surfaces, handles, volume and area, and none of it left to booleans."""
    solid = UPRIGHT[name]
    found = stack(solid)
    assert found is not None
    assert is_closed(found.faces)
    assert heights(found.vertices, found.faces).min() >= FLAT
    quick, slow = build(solid), MeshKernel(direct=False).mesh(solid)
    assert faults(quick) == []
    assert quick.bounds == pytest.approx(slow.bounds, abs=1e-9)
    assert (quick.components, quick.genus) == (slow.components, slow.genus)
    assert quick.volume_mm3 == pytest.approx(slow.volume_mm3, rel=1e-6)
    assert quick.area_mm2 == pytest.approx(slow.area_mm2, rel=1e-6)


@pytest.mark.parametrize(
    "solid",
    [
        Bowl(36, 26, 3, 2, 20),
        Union((Taper(Circle(5), 3, 1), Prism(Rect(20, 20), 3))),
        Union((BLOCK, Move(BLOCK, x=20, z=10))),
        Repeat(Prism(Rect(40, 30), 9), ((0, 0), (40, 30))),
        Union(tuple(Move(Prism(Rect(40, 30), 1), z=float(n)) for n in range(int(MOST_SLABS) + 1))),
        Move(BLOCK, x=900),
        Difference(BLOCK, (Move(Prism(Rect(90, 90), 90), -9, -9, -9),)),
    ],
    ids=["rolled", "in company", "neither holds the other", "edge to edge", "many", "far", "nothing"],
)
def test_what_is_not_so_simple_is_left_to_booleans(solid: Solid) -> None:
    """Not upright, crossing, touching itself, too many slabs, or too far away."""
    assert stack(solid) is None


def test_a_wall_goes_up_as_far_as_its_contour() -> None:
    """A ring on three heights of steps beside it has one wall: no triangles between, as by booleans."""
    steps = tuple(Move(Prism(Rect(4, 4), 2.0 + n), x=10.0 * n, y=40) for n in range(3))
    flush = Union((Prism(Rect(40, 30), 4), Move(Prism(Rect(40, 30), 6), z=4), *steps))
    assert len(build(flush).triangles) == 4 * len(build(Prism(Rect(40, 30), 10)).triangles)


@st.composite
def upright(draw: st.DrawFn) -> Solid:
    """Prisms whose edges often lie on each other: sizes and places are whole numbers."""
    small, height = st.integers(1, 6).map(float), st.integers(1, 4).map(float)
    region = draw(st.one_of(st.builds(Rect, small, small), st.builds(Circle, small)))
    x, y, z = (float(draw(st.integers(0, 6))) for _ in range(3))
    return Move(Prism(region, draw(height)), x, y, z)


@settings(max_examples=120, deadline=None, derandomize=True)
@given(st.lists(upright(), min_size=1, max_size=3), st.lists(upright(), max_size=2))
def test_however_prisms_lie_the_mesh_is_right(
    faults: Callable[[Mesh], list[str]], added: list[Solid], cut: list[Solid]
) -> None:
    """Flush, crossing, touching, one above the other: as by booleans, or refused by both."""
    solid = Difference(Union(tuple(added)), tuple(cut))
    try:
        slow = MeshKernel(direct=False).mesh(solid)
    except SolidError:
        assume(False)  # noqa: FBT003
    quick = build(solid)
    assert faults(quick) == []
    assert (quick.components, quick.genus) == (slow.components, slow.genus)
    assert quick.volume_mm3 == pytest.approx(slow.volume_mm3, rel=1e-5, abs=1e-3)
