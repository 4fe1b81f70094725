"""Round bodies stamped on flat faces, against booleans of the same."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.shapes.regions import Circle, Rect
from nookwright.shapes.solids import Difference, Move, Named, Prism, Repeat, Revolution, Solid, Taper, Tip, Union
from nookwright.solids.mesh import MeshKernel, build
from nookwright.solids.rounds import outline_of
from nookwright.solids.stamps import Stamp, Triangles, stamped
from nookwright.solids.standing import Copies, standing
from nookwright.solids.triangles import is_closed

if TYPE_CHECKING:
    from collections.abc import Callable

    from nookwright.solids.mesh import Mesh

PLATE = Prism(Rect(40, 30), 5)
CONE = Taper(Circle(3), 6, 1)
PIN = Prism(Circle(2), 20)


def found(core: Solid, solid: Solid, places: tuple[tuple[float, float], ...], *, up: float, bumps: bool) -> list[int]:
    """How many copies are stamped, and how many are left."""
    shape = outline_of(solid, 0.01)
    assert shape is not None
    mesh = build(core)
    triangles = Triangles(mesh.vertices, mesh.triangles.astype(np.int64), np.zeros(len(mesh.triangles), dtype=np.int64))
    stamps, rest = standing(triangles, (), [Copies(shape.raised(up), np.array(places), 0)], bumps=bumps)
    return [sum(len(stamp.places) for stamp in stamps), sum(len(group.places) for group in rest)]


@pytest.mark.parametrize(
    ("places", "up", "counts"),
    [
        (((10, 10), (20, 20)), 4, [2, 0]),
        (((10, 10), (15.9, 10)), 4, [0, 2]),
        (((10, 10), (3.00005, 10)), 4, [1, 1]),
        (((10, 10), (39, 10)), 4, [1, 1]),
        (((10, 10), (60, 10)), 4, [1, 1]),
        (((10, 10),), 5, [0, 1]),
        (((10, 10),), -1, [0, 1]),
        (((10, 10),), -3, [1, 0]),
    ],
    ids=["apart", "overlapping", "nearly at an edge", "over an edge", "beside", "flush", "through", "below"],
)
def test_only_what_meets_one_face_is_stamped(
    places: tuple[tuple[float, float], ...], up: float, counts: list[int]
) -> None:
    """Copies that meet each other, an edge, two faces or none are left to booleans."""
    assert found(PLATE, CONE, places, up=up, bumps=True) == counts


def test_a_slanted_wall_may_be_near() -> None:
    """A dome over a socket is no obstacle as long as there is plastic between, though their boxes overlap."""
    dome = Union((PLATE, Move(Taper(Circle(6), 6, 2), x=20, y=15, z=4)))
    socket = Revolution(((0, -1), (4, -1), (4, 0), (2.5, 8), (0, 8)))
    assert found(dome, socket, ((20, 15),), up=0, bumps=False) == [1, 0]
    wide = Revolution(((0, -1), (6, -1), (6, 0), (5.5, 8), (0, 8)))
    assert found(dome, wide, ((20, 15),), up=0, bumps=False) == [0, 1]


@pytest.mark.parametrize(
    ("x", "radius", "stamped_too"), [(10, 2, False), (14, 3, False), (17, 3, True), (10, 3.5, False)]
)
def test_what_meets_an_earlier_stamp_is_left_to_booleans(x: float, radius: float, stamped_too: bool) -> None:  # noqa: FBT001
    """Through the end of a peg, into its side, beside it, around it."""
    shape, other = outline_of(CONE, 0.01), outline_of(Prism(Circle(radius), 20), 0.01)
    assert shape is not None
    assert other is not None
    pegs, _ = standing(_plate(), (), [Copies(shape.raised(3), np.array([[10.0, 10.0]]), 0)], bumps=True)
    stamps, rest = standing(_plate(), pegs, [Copies(other.raised(3), np.array([[x, 10.0]]), 0)], bumps=True)
    assert (len(stamps), len(rest)) == ((1, 0) if stamped_too else (0, 1))


def test_points_in_a_row_are_part_of_their_face() -> None:
    """A face with a triangle without area takes stamps as any other, and stays closed."""
    plate = _plate()
    (gone,) = np.nonzero((plate.faces == [3, 5, 7]).all(axis=1))[0].tolist()  # half of the top, over the diagonal
    split = [[3, 5, 8], [8, 5, 7], [3, 8, 7]]  # point 8 is the middle of the diagonal: the first has no area
    core = Triangles(
        np.concatenate([plate.vertices, [[20, 15, 5]]]),
        np.concatenate([np.delete(plate.faces, gone, axis=0), split]),
        np.zeros(len(plate.faces) + 2, dtype=np.int64),
    )
    shape = outline_of(CONE, 0.01)
    assert shape is not None
    for place in ((10.0, 10.0), (20.0, 15.0)):
        stamps, rest = standing(core, (), [Copies(shape.raised(3), np.array([place]), 0)], bumps=True)
        assert (len(stamps), len(rest)) == (1, 0)
        found = stamped(core, stamps)
        assert is_closed(found.faces)
        assert len(np.unique(found.faces)) == 8 + 2 * shape.count  # the point in the row is needed no more


def checked(solid: Solid, faults: Callable[[Mesh], list[str]]) -> Mesh:
    """The mesh, once it is found to be what booleans make."""
    mesh, slow = build(solid), MeshKernel(direct=False).mesh(solid)
    assert faults(mesh) == []
    assert (mesh.components, mesh.genus) == (slow.components, slow.genus)
    assert mesh.volume_mm3 == pytest.approx(slow.volume_mm3, rel=1e-7)
    assert mesh.area_mm2 == pytest.approx(slow.area_mm2, rel=1e-6)
    return mesh


@pytest.mark.parametrize("turned", [False, True])
def test_bumps_and_pits_on_both_sides(faults: Callable[[Mesh], list[str]], turned: bool) -> None:  # noqa: FBT001
    """Pegs on top and below, pits in the top and in the underside: the walls look outward in all of them."""
    above, below = Repeat(Move(CONE, z=3), ((8, 8), (8, 22))), Repeat(Move(CONE, z=-4), ((20, 8), (20, 22)))
    solid: Solid = Union((PLATE, above, below))
    pits = (Repeat(Move(PIN, z=3), ((32, 8),)), Repeat(Move(PIN, z=-18), ((32, 22),)))
    solid = Difference(solid, pits)
    mesh = checked(Tip(Move(solid, 1, 2, 3, 1), "x") if turned else solid, faults)
    assert mesh.genus == 0


def test_pits_under_bumps_that_are_wider(faults: Callable[[Mesh], list[str]]) -> None:
    """A socket goes up into its dome, through the height of the face on which the dome stands."""
    dome = Repeat(Move(Taper(Circle(6), 6, 2), z=4), ((10, 10), (30, 20)))
    socket = Repeat(Revolution(((0, -1), (4, -1), (4, 0), (2.5, 8), (0, 8))), ((10, 10), (30, 20)))
    assert checked(Difference(Union((PLATE, dome)), (socket,)), faults).genus == 0


def test_a_bump_inside_a_bump_is_swallowed(faults: Callable[[Mesh], list[str]]) -> None:
    """A pin inside a wider peg leaves no wall behind."""
    wide, slim = Move(Taper(Circle(6), 6, 2), 20, 15, 4), Move(Prism(Circle(2), 3), 20, 15, 4)
    assert checked(Union((Union((PLATE, wide)), slim)), faults).volume_mm3 == pytest.approx(
        build(Union((PLATE, wide))).volume_mm3
    )


def test_stamps_keep_names(faults: Callable[[Mesh], list[str]]) -> None:
    """Named copies carry their name, the face that they stand on keeps its own."""
    cones = Named(Repeat(Move(CONE, z=3), ((8, 8), (8, 22))), "cones")
    mesh = checked(Union((Named(PLATE, "plate"), cones)), faults)
    assert [feature.name for feature in mesh.features] == ["cones", "plate"]
    assert mesh.vertices[mesh.of_feature("plate")][..., 2].max() == pytest.approx(5)
    assert sum(feature.count for feature in mesh.features) == len(mesh.triangles)


def test_a_face_with_two_names_is_left_to_booleans(faults: Callable[[Mesh], list[str]]) -> None:
    """A copy over the seam of two named faces would have to say whose hole it is in."""
    halves = Union((Named(Prism(Rect(20, 30), 5), "a"), Named(Move(Prism(Rect(20, 30), 5), x=20), "b")))
    checked(Union((halves, Repeat(Move(CONE, z=3), ((20, 15), (8, 15))))), faults)


PLACE = st.tuples(st.integers(0, 40), st.integers(0, 30))


@settings(max_examples=60, deadline=None, derandomize=True)
@given(st.sets(PLACE, min_size=1, max_size=6), st.integers(-8, 8), st.booleans())
def test_wherever_copies_are_the_mesh_is_right(
    faults: Callable[[Mesh], list[str]],
    places: set[tuple[int, int]],
    up: int,
    bumps: bool,  # noqa: FBT001
) -> None:
    """On a face, over its edge, through it, beside it, into each other: as by booleans."""
    copies = Repeat(Move(CONE, z=up + 0.5), tuple(sorted((float(x), float(y)) for x, y in places)))
    checked(Union((PLATE, copies)) if bumps else Difference(PLATE, (copies,)), faults)


def test_a_stamp_says_where_it_ends() -> None:
    """A peg above its face, a pit below."""
    shape = outline_of(CONE, 0.01)
    assert shape is not None
    (peg,), _ = standing(_plate(), (), [Copies(shape.raised(3), np.array([[10.0, 10.0]]), 0)], bumps=True)
    (pit,), _ = standing(_plate(), (), [Copies(shape.raised(3), np.array([[10.0, 10.0]]), 0)], bumps=False)
    assert (peg.end, pit.end) == (9, 3)
    assert isinstance(peg, Stamp)


def _plate() -> Triangles:
    mesh = build(PLATE)
    return Triangles(mesh.vertices, mesh.triangles.astype(np.int64), np.zeros(len(mesh.triangles), dtype=np.int64))
