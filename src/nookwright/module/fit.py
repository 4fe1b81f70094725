"""Does a part go on: the smallest clearance that lets all its sockets over all their cones at once.

A part goes down as one rigid body. Its sockets miss their cones by small offsets: the printers' scale and skew differ,
panels float in their joints. The part may be shifted a little and turned a little to meet them best; it goes on if then
no offset is larger than the clearance of its socket. In three unknowns (shift x, shift y, turn) that is

    least over the placement of the largest, over the sockets, of |offset - what the placement makes of it| - clearance,

a minimax of distances, so convex. A turn this small is linear: it moves a socket at (x, y) by (-y, x) times the angle.
Each trial is solved by cutting planes with the exchange of the dual simplex method: four half-planes decide, the
worst socket adds a fifth, the one that it makes useless goes. After each exchange the four give a bound from below and
the placement gives one from above, so a trial ends as soon as the two leave no doubt. All trials go at once.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[np.float64]
    Rows = NDArray[np.int64]

CERTAIN = Fact(
    1e-6, unit="mm", kind=Kind.CHOICE, source="Bounds this close are one value: a 50,000th of any other error."
)
FARTHEST = Fact(
    1e3, unit="mm", kind=Kind.CHOICE, source="No placement shifts a part by so much: the search begins inside this."
)
MOST_EXCHANGES = Fact(400, unit="1", kind=Kind.MEASURED, source="The slowest of 62,500 random trials took 36.")
_CORNERS = np.array([[1.0, 1, 1], [1, -1, -1], [-1, 1, -1], [-1, -1, 1]])  # of a tetrahedron about the origin
_STEEP = 1e-12  # a share of a half-plane below this is rounding


@dataclass(frozen=True, eq=False)
class Need:
    """How much more clearance each trial would need; negative: how much it has to spare.

    Attributes:
        at_least: bound from below, mm.
        at_most: bound from above, mm; the placement found reaches it.
    """

    at_least: Array
    at_most: Array

    @property
    def fits(self) -> NDArray[np.bool_]:
        """Which trials go on; one that is not decided does not."""
        fits: NDArray[np.bool_] = self.at_most <= CERTAIN
        return fits


def need(places: Array, offsets: Array, clearances: Array, *, decide_only: bool = False) -> Need:
    """The clearance that is missing for a rigid placement, for many trials at once.

    Args:
        places: (n, 2), middles of the sockets from the middle of the part, mm.
        offsets: (trials, n, 2), from each socket to its cone when the part lies in its nominal place, mm.
        clearances: (trials, n) or (n,), of the sockets, mm; infinite where a socket meets no cone.
        decide_only: stop a trial when it is clear whether it goes on, not how much it lacks.

    >>> square = np.array([[-50.0, -50], [50, -50], [-50, 50], [50, 50]])
    >>> grown = need(square, 0.003 * square[None], np.zeros(4))  # a scale of 0.3 %: 0.15 in x and in y at each corner
    >>> round(float(grown.at_most[0]), 4)
    0.2121
    """
    search = _Search(places, offsets, np.broadcast_to(clearances, offsets.shape[:2]))
    for _ in range(int(MOST_EXCHANGES)):
        if not search.step(decide_only=decide_only):
            break
    return Need(search.low, search.high)


class _Search:
    """The four half-planes of each trial and the bounds reached; unknown: shift x, shift y, turn, clearance missing."""

    def __init__(self, places: Array, offsets: Array, clearances: Array) -> None:
        trials = len(offsets)
        self.reach = max(1.0, float(np.abs(places).max()))  # turns are counted by the way at this distance
        self.turning = np.stack([-places[:, 1], places[:, 0]], axis=1) / self.reach
        self.offsets, self.clearances = offsets, clearances
        self.rows = np.tile(np.hstack([_CORNERS, np.ones((4, 1))]), (trials, 1, 1))
        self.bounds = np.full((trials, 4), -float(FARTHEST))
        self.low, self.high = np.full(trials, -np.inf), np.full(trials, np.inf)
        self.open = np.arange(trials)

    def step(self, *, decide_only: bool) -> bool:
        """Exchange one half-plane in each open trial; False when none is open any more."""
        rows = self.rows[self.open]
        found = np.linalg.solve(rows, self.bounds[self.open][..., None])[..., 0]
        entering, bound, excess = self._worst(found[:, :3])
        self.low[self.open] = np.maximum(self.low[self.open], found[:, 3])
        self.high[self.open] = np.minimum(self.high[self.open], excess)
        keep = self.high[self.open] - self.low[self.open] > CERTAIN
        if decide_only:
            keep &= (self.high[self.open] > 0) & (self.low[self.open] <= CERTAIN)
        self.open, rows, entering, bound = self.open[keep], rows[keep], entering[keep], bound[keep]
        if not len(self.open):
            return False
        leaving = _leaving(rows, entering)
        self.rows[self.open, leaving] = entering
        self.bounds[self.open, leaving] = bound
        return True

    def _worst(self, placement: Array) -> tuple[Array, Array, Array]:
        """The half-plane of the socket that is worst off in each open trial, its bound, and how badly off it is."""
        left = self.offsets[self.open] - placement[:, None, :2] - placement[:, 2, None, None] * self.turning
        distance = np.sqrt(left[..., 0] ** 2 + left[..., 1] ** 2)
        excess = distance - self.clearances[self.open]
        worst = np.argmax(excess, axis=1)
        trial = np.arange(len(worst))
        length = distance[trial, worst]
        towards = left[trial, worst] / np.where(length > 0, length, 1.0)[:, None]
        towards[length == 0] = (1.0, 0.0)
        turn = (towards * self.turning[worst]).sum(axis=1)
        entering = np.column_stack([towards, turn, np.ones(len(worst))])
        offset = self.offsets[self.open[trial], worst]
        bound = (towards * offset).sum(axis=1) - self.clearances[self.open[trial], worst]
        return entering, bound, excess[trial, worst]


def _leaving(rows: Array, entering: Array) -> Rows:
    """Which of the four half-planes the entering one replaces: the first whose weight would fall below zero."""
    columns = np.swapaxes(rows, 1, 2)
    target = np.zeros((len(rows), 4))
    target[:, 3] = 1.0
    both = np.linalg.solve(columns, np.stack([target, entering], axis=2))
    weights, shares = np.maximum(both[..., 0], 0.0), both[..., 1]
    ratio = np.divide(weights, shares, out=np.full_like(weights, np.inf), where=shares > _STEEP)
    first: Rows = np.argmin(ratio, axis=1)
    return first
