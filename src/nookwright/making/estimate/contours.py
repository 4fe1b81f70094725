"""Contours of sections, many in a few arrays: tidied, measured, moved corner by corner."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import TYPE_CHECKING, Any

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    Array = NDArray[np.float64]
    Indices = NDArray[np.int64]
    Flags = NDArray[np.bool_]

_STRAIGHT = 1e-3  # mm, less is no turn


@dataclass(frozen=True, eq=False)
class Loops:
    """Closed paths, all their corners in one array; what is to be printed lies on their left.

    Attributes:
        points: (n, 2), mm; the path runs from each to the next one of its loop, and from the last back to the first.
        loop: (n,), the number of its loop, rising from 0 without a gap.
    """

    points: Array
    loop: Indices

    @cached_property
    def count(self) -> int:
        """How many loops there are."""
        return int(self.loop[-1]) + 1 if len(self.loop) else 0

    @cached_property
    def starts(self) -> Indices:
        """For each loop its first point."""
        return np.flatnonzero(np.concatenate([[True], self.loop[1:] != self.loop[:-1]])) if self.count else self.loop

    @cached_property
    def sizes(self) -> Indices:
        """For each loop how many points it has."""
        return np.bincount(self.loop, minlength=self.count)

    @cached_property
    def after(self) -> Indices:
        """For each point the next one of its loop."""
        after = np.arange(1, len(self.loop) + 1)
        after[self.starts + self.sizes - 1] = self.starts
        return after

    @cached_property
    def before(self) -> Indices:
        """For each point the one before it in its loop."""
        before = np.arange(-1, len(self.loop) - 1)
        before[self.starts] = self.starts + self.sizes - 1
        return before

    @cached_property
    def steps(self) -> Array:
        """For each point the way to the next one, (n, 2)."""
        return self.points[self.after] - self.points

    @cached_property
    def step_lengths(self) -> Array:
        """For each point how far the next one is, mm."""
        return np.hypot(self.steps[:, 0], self.steps[:, 1])

    @cached_property
    def lengths(self) -> Array:
        """For each loop its length, mm."""
        return _per_loop(self, self.step_lengths)

    @cached_property
    def length(self) -> float:
        """Of all of them, mm."""
        return float(self.step_lengths.sum())

    @cached_property
    def areas(self) -> Array:
        """For each loop the area inside it, negative where it is a hole."""
        x, y = self.points[:, 0], self.points[:, 1]
        return _per_loop(self, (x * y[self.after] - x[self.after] * y) / 2)

    @cached_property
    def middles(self) -> Array:
        """For each loop the middle of its box, (k, 2)."""
        return (self._extreme(np.minimum) + self._extreme(np.maximum)) / 2

    @cached_property
    def spans(self) -> Array:
        """For each loop the width and depth of its box, (k, 2)."""
        return self._extreme(np.maximum) - self._extreme(np.minimum)

    @cached_property
    def radii(self) -> Array:
        """For each loop the radius of the circle round its middle that holds it."""
        away = self.points - self.middles[self.loop]
        return np.maximum.reduceat(np.hypot(away[:, 0], away[:, 1]), self.starts) if self.count else np.zeros(0)

    @cached_property
    def rough(self) -> Array:
        """For each loop how far a circle round its middle differs from it at most, mm."""
        away = self.points - self.middles[self.loop]
        sagitta = np.maximum.reduceat(self.step_lengths, self.starts) if self.count else np.zeros(0)
        least = np.minimum.reduceat(np.hypot(away[:, 0], away[:, 1]), self.starts) if self.count else np.zeros(0)
        found: Array = self.radii - least + sagitta**2 / (8 * np.maximum(self.radii, 1e-9))
        return found

    @cached_property
    def convex(self) -> Flags:
        """For each loop whether it never turns against its own sense."""
        step, back = self.steps, self.steps[self.before]
        turn = back[:, 0] * step[:, 1] - back[:, 1] * step[:, 0]
        against = turn * np.sign(self.areas)[self.loop] < -_STRAIGHT * np.minimum(
            self.step_lengths, self.step_lengths[self.before]
        )
        return _per_loop(self, against) < 1

    def only(self, chosen: Flags) -> Loops:
        """Some of them.

        Args:
            chosen: for each loop whether it is one of them.
        """
        return Loops(self.points[chosen[self.loop]], (np.cumsum(chosen) - 1)[self.loop[chosen[self.loop]]])

    def moved_in(self, distance: float) -> Loops:
        """Each line moved to its left and joined by sharp corners, as if every loop stood alone.

        Args:
            distance: mm.
        """
        normal = np.stack([-self.steps[:, 1], self.steps[:, 0]], axis=1) / self.step_lengths[:, None]
        back = normal[self.before]
        return Loops(self.points + distance * (normal + back) / (1 + (normal * back).sum(axis=1))[:, None], self.loop)

    def as_before(self, other: Loops) -> Flags:
        """For each loop whether none of its lines has turned round since.

        Args:
            other: the same loops before they were moved.
        """
        turned = (self.steps * other.steps).sum(axis=1) <= 0
        return _per_loop(self, turned) < 1

    def contours(self) -> list[Array]:
        """Each of them as its points."""
        ends = [*self.starts.tolist(), len(self.points)]
        return [self.points[start:end] for start, end in pairwise(ends)]

    def _extreme(self, which: np.ufunc) -> Array:
        return which.reduceat(self.points, self.starts, axis=0) if self.count else np.zeros((0, 2))


def loops_of(contours: Sequence[Array]) -> Loops:
    """Contours as loops.

    Args:
        contours: each (k, 2), mm, with what is to be printed on its left.
    """
    if not contours:
        return Loops(np.zeros((0, 2)), np.zeros(0, dtype=np.int64))
    return Loops(np.concatenate(contours), np.repeat(np.arange(len(contours)), [len(one) for one in contours]))


def chained(parts: Sequence[Loops]) -> Loops:
    """The loops of several, one after the other."""
    there = [one for one in parts if one.count]
    if len(there) < 2:  # noqa: PLR2004 - nothing to chain
        return there[0] if there else loops_of([])
    first = np.cumsum([0, *(one.count for one in there[:-1])]).tolist()
    return Loops(
        np.concatenate([one.points for one in there]),
        np.concatenate([one.loop + start for one, start in zip(there, first, strict=True)]),
    )


def _per_loop(loops: Loops, values: NDArray[Any]) -> Array:
    """For each loop the sum of the values at its points."""
    return np.bincount(loops.loop, values, loops.count).astype(np.float64)
