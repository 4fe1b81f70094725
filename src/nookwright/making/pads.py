"""Pads: thin discs at the corners of large pieces, in the first layer only, that hold them down and are torn off after.

What is printed shrinks as it cools, and pulls its corners up; the longer it is, the more. A pad is a brim where it
counts: it lies beside the first layer and touches it, with nothing of the piece in it. Pads may lie in the margin of a
bed; where there is no room for them, a piece is printed without, and the kit says so.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nookwright.cutting.bed_space import beds_of
from nookwright.ground.sources import Fact, Kind
from nookwright.solids.triangles import Mesh
from nookwright.survey.first_layer_wishes import Pads
from nookwright.survey.plastic_sheet import PlasticKind

if TYPE_CHECKING:
    from collections.abc import Sequence

    from manifold3d import CrossSection
    from numpy.typing import NDArray

    from nookwright.making.beds.model import Contours
    from nookwright.survey.models import Material, Printer

    Array = NDArray[np.float64]

RADIUS = Fact(8.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="Discs of 10 to 20 across are glued under corners.")
LEAST = Fact(4.0, unit="mm", kind=Kind.CHOICE, source="Less round a corner holds no better than the corner itself.")
LONG = Fact(
    250.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="PLA and PETG lift corners of what is longer, at times."
)
LONG_IF_SHRINKING = Fact(100.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="ABS and ASA do so far earlier.")
SHRINKING_G_CM3 = Fact(
    1.16, unit="g/cm3", kind=Kind.COMMON_PRACTICE, source="ABS has 1.04, ASA 1.07; PLA 1.24, PETG 1.27."
)
HAND = Fact(80.0, unit="mm", kind=Kind.CHOICE, source="Shorter pieces get none even where all should: they stay down.")
ROOM = Fact(
    0.5, unit="mm", kind=Kind.CHOICE, source="Added to pads while they are nested: their corner is a little off."
)
CRUMB_MM2 = Fact(2.0, unit="mm2", kind=Kind.CHOICE, source="What is left of a disc that is smaller holds nothing.")
TENTHS = Fact(10, unit="1", kind=Kind.CHOICE, source="Pieces are nested in tenths of a mm.")
_SIDES = 48  # of a disc
_CORNERS = np.array([(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)])


@dataclass(frozen=True, eq=False)
class CornerPads:
    """The pads of one copy of a piece.

    Attributes:
        mesh: in the axes of the piece; it reaches beyond its box.
        area_mm2: of all of them.
        count: how many there are; two that meet are one.
    """

    mesh: Mesh
    area_mm2: float
    count: int


def wants_pads(material: Material, longest: float) -> bool:
    """Whether pieces get pads where there is room for them.

    Args:
        material: that they are printed in.
        longest: their longest side on the bed, mm.
    """
    if material.pads is Pads.NEVER:
        return False
    return longest > (HAND if material.pads is Pads.ALWAYS else pads_from(material))


def pads_from(material: Material) -> float:
    """The length from which pieces of a material get pads, mm."""
    if material.pads_from is not None:
        return material.pads_from
    if material.plastic is not None:
        shrinks = material.plastic in {PlasticKind.ABS, PlasticKind.ASA}
    else:
        shrinks = material.density_g_cm3 < SHRINKING_G_CM3
    return float(LONG_IF_SHRINKING if shrinks else LONG)


def pad_reach(printer: Printer, width: float, depth: float) -> float:
    """How far pads reach beyond a piece's box on a printer, mm; 0 where there is no room, or a brim does the same.

    Args:
        printer: whose bed it is.
        width: of the piece, mm.
        depth: of the piece, mm.
    """
    if printer.profile.brim:
        return 0.0
    if printer.keep_out or printer.one_by_one:
        beds = [(bed.width, bed.depth) for bed in beds_of(printer)]
    else:
        beds = [(printer.bed_width, printer.bed_depth)]
    sides = sorted((width, depth))
    rooms = [min(bed - side for bed, side in zip(sorted(one), sides, strict=True)) / 2 for one in beds]
    reach = math.floor(round(min(float(RADIUS), max(rooms)) * TENTHS, 6)) / TENTHS
    return reach if reach >= LEAST else 0.0


def sides_with_pads(printer: Printer, width: float, depth: float, reach: float) -> tuple[float, float]:
    """Width and depth that a piece with its pads is nested with, less what of the pads may lie in the margin, mm.

    Args:
        printer: whose bed it is.
        width: of the piece, mm.
        depth: of the piece, mm.
        reach: of its pads, mm.
    """
    if not reach:
        return width, depth
    inside = sorted(
        math.floor(round((side - 2 * printer.margin) * TENTHS, 6)) / TENTHS
        for side in (printer.bed_width, printer.bed_depth)
    )
    small, large = sorted((width, depth))
    small, large = (max(side, min(side + 2 * reach, most)) for side, most in zip((small, large), inside, strict=True))
    return (small, large) if width <= depth else (large, small)


def corners_of(points: Array) -> Array:
    """The points that reach furthest into the four corners, (4, 2).

    Args:
        points: (n, 2), of an outline.
    """
    found: Array = points[np.argmax(points @ _CORNERS.T, axis=0)]
    return found


def with_pads(contours: Contours, reach: float, sides: tuple[float, float]) -> Contours:
    """An outline with its pads, in the middle of the box that it is nested with.

    Args:
        contours: of the piece, its box at the origin, mm.
        reach: of its pads, mm.
        sides: width and depth of the box that it is nested with, mm.
    """
    from manifold3d import CrossSection, FillRule

    outline = CrossSection([np.asarray(one, np.float64) for one in contours], FillRule.NonZero)
    low_x, low_y, high_x, high_y = outline.bounds()
    whole = outline + _discs(np.concatenate([np.asarray(one) for one in contours]), reach + ROOM)
    off = (sides[0] - high_x - low_x) / 2, (sides[1] - high_y - low_y) / 2
    found: Contours = (whole.translate(off) ^ CrossSection.square(sides)).to_polygons()
    return found


def corner_pads(mesh: Mesh, reach: float, layer: float) -> CornerPads:
    """The pads of a piece: discs at its corners, less its first layer and all that this encloses.

    Args:
        mesh: of the piece, as it lies, its box at the origin.
        reach: radius of the discs, mm.
        layer: height of the first layer, mm.
    """
    from manifold3d import CrossSection, FillRule, Manifold
    from manifold3d import Mesh64 as Triangles

    body = Manifold(Triangles(np.array(mesh.vertices), np.array(mesh.triangles, np.uint64)))
    outline = [one for one in body.slice(layer / 2).to_polygons() if _area(one) > 0]
    discs = _discs(np.concatenate(outline), reach) - CrossSection(outline, FillRule.NonZero)
    (x0, y0, _), (x1, y1, _) = mesh.vertices.min(axis=0).tolist(), mesh.vertices.max(axis=0).tolist()
    most = CrossSection.square((x1 - x0 + 2 * reach, y1 - y0 + 2 * reach)).translate((x0 - reach, y0 - reach))
    pads = [one for one in (discs ^ most).decompose() if one.area() > CRUMB_MM2]
    made = CrossSection.compose(pads).extrude(layer).to_mesh64()
    return CornerPads(
        Mesh(np.array(made.vert_properties)[:, :3].copy(), np.array(made.tri_verts).astype(np.uint32)),
        sum(one.area() for one in pads),
        len(pads),
    )


def _discs(points: Array, radius: float) -> CrossSection:
    """Discs at the corners of an outline."""
    from manifold3d import CrossSection

    disc = CrossSection.circle(radius, _SIDES)
    discs: Sequence[CrossSection] = [disc.translate((x, y)) for x, y in corners_of(points).tolist()]
    whole = discs[0]
    for one in discs[1:]:
        whole += one
    return whole


def _area(contour: Array) -> float:
    x, y = contour[:, 0], contour[:, 1]
    return float((x * np.roll(y, -1) - np.roll(x, -1) * y).sum() / 2)
