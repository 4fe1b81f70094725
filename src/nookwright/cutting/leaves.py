"""The boxes of all leaves of a recipe, and which of them take material away."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.shapes.boxes import Box2, Box3, shifted, turned
from nookwright.shapes.regions import RegionDifference, RegionMove, RegionRepeat, RegionUnion
from nookwright.shapes.solids import Difference, Intersection, Move, Named, Prism, Repeat, Tip, Union

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.shapes.regions import Region
    from nookwright.shapes.solids import Solid

Leaf = tuple[Box3, bool]


def leaves(solid: Solid, *, cutter: bool = False) -> Iterator[Leaf]:
    """The box of each leaf in the axes of the whole, and whether it is a cutter.

    Args:
        solid: the recipe.
        cutter: whether the whole is one.
    """
    match solid:
        case Union(members) | Intersection(members):
            for member in members:
                yield from leaves(member, cutter=cutter)
        case Difference(base, cuts):
            yield from leaves(base, cutter=cutter)
            for cut in cuts:
                yield from leaves(cut, cutter=not cutter)
        case Repeat(inner, places):
            for box, cuts_away in leaves(inner, cutter=cutter):
                yield from ((shifted(box, (x, y, 0.0)), cuts_away) for x, y in places)
        case Move(inner) | Tip(inner) | Named(inner):
            yield from ((_carried(solid, box), cuts_away) for box, cuts_away in leaves(inner, cutter=cutter))
        case Prism(region, height):
            yield from (((x0, y0, 0.0, x1, y1, height), away) for (x0, y0, x1, y1), away in _outlines(region, cutter))
        case _:
            yield solid.bounds, cutter


def _outlines(region: Region, cutter: bool) -> Iterator[tuple[Box2, bool]]:  # noqa: FBT001 - said by the caller
    """The same of a region."""
    match region:
        case RegionUnion(members):
            for member in members:
                yield from _outlines(member, cutter)
        case RegionDifference(base, cuts):
            yield from _outlines(base, cutter)
            for cut in cuts:
                yield from _outlines(cut, not cutter)
        case RegionRepeat(inner, places):
            yield from ((shifted(box, place), away) for box, away in _outlines(inner, cutter) for place in places)
        case RegionMove(inner):
            for box, away in _outlines(inner, cutter):
                yield shifted(turned(box, region.quarter_turns), (region.x, region.y)), away
        case _:
            yield region.bounds, cutter


def _carried(solid: Move | Tip | Named, box: Box3) -> Box3:
    """A box moved as a solid is."""
    x0, y0, z0, x1, y1, z1 = box
    match solid:
        case Move():
            left, front, right, back = turned((x0, y0, x1, y1), solid.quarter_turns)
            return shifted((left, front, z0, right, back, z1), (solid.x, solid.y, solid.z))
        case Tip(_, "x"):
            return x0, -z1, y0, x1, -z0, y1
        case Tip():
            return z0, y0, -x1, z1, y1, -x0
    return box
