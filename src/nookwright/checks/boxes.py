"""Which of many boxes meet: the cheap question before the dear one.

Two boxes meet by ``depth`` if on each axis they share more than that; a negative depth asks for boxes that come closer
than its amount. A tree of boxes over the triangles of a mesh answers it for all pairs at once, level by level.

Promise: every pair of boxes that meets by more than the depth is found, each once.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeAlias

import numpy as np
import numpy.typing as npt

if TYPE_CHECKING:
    from collections.abc import Iterator

Floats: TypeAlias = npt.NDArray[np.float64]
Indices: TypeAlias = npt.NDArray[np.int64]
Pairs: TypeAlias = tuple[Indices, Indices]

_MOST_AT_ONCE = 1 << 19  # pairs in memory at a time: some tens of megabytes
_BITS = range(10)  # per axis, of the position along the curve that keeps near things near


@dataclass(frozen=True, eq=False)
class Tree:
    """Boxes in a binary tree without gaps; ``levels[0]`` holds the leaves, the last level the root.

    Attributes:
        order: for each leaf the index of its box; -1 where a leaf is only there to fill up.
        levels: for each level the low and the high corners, (3, n) each: axis by axis is quicker to compare.
    """

    order: Indices
    levels: tuple[tuple[Floats, Floats], ...]


def tree(low: Floats, high: Floats) -> Tree:
    """Make a tree.

    Args:
        low: (n, 3), least corner of each box; at least one box.
        high: (n, 3), greatest corner.
    """
    order = np.argsort(_place_on_curve(low, high), kind="stable")
    fill = (1 << (len(order) - 1).bit_length()) - len(order)
    low = np.hstack([low[order].T, np.full((3, fill), np.inf)])
    high = np.hstack([high[order].T, np.full((3, fill), -np.inf)])
    levels = [(low, high)]
    while low.shape[1] > 1:
        low, high = np.minimum(low[:, 0::2], low[:, 1::2]), np.maximum(high[:, 0::2], high[:, 1::2])
        levels.append((low, high))
    return Tree(np.concatenate([order, np.full(fill, -1)]), tuple(levels))


def _place_on_curve(low: Floats, high: Floats) -> npt.NDArray[np.uint64]:
    """A key by which boxes of like size that lie near each other come near each other (Morton order)."""
    middle = low + high
    span = np.ptp(middle, axis=0)
    steps = (middle - middle.min(axis=0)) / np.where(span > 0, span, 1) * (2 ** len(_BITS) - 1)
    places = steps.astype(np.uint64)
    size = np.frexp((high - low).max(axis=1))[1]
    # Long things apart from small ones: their boxes would swallow all.
    key: npt.NDArray[np.uint64] = (size - size.min()).astype(np.uint64)
    for bit in reversed(_BITS):
        for axis in range(3):
            key = (key << np.uint64(1)) | ((places[:, axis] >> np.uint64(bit)) & np.uint64(1))
    return key


def pairs_within(boxes: Tree, depth: float) -> Iterator[Pairs]:
    """All pairs of boxes of one tree that meet by more than ``depth``, in portions."""
    for left, right in _descend(boxes, boxes, depth, same=True):
        yield boxes.order[left], boxes.order[right]


def pairs_between(some: Tree, others: Tree, depth: float) -> Iterator[Pairs]:
    """All pairs of a box of one tree and a box of the other that meet by more than ``depth``, in portions."""
    for left, right in _descend(some, others, depth, same=False):
        yield some.order[left], others.order[right]


def _descend(some: Tree, others: Tree, depth: float, *, same: bool) -> Iterator[Pairs]:
    """Pairs of leaves that meet, from the roots down; a long list of pairs is worked through in portions."""
    root = np.zeros(1, dtype=np.int64)
    waiting = [(len(some.levels) - 1, len(others.levels) - 1, root, root)]
    while waiting:
        up, across, left, right = waiting.pop()
        left, right = _meeting(some.levels[up], others.levels[across], left, right, depth)
        if up == across == 0:
            keep = left < right if same else slice(None)
            yield left[keep], right[keep]
            continue
        if up >= across:
            left, right = np.concatenate([2 * left, 2 * left + 1]), np.concatenate([right, right])
        if across >= up:
            left, right = np.concatenate([left, left]), np.concatenate([2 * right, 2 * right + 1])
        down = (up - 1 if up >= across else up, across - 1 if across >= up else across)
        keep = left <= right if same else slice(None)
        left, right = left[keep], right[keep]
        waiting += [
            (*down, left[start : start + _MOST_AT_ONCE], right[start : start + _MOST_AT_ONCE])
            for start in range(0, len(left), _MOST_AT_ONCE)
        ]


def _meeting(
    some: tuple[Floats, Floats], others: tuple[Floats, Floats], left: Indices, right: Indices, depth: float
) -> Pairs:
    """Those of the pairs that share more than the depth on every axis."""
    for axis in (2, 0, 1):  # what we make is mostly layered: height parts most pairs
        meet = some[1][axis][left] - others[0][axis][right] > depth
        meet &= others[1][axis][right] - some[0][axis][left] > depth
        left, right = left[meet], right[meet]
    return left, right
