"""Edges put together to contours, and the flat faces within contours."""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

import numpy as np
from manifold3d import triangulate

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    Array = NDArray[np.float64]
    Numbers = NDArray[np.int64]


def chained(starts: Numbers, ends: Numbers) -> list[Numbers]:
    """Contours of edges, each as the points it goes through; at every point as many edges end as start."""
    following: dict[int, list[int]] = defaultdict(list)
    for start, end in zip(starts.tolist(), ends.tolist(), strict=True):
        following[start].append(end)
    found: list[Numbers] = []
    while following:
        first = at = next(iter(following))
        contour: list[int] = []
        while not contour or at != first:
            contour.append(at)
            onward = following[at].pop()
            if not following[at]:
                del following[at]
            at = onward
        found.append(np.array(contour))
    return found


def filled(points: Array, contours: Sequence[Numbers]) -> Numbers:
    """The triangles within contours of numbered points; outer ones run counter-clockwise, holes clockwise.

    Args:
        points: (n, 2).
        contours: each as numbers of points.
    """
    faces = np.asarray(triangulate([points[contour] for contour in contours]), dtype=np.int64)
    found: Numbers = np.concatenate(contours)[faces]
    return found
