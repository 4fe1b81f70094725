"""How deep two triangles pass through each other.

The depth of a pair is the shortest way that one must be moved so that the two no longer share more than a touch. For
convex things it is the least overlap of their projections on the normals of their faces and on the cross products of
their edges (the separating axis theorem; see C. Ericson, Real-Time Collision Detection, 2005, sections 5.2.1 and 9.3).
Any direction gives an upper bound of it, so rounding can never make a pair look deeper than it is: neighbours in a
sound mesh, faces in one plane, and triangles as thin as a hair all come out at zero but for the noise of the numbers.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from nookwright.checks.boxes import Floats, Indices


def deeper_than(depth: float, some: Floats, others: Floats) -> Indices:
    """Which pairs of triangles pass through each other by more than a depth.

    Args:
        depth: mm; negative to find those that come closer than its amount.
        some: (k, 3, 3), corners of one triangle of each pair.
        others: (k, 3, 3), corners of the other.

    Returns:
        Rows of the pairs that do.
    """
    left = np.arange(len(some))
    first, second = _by_coordinate(some, others)
    for axis in _axes():
        keep = overlap(first, second, axis(first, second)) > depth
        if not keep.all():
            left, first, second = left[keep], first[:, :, keep], second[:, :, keep]
    return left


def depths(some: Floats, others: Floats) -> Floats:
    """The depth of each pair; negative where the two are apart.

    >>> flat = np.array([[[0.0, 0, 0], [4, 0, 0], [0, 4, 0]]])
    >>> steep = np.array([[[1.0, 1, -1], [1, 1, 3], [2, 1, 3]]])
    >>> float(depths(flat, steep)[0])
    1.0
    >>> float(depths(flat, flat)[0])  # one plane
    0.0
    """
    first, second = _by_coordinate(some, others)
    least: Floats = np.min([overlap(first, second, axis(first, second)) for axis in _axes()], axis=0)
    return least


def _by_coordinate(some: Floats, others: Floats) -> tuple[Floats, Floats]:
    """Both as (corner, coordinate, pair), seen from a corner of the first: near the origin there is less to round."""
    start = some[:, :1]
    first = np.ascontiguousarray((some - start).transpose(1, 2, 0))
    return first, np.ascontiguousarray((others - start).transpose(1, 2, 0))


def overlap(some: Floats, others: Floats, axis: Floats) -> Floats:
    """Overlap of the projections on an axis for each pair; infinite where the axis has no length.

    Args:
        some: (3, 3, k), by corner, coordinate and pair.
        others: the same.
        axis: (3, k), not of unit length.
    """
    length = np.sqrt(_dot(axis, axis))
    x, y, z = (_dot(corner, axis) for corner in some)
    u, v, w = (_dot(corner, axis) for corner in others)
    above = np.maximum(np.maximum(x, y), z) - np.minimum(np.minimum(u, v), w)
    below = np.maximum(np.maximum(u, v), w) - np.minimum(np.minimum(x, y), z)
    shared: Floats = np.minimum(above, below)
    return np.divide(shared, length, out=np.full_like(shared, np.inf), where=length > 0)


def _axes() -> Iterator[Callable[[Floats, Floats], Floats]]:
    """All directions that can decide, those that decide most often first."""
    yield lambda some, _: _normal(some)
    yield lambda _, others: _normal(others)
    for i in range(3):
        for j in range(3):
            yield partial(_across, i, j)
    for i in range(3):  # for two in one plane, where all of the above are the same
        yield partial(_in_plane, i, 0)
        yield partial(_in_plane, i, 1)


def _across(i: int, j: int, some: Floats, others: Floats) -> Floats:
    """Square to an edge of one and an edge of the other."""
    return _cross(_edge(i, some), _edge(j, others))


def _in_plane(i: int, which: int, *pair: Floats) -> Floats:
    """Square to an edge of one of the two, in its plane."""
    return _cross(_normal(pair[which]), _edge(i, pair[which]))


def _edge(number: int, corners: Floats) -> Floats:
    """The edge that begins at a corner."""
    edge: Floats = corners[(number + 1) % 3] - corners[number]
    return edge


def _normal(corners: Floats) -> Floats:
    """Normals, not of unit length."""
    return _cross(_edge(0, corners), _edge(1, corners))


def _dot(some: Floats, others: Floats) -> Floats:
    """Scalar products, coordinate first."""
    product: Floats = some[0] * others[0] + some[1] * others[1] + some[2] * others[2]
    return product


def _cross(some: Floats, others: Floats) -> Floats:
    """Vector products, coordinate first."""
    (a, b, c), (x, y, z) = some, others
    return np.stack([b * z - c * y, c * x - a * z, a * y - b * x])
