"""Trees of upright bodies cut into slabs: between two heights at which something begins or ends, all is one region.

So a boolean of prisms is a boolean of regions, slab by slab. A taper fits in where nothing else is in its slab.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, TypeAlias

import numpy as np

from nookwright.ground.sources import Fact, Kind
from nookwright.shapes.boxes import turned_point
from nookwright.shapes.regions import Rect
from nookwright.shapes.solids import Bowl, Difference, Intersection, Move, Prism, Repeat, Solid, Taper, Union
from nookwright.solids.leaves import taper_rings
from nookwright.solids.outlines import common, on_grid, overlaid, tidied

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from nookwright.solids.outlines import Outlines

    Array = NDArray[np.float64]

MOST_SLABS = Fact(
    12, unit="1", kind=Kind.CHOICE, source="Each costs its own booleans of regions; most parts have three to six."
)
_DECIMALS = 9  # of heights: sums of numbers on the grid, without their noise


@dataclass(frozen=True, eq=False)
class Slab:
    """What is between two heights.

    Attributes:
        bottom: its lower height.
        top: its upper height.
        low: contours at the bottom.
        high: contours at the top, point by point above those at the bottom; the same ones where walls are upright.
    """

    bottom: float
    top: float
    low: list[Array]
    high: list[Array]

    @property
    def upright(self) -> bool:
        """Whether its walls are."""
        return self.low is self.high


@dataclass(frozen=True, eq=False)
class _Loft:
    low: Array
    high: Array


class _MixedError(Exception):
    """A taper has company."""


_Slice: TypeAlias = "list[Array] | _Loft"


class Slicer:
    """Cuts solids into slabs at one tolerance."""

    def __init__(self, outlines: Outlines, tolerance: float) -> None:
        self._outlines = outlines
        self._tolerance = tolerance
        self._levels: dict[str, frozenset[float] | None] = {}

    def slabs_of(self, solid: Solid) -> list[Slab] | None:
        """The slabs of a solid from the bottom up, or nothing where it is not made of upright bodies alone."""
        levels = self._levels_of(solid)
        if levels is None or not 0 < len(levels) - 1 <= MOST_SLABS:
            return None
        slabs = []
        for low, high in pairwise(sorted(levels)):
            try:
                found = _Level(self._outlines, self._tolerance).of(solid, (low + high) / 2)
            except _MixedError:
                return None
            slabs.append(_slab(low, high, found))
        return slabs

    def _levels_of(self, solid: Solid) -> frozenset[float] | None:
        """The heights at which something in it begins or ends; nothing where it has other than upright bodies."""
        if solid.digest not in self._levels:
            self._levels[solid.digest] = self._found(solid)
        return self._levels[solid.digest]

    def _found(self, solid: Solid) -> frozenset[float] | None:
        match solid:
            case Prism(height=height) | Taper(height=height) | Bowl(height=height, fillet=0.0):
                return frozenset((0.0, height))
            case Move(inner, z=z):
                levels = self._levels_of(inner)
                return None if levels is None else frozenset(round(level + z, _DECIMALS) for level in levels)
            case Repeat(inner):
                return self._levels_of(inner)
            case Union(solids) | Intersection(solids):
                inside = solids
            case Difference(base, cuts):
                inside = (base, *cuts)
            case _:
                return None
        found = [self._levels_of(each) for each in inside]
        known = [levels for levels in found if levels is not None]
        return frozenset().union(*known) if len(known) == len(found) else None


def _slab(low: float, high: float, found: _Slice) -> Slab:
    if isinstance(found, _Loft):
        return Slab(low, high, [on_grid(found.low)], [on_grid(found.high)])
    contours = tidied(found)
    return Slab(low, high, contours, contours)


class _Level:
    """Level cuts through solids, each distinct sub-tree once at each height."""

    def __init__(self, outlines: Outlines, tolerance: float) -> None:
        self._outlines = outlines
        self._tolerance = tolerance
        self._made: dict[tuple[str, float], _Slice] = {}

    def of(self, solid: Solid, z: float) -> _Slice:
        """The region of a solid at a height; no contours where it is not there."""
        key = (solid.digest, z)
        if key not in self._made:
            self._made[key] = self._cut(solid, z)
        return self._made[key]

    def _cut(self, solid: Solid, z: float) -> _Slice:
        match solid:
            case Prism(height=height) | Taper(height=height) | Bowl(height=height):
                return self._primitive(solid) if 0 < z < height else []
            case Move(inner, x, y, up, turns):
                return _moved(self.of(inner, z - up), x, y, turns)
            case Repeat(inner, places):
                one = self.of(inner, z)
                return _overlaid([_moved(one, x, y, 0) for x, y in places])
            case Union(solids):
                return _overlaid([self.of(each, z) for each in solids])
            case Difference(base, cuts):
                return _overlaid([self.of(base, z)], [self.of(each, z) for each in cuts])
            case Intersection(solids):
                return common([_contours(self.of(each, z)) for each in solids])
        raise _MixedError

    def _primitive(self, solid: Prism | Taper | Bowl) -> _Slice:
        match solid:
            case Prism(region):
                return self._outlines.of(region)
            case Taper():
                return _Loft(*taper_rings(solid, self._tolerance))
            case Bowl(width, depth, radius):
                return self._outlines.of(Rect(width, depth, radius))


def _moved(found: _Slice, x: float, y: float, turns: int) -> _Slice:
    (right_x, right_y), (back_x, back_y) = turned_point((1.0, 0.0), turns), turned_point((0.0, 1.0), turns)
    across, shift = np.array([[right_x, right_y], [back_x, back_y]]), np.array([x, y])
    if isinstance(found, _Loft):
        return _Loft(found.low @ across + shift, found.high @ across + shift)
    return [contour @ across + shift for contour in found]


def _overlaid(added: Sequence[_Slice], cuts: Sequence[_Slice] = ()) -> _Slice:
    there, gone = [each for each in added if each], [each for each in cuts if each]
    if len(there) + len(gone) < 2 or not there:  # noqa: PLR2004 - one is what it is
        return there[0] if there else []
    return overlaid([_contours(each) for each in there], [_contours(each) for each in gone])


def _contours(found: _Slice) -> list[Array]:
    if isinstance(found, _Loft):
        raise _MixedError
    return found
