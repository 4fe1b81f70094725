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
    for axes in _axes():
        if len(left):
            left = left[overlap(some[left], others[left], axes(some[left], others[left])) > depth]
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
    least: Floats = np.min([overlap(some, others, axes(some, others)) for axes in _axes()], axis=0)
    return least


def overlap(some: Floats, others: Floats, axis: Floats) -> Floats:
    """Overlap of the projections on an axis for each pair; infinite where the axis has no length."""
    length = np.sqrt((axis * axis).sum(axis=1))
    unit = axis / np.where(length > 0, length, 1)[:, None]
    start = some[:, :1]  # near the origin there is less to round
    one = ((some - start) * unit[:, None]).sum(axis=2)
    other = ((others - start) * unit[:, None]).sum(axis=2)
    shared = np.minimum(one.max(axis=1) - other.min(axis=1), other.max(axis=1) - one.min(axis=1))
    return np.where(length > 0, shared, np.inf)


def _axes() -> Iterator[Callable[[Floats, Floats], Floats]]:
    """All directions that can decide, those that decide most often first."""
    yield partial(_of_first, _normal)
    yield partial(_of_second, _normal)
    for i in range(3):
        for j in range(3):
            yield partial(_across, i, j)
    for i in range(3):  # for two in one plane, where all of the above are the same
        yield partial(_of_first, partial(_in_plane, i))
        yield partial(_of_second, partial(_in_plane, i))


def _of_first(direction: Callable[[Floats], Floats], some: Floats, _: Floats) -> Floats:
    return direction(some)


def _of_second(direction: Callable[[Floats], Floats], _: Floats, others: Floats) -> Floats:
    return direction(others)


def _across(i: int, j: int, some: Floats, others: Floats) -> Floats:
    """Square to an edge of one and an edge of the other."""
    return np.cross(_edge(i, some), _edge(j, others))


def _in_plane(i: int, corners: Floats) -> Floats:
    """Square to an edge, in the triangle's plane."""
    return np.cross(_normal(corners), _edge(i, corners))


def _edge(number: int, corners: Floats) -> Floats:
    """The edge that begins at a corner."""
    return corners[:, (number + 1) % 3] - corners[:, number]


def _normal(corners: Floats) -> Floats:
    """Normals, not of unit length."""
    return np.cross(_edge(0, corners), _edge(1, corners))
