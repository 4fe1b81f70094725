"""Spaces, footprints and orders as the kernels take them, and a walk in the kernels."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.layout.packing.found import Packing, Spot, Walk

if TYPE_CHECKING:
    from collections.abc import Sequence

    import numpy as np
    from numpy.typing import NDArray

    from nookwright.layout.packing.found import Footprint, Order

WORD = Fact(64, unit="cells", kind=Kind.CHOICE, source="The kernels keep a row of cells in one machine word.")


def exchanged(free: int, step: int) -> int:
    """A mask with columns and rows exchanged; its stride is one more than the rows up to the last free one.

    >>> from nookwright.layout.bits import free_cells, stride
    >>> exchanged(free_cells(2, 1, [(0, 0)]), stride(2)) == free_cells(1, 2, [(0, 0)])
    True
    """
    other = -(-free.bit_length() // step) + 1
    mask = 0
    while free:
        lowest = free & -free
        row, col = divmod(lowest.bit_length() - 1, step)
        mask |= 1 << (col * other + row)
        free ^= lowest
    return mask


def words(free: int, step: int) -> NDArray[np.uint64]:
    """A mask as the kernels take it: one word a row, up to the last row with a free cell.

    >>> from nookwright.layout.bits import free_cells, stride
    >>> words(free_cells(3, 2, [(0, 0)]), stride(3)).tolist()
    [6, 7]
    """
    import numpy as np

    row = (1 << (step - 1)) - 1
    return np.array([free >> at & row for at in range(0, free.bit_length(), step)], np.uint64)


def in_kernels(free: int, step: int, items: Sequence[Footprint], order: Order, *, tries: int, state: int) -> Walk:
    """A walk in the kernels; see ``plain.search``."""
    import numpy as np

    from nookwright.layout.packing import kernels

    cols, rows, turns = np.array(items, np.int64).reshape(-1, 3).T.copy()
    numbers, turned = np.array(order, np.int64).reshape(-1, 2).T.copy()
    work, rng = np.empty((kernels.WORK, len(items) + 1), np.int64), np.array([state], np.uint64)
    left, done = kernels.search(words(free, step), cols, rows, turns, numbers, turned, work, tries, rng)
    spots: list[Spot | None] = [None] * len(items)
    for item, at, lies in zip(numbers.tolist(), work[kernels.AT].tolist(), work[kernels.LIES].tolist(), strict=False):
        if at >= 0:
            spots[item] = Spot(at & 63, at >> 6, bool(lies))
    found = tuple((item, bool(turn)) for item, turn in zip(numbers.tolist(), turned.tolist(), strict=True))
    return Walk(Packing(tuple(spots), found, done), int(left), int(rng[0]))
