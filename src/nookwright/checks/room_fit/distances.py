"""How far two surfaces are apart, exactly, as far as a reach.

The least distance of two triangles is that of two edges, or of a corner from the face that it lies over; where one
passes through the other it is nothing (C. Ericson, Real-Time Collision Detection, 2005, sections 5.1.5 and 5.1.9). A
tree of boxes leaves only the pairs that come within the reach. What it does not know: which of the two is inside the
other; of closed surfaces that do not meet it gives the gap between them.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.boxes import pairs_between
from nookwright.checks.crossing import boxes_of, tree_of
from nookwright.checks.triangles import depths

if TYPE_CHECKING:
    from nookwright.checks.boxes import Floats, Indices

_AT_ONCE = 1 << 14  # pairs of triangles that are measured together: what fits the cache
_PARALLEL = 1e-12  # share of the lengths below which two edges count as parallel


def least_distance(some: Floats, others: Floats, reach: float) -> float:
    """The least distance of two surfaces, mm; infinite where they are no nearer to each other than the reach.

    Args:
        some: (m, 3, 3), corners of the triangles of one.
        others: (k, 3, 3), corners of those of the other.
        reach: mm.
    """
    some, others = within(some, others, reach), within(others, some, reach)
    if not (len(some) and len(others)):
        return float("inf")
    found = np.inf
    for left, right in pairs_between(tree_of(some), tree_of(others), -reach):
        for start in range(0, len(left), _AT_ONCE):
            rows = slice(start, start + _AT_ONCE)
            found = min(found, float(_nearest_first(some, others, left[rows], right[rows], min(found, reach))))
    return found if found < reach else float("inf")


def within(corners: Floats, others: Floats, reach: float) -> Floats:
    """Those triangles whose boxes come within the reach of the box round the others.

    Args:
        corners: (m, 3, 3).
        others: (k, 3, 3).
        reach: mm.
    """
    if not (len(corners) and len(others)):
        return corners[:0]
    low, high = others.min(axis=(0, 1)) - reach, others.max(axis=(0, 1)) + reach
    boxes = boxes_of(corners)
    near: Floats = corners[((boxes[1] >= low) & (boxes[0] <= high)).all(axis=1)]
    return near


def _nearest_first(some: Floats, others: Floats, left: Indices, right: Indices, least: float) -> float:
    """The least distance of some pairs, or ``least``: pairs whose boxes are farther apart are passed over."""
    (low, high), (under, over) = boxes_of(some[left]), boxes_of(others[right])
    apart = np.linalg.norm(np.maximum(0.0, np.maximum(under - high, low - over)), axis=1)
    near = apart < least
    if not near.any():
        return least
    return min(least, float(distances(some[left[near]], others[right[near]]).min()))


def distances(some: Floats, others: Floats) -> Floats:
    """The distance of each pair of triangles, mm; 0 where they meet.

    Args:
        some: (k, 3, 3), corners of one triangle of each pair.
        others: (k, 3, 3), corners of the other.

    >>> flat = np.array([[[0.0, 0, 0], [4, 0, 0], [0, 4, 0]]])
    >>> float(distances(flat, flat + np.array([1.0, 1.0, 3.0]))[0])
    3.0
    """
    found = np.minimum(_corners_over(some, others), _corners_over(others, some))
    for one in range(3):
        for other in range(3):
            found = np.minimum(found, _edges_apart(some, one, others, other))
    return np.where(depths(some, others) > 0, 0.0, found)


def _corners_over(corners: Floats, faces: Floats) -> Floats:
    """The least height of a corner of one triangle that lies over the other; infinite where none does."""
    a, b, c = faces[:, 0], faces[:, 1], faces[:, 2]
    normal = np.cross(b - a, c - a)
    length = np.linalg.norm(normal, axis=1)
    flat = length == 0
    normal = normal / np.where(flat, 1.0, length)[:, None]
    found = np.full(len(faces), np.inf)
    for number in range(3):
        point = corners[:, number]
        over = ~flat
        for start, end in ((a, b), (b, c), (c, a)):
            over &= (np.cross(end - start, point - start) * normal).sum(axis=1) >= 0
        height = np.abs(((point - a) * normal).sum(axis=1))
        found = np.where(over, np.minimum(found, height), found)
    return found


def _edges_apart(some: Floats, one: int, others: Floats, other: int) -> Floats:
    """The distance of an edge of each from one of the other."""
    p, q = some[:, one], others[:, other]
    d, e = some[:, (one + 1) % 3] - p, others[:, (other + 1) % 3] - q
    r = p - q
    dd, ee, de = (d * d).sum(axis=1), (e * e).sum(axis=1), (d * e).sum(axis=1)
    dr, er = (d * r).sum(axis=1), (e * r).sum(axis=1)
    crossed = dd * ee - de * de
    skew = crossed > _PARALLEL * dd * ee
    s = np.where(skew, np.clip((de * er - dr * ee) / np.where(skew, crossed, 1.0), 0, 1), 0.0)
    t = np.clip((de * s + er) / np.where(ee > 0, ee, 1.0), 0, 1)
    s = np.clip((de * t - dr) / np.where(dd > 0, dd, 1.0), 0, 1)
    t = np.clip((de * s + er) / np.where(ee > 0, ee, 1.0), 0, 1)
    apart: Floats = np.linalg.norm(r + s[:, None] * d - t[:, None] * e, axis=1)
    return apart
