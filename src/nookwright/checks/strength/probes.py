"""What is solid along straight lines through a written mesh: how thick floors and walls really are.

Lines run along an axis. A line that grazes an edge is moved aside by a little that is no round number. Each shape is
looked at once; what was found is kept with the verdicts.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nookwright.ground.sources import Fact, Kind
from nookwright.ground.tolerances import KERNEL

if TYPE_CHECKING:
    from nookwright.checks.bodies import Shape
    from nookwright.checks.boxes import Floats

_NEXT = [1, 2, 0]  # the corner after each
_ASIDE = np.array([np.pi, np.e]) * KERNEL
PLASTIC = Fact(
    1.324717957, unit="1", kind=Kind.CALCULATED, source="Root of x^3 = x + 1: multiples of its powers spread evenly."
)
SKIN = Fact(0.05, unit="mm", kind=Kind.CHOICE, source="Less than this between two bodies is a touch, not a gap.")


@dataclass(frozen=True, eq=False)
class Lines:
    """What is solid along lines.

    Attributes:
        line: of each solid stretch, which line it is on, (n,), sorted.
        start, end: where it starts and ends along the axis, (n,), mm.
        count: how many lines there are.
    """

    line: Floats
    start: Floats
    end: Floats
    count: int

    @property
    def thickness(self) -> Floats:
        """Of each stretch, mm."""
        found: Floats = self.end - self.start
        return found

    def first(self) -> Lines:
        """Only the first stretch of each line that has one."""
        _, at = np.unique(self.line, return_index=True)
        return Lines(self.line[at], self.start[at], self.end[at], self.count)

    def last(self) -> Lines:
        """Only the last stretch of each line that has one."""
        _, at = np.unique(self.line[::-1], return_index=True)
        at = len(self.line) - 1 - at
        return Lines(self.line[at], self.start[at], self.end[at], self.count)

    def where(self, kept: np.ndarray[tuple[int], np.dtype[np.bool_]]) -> Lines:
        """Only some stretches."""
        return Lines(self.line[kept], self.start[kept], self.end[kept], self.count)


def solid_along(shape: Shape, axis: int, points: Floats) -> Lines:
    """What is solid along lines through a shape.

    Args:
        shape: a closed surface.
        axis: that the lines run along: 0, 1, 2 for x, y, z.
        points: (k, 2), where they are on the two other axes, in the order of the alphabet, mm.

    Returns:
        The stretches, in order of lines and along them.
    """
    others = [other for other in range(3) if other != axis]
    low, high = (box[:, others] for box in shape.boxes)
    lines, places = [], []
    for number, point in enumerate(points + _ASIDE):
        near = (low <= point).all(axis=1) & (point <= high).all(axis=1)
        found = _crossings(shape.corners[near], point, others, axis)
        if len(found) % 2 == 0 and len(found):
            lines.append(np.full(len(found) // 2, number, np.float64))
            places.append(np.sort(found).reshape(-1, 2))
    if not places:
        return Lines(np.zeros(0), np.zeros(0), np.zeros(0), len(points))
    return _joined(np.concatenate(lines), np.vstack(places), len(points))


def _crossings(corners: Floats, point: Floats, others: list[int], axis: int) -> Floats:
    """Where a line passes triangles."""
    flat = corners[:, :, others] - point
    after = flat[:, _NEXT]
    turn = flat[:, :, 0] * after[:, :, 1] - flat[:, :, 1] * after[:, :, 0]
    passes = (turn > 0).all(axis=1) | (turn < 0).all(axis=1)
    weights = turn[passes][:, _NEXT]
    found: Floats = (weights * corners[passes][:, :, axis]).sum(axis=1) / weights.sum(axis=1)
    return found


def _joined(line: Floats, spans: Floats, count: int) -> Lines:
    """Stretches that touch as one."""
    begins = np.ones(len(line), dtype=bool)
    begins[1:] = (line[1:] != line[:-1]) | (spans[1:, 0] - spans[:-1, 1] > SKIN)
    first = np.flatnonzero(begins)
    last = np.concatenate([first[1:], [len(line)]]) - 1
    return Lines(line[first], spans[first, 0], spans[last, 1], count)


def grid(x: Floats, y: Floats) -> Floats:
    """All pairs of two rows of places, (len(x) * len(y), 2)."""
    pairs: Floats = np.stack(np.meshgrid(x, y, indexing="ij"), axis=-1).reshape(-1, 2)
    return pairs


def spread(low: float, high: float, count: int) -> Floats:
    """Places spread evenly between two ends, none at an end."""
    places: Floats = low + (np.arange(count) + 0.5) / count * (high - low)
    return places


def scattered(low: tuple[float, float], high: tuple[float, float], count: int) -> Floats:
    """Places over a rectangle, (count, 2), mm, that fall in step with no pattern of sockets.

    They are multiples of two powers of the plastic number, less the whole of them.

    Args:
        low: least corner.
        high: greatest corner.
        count: how many.
    """
    shares = (np.arange(1, count + 1)[:, None] * np.array([PLASTIC**-1, PLASTIC**-2])) % 1.0
    places: Floats = np.array(low) + shares * (np.array(high) - np.array(low))
    return places
