"""Whether a body that moves along a straight way meets another, exactly.

On its way each triangle of the body fills a prism; the body meets another that it does not meet at the start just
where one of these prisms meets a triangle of the other. Both are convex, so the separating axis theorem decides: they
share something if on no normal of their faces, and on no cross product of their edges, their projections are apart.
What slides along a face, or lies on one, shares a touch and no more; so does a tip that rubs by less than ``RUB``.
"""

from __future__ import annotations

from itertools import product
from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.boxes import pairs_between, tree
from nookwright.checks.crossing import boxes_of, tree_of
from nookwright.ground.sources import Fact, Kind
from nookwright.ground.tolerances import TOUCHING

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from nookwright.checks.boxes import Floats

RUB = Fact(
    TOUCHING, unit="mm", kind=Kind.CHOICE, source="Less is the chords of round meshes and the rounding of files."
)
_HALVINGS = 12  # of a way, until the place where it ends is known to a 4000th
_AT_ONCE = 1 << 15


def free_share(moving: Floats, way: Floats, still: Floats, rub: float = RUB) -> float:
    """How much of its way a body may go before it meets another: 1 for all of it.

    Args:
        moving: (m, 3, 3), corners of its triangles at the start.
        way: (3,), from the start to the end, mm.
        still: (k, 3, 3), corners of the triangles of the other.
        rub: depth of contact that is let pass, mm.
    """
    left, right = _pairs(moving, way, still, rub)
    if not len(left):
        return 1.0
    low, high = 0.0, 1.0
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        hit = _meet(left, middle * way, right, rub)
        if hit.any():
            high, left, right = middle, left[hit], right[hit]
        else:
            low = middle
    return low


def meets(moving: Floats, way: Floats, still: Floats, rub: float = RUB) -> bool:
    """Whether a body meets another anywhere on its way; see ``free_share``."""
    return bool(len(_pairs(moving, way, still, rub)[0]))


def _pairs(moving: Floats, way: Floats, still: Floats, rub: float) -> tuple[Floats, Floats]:
    """The pairs of triangles that meet on the way: of the body at its start, and of the other."""
    nothing = np.zeros((0, 3, 3)), np.zeros((0, 3, 3))
    if not (len(moving) and len(still)):
        return nothing
    low, high = _swept(moving, way)
    under, over = boxes_of(still)
    near = ((over >= low.min(axis=0)) & (under <= high.max(axis=0))).all(axis=1)
    still = still[near]
    if not len(still):
        return nothing
    near = ((high >= under[near].min(axis=0)) & (low <= over[near].max(axis=0))).all(axis=1)
    moving, low, high = moving[near], low[near], high[near]
    if not len(moving):
        return nothing
    found = [
        (moving[left[rows][hit]], still[right[rows][hit]])
        for left, right in pairs_between(tree(low, high), tree_of(still), rub)
        for rows in (slice(start, start + _AT_ONCE) for start in range(0, len(left), _AT_ONCE))
        if (hit := _meet(moving[left[rows]], way, still[right[rows]], rub)).any()
    ]
    return (np.concatenate([one for one, _ in found]), np.concatenate([one for _, one in found])) if found else nothing


def _swept(moving: Floats, way: Floats) -> tuple[Floats, Floats]:
    """Boxes of the prisms."""
    low, high = boxes_of(moving)
    return np.minimum(low, low + way), np.maximum(high, high + way)


def _meet(moving: Floats, way: Floats, still: Floats, rub: float) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
    """Which prisms and triangles share more than a touch."""
    start = moving[:, :1]
    prism = np.concatenate([moving - start, moving - start + way], axis=1)
    other = still - start
    left = np.arange(len(moving))
    for axis in _axes(way):
        deep = _shared(prism, other, axis(prism, other)) > rub
        if not deep.all():
            left, prism, other = left[deep], prism[deep], other[deep]
        if not len(left):
            break
    found = np.zeros(len(moving), dtype=bool)
    found[left] = True
    return found


def _shared(prism: Floats, other: Floats, axis: Floats) -> Floats:
    """How much the projections on an axis share, mm; infinite where the axis has no length."""
    length = np.linalg.norm(axis, axis=1)
    one = np.einsum("kij,kj->ki", prism, axis)
    two = np.einsum("kij,kj->ki", other, axis)
    above, below = one.max(axis=1) - two.min(axis=1), two.max(axis=1) - one.min(axis=1)
    shared: Floats = np.divide(np.minimum(above, below), length, out=np.full(len(length), np.inf), where=length > 0)
    return shared


def _axes(way: Floats) -> Iterator[Callable[[Floats, Floats], Floats]]:
    """All directions that can decide, those that decide most often first."""
    yield lambda _, other: _normal(other)
    for i in range(3):
        yield lambda prism, _, i=i: np.cross(_edge(prism, i), way)  # type: ignore[misc]
        yield lambda _, other, i=i: np.cross(_edge(other, i), way)  # type: ignore[misc]
    yield lambda prism, _: _normal(prism)
    for i, j in product(range(3), range(3)):
        yield lambda prism, other, i=i, j=j: np.cross(_edge(prism, i), _edge(other, j))  # type: ignore[misc]
    yield lambda _, other: np.cross(_normal(other), way)  # for what moves in the plane of a face
    for i in range(3):
        yield lambda _, other, i=i: np.cross(_normal(other), _edge(other, i))  # type: ignore[misc]
        yield lambda prism, other, i=i: np.cross(_normal(other), _edge(prism, i))  # type: ignore[misc]


def _edge(corners: Floats, number: int) -> Floats:
    """An edge of the triangle; of a prism, of the triangle that it begins with."""
    edge: Floats = corners[:, (number + 1) % 3] - corners[:, number]
    return edge


def _normal(corners: Floats) -> Floats:
    normal: Floats = np.cross(_edge(corners, 0), _edge(corners, 1))
    return normal
