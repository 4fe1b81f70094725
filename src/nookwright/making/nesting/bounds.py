"""How many bins are needed at least: by area, by boxes that cannot share a bin, and by dual feasible functions.

A dual feasible function takes shares of a side to values such that whatever fits side by side has values of at most 1
together. One for the widths and one for the depths turn each box into an area that must still fit: boxes over half a
side grow, small ones vanish. (S. P. Fekete, J. Schepers, Mathematical Programming 91 (2001) 11-31, and Mathematical
Methods of Operations Research 60 (2004) 311-329, where the three families are called u(k), U(e) and phi(e).) A box that
may be turned counts with the smaller of its two areas.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Sequence

    import numpy as np
    from numpy.typing import NDArray

    from nookwright.making.nesting.model import Bin, Box

    Numbers = NDArray[np.float64]

MOST_K = Fact(12, unit="1", kind=Kind.CHOICE, source="Of the first family; beyond, published instances gain nothing.")
MOST_SIDES = Fact(60, unit="1", kind=Kind.CHOICE, source="Sides of boxes that the other families are made from.")
_SAFE = 1e-9  # values have denominators far below 1e9: what lies this near to a whole number is that number


def area_bound(boxes: Sequence[Box], width: int, depth: int) -> int:
    """Fewest bins that the area alone asks for.

    >>> area_bound([(5, 5)] * 5, 10, 10)
    2
    """
    return -(-sum(w * d for w, d in boxes) // (width * depth))


def big_bound(boxes: Sequence[Box], into: Bin) -> int:
    """How many boxes are longer than half a bin both ways, however they lie: no two of them share a bin.

    >>> from nookwright.making.nesting.model import Bin
    >>> big_bound([(6, 6), (6, 6), (6, 4)], Bin(10, 10)), big_bound([(6, 4)], Bin(10, 5))
    (2, 1)
    """
    return sum(
        all(2 * wide > into.width and 2 * deep > into.depth for _, (wide, deep) in into.ways(box)) for box in boxes
    )


def least_bins(boxes: Sequence[Box], into: Bin) -> int:
    """Fewest bins by all bounds.

    Args:
        boxes: each fits an empty bin.
        into: the bins.

    >>> from nookwright.making.nesting.model import Bin
    >>> least_bins([(5, 10)] * 3 + [(6, 6)], Bin(10, 10)), least_bins([], Bin(10, 10))
    (3, 0)
    """
    if not boxes:
        return 0
    return max(1, area_bound(boxes, into.width, into.depth), big_bound(boxes, into), dual_bound(boxes, into))


def dual_bound(boxes: Sequence[Box], into: Bin) -> int:
    """Fewest bins by dual feasible functions, all pairs of one for the widths and one for the depths.

    Args:
        boxes: each fits an empty bin.
        into: the bins.
    """
    import numpy as np

    ways = [into.ways(box) for box in boxes]
    one = np.array([some[0][1] for some in ways], np.float64)
    other = np.array([some[-1][1] for some in ways], np.float64)
    wide, other_wide = _values(one[:, 0] / into.width, other[:, 0] / into.width)
    deep, other_deep = _values(one[:, 1] / into.depth, other[:, 1] / into.depth)
    if (one == other).all():
        return _up(float((wide @ deep.T).max()))
    turned = (np.minimum(row * deep, swapped * other_deep) for row, swapped in zip(wide, other_wide, strict=True))
    return _up(max(float(areas.sum(axis=1).max()) for areas in turned))


def _up(value: float) -> int:
    return math.ceil(value - _SAFE)


def _values(shares: Numbers, other: Numbers) -> tuple[Numbers, Numbers]:
    """All functions of boxes that lie one way and the other: a row a function, a column a box.

    Args:
        shares: of the side of the bin, 0 to 1.
        other: the same of the boxes turned.
    """
    import numpy as np

    both = np.concatenate([shares, other])
    rows = [both, *(_rounded_up(both, k) for k in range(1, int(MOST_K) + 1))]
    for small in _smalls(both):
        rows += [_dropped(both, small), _stepped(both, small)]
    table = np.unique(np.array(rows), axis=0)
    return table[:, : len(shares)], table[:, len(shares) :]


def _smalls(shares: Numbers) -> list[float]:
    """Shares up to a half at which a family changes."""
    import numpy as np

    found = np.unique(np.concatenate([shares, 1 - shares]))
    found = found[(found > _SAFE) & (found <= 1 / 2 + _SAFE)]
    step = max(1, math.ceil(len(found) / int(MOST_SIDES)))
    values: list[float] = found[::step].tolist()
    return values


def _rounded_up(shares: Numbers, k: int) -> Numbers:
    """u(k): a share that is no multiple of 1/(k + 1) is rounded down to one, in steps of 1/k."""
    import numpy as np

    times = (k + 1) * shares
    whole = np.abs(times - np.round(times)) < _SAFE
    values: Numbers = np.where(whole, shares, np.floor(times + _SAFE) / k)
    return values


def _dropped(shares: Numbers, small: float) -> Numbers:
    """U(e): shares below e vanish, those above 1 - e are whole."""
    import numpy as np

    values: Numbers = np.where(shares > 1 - small + _SAFE, 1.0, np.where(shares < small - _SAFE, 0.0, shares))
    return values


def _stepped(shares: Numbers, small: float) -> Numbers:
    """phi(e): what is over a half counts what it leaves, in steps of e; what is under e vanishes."""
    import numpy as np

    steps = math.floor(1 / small + _SAFE)
    large = 1 - np.floor((1 - shares) / small + _SAFE) / steps
    middle = np.where(shares < small - _SAFE, 0.0, 1 / steps)
    values: Numbers = np.where(shares > 1 / 2 + _SAFE, large, middle)
    return values
