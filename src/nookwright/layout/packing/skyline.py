"""The outline of what stands in a strip, seen from above: a row of segments from left to right, each at its height.

Kernels; see ``kernels`` for what that means. A skyline is ``int64[3, m]``: for each segment where it begins, its height
above the floor, its width; neighbours differ in height. It forgets what is under an overhang: what is packed on
skylines has no holes that a later footprint could use, which is what makes a step cheap.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import numpy as np

from nookwright.layout.packing.compiled import compiled

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Ints = NDArray[np.int64]

BEGIN: Final = np.int64(0)
LEVEL: Final = np.int64(1)
WIDTH: Final = np.int64(2)


@compiled
def lowest(sky: Ints, count: int) -> int:
    """The lowest segment, the left-most of several."""
    low = 0
    for segment in range(1, count):
        if sky[LEVEL, segment] < sky[LEVEL, low]:
            low = segment
    return low


@compiled
def lowest_of_first(sky: Ints, count: int, height: int) -> int:
    """The lowest segment of the first bin that has room: what stands as high as the bins parts one from the next."""
    low = 0
    while low + 1 < count and sky[LEVEL, low] >= height:
        low += 1
    segment = low
    while segment < count and sky[LEVEL, segment] < height:
        if sky[LEVEL, segment] < sky[LEVEL, low]:
            low = segment
        segment += 1
    return low


@compiled
def walls(sky: Ints, count: int, segment: int, height: int) -> tuple[int, int]:
    """How high the neighbours of a segment stand above it; the strip's sides are as high as the strip."""
    level = sky[LEVEL, segment]
    left = sky[LEVEL, segment - 1] if segment > 0 else height
    right = sky[LEVEL, segment + 1] if segment + 1 < count else height
    return left - level, right - level


@compiled
def _merge(sky: Ints, count: int, segment: int) -> int:
    """Make one of a segment and the next where they are level; gives the number of segments."""
    if segment < 0 or segment + 1 >= count or sky[LEVEL, segment] != sky[LEVEL, segment + 1]:
        return count
    sky[WIDTH, segment] += sky[WIDTH, segment + 1]
    for other in range(segment + 1, count - 1):
        for row in range(3):
            sky[row, other] = sky[row, other + 1]
    return count - 1


@compiled
def lift_to(sky: Ints, count: int, segment: int, level: int) -> int:
    """Bring a segment to a height; gives the number of segments."""
    sky[LEVEL, segment] = level
    count = _merge(sky, count, segment)
    return _merge(sky, count, segment - 1)


@compiled
def cut(sky: Ints, count: int, segment: int, width: int) -> int:
    """Cut a segment in two, the left one as wide as said; both stay at its height. Gives the number of segments."""
    for other in range(count, segment + 1, -1):
        for row in range(3):
            sky[row, other] = sky[row, other - 1]
    sky[BEGIN, segment + 1] = sky[BEGIN, segment] + width
    sky[LEVEL, segment + 1] = sky[LEVEL, segment]
    sky[WIDTH, segment + 1] = sky[WIDTH, segment] - width
    sky[WIDTH, segment] = width
    return count + 1
