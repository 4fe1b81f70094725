"""Parts that are moved out of others: who is in the way, how far it goes, and how tight it may come out.

A part is printed in its own axes: what lies in the bed's plane there comes out larger, what is a height does not. What
it stands in may come out narrower to all sides. Both together are given to the moving part, about its middle, its
underside kept where it is.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.bodies import moved_by
from nookwright.checks.room_fit.printed import tight
from nookwright.checks.room_fit.sweeps import free_share
from nookwright.ground.tolerances import SHARED_VOLUME_MM3

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from nookwright.checks.boxes import Floats
    from nookwright.checks.room_fit.furnished import Lying, Stood
    from nookwright.checks.room_fit.printed import Largest
    from nookwright.checks.shared import Overlaps
    from nookwright.checks.verdicts import Verdicts

_DECIMALS = 5
_UP = np.array([0.0, 0.0, 1.0])


class Ways:
    """How far parts go; each pair of shapes in the same place to each other, and on the same way, is looked at once."""

    def __init__(self, verdicts: Verdicts, overlaps: Overlaps) -> None:
        """Use and add to the verdicts reached before, and to the volumes that were found to be shared."""
        self._verdicts = verdicts
        self._overlaps = overlaps
        self._known: dict[str, tuple[float, ...]] = {}

    def free(self, one: Stood, way: Floats, other: Stood, *, more: Floats | None = None) -> float:
        """Share of a way that a part goes before it meets another.

        Args:
            one: the part that is moved.
            way: (3,), mm, in the space.
            other: what may be in the way.
            more: (3,), by which it may be larger along its own axes, mm; as drawn where it is left out.
        """
        more = np.zeros(3) if more is None else np.round(more, _DECIMALS)
        along = np.round(np.linalg.inv(other.body.matrix[:3, :3]) @ way, _DECIMALS) + 0.0
        what = f"way {along.tolist()} {more.tolist()}"
        return self.verdict(what, one, other, lambda: (free_share(grown_corners(one, more), way, other.corners),))[0]

    def collide(self, one: Stood | Lying, other: Stood) -> bool:
        """Whether two share room where they stand: then they go nowhere, and other checks say so."""
        return self._overlaps.shared_mm3(one.body, other.body) > SHARED_VOLUME_MM3

    def verdict(
        self, what: str, one: Stood | Lying, other: Stood, reach: Callable[[], tuple[float, ...]]
    ) -> tuple[float, ...]:
        """A verdict on two parts in their place to each other, reached before or now.

        Args:
            what: says all that the verdict depends on besides the two.
            one: a part.
            other: another.
            reach: reaches the verdict.
        """
        between = np.round(np.linalg.inv(other.body.matrix) @ one.body.matrix, _DECIMALS) + 0.0
        question = f"{what} {one.body.shape.key} {other.body.shape.key} {between.tolist()}"
        if question not in self._known:
            self._known[question] = self._verdicts.of(question, reach)
        return self._known[question]


def grown_corners(one: Stood, more: Floats) -> Floats:
    """Corners of a part's triangles in the space, larger along its own axes; its underside stays where it is.

    Args:
        one: the part.
        more: (3,), by how much along its own axes, mm.
    """
    if not more.any():
        return one.corners
    low, high = one.body.shape.box
    middle = (low + high) / 2
    scale = 1 + more / np.maximum(high - low, more.max())
    grown = moved_by(one.body.matrix, middle + (one.body.shape.corners - middle) * scale)
    grown[..., 2] += float(one.low[2]) - float(grown[..., 2].min())
    return grown


def tightness(one: Stood, own: Largest, holder: Largest) -> Floats:
    """By how much a part may be too large for what it stands in, along its own axes, mm, (3,).

    Args:
        one: the part.
        own: how large it may be printed.
        holder: how large and how narrow what it stands in may be.
    """
    low, high = one.body.shape.box
    level = np.abs(one.body.matrix[2, :3]) < np.abs(one.body.matrix[:2, :3]).max(axis=0)
    printed = (True, True, False)  # its layers lie one upon another along its own z
    return np.array(
        [
            tight(own, holder, length=float(high[axis] - low[axis]), grows=printed[axis], narrows=bool(level[axis]))
            for axis in range(3)
        ]
    )


def lift(one: Stood, others: Iterable[Stood]) -> Floats:
    """The way straight up that clears some parts, (3,), mm."""
    top = max((float(other.high[2]) for other in others), default=float(one.low[2]))
    return _UP * max(0.0, top - float(one.low[2]))
