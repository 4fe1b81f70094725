"""The primitive solids as exact bodies: planes, cylinders, cones, spheres and tori, no free-form surface.

A rolled corner whose fillet is wider than half its radius would be a torus that meets itself; there the library takes
the surface of a circle that turns, which is as exact.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from nookwright.ground.errors import SolidError
from nookwright.shapes.arcs import QUARTER, Side
from nookwright.shapes.boxes import turned_point
from nookwright.shapes.regions import Circle, Rect
from nookwright.shapes.solids import Bowl, Prism, Revolution, Solid, Taper
from nookwright.solids.arrangement import MERGED
from nookwright.solids.edges import Edge, area_of, edge_of, windings
from nookwright.solids.exact_outlines import rect_loop
from nookwright.solids.occt import occt, parts_of, unified
from nookwright.solids.outlines import said

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nookwright.shapes.arcs import Point
    from nookwright.solids.edges import Loop
    from nookwright.solids.exact_outlines import ExactOutlines
    from nookwright.solids.occt import Shape


def exact_leaf(solid: Solid, outlines: ExactOutlines) -> list[Shape]:
    """The bodies of a primitive.

    Raises:
        SolidError: it is no primitive, or nothing is left of its region.
    """
    match solid:
        case Prism(region, height):
            return [_raised(face, height) for face in faces_of(outlines.of(region))]
        case Taper(Circle(radius), height, draw):
            return [_turned(((0.0, 0.0), (radius, 0.0), (radius - draw, height), (0.0, height)))]
        case Taper(Rect() as rect, height, draw):
            return [_rolled(rect, [Edge((0.0, 0.0), (-draw, height))])]
        case Revolution(profile):
            return [_turned(profile)]
        case Bowl():
            return [_rolled(Rect(solid.width, solid.depth, solid.radius), _bowl_profile(solid))]
    raise SolidError(f"{said(solid)}: the exact kernel knows no such solid")


def _bowl_profile(bowl: Bowl) -> list[Edge]:
    """From the floor up: how far outside the rim (inside is negative), and how high."""
    fillet = bowl.fillet
    rolled = [edge_of(Side((-fillet, 0.0), (0.0, fillet), QUARTER))] if fillet else []
    return [*rolled, Edge((0.0, fillet), (0.0, bowl.height))] if bowl.height > fillet else rolled


def faces_of(loops: Sequence[Loop], z: float = 0.0) -> list[Shape]:
    """Flat faces at a height, one for each loop that runs counter-clockwise, with its holes."""
    outer = sorted((loop for loop in loops if area_of(loop) > 0), key=area_of)
    holes: list[list[Loop]] = [[] for _ in outer]
    for loop in loops:
        if area_of(loop) < 0:
            holes[_around(loop, outer)].append(loop)
    return [_face(loop, inside, z) for loop, inside in zip(outer, holes, strict=True)]


def _around(hole: Loop, outer: list[Loop]) -> int:
    """Which of some loops, from the smallest up, is around a hole."""
    point = np.array([hole[0].middle])
    return next(number for number, loop in enumerate(outer) if windings(loop, point)[0])


def _face(outer: Loop, holes: list[Loop], z: float) -> Shape:
    gp, api = occt("gp"), occt("BRepBuilderAPI")
    plane = gp.gp_Pln(gp.gp_Pnt(0, 0, z), gp.gp_Dir(0, 0, 1))
    face = api.BRepBuilderAPI_MakeFace(plane, _wire(outer, z), Inside=True)
    for hole in holes:
        face.Add(_wire(hole, z))
    return face.Face()


def _wire(loop: Loop, z: float) -> Shape:
    """A closed wire whose edges share their ends."""
    made = occt("BRepBuilderAPI").BRepBuilderAPI_MakeWire()
    vertices: dict[Point, Shape] = {}
    for edge in loop:
        for point in (edge.start, edge.end):
            if point not in vertices:
                vertices[point] = _vertex(point, z)
    for edge in loop:
        made.Add(_wire_edge(edge, z, vertices[edge.start], vertices[edge.end]))
    if not made.IsDone():
        raise SolidError(f"no wire from the edges around {loop[0].start}")
    return made.Wire()


def _vertex(point: Point, z: float) -> Shape:
    made = occt("TopoDS").TopoDS_Vertex()
    # Points that were merged may lie off their arcs by this much.
    occt("BRep").BRep_Builder().MakeVertex(made, occt("gp").gp_Pnt(*point, z), float(MERGED))
    return made


def _wire_edge(edge: Edge, z: float, start: Shape, end: Shape) -> Shape:
    gp, make = occt("gp"), occt("BRepBuilderAPI").BRepBuilderAPI_MakeEdge
    if edge.centre is None:
        return make(start, end).Edge()
    axis = gp.gp_Ax2(gp.gp_Pnt(*edge.centre, z), gp.gp_Dir(0, 0, math.copysign(1, edge.swept_rad)), gp.gp_Dir(1, 0, 0))
    return make(gp.gp_Circ(axis, edge.radius), start, end).Edge()


def _raised(face: Shape, height: float) -> Shape:
    body = occt("BRepPrimAPI").BRepPrimAPI_MakePrism(face, occt("gp").gp_Vec(0, 0, height)).Shape()
    return parts_of(body, "SOLID")[0]


def _turned(profile: tuple[tuple[float, float], ...]) -> Shape:
    """A profile of (r, z) turned once round about the z axis."""
    gp, api = occt("gp"), occt("BRepBuilderAPI")
    polygon = api.BRepBuilderAPI_MakePolygon()
    for r, z in profile:
        polygon.Add(gp.gp_Pnt(r, 0, z))
    polygon.Close()
    face = api.BRepBuilderAPI_MakeFace(polygon.Wire(), OnlyPlane=True).Face()
    return parts_of(occt("BRepPrimAPI").BRepPrimAPI_MakeRevol(face, _upright(0.0, 0.0)).Shape(), "SOLID")[0]


def _rolled(rect: Rect, profile: list[Edge]) -> Shape:
    """A rounded rectangle whose wall follows a profile of (how far outside, how high), flat below and above.

    Each edge of the profile is turned about the middles of the four corners, and drawn along the four sides.
    """
    faces = [face for edge in profile for face in _walls(rect, edge)]
    ends = (profile[0].start, profile[-1].end)
    faces += [face for out, z in ends for face in faces_of([rect_loop(rect, -out)], z)]
    return _sewn(faces)


def _walls(rect: Rect, edge: Edge) -> list[Shape]:
    gp, prim, r = occt("gp"), occt("BRepPrimAPI"), rect.radius
    right, back = rect.width - r, rect.depth - r
    found = []
    for turns, (x, y) in enumerate([(right, r), (right, back), (r, back), (r, r)]):
        if max(edge.start[0], edge.end[0]) > -r:
            corner = _upright_edge(edge, r, (x, y), turns - 1)
            found.append(prim.BRepPrimAPI_MakeRevol(corner, _upright(x, y), math.pi / 2).Shape())
        length = (back - r, right - r)[turns % 2]
        if length > 0:
            along = gp.gp_Vec(*turned_point((0.0, length), turns), 0)
            found.append(prim.BRepPrimAPI_MakePrism(_upright_edge(edge, r, (x, y), turns), along).Shape())
    return found


def _upright(x: float, y: float) -> Shape:
    """The vertical axis through a point."""
    gp = occt("gp")
    return gp.gp_Ax1(gp.gp_Pnt(x, y, 0), gp.gp_Dir(0, 0, 1))


def _upright_edge(edge: Edge, radius: float, middle: Point, quarter_turns: int) -> Shape:
    """An edge of a profile in the vertical plane through the middle of a corner, at its radius."""
    gp, make = occt("gp"), occt("BRepBuilderAPI").BRepBuilderAPI_MakeEdge
    out = turned_point((1.0, 0.0), quarter_turns)

    def there(point: Point) -> Shape:
        return gp.gp_Pnt(middle[0] + (radius + point[0]) * out[0], middle[1] + (radius + point[0]) * out[1], point[1])

    if edge.centre is None:
        return make(there(edge.start), there(edge.end)).Edge()
    axis = gp.gp_Ax2(there(edge.centre), gp.gp_Dir(out[1], -out[0], 0), gp.gp_Dir(*out, 0))
    return make(gp.gp_Circ(axis, edge.radius), edge.start_rad, edge.start_rad + edge.swept_rad).Edge()


def _sewn(faces: list[Shape]) -> Shape:
    """A body of faces that meet along their edges."""
    sewing = occt("BRepBuilderAPI").BRepBuilderAPI_Sewing(float(MERGED))
    for face in faces:
        sewing.Add(face)
    sewing.Perform()
    shells = parts_of(sewing.SewedShape(), "SHELL")
    if len(shells) != 1:
        raise SolidError(f"{len(shells)} shells from {len(faces)} faces")
    solid = occt("BRepBuilderAPI").BRepBuilderAPI_MakeSolid(occt("TopoDS").TopoDS.Shell(shells[0])).Solid()
    if not occt("BRepLib").BRepLib.OrientClosedSolid_s(solid):
        raise SolidError(f"{len(faces)} faces leave a gap")
    return unified(solid)
