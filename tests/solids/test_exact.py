"""Recipes made into exact solids."""

from __future__ import annotations

import math
import subprocess
import sys
from typing import TYPE_CHECKING

import pytest

from nookwright.ground.errors import MissingExtraError, SolidError
from nookwright.shapes.regions import (
    Circle,
    Offset,
    Polygon,
    Rect,
    RegionDifference,
    RegionMove,
    RegionRepeat,
    RegionUnion,
)
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
from nookwright.solids import occt
from nookwright.solids.agreement import disagreement
from nookwright.solids.exact import ExactKernel, exact
from nookwright.solids.exact_leaves import exact_leaf
from nookwright.solids.mesh import build

if TYPE_CHECKING:
    from nookwright.solids.exact_outlines import ExactOutlines
    from nookwright.solids.occt import Shape

BLOCK = Prism(Rect(4, 3), 2)
WEDGE = Prism(Polygon(((0, 0), (5, 0), (0, 3))), 2)
PI = math.pi
HOLLOW = Difference(Prism(Rect(9, 9), 9), (Move(BLOCK, 2, 2, 2),))


@pytest.mark.parametrize(
    ("solid", "volume_mm3", "components", "genus"),
    [
        (BLOCK, 24, 1, 0),
        (Union((BLOCK, Move(BLOCK, x=4))), 48, 1, 0),
        (Union((BLOCK, Move(BLOCK, x=9))), 48, 2, 0),
        (Repeat(BLOCK, ((0, 0), (4, 0), (2, 3))), 72, 1, 0),
        (HOLLOW, 729 - 24, 2, 0),
        (Difference(BLOCK, ()), 24, 1, 0),
        (Difference(BLOCK, (Move(BLOCK, x=50),)), 24, 1, 0),
        (Intersection((BLOCK, Move(BLOCK, x=1, y=1, z=1))), 6, 1, 0),
        (Intersection((BLOCK,)), 24, 1, 0),
        (
            Prism(RegionDifference(Rect(90, 18), (RegionRepeat(Circle(4), ((9, 9), (45, 9), (80, 9))),)), 2),
            2 * (1620 - 48 * PI),
            1,
            3,
        ),
        (Prism(RegionRepeat(Circle(2), ((0, 0), (9, 0))), 3), 24 * PI, 2, 0),
        (Revolution(((3, 0), (5, 0), (5, 2), (3, 2))), 32 * PI, 1, 1),
        (Revolution(((0, 0), (5, 0), (0, 3))), 25 * PI, 1, 0),
        (Taper(Circle(5), 3, 2), PI * (25 + 15 + 9), 1, 0),
        (Taper(Rect(10, 8, 2), 3, 2), None, 1, 0),
        (Taper(Rect(10, 8), 3, -2), None, 1, 0),
        (Taper(Rect(10, 10, 5), 3, 1), PI * (25 + 20 + 16), 1, 0),
        (Bowl(12, 12, 6, 6, 6), 2 / 3 * PI * 216, 1, 0),
        (Bowl(20, 10, 0, 0, 8), 1600, 1, 0),
        (Prism(Offset(Rect(10, 10), 1), 2), 2 * (140 + PI), 1, 0),
        (Named(BLOCK, "block"), 24, 1, 0),
    ],
)
def test_solids_have_the_volume_of_the_closed_form(
    solid: Solid, volume_mm3: float | None, components: int, genus: int
) -> None:
    """Volume, closed surfaces and handles of every kind of node; and the mesh kernel says the same."""
    found = exact(solid)
    assert found.valid
    assert volume_mm3 is None or found.volume_mm3 == pytest.approx(volume_mm3, rel=1e-12)
    assert (found.components, found.genus) == (components, genus)
    assert disagreement(build(solid), found) == ""
    if not isinstance(solid, Intersection):
        assert found.bounds == pytest.approx(solid.bounds, abs=1e-6)


@pytest.mark.parametrize(
    "placed",
    [
        Move(WEDGE, 0.1, -0.7, 0.3, 3),
        Move(WEDGE, quarter_turns=2),
        Tip(WEDGE, "x"),
        Tip(WEDGE, "y"),
        Tip(Tip(WEDGE, "y"), "x"),
    ],
)
def test_solids_are_where_the_mesh_is(placed: Solid) -> None:
    """Turns and tips follow the right hand: the two kernels fill the same space, since together they are no more."""
    both = Union((placed, Named(placed, "again")))
    assert exact(placed).bounds == pytest.approx(build(placed).bounds, abs=1e-9)
    assert exact(both).volume_mm3 == pytest.approx(15)
    x, y, z = (low + 0.5 for low in placed.bounds[:3])
    corner = Intersection((placed, Move(BLOCK, x, y, z)))
    # The mesh is rounded as files round it, to 1e-5 mm.
    assert exact(corner).volume_mm3 == pytest.approx(build(corner).volume_mm3, abs=1e-5 * build(corner).area_mm2)


@pytest.mark.parametrize(("radius", "rolled"), [(3.8, "GeomAbs_SurfaceOfRevolution"), (6.2, "GeomAbs_Torus")])
def test_faces_are_planes_cylinders_cones_and_tori(radius: float, rolled: str) -> None:
    """No free-form surface in a tray with sockets; a torus that would meet itself is a circle that turns."""
    tray = Difference(
        Union((Prism(Rect(40, 30, 5), 20), Move(Taper(Rect(38, 28, 4), 1, -1), x=1, y=1, z=-1))),
        (Move(Bowl(37.6, 27.6, radius, 3, 20), 1.2, 1.2, 1), Move(Taper(Circle(4), 2, 1), 20, 15, -2)),
    )
    shape = exact(tray).shape
    adaptor, cast = occt.occt("BRepAdaptor").BRepAdaptor_Surface, occt.occt("TopoDS").TopoDS
    kinds = {adaptor(cast.Face(face)).GetType().name for face in occt.parts_of(shape, "FACE")}
    assert kinds == {"GeomAbs_Plane", "GeomAbs_Cylinder", "GeomAbs_Cone", rolled}


def test_faces_in_one_plane_are_one() -> None:
    """Flush blocks leave no seam: a box has six faces however it was put together."""
    found = exact(Repeat(BLOCK, ((0, 0), (4, 0), (0, 3), (4, 3))))
    assert len(occt.parts_of(found.shape, "FACE")) == 6


def test_crumbs_do_not_count() -> None:
    """A hollow of a ten-thousandth of a cubic millimetre is dropped by the mesh kernel, and not counted here."""
    crumb = Difference(Prism(Rect(9, 9), 9), (Move(Prism(Rect(0.05, 0.05), 0.05), 2, 2, 2),))
    assert exact(crumb).components == build(crumb).components == 1


def test_a_shared_sub_tree_is_made_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """A tree that names one block a thousand times makes it once."""
    made: list[Solid] = []

    def counted(solid: Solid, outlines: ExactOutlines) -> list[Shape]:
        made.append(solid)
        return exact_leaf(solid, outlines)

    monkeypatch.setattr("nookwright.solids.exact.exact_leaf", counted)
    node: Solid = BLOCK
    for _ in range(4):
        node = Union((node, Named(node, "again")))
    assert ExactKernel().solid(node).volume_mm3 == pytest.approx(24)
    assert made == [BLOCK]


@pytest.mark.parametrize(
    "solid",
    [
        Difference(BLOCK, (Prism(Rect(9, 9), 9),)),
        Intersection((WEDGE, Move(BLOCK, x=3, y=2.5))),
        Difference(BLOCK, (Move(Prism(Circle(9), 9), z=-1),)),
        Intersection((WEDGE, Difference(BLOCK, (Move(Prism(Circle(9), 9), z=-1),)))),
    ],
)
def test_a_solid_that_vanishes_is_an_error_that_names_it(solid: Solid) -> None:
    """Kind and digest of the node of which nothing is left."""
    with pytest.raises(SolidError, match=rf"{solid.kind} {solid.digest[:12]}.*nothing is left"):
        exact(solid)


def test_every_failure_of_the_library_is_one_of_ours(monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever it raises is named with the node at which it happened, deep in the tree, once."""

    def broken(*_: object) -> None:
        raise RuntimeError("Standard_ConstructionError\nwith a second line")

    monkeypatch.setattr("nookwright.solids.exact.exact_leaf", broken)
    with pytest.raises(SolidError, match=rf"^Prism {BLOCK.digest[:12]} .*RuntimeError Standard_ConstructionError$"):
        exact(Union((BLOCK, WEDGE)))


def test_an_invalid_result_is_an_error(monkeypatch: pytest.MonkeyPatch) -> None:
    """What the library itself finds broken is not handed on."""
    monkeypatch.setattr("nookwright.solids.occt.is_valid", lambda _: False)
    with pytest.raises(SolidError, match=r"Prism .*no valid solid"):
        exact(BLOCK)


def test_what_the_kernel_does_not_know_is_an_error() -> None:
    """A solid of a foreign kind is named, not guessed."""

    class Blob(Solid):
        """No kind of ours."""

        @property
        def bounds(self) -> tuple[float, float, float, float, float, float]:
            """Somewhere."""
            return 0.0, 0.0, 0.0, 1.0, 1.0, 1.0

    with pytest.raises(SolidError, match=r"Blob .*knows no such solid"):
        exact(Union((BLOCK, Blob())))


def test_without_the_extra_the_message_says_how_to_get_it(monkeypatch: pytest.MonkeyPatch) -> None:
    """Hidden, the library is missing at the first exact solid, and not before."""
    for name in [name for name in sys.modules if name == "OCP" or name.startswith("OCP.")]:
        monkeypatch.delitem(sys.modules, name)
    monkeypatch.setitem(sys.modules, "OCP", None)
    with pytest.raises(MissingExtraError, match=r'pip install "nookwright\[step\]"') as caught:
        exact(BLOCK)
    assert isinstance(caught.value, ImportError)


def test_the_mesh_kernel_does_not_need_the_extra() -> None:
    """Nothing of the exact library is loaded by meshes, nor by importing this kernel."""
    code = (
        "import sys, nookwright.solids.exact, nookwright.exchange.step\n"
        "from nookwright.solids.mesh import build\nfrom nookwright.shapes.regions import Rect\n"
        "from nookwright.shapes.solids import Prism\nbuild(Prism(Rect(1, 1), 1))\n"
        "print(any(name.split('.')[0] == 'OCP' for name in sys.modules))"
    )
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert ran.stdout == "False\n"


def test_disagreement_says_what_differs() -> None:
    """Volume first, then closed surfaces and handles; nothing where both made the same."""
    mesh = build(BLOCK)
    assert disagreement(mesh, exact(BLOCK)) == ""
    assert disagreement(mesh, exact(Prism(Rect(4, 3), 2.1))).startswith("volume: 24.0000 mm3 as a mesh, 25.2")
    pierced = Difference(BLOCK, (Move(Prism(Rect(0.05, 0.05), 9), 1, 1, -1),))
    assert disagreement(mesh, exact(pierced)) == "closed surfaces and handles: 1 and 0 as a mesh, 1 and 1 exactly"


def test_holes_belong_to_the_face_around_them() -> None:
    """A disc in the hole of a ring in the hole of a plate: three bodies, each with its own hole or none."""
    ring = RegionDifference(Circle(8), (Circle(5),))
    target = RegionMove(RegionDifference(Rect(30, 30), (RegionMove(Circle(10), x=15, y=15),)), x=-15, y=-15)
    found = exact(Prism(RegionUnion((target, ring, Circle(2))), 1))
    assert (found.components, found.genus) == (3, 2)
    assert found.volume_mm3 == pytest.approx(900 - 100 * PI + 39 * PI + 4 * PI, rel=1e-12)
