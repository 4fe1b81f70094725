"""The exact geometry library (Open CASCADE), fetched when it is needed, and what we ask of it again and again.

It comes with the extra ``step``. Its modules are looked up by name, so that nothing of it is imported, and nobody needs
it, unless an exact solid is made.
"""

from __future__ import annotations

import importlib
import sys
from functools import cache
from typing import TYPE_CHECKING, Any

from nookwright.ground.errors import MissingExtraError, SolidError

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from nookwright.shapes.boxes import Box3

Shape = Any  # a body of the library's own


def occt(name: str) -> Any:  # noqa: ANN401 - the library publishes no types that a checker could use
    """One of the library's modules.

    Raises:
        MissingExtraError: the extra is not installed.
    """
    known = sys.modules.get(f"OCP.{name}")  # asked for once an edge: importing it again would take longer than the edge
    if known is not None and _quiet.cache_info().currsize:
        return known
    try:
        _quiet()
        return importlib.import_module(f"OCP.{name}")
    except ImportError as error:
        raise MissingExtraError(
            f'exact solids and STEP files need the extra "step" (OCP.{name} is not there); '
            'install it with: pip install "nookwright[step]"'
        ) from error


@cache
def _quiet() -> None:
    """Take the library's printers away: they write to standard output, where only answers belong."""
    message = importlib.import_module("OCP.Message")
    messenger = message.Message.DefaultMessenger_s()
    messenger.RemovePrinters(message.Message_Printer.get_type_descriptor_s())


def listed(shapes: Iterable[Shape]) -> Any:  # noqa: ANN401
    """A list of the library's own."""
    found = occt("collections").List_TopoDS_Shape()
    for shape in shapes:
        found.Append(shape)
    return found


def parts_of(shape: Shape, kind: str) -> list[Shape]:
    """The distinct parts of a shape of one kind, such as ``SOLID``, ``SHELL``, ``FACE``, ``WIRE``, ``EDGE``."""
    found = occt("collections").IndexedMap_TopoDS_Shape_TopTools_ShapeMapHasher()
    kinds = occt("TopAbs").TopAbs_ShapeEnum
    occt("TopExp").TopExp.MapShapes_s(shape, getattr(kinds, f"TopAbs_{kind}"), found)
    return [found.FindKey(number + 1) for number in range(found.Extent())]


def boolean(operation: str, arguments: Sequence[Shape], tools: Sequence[Shape], *, glued: bool = False) -> list[Shape]:
    """The solids that a boolean leaves.

    Args:
        operation: ``Fuse``, ``Cut`` or ``Common``.
        arguments: solids that do not overlap.
        tools: any solids.
        glued: the solids meet in whole faces, and nowhere else.

    Raises:
        SolidError: the library gave up.
    """
    made = getattr(occt("BRepAlgoAPI"), f"BRepAlgoAPI_{operation}")()
    made.SetArguments(listed(arguments))
    made.SetTools(listed(tools))
    made.SetRunParallel(thFlag=False)
    made.SetNonDestructive(theFlag=True)
    if glued:
        made.SetGlue(occt("BOPAlgo").BOPAlgo_GlueEnum.BOPAlgo_GlueFull)
    made.Build()
    if not made.IsDone() or made.Shape().IsNull():
        raise SolidError(f"the {operation} failed")
    return parts_of(made.Shape(), "SOLID")


def unified(shape: Shape) -> Shape:
    """The shape with faces and edges joined that lie on one surface or curve.

    The library now and then spoils a shape at that: see that it is still valid, and as large as before.
    """
    join = occt("ShapeUpgrade").ShapeUpgrade_UnifySameDomain(shape, UnifyEdges=True, UnifyFaces=True)
    join.Build()
    return join.Shape()


def compound(shapes: Sequence[Shape]) -> Shape:
    """Several shapes as one."""
    made = occt("TopoDS").TopoDS_Compound()
    builder = occt("BRep").BRep_Builder()
    builder.MakeCompound(made)
    for shape in shapes:
        builder.Add(made, shape)
    return made


def volume_of(shape: Shape) -> float:
    """The volume, mm3."""
    found = occt("GProp").GProp_GProps()
    occt("BRepGProp").BRepGProp.VolumeProperties_s(shape, found)
    return float(found.Mass())


def area_of(shape: Shape) -> float:
    """The area of the surface, mm2."""
    found = occt("GProp").GProp_GProps()
    occt("BRepGProp").BRepGProp.SurfaceProperties_s(shape, found)
    return float(found.Mass())


def box_of(shape: Shape) -> Box3:
    """The box around it."""
    box = occt("Bnd").Bnd_Box()
    occt("BRepBndLib").BRepBndLib.AddOptimal_s(shape, box, useTriangulation=False, useShapeTolerance=False)
    low, high = box.CornerMin(), box.CornerMax()
    gap = box.GetGap()
    return (
        low.X() + gap, low.Y() + gap, low.Z() + gap, high.X() - gap, high.Y() - gap, high.Z() - gap,
    )  # fmt: skip


def is_valid(shape: Shape) -> bool:
    """Whether the library itself finds nothing wrong with it."""
    return bool(occt("BRepCheck").BRepCheck_Analyzer(shape).IsValid())
