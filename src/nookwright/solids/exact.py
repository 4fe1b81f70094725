"""Recipes made into exact solids of planes, cylinders, cones, spheres and tori, for STEP files and as a second opinion.

The same recipe goes through a second kernel that shares nothing with the first but the recipe: where both agree, the
mesh is right. It needs the extra ``step``. Names of faces are left out.
"""

from __future__ import annotations

from contextlib import contextmanager
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from nookwright.ground import tolerances
from nookwright.ground.errors import MissingExtraError, SolidError
from nookwright.ground.sources import Fact, Kind
from nookwright.shapes.boxes import shifted, turned_point
from nookwright.shapes.solids import Difference, Intersection, Move, Named, Repeat, Solid, Tip, Union
from nookwright.solids import occt as library
from nookwright.solids.exact_leaves import exact_leaf
from nookwright.solids.exact_outlines import ExactOutlines, are_apart
from nookwright.solids.exact_tiles import tiles
from nookwright.solids.occt import boolean, compound, occt, parts_of, unified
from nookwright.solids.outlines import said

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from nookwright.shapes.boxes import Box3
    from nookwright.solids.occt import Shape


SAME = Fact(
    1e-9, unit="1", kind=Kind.CHOICE, source="Of the volume: what joining faces may change; integrals do 1e-13."
)


@dataclass(frozen=True, eq=False)
class ExactSolid:
    """One body or more; ``shape`` is the library's own."""

    shape: Shape

    @cached_property
    def volume_mm3(self) -> float:
        """The volume."""
        return library.volume_of(self.shape)

    @cached_property
    def area_mm2(self) -> float:
        """The area of the surface."""
        return library.area_of(self.shape)

    @cached_property
    def bounds(self) -> Box3:
        """The box around it."""
        return library.box_of(self.shape)

    @cached_property
    def _surfaces(self) -> tuple[Shape, ...]:
        """Its closed surfaces, but for crumbs, which the mesh kernel drops as well."""
        shells = parts_of(self.shape, "SHELL")
        if len(shells) == 1:  # integrals take their time
            return tuple(shells) if abs(self.volume_mm3) >= tolerances.SHARED_VOLUME_MM3 else ()
        return tuple(shell for shell in shells if abs(library.volume_of(shell)) >= tolerances.SHARED_VOLUME_MM3)

    @property
    def components(self) -> int:
        """How many closed surfaces it has; a hollow without an opening counts as one more."""
        return len(self._surfaces)

    @cached_property
    def genus(self) -> int:
        """How many handles its surfaces have together.

        By Euler and Poincaré: V - E + F - (loops - F) = 2 - 2 genus for each. An edge without extent, at the tip of a
        cone, is none.
        """
        return sum(1 - _euler(shell) // 2 for shell in self._surfaces)

    @cached_property
    def valid(self) -> bool:
        """Whether the library itself finds nothing wrong with it."""
        return library.is_valid(self.shape)


def _euler(shell: Shape) -> int:
    """Vertices less edges, more faces, less the loops beyond one on each face."""
    tool, cast = occt("BRep").BRep_Tool, occt("TopoDS").TopoDS
    faces = parts_of(shell, "FACE")
    edges = sum(not tool.Degenerated_s(cast.Edge(edge)) for edge in parts_of(shell, "EDGE"))
    loops = sum(len(parts_of(face, "WIRE")) for face in faces)
    return len(parts_of(shell, "VERTEX")) - edges + 2 * len(faces) - loops


def exact(solid: Solid) -> ExactSolid:
    """The exact solid of a recipe.

    Raises:
        SolidError: nothing is left of it, or the kernel failed; the message names the node.
        MissingExtraError: the extra ``step`` is not installed.
    """
    return ExactKernel().solid(solid)


class ExactKernel:
    """Makes exact solids, each distinct sub-tree once."""

    def __init__(self) -> None:
        self._outlines = ExactOutlines()
        self._made: dict[str, list[Shape]] = {}

    def solid(self, solid: Solid) -> ExactSolid:
        """The exact solid of a recipe.

        Raises:
            SolidError: nothing is left of it, or the kernel failed; the message names the node.
            MissingExtraError: the extra ``step`` is not installed.
        """
        glued = self._glued(solid)
        bodies = glued or self._bodies(solid)
        if not bodies:
            raise SolidError(f"{said(solid)}: nothing is left of this solid")
        with _naming(solid):
            bodies = [_settled(body) for body in bodies]
            return _sound(bodies[0] if len(bodies) == 1 else compound(bodies), in_tiles=bool(glued))

    def _glued(self, solid: Solid) -> list[Shape]:
        """The bodies of a solid that is made in tiles, none where it is better made whole."""
        with _naming(solid):
            parts = tiles(solid, self._outlines.holds)
        bodies = [_settled(body) for part in parts for body in self._bodies(part)]
        with _naming(solid):
            return boolean("Fuse", bodies[:1], bodies[1:], glued=True) if bodies else []

    def _bodies(self, solid: Solid) -> list[Shape]:
        if solid.digest not in self._made:
            inner = [self._bodies(each) for each in _inside(solid)]
            with _naming(solid):
                self._made[solid.digest] = self._make(solid, inner)
        return self._made[solid.digest]

    def _make(self, solid: Solid, inner: list[list[Shape]]) -> list[Shape]:
        match solid:
            case Named():
                return inner[0]
            case Move() | Tip():
                return [_placed(body, _placing(solid)) for body in inner[0]]
            case Repeat(one, places):
                copies = [[_placed(body, _shift(x, y)) for body in inner[0]] for x, y in places]
                return _fused(copies, [shifted(one.bounds, (*place, 0.0)) for place in places])
            case Union() | Difference() | Intersection():
                return _combined(solid, inner)
        return exact_leaf(solid, self._outlines)


def _sound(shape: Shape, *, in_tiles: bool) -> ExactSolid:
    """The shape with its faces joined where that leaves it as it was, otherwise as it is.

    Args:
        shape: as the booleans left it.
        in_tiles: its faces are small as yet. Once joined, the library would take long to check them: it goes round all
            openings of a face for each of its edges. So they are checked before, and surface and handles after.
    """
    plain, joined = ExactSolid(shape), ExactSolid(unified(shape))
    same = abs(joined.volume_mm3 - plain.volume_mm3) <= SAME * plain.volume_mm3
    same = same and joined.components == plain.components
    if in_tiles and plain.valid:
        same = same and abs(joined.area_mm2 - plain.area_mm2) <= SAME * plain.area_mm2
        return joined if same and joined.genus == plain.genus else plain
    found = joined if same and joined.valid else plain
    if not found.valid:
        raise SolidError("the result is no valid solid")
    return found


def _inside(solid: Solid) -> tuple[Solid, ...]:
    """The solids that a node is made from."""
    match solid:
        case Named(inner) | Move(inner) | Tip(inner) | Repeat(inner):
            return (inner,)
        case Union(solids) | Intersection(solids):
            return solids
        case Difference(base, cuts):
            return (base, *cuts)
    return ()


@contextmanager
def _naming(solid: Solid) -> Iterator[None]:
    """Every failure of the library becomes one of ours that names the node."""
    try:
        yield
    except MissingExtraError:
        raise
    except SolidError as error:
        if str(error).startswith(solid.kind):
            raise
        raise SolidError(f"{said(solid)}: the exact kernel says: {error}") from error
    except Exception as error:  # the library raises whatever it likes
        reason = str(error).partition("\n")[0]
        raise SolidError(f"{said(solid)}: the exact kernel says: {type(error).__name__} {reason}") from error


def _combined(solid: Union | Difference | Intersection, inner: list[list[Shape]]) -> list[Shape]:
    match solid:
        case Union(solids):
            return _fused(inner, [each.bounds for each in solids])
        case Difference():
            cuts = [body for bodies in inner[1:] for body in bodies]
            return boolean("Cut", inner[0], cuts) if inner[0] and cuts else inner[0]
        case Intersection():
            return _common(inner)


def _fused(groups: Sequence[list[Shape]], boxes: list[Box3]) -> list[Shape]:
    """All bodies as one region of space; no work where none can touch another."""
    bodies = [body for group in groups for body in group]
    if len(bodies) == 1 or are_apart(boxes):
        return bodies
    return boolean("Fuse", bodies[:1], bodies[1:])


def _common(groups: list[list[Shape]]) -> list[Shape]:
    bodies = groups[0]
    for group in groups[1:]:
        bodies = boolean("Common", bodies, group) if bodies and group else []
    return bodies


def _placed(body: Shape, placing: Shape) -> Shape:
    return body.Moved(occt("TopLoc").TopLoc_Location(placing))


def _settled(body: Shape) -> Shape:
    """A body whose place is in its numbers, not in a note beside them."""
    place = body.Location()
    if place.IsIdentity():
        return body
    plain = body.Located(occt("TopLoc").TopLoc_Location())
    return occt("BRepBuilderAPI").BRepBuilderAPI_Transform(plain, place.Transformation(), theCopyGeom=True).Shape()


def _shift(x: float, y: float) -> Shape:
    gp = occt("gp")
    placing = gp.gp_Trsf()
    placing.SetTranslation(gp.gp_Vec(x, y, 0))
    return placing


def _placing(solid: Solid) -> Shape:
    """How a node places what is inside it; quarter turns without rounding."""
    match solid:
        case Move(_, x, y, z, turns):
            (right_x, right_y), (back_x, back_y) = turned_point((1, 0), turns), turned_point((0, 1), turns)
            rows = (right_x, back_x, 0, x, right_y, back_y, 0, y, 0, 0, 1, z)
        case Tip(_, "x"):
            rows = (1, 0, 0, 0, 0, 0, -1, 0, 0, 1, 0, 0)
        case _:
            rows = (0, 0, 1, 0, 0, 1, 0, 0, -1, 0, 0, 0)
    placing = occt("gp").gp_Trsf()
    placing.SetValues(*map(float, rows))
    return placing
