"""Slabs made into triangles directly: walls along their contours, and a face wherever a region changes.

A wall goes up as far as its contour stays. Where the contours of two slabs differ, the face between them is all of the
one region that is not in the other; that one holds the other is not assumed but found: only then is every triangle of
the face the right way round. A stack for which something does not come out so is left to booleans in space.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from nookwright.solids.contours import chained, filled
from nookwright.solids.outlines import on_grid
from nookwright.solids.slices import Slab
from nookwright.solids.stamps import Triangles
from nookwright.solids.triangles import WRITTEN

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    Array = NDArray[np.float64]
    Codes = NDArray[np.int64]
    Splits = dict[tuple[int, int], list[int]]

_BITS = 27  # of a coordinate: 1342 mm in steps of WRITTEN, half of it on each side of 0
_HALF, _MASK = 1 << (_BITS - 1), (1 << _BITS) - 1
_LEVEL_BITS = 8
_ON_LINE = 2 * float(WRITTEN)  # how far a point that was rounded to the grid may be off a line between two such


def stacked(slabs: Sequence[Slab]) -> Triangles | None:
    """The closed surface around slabs, or nothing where it is not as simple as that.

    Args:
        slabs: from the bottom up, without gaps.
    """
    try:
        return _built(slabs)
    except _NotSimpleError:
        return None


class _NotSimpleError(Exception):
    """Nothing is there, or regions touch themselves, or neither of two holds the other, or numbers are too large."""


@dataclass(frozen=True, eq=False)
class _Tube:
    """A wall that has begun.

    Attributes:
        low: codes of its contour at its bottom.
        high: those at its top, one by one.
        level: number of the height of its bottom.
        splits: points let into its lower edges.
    """

    low: Codes
    high: Codes
    level: int
    splits: Splits


@dataclass(eq=False)
class _Soup:
    """Triangles as they come, over points that are given again wherever they are used."""

    codes: list[Codes] = field(default_factory=list)
    faces: list[Codes] = field(default_factory=list)
    count: int = 0

    def add(self, codes: Codes, faces: Codes) -> None:
        """Points, and triangles over them."""
        self.codes.append(codes)
        self.faces.append(faces + self.count)
        self.count += len(codes)


def _built(slabs: Sequence[Slab]) -> Triangles:
    soup = _Soup()
    tubes: dict[bytes, _Tube] = {}
    upright = False
    for level, slab in enumerate([*slabs, Slab(slabs[-1].top, slabs[-1].top, [], [])]):
        pairs = _coded(slab)
        new = {_key(low): (low, high) for low, high in pairs}
        gone = [tube.high for key, tube in tubes.items() if key not in new]
        come = [low for key, (low, _) in new.items() if key not in tubes]
        splits = _face(soup, gone, come, level)
        going_on = upright and slab.upright
        for key, tube in tubes.items():
            if not (going_on and key in new):
                _wall(soup, tube, level, splits)
        begun = {key: _Tube(low, high, level, splits) for key, (low, high) in new.items()}
        kept = {key: tube for key, tube in tubes.items() if going_on and key in new}
        tubes = {_key(tube.high): tube for tube in (kept.get(key, tube) for key, tube in begun.items())}
        upright = slab.upright
    return _welded(soup, np.array([slabs[0].bottom, *(slab.top for slab in slabs)]))


def _coded(slab: Slab) -> list[tuple[Codes, Codes]]:
    """Contours of a slab as codes, at its bottom and at its top."""
    if not slab.low:
        return []
    low = _code(slab.low)
    return list(zip(low, low if slab.upright else _code(slab.high), strict=True))


def _code(contours: list[Array]) -> list[Codes]:
    """One whole number for each point, no two of them the same."""
    steps = np.rint(np.concatenate(contours) / float(WRITTEN)).astype(np.int64) + _HALF
    if not 0 <= steps.min() <= steps.max() <= _MASK:
        raise _NotSimpleError
    codes = steps[:, 0] << _BITS | steps[:, 1]
    if len(np.unique(codes)) < len(codes):
        raise _NotSimpleError
    return np.split(codes, np.cumsum([len(contour) for contour in contours])[:-1])


def _place(codes: Codes) -> Array:
    """The points of codes."""
    steps = np.stack([codes >> _BITS, codes & _MASK], axis=-1) - _HALF
    return on_grid(steps * float(WRITTEN))


def _key(contour: Codes) -> bytes:
    """The same for equal contours, wherever they begin."""
    first = int(np.argmin(contour))
    return contour[first:].tobytes() + contour[:first].tobytes()


def _face(soup: _Soup, below: list[Codes], above: list[Codes], level: int) -> Splits:
    """The face between two regions of which one holds the other, told by those of their contours that differ.

    Returns:
        The points that must be let into edges of their contours: corners of the one on edges of the other.
    """
    if not below and not above:
        return {}
    edges = [_edges(below), _edges(above)]
    splits = _splits(edges[0], edges[1]) | _splits(edges[1], edges[0])
    (starts, ends), (other_starts, other_ends) = (_split(each, splits) for each in edges)
    # Where the regions share an edge there is no face beside it; the rest of the inner one's edges run backwards.
    starts, ends = np.concatenate([starts, other_ends]), np.concatenate([ends, other_starts])
    codes, numbers = np.unique(np.concatenate([starts, ends]), return_inverse=True)
    starts, ends = np.split(numbers, 2)
    there, back = starts * len(codes) + ends, ends * len(codes) + starts
    lone = ~np.isin(there, back)
    if not lone.any():
        return splits
    starts, ends, points = starts[lone], ends[lone], _place(codes)
    contours = chained(starts, ends)
    way = 1 if _turns(points[starts], points[ends]).sum() > 0 else -1
    faces = filled(points, [contour[::way] for contour in contours])
    a, b, c = (points[faces[:, n]] for n in range(3))
    if _turns(b - a, c - a).min() < -_ON_LINE * np.ptp(points):
        raise _NotSimpleError
    soup.add(codes << _LEVEL_BITS | level, faces[:, ::way])
    return splits


def _edges(contours: list[Codes]) -> tuple[Codes, Codes]:
    """Starts and ends."""
    if not contours:
        return np.empty(0, dtype=np.int64), np.empty(0, dtype=np.int64)
    return np.concatenate(contours), np.concatenate(
        [part for contour in contours for part in (contour[1:], contour[:1])]
    )


def _splits(edges: tuple[Codes, Codes], others: tuple[Codes, Codes]) -> Splits:
    """For each edge those points of others that lie on it, in order from its start."""
    starts, ends = edges
    codes = np.setdiff1d(others[0], starts)
    if not len(codes) or not len(starts):
        return {}
    here, there, points = _place(starts), _place(ends), _place(codes)
    low, high = np.minimum(here, there) - _ON_LINE, np.maximum(here, there) + _ON_LINE
    edge, point = np.nonzero(((points >= low[:, None]) & (points <= high[:, None])).all(axis=2))
    along, offset = (there - here)[edge], points[point] - here[edge]
    lengths = np.maximum(np.hypot(*along.T), _ON_LINE)
    off, share = np.abs(_turns(along, offset)) / lengths, (along * offset).sum(axis=1) / lengths**2
    found: Splits = {}
    for n in np.lexsort((share, edge)).tolist():
        if off[n] <= _ON_LINE and 0 < share[n] < 1:
            found.setdefault((int(starts[edge[n]]), int(ends[edge[n]])), []).append(int(codes[point[n]]))
    return found


def _split(edges: tuple[Codes, Codes], splits: Splits) -> tuple[Codes, Codes]:
    """The edges with points let in."""
    if not splits:
        return edges
    pairs: list[tuple[int, int]] = []
    for start, end in zip(*(side.tolist() for side in edges), strict=True):
        pairs += pairwise([start, *splits.get((start, end), ()), end])
    starts, ends = np.array(pairs, dtype=np.int64).reshape(-1, 2).T
    return starts, ends


def _wall(soup: _Soup, tube: _Tube, level: int, splits: Splits) -> None:
    """The wall of a tube that ends at a level, with points let into its upper edges."""
    low, high, count = tube.low, tube.high, len(tube.low)
    here, onward = np.arange(count), np.roll(np.arange(count), -1)
    plain = np.ones(count, dtype=bool)
    if tube.splits or splits:
        for n, (start, end, under, over) in enumerate(zip(low, low[onward], high, high[onward], strict=True)):
            lower, upper = tube.splits.get((int(start), int(end)), ()), splits.get((int(under), int(over)), ())
            if lower or upper:
                plain[n] = False
                _strip(soup, [start, *lower, end], [under, *upper, over], (tube.level, level))
    here, onward = here[plain], onward[plain]
    below, above = (here, onward, onward + count), (here, onward + count, here + count)
    codes = np.concatenate([low << _LEVEL_BITS | tube.level, high << _LEVEL_BITS | level])
    soup.add(codes, np.concatenate([np.stack(below, axis=1), np.stack(above, axis=1)]))


def _strip(soup: _Soup, low: Sequence[int], high: Sequence[int], levels: tuple[int, int]) -> None:
    """One flat piece of a wall with points on its lower and upper edge."""
    codes = np.concatenate([np.array(low) << _LEVEL_BITS | levels[0], np.array(high) << _LEVEL_BITS | levels[1]])
    last, first = len(codes) - 1, len(low)
    # All of the lower edge is joined to the end of the upper one, all of the upper edge to the start of the lower one.
    below, above = [(n, n + 1, last) for n in range(first - 1)], [(0, n + 1, n) for n in range(first, last)]
    soup.add(codes, np.array(below + above))


def _welded(soup: _Soup, heights: Array) -> Triangles:
    """Triangles over points of which each is there once."""
    if not soup.codes:
        raise _NotSimpleError
    codes, number = np.unique(np.concatenate(soup.codes), return_inverse=True)
    vertices = np.column_stack([_place(codes >> _LEVEL_BITS), heights[codes & ((1 << _LEVEL_BITS) - 1)]])
    faces = number[np.concatenate(soup.faces)]
    return Triangles(vertices, faces, np.zeros(len(faces), dtype=np.int64))


def _turns(one: Array, other: Array) -> Array:
    """Twice the areas between vectors."""
    (ux, uy), (vx, vy) = one.T, other.T
    found: Array = ux * vy - uy * vx
    return found
