"""Recipes made into meshes."""

from __future__ import annotations

import hashlib
import math
from typing import TYPE_CHECKING

import numpy as np
import pytest

from nookwright.ground import tolerances
from nookwright.ground.errors import SolidError
from nookwright.shapes.cutters import open_above, taper_open_below
from nookwright.shapes.regions import Circle, Polygon, Rect, RegionDifference, RegionMove, RegionRepeat, RegionUnion
from nookwright.shapes.solids import (
    Bowl,
    Difference,
    Intersection,
    Move,
    Named,
    Prism,
    Repeat,
    Revolution,
    Solid,
    Taper,
    Tip,
    Union,
)
from nookwright.solids.leaves import leaf
from nookwright.solids.mesh import Mesh, MeshKernel, build
from nookwright.solids.stamps import Stamp, Triangles, stamped

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from manifold3d import Manifold

    from nookwright.solids.outlines import Outlines

BLOCK = Prism(Rect(4, 3), 2)
WEDGE = Prism(Polygon(((0, 0), (5, 0), (0, 3))), 2)
RING = Revolution(((3, 0), (5, 0), (5, 2), (3, 2)))


def grid(cols: int, rows: int, pitch: float = 18.0) -> tuple[tuple[float, float], ...]:
    """The middles of cells."""
    return tuple(((col + 0.5) * pitch, (row + 0.5) * pitch) for col in range(cols) for row in range(rows))


def socketed_tray(cols: int, rows: int) -> Solid:
    """A tray with a rolled floor, and a socket with a dome over it in every cell: the hardest that we make."""
    width, depth, slope = cols * 18.0, rows * 18.0, math.tan(math.radians(15))
    inside = Move(Bowl(width - 2.4, depth - 2.4, 3.8, 3, 49), x=1.2, y=1.2, z=1)
    domes = Repeat(Taper(Circle(5.4), 4.4, 4.4 * slope), grid(cols, rows))
    socket = taper_open_below(Circle(4), 0, 3.4, 3.4 * slope)
    walls = Difference(Prism(Rect(width, depth, 5), 48), (inside,))
    return Difference(Union((walls, domes)), (Repeat(socket, grid(cols, rows)),))


def strapped_panel(cells: int) -> Solid:
    """Pads and cones like a chessboard, tied by diagonal straps."""
    cones = tuple(place for place in grid(cells, cells) if round(sum(place) / 18) % 2)
    half = 1.8 * math.sqrt(0.5)
    strap = Polygon(((half, -half), (18 + half, 18 - half), (18 - half, 18 + half), (-half, half)))
    ahead = tuple(place for place in cones if (place[0] + 18, place[1] + 18) in cones)
    aside = tuple(place for place in cones if (place[0] - 18, place[1] + 18) in cones)
    straps = RegionUnion((RegionRepeat(strap, ahead), RegionRepeat(RegionMove(strap, quarter_turns=1), aside)))
    sheet = Prism(RegionUnion((RegionRepeat(Circle(5), cones), straps)), 0.8)
    return Union((sheet, Move(Repeat(Taper(Circle(3.5), 3, 0.8), cones), z=0.8)))


SOLIDS: list[Solid] = [
    BLOCK,
    WEDGE,
    RING,
    Taper(Circle(5), 3, 0.8),
    Taper(Rect(10, 8, 2), 3, 2),
    Taper(Rect(10, 8), 3, -2),
    Bowl(97.6, 57.6, 3.8, 3, 40),
    Bowl(20, 10, 5, 5, 8),
    Bowl(10, 10, 5, 5, 5),
    Bowl(20, 10, 4, 0, 8),
    Bowl(20, 10, 0, 0, 8),
    Revolution(((0, 0), (5, 0), (0, 2))),
    Tip(WEDGE, "x"),
    Move(WEDGE, x=0.1, y=-0.7, z=0.3, quarter_turns=3),
    Repeat(BLOCK, ((0, 0), (4, 0), (2, 3))),
    Named(RING, "ring"),
    socketed_tray(2, 3),
    strapped_panel(4),
]


@pytest.mark.parametrize("solid", SOLIDS, ids=lambda solid: f"{solid.kind}-{solid.digest[:4]}")
def test_meshes_are_closed_and_fill_their_box(solid: Solid, faults: Callable[[Mesh], list[str]]) -> None:
    """Every mesh is closed, outward, without flat triangles, in one piece, and its box is that of the recipe."""
    mesh = build(solid)
    assert faults(mesh) == []
    assert mesh.components == 1
    assert mesh.bounds == pytest.approx(solid.bounds, abs=tolerances.KERNEL)
    assert len(np.unique(np.round(mesh.vertices, 5), axis=0)) == len(mesh.vertices)


@pytest.mark.parametrize(
    ("solid", "kind"), [(socketed_tray(14, 10), "tray"), (strapped_panel(18), "panel")], ids=["tray", "panel"]
)
def test_the_largest_parts_are_as_sound_as_the_small(
    solid: Solid, kind: str, faults: Callable[[Mesh], list[str]]
) -> None:
    """140 sockets, 162 cones: closed, no flat triangle, no two vertices that a file would weld, handles as counted."""
    mesh = build(solid)
    assert faults(mesh) == []
    assert mesh.components == 1
    assert len(np.unique(np.round(mesh.vertices, 5), axis=0)) == len(mesh.vertices)
    # 162 pads in diagonal rows; straps between neighbours: handles = straps - pads + 1.
    assert mesh.genus == {"tray": 0, "panel": 17 * 17 - 162 + 1}[kind]


@pytest.mark.parametrize("holes", range(5))
def test_a_plate_has_a_handle_for_each_hole(holes: int) -> None:
    """Genus counts the holes, whether they were cut in the plane or in space."""
    places = grid(holes, 1)
    flat = RegionDifference(Rect(90, 18), (RegionRepeat(Circle(4), places),) if holes else ())
    cuts = (Move(Repeat(Prism(Circle(4), 9), places), z=-3),) if holes else ()
    assert build(Prism(flat, 2)).genus == build(Difference(Prism(Rect(90, 18), 2), cuts)).genus == holes


def test_components_count_what_is_apart() -> None:
    """Three blocks apart are three, two flush ones are one, and a hollow adds one."""
    assert build(Repeat(BLOCK, ((0, 0), (5, 0), (0, 9)))).components == 3
    assert build(Repeat(BLOCK, ((0, 0), (4, 0)))).components == 1
    hollow = build(Difference(Prism(Rect(9, 9), 9), (Move(BLOCK, 2, 2, 2),)))
    assert (hollow.components, hollow.genus) == (2, 0)
    assert hollow.volume_mm3 == pytest.approx(9**3 - 24)


def test_quarter_turns_and_tips_follow_the_right_hand() -> None:
    """A wedge turned about each axis has its slope where a hand would put it, vertex by vertex."""
    corners = {(0, 0, 0), (5, 0, 0), (0, 3, 0), (0, 0, 2), (5, 0, 2), (0, 3, 2)}

    def seen(solid: Solid) -> set[tuple[float, ...]]:
        return set(map(tuple, build(solid).vertices.tolist()))

    assert seen(Move(WEDGE, quarter_turns=1)) == {(-y, x, z) for x, y, z in corners}
    assert seen(Move(WEDGE, 1, 2, 3, 3)) == {(y + 1, -x + 2, z + 3) for x, y, z in corners}
    assert seen(Tip(WEDGE, "x")) == {(x, -z, y) for x, y, z in corners}
    assert seen(Tip(WEDGE, "y")) == {(z, y, -x) for x, y, z in corners}


def test_a_name_does_not_change_the_shape() -> None:
    """A named solid has the mesh of the solid."""
    assert _bytes(build(Named(RING, "rim"))) == _bytes(build(RING))


@pytest.mark.parametrize("solid", [socketed_tray(3, 4), strapped_panel(6)], ids=["tray", "panel"])
def test_a_mesh_does_not_depend_on_what_its_kernel_has_made_before(solid: Solid) -> None:
    """The bytes are the same from a fresh kernel and from one that knows other parts and this one's pieces."""
    fresh = _bytes(build(solid))
    kernel = MeshKernel()
    kernel.mesh(socketed_tray(2, 2))
    for piece in (solid.base, *solid.cuts) if isinstance(solid, Difference) else ():
        kernel.mesh(piece)
    assert _bytes(build(solid, kernel=kernel)) == fresh
    assert build(solid, kernel=kernel) is build(solid, kernel=kernel)


def test_a_shared_sub_tree_is_made_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """A tree that names one block a thousand times makes it once."""
    made: list[Solid] = []

    def counted(solid: Solid, outlines: Outlines, tolerance: float) -> Manifold:
        made.append(solid)
        return leaf(solid, outlines, tolerance)

    monkeypatch.setattr("nookwright.solids.mesh.leaf", counted)
    node: Solid = RING
    for _ in range(10):
        node = Union((node, Named(node, "again")))
    assert build(node).volume_mm3 == pytest.approx(build(RING).volume_mm3)
    assert made == [RING, RING]  # the second time for the comparison


def test_a_shared_upright_sub_tree_is_cut_once() -> None:
    """A tree of prisms that names one block a million times is cut into slabs as quickly as the block."""
    node: Solid = BLOCK
    for _ in range(20):
        node = Union((node, node))
    assert build(node).volume_mm3 == pytest.approx(24)


def test_triangles_that_leave_a_gap_are_made_anew_by_booleans(monkeypatch: pytest.MonkeyPatch) -> None:
    """Should the quick ways fail, nobody gets to see it: the mesh is that of the slow way."""

    def torn(core: Triangles, stamps: Sequence[Stamp]) -> Triangles:
        whole = stamped(core, stamps)
        return Triangles(whole.vertices, whole.faces[1:], whole.labels[1:])

    tray = socketed_tray(2, 3)
    slow = MeshKernel(direct=False).mesh(tray)
    monkeypatch.setattr("nookwright.solids.bodies.stamped", torn)
    assert _bytes(build(tray)) == _bytes(slow)


@pytest.mark.parametrize("solid", SOLIDS, ids=lambda solid: f"{solid.kind}-{solid.digest[:4]}")
def test_the_quick_ways_make_what_booleans_make(solid: Solid) -> None:
    """The same box, surfaces, handles, volume and area, whether booleans in space are left out or not."""
    quick, slow = build(solid), MeshKernel(direct=False).mesh(solid)
    assert quick.bounds == pytest.approx(slow.bounds, abs=tolerances.KERNEL)
    assert (quick.components, quick.genus) == (slow.components, slow.genus)
    assert quick.volume_mm3 == pytest.approx(slow.volume_mm3, rel=1e-6)
    assert quick.area_mm2 == pytest.approx(slow.area_mm2, rel=1e-6)


def test_arrays_are_read_only_and_of_the_kind_that_files_need() -> None:
    """Nobody changes a mesh that somebody else holds."""
    mesh = build(BLOCK)
    assert mesh.vertices.dtype == np.float64
    assert mesh.triangles.dtype == np.uint32
    assert mesh.vertices.shape == (8, 3)
    assert mesh.triangles.shape == (12, 3)
    for array in (mesh.vertices, mesh.triangles):
        with pytest.raises(ValueError, match="read-only"):
            array[0, 0] = 1


@pytest.mark.parametrize(
    "solid",
    [
        Difference(BLOCK, (Prism(Circle(9), 9),)),
        Intersection((WEDGE, Move(Prism(Rect(4, 3), 2), x=2, y=2))),
        Prism(RegionDifference(Circle(1), (Circle(2),)), 1),
    ],
    ids=["difference", "intersection", "region"],
)
def test_a_solid_that_vanishes_is_an_error(solid: Solid) -> None:
    """Boxes cannot tell that nothing is left; the kernel can."""
    with pytest.raises(SolidError, match="nothing is left"):
        build(solid)


def test_the_error_names_the_node() -> None:
    """What is empty is said by kind and digest, also deep in a tree, and an empty cut is no error."""
    empty = Intersection((WEDGE, Move(BLOCK, x=2, y=2)))
    with pytest.raises(SolidError, match=rf"Intersection {empty.digest[:12]}"):
        build(empty)
    assert build(Difference(BLOCK, (empty,))).volume_mm3 == pytest.approx(24)


def test_bodies_that_share_an_edge_are_an_error() -> None:
    """Two blocks that touch along an edge are closed in memory and open in a file; they are refused."""
    with pytest.raises(SolidError, match=r"touches itself along an edge at \(4.0, 3.0, [02].0\)"):
        build(Repeat(BLOCK, ((0, 0), (4, 3))))


def test_mending_keeps_the_volume() -> None:
    """Slivers along a curve that runs beside another are mended without filling them: what is common is not more."""
    round_block, plate = Prism(Rect(2, 2, 1), 1), Taper(Rect(3, 3, 1.1), 1, 0)
    steps = Union((plate, Move(Prism(Rect(2, 2), 1), z=1)))
    both, common = build(Union((steps, round_block))), build(Intersection((steps, round_block)))
    apart = build(steps).volume_mm3 + build(round_block).volume_mm3
    assert both.volume_mm3 + common.volume_mm3 == pytest.approx(apart, abs=1e-4)


def test_crumbs_are_dropped() -> None:
    """What a cut leaves of less than a thousandth of a cubic millimetre is not printed."""
    cut = open_above(RegionUnion((Rect(2, 9), RegionMove(Rect(4, 9), x=2.02, y=0))), -1, 2)
    sliver = Difference(Prism(Rect(4, 0.02), 2), (Move(cut, y=-1),))
    with pytest.raises(SolidError, match="nothing is left"):
        build(sliver)
    assert build(Union((sliver, Move(BLOCK, y=5)))).components == 1


def test_what_the_kernel_does_not_know_is_an_error() -> None:
    """A solid of a foreign kind is named, not guessed."""

    class Blob(Solid):
        """No kind of ours."""

        @property
        def bounds(self) -> tuple[float, float, float, float, float, float]:
            """Somewhere."""
            return 0.0, 0.0, 0.0, 1.0, 1.0, 1.0

    with pytest.raises(SolidError, match=r"Blob .*knows no such solid"):
        build(Union((BLOCK, Blob())))


def test_a_name_stays_on_the_faces_that_are_left() -> None:
    """A block's top and sides keep its name where a plain cutter has not been; the cut's own faces have none."""
    cut = Move(Prism(Circle(1), 2), x=2, y=1.5, z=1)
    mesh = build(Difference(Named(BLOCK, "block"), (cut,)))
    (feature,) = mesh.features
    assert feature.name == "block"
    assert feature.first + feature.count == len(mesh.triangles)
    inside = mesh.vertices[mesh.triangles[: feature.first]]
    assert len(inside)
    assert np.abs(np.hypot(inside[..., 0] - 2, inside[..., 1] - 1.5)).max() <= 1 + 1e-5
    named = mesh.vertices[mesh.of_feature("block")]
    on_the_box = [np.isclose(named[..., axis], edge).all(axis=1) for axis, edge in enumerate((0, 0, 0))]
    on_the_box += [np.isclose(named[..., axis], edge).all(axis=1) for axis, edge in enumerate((4, 3, 2))]
    assert np.any(on_the_box, axis=0).all()
    assert len(mesh.of_feature("lid")) == 0


def test_names_go_through_moves_tips_repeats_and_are_sorted() -> None:
    """Each name is one run, in the order of names, however often it was placed; the outer of two names holds."""
    pin = Named(Prism(Circle(1), 3), "pin")
    pins = Repeat(Move(Tip(pin, "x"), x=1, z=5, quarter_turns=1), ((0, 0), (5, 0), (0, 9)))
    mesh = build(Union((Named(Union((pins, Named(BLOCK, "inner"))), "all"), Move(Named(WEDGE, "a wedge"), z=-9))))
    assert [feature.name for feature in mesh.features] == ["a wedge", "all"]
    assert mesh.features[0].first == 0
    assert len(mesh.of_feature("a wedge")) == len(build(WEDGE).triangles)
    assert [feature.name for feature in build(pins).features] == ["pin"]


def test_named_parts_share_the_surface_and_the_shape() -> None:
    """Names only sort the triangles: the same shape as without, closed, and every triangle in one run or none."""
    plain = strapped_panel(4)
    assert isinstance(plain, Union)
    sheet, cones = plain.solids
    mesh, bare = build(Union((Named(sheet, "sheet"), Named(cones, "cones")))), build(plain)
    assert [each.name for each in mesh.features] == ["cones", "sheet"]
    assert sum(each.count for each in mesh.features) == len(mesh.triangles)
    assert np.array_equal(mesh.vertices, bare.vertices)
    assert mesh.volume_mm3 == pytest.approx(bare.volume_mm3, rel=1e-12)
    assert (mesh.genus, mesh.components) == (bare.genus, bare.components)


def test_names_do_not_depend_on_what_was_made_before() -> None:
    """The library counts its ids through a whole process; none of them shows."""
    part = Difference(Named(BLOCK, "block"), (Named(Move(RING, x=2, y=1, z=1), "ring"),))
    first = build(part)
    for _ in range(3):
        build(Named(WEDGE, "x"))
    again = build(part)
    assert first.features == again.features
    assert _bytes(first) == _bytes(again)


def test_a_name_whose_faces_are_all_gone_is_left_out() -> None:
    """Inside another body nothing is left to carry a name."""
    mesh = build(Union((Prism(Rect(9, 9), 9), Named(Move(BLOCK, 2, 2, 2), "hidden"))))
    assert mesh.features == ()


def _bytes(mesh: Mesh) -> str:
    return hashlib.sha256(mesh.vertices.tobytes() + mesh.triangles.tobytes()).hexdigest()
