"""Surfaces that pass through themselves or through each other.

Promise: a pair of triangles that passes through each other by more than the depth is found, whatever their shape and
number. What it does not see: a passage that is nowhere deeper than the smallest triangle there is wide, and one that
runs exactly along edges of both sides; with equal vertices welded, as they are here, that is an edge of four triangles.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.boxes import Tree, pairs_between, pairs_within, tree
from nookwright.checks.triangles import deeper_than
from nookwright.ground.tolerances import CROSSING

if TYPE_CHECKING:
    from nookwright.checks.boxes import Floats, Indices
    from nookwright.exchange.stl import Triangles, Vertices


@dataclass(frozen=True)
class Crossings:
    """What was found.

    Attributes:
        pairs: number of pairs of triangles that pass through each other.
        where: a point near the first of them, mm; the origin where there are none.
    """

    pairs: int
    where: tuple[float, float, float]


def crossings(vertices: Vertices, triangles: Triangles, depth: float = CROSSING) -> Crossings:
    """Where a mesh passes through itself.

    Args:
        vertices: (n, 3), mm.
        triangles: (m, 3), at least one.
        depth: pairs of triangles that do so by no more than this are let pass, mm.
    """
    corners = vertices[triangles]
    pairs = pairs_within(tree_of(corners), depth)
    found = [_confirm(corners, corners, pair, depth)[0] for pair in pairs]
    first = np.concatenate([np.zeros(0, dtype=np.int64), *found])
    if not len(first):
        return Crossings(0, (0.0, 0.0, 0.0))
    x, y, z = corners[first.min()].mean(axis=0).tolist()
    return Crossings(len(first), (x, y, z))


def tree_of(corners: Floats) -> Tree:
    """The tree of boxes of triangles given by their corners, (m, 3, 3)."""
    return tree(*boxes_of(corners))


def boxes_of(corners: Floats) -> tuple[Floats, Floats]:
    """Least and greatest corner of each triangle's box, (m, 3) each."""
    a, b, c = corners[:, 0], corners[:, 1], corners[:, 2]
    return np.minimum(np.minimum(a, b), c), np.maximum(np.maximum(a, b), c)


def come_closer(some: Floats, others: Floats, gap: float) -> bool:
    """Whether any triangle of one surface comes closer to one of another than a gap, or passes through it.

    Args:
        some: (m, 3, 3), corners.
        others: (k, 3, 3), corners.
        gap: mm. A gap that is found may be a little less than the true one, so that "no" is always true.
    """
    if not (len(some) and len(others)):
        return False
    close = pairs_between(tree_of(some), tree_of(others), -gap)
    return any(len(_confirm(some, others, pair, -gap)[0]) for pair in close)


def _confirm(some: Floats, others: Floats, pair: tuple[Indices, Indices], depth: float) -> tuple[Indices, Indices]:
    """Of the pairs whose boxes meet, those whose triangles do."""
    rows = deeper_than(depth, some[pair[0]], others[pair[1]])
    return pair[0][rows], pair[1][rows]
