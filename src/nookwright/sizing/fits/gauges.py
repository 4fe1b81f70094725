"""Gauges: three slices of a pocket that are tried before the big print, and what the answers say of the size needed.

The size needed is the drawn size at which the largest thing of a lot just has no gap: the thing less what the printer
adds. Things and printer give its distribution; each answer narrows it. The next build draws the pocket by what is left
of the doubt. Everything is summed on a fixed grid, so the same answers give the same pocket.

Gauges of one print share that print's shift, and a later print has its own: however often a person gauges, this much of
the doubt stays.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from nookwright.ground.sources import Fact, Kind
from nookwright.sizing.fits.chain import CONFIDENCE
from nookwright.sizing.fits.judgement import SLIDES_AT, likely, loose_at, taste_weights
from nookwright.sizing.printers.errors import inside_sensitivities
from nookwright.sizing.statistics.nodes import normal_nodes, share_nodes, smallest_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from nookwright.sizing.fits.chain import Pockets
    from nookwright.sizing.printers.errors import PrinterErrors
    from nookwright.sizing.statistics.largest import Judged
    from nookwright.survey.origins import FitClass, Says

GAUGE_STEP = Fact(
    0.1, unit="mm", kind=Kind.CHOICE, source="Sizes of gauges are whole tenths, so that they can be marked with them."
)
SURE = Fact(0.99, unit="1", kind=Kind.CHOICE, source="What a gauged fit should reach: that all go into all pockets.")
ENOUGH = Fact(
    0.998,
    unit="1",
    kind=Kind.CALCULATED,
    source="A fit that holds so surely needs no more gauges: 95 % of users reach 99 % (benchmarks/sizing/gauges.py).",
)
AS_GOOD = Fact(
    0.001, unit="1", kind=Kind.CHOICE, source="A smaller pocket that holds less surely than the best by this is taken."
)
DRAWN_STEP = Fact(0.02, unit="mm", kind=Kind.CHOICE, source="Pockets are tried in steps of a fifth of a gauge's step.")
PRINT_TO_PRINT = Fact(
    0.03,
    unit="mm",
    kind=Kind.COMMON_PRACTICE,
    source="Standard deviation of a width between two prints of one printer and spool: temperature, moisture, belt.",
)
_NODES = 601
_GAUGE_SHARES = (1 / 6, 1 / 2, 5 / 6)  # of the cases, in which a gauge is large enough
_LEAST_SHARE = 0.001  # of the cases, at which the search for a pocket begins and ends
_REACH = 1.0  # mm beyond what things and printer allow
_SHIFT, _SHIFT_WEIGHTS = normal_nodes(7)
_BIAS, _BIAS_WEIGHTS = normal_nodes(15)
_SHARES, _SHARE_WEIGHTS = share_nodes(15)


@dataclass(frozen=True)
class Tried:
    """One gauge and what a person said, with every thing of the lot tried in it.

    Attributes:
        print_number: gauges with the same number were printed together.
        size: as it was drawn and marked, mm.
        says: tight, goes in, loose.
    """

    print_number: int
    size: float
    says: Says


@dataclass(frozen=True)
class Needed:
    """The drawn size at which the largest thing of a lot has no gap in a pocket, as a distribution.

    Attributes:
        sizes: nodes, mm, evenly rising.
        weights: of each; they sum to 1.
        scatter: standard deviation from pocket to pocket of one print, mm.
        pockets: how many there will be.
    """

    sizes: np.ndarray
    weights: np.ndarray
    scatter: float
    pockets: int

    def at(self, share: float) -> float:
        """The size that is enough in so many cases, mm.

        Args:
            share: of the cases, between 0 and 1.
        """
        return float(np.interp(share, np.cumsum(self.weights) - self.weights / 2, self.sizes))

    @property
    def doubt(self) -> float:
        """Standard deviation, mm."""
        middle = float(self.sizes @ self.weights)
        return float(np.sqrt((self.sizes - middle) ** 2 @ self.weights))

    def goes_in(self, drawn: float, clearance: float = 0.0) -> float:
        """How likely every thing goes into every pocket of the next print.

        Args:
            drawn: size of the pockets, mm.
            clearance: that is to be left, mm.
        """
        below = self._below(drawn - clearance + self._shifts[:, None] + self._tightest)
        return float(_SHIFT_WEIGHTS @ below @ _SHARE_WEIGHTS)

    def holds(self, drawn: float, fit: FitClass) -> float:
        """How likely every thing goes into every pocket, and none of the pockets is loose for the largest.

        Args:
            drawn: size of the pockets, mm.
            fit: how a thing should go in.
        """
        tight = self._below(drawn + self._shifts[:, None] + self._tightest)
        loose = self._below(drawn - loose_at(fit) + self._shifts[:, None] - self._tightest)
        return float(_SHIFT_WEIGHTS @ np.maximum(0.0, tight - loose) @ _SHARE_WEIGHTS)

    @property
    def _shifts(self) -> np.ndarray:
        """What the next print may add to every pocket, mm."""
        return np.asarray(PRINT_TO_PRINT * _SHIFT)

    @property
    def _tightest(self) -> np.ndarray:
        """What scatter takes off the tightest of the pockets, mm: negative."""
        return np.asarray(smallest_of(self.pockets, _SHARES) * self.scatter)

    def _below(self, sizes: np.ndarray) -> np.ndarray:
        edges = np.append(self.sizes, 2 * self.sizes[-1] - self.sizes[-2]) - (self.sizes[1] - self.sizes[0]) / 2
        return np.asarray(np.interp(sizes, edges, np.concatenate([[0.0], np.cumsum(self.weights)])))


def needed(judged: Judged, errors: PrinterErrors, *, pockets: Pockets) -> Needed:
    """What things and printer say of the size needed, before any gauge.

    Args:
        judged: one dimension of the things.
        errors: of the printer.
        pockets: how many there are, and of what shape.
    """
    largest = judged.largest()
    mean, uncertainty = errors.of(inside_sensitivities(largest.limit(CONFIDENCE), round_hole=pockets.round_hole))
    adds = mean + uncertainty * _BIAS
    low, high = largest.limit(1e-6) - adds.max() - _REACH, largest.limit(1 - 1e-6) - adds.min() + _REACH
    sizes = np.linspace(low, high, _NODES)
    half = (sizes[1] - sizes[0]) / 2
    edges = np.append(sizes - half, sizes[-1] + half)
    below = largest.probability(edges[:, None] + adds) @ _BIAS_WEIGHTS
    weights = np.maximum(np.diff(below), 0) + 1e-12
    return Needed(sizes, weights / weights.sum(), errors.scatter, pockets.count)


def gauge_sizes(wanted: Needed) -> tuple[float, ...]:
    """The sizes of the next gauges: where the border between tight and goes in is likely, a tenth apart at least.

    Args:
        wanted: what is known of the size needed.
    """
    sizes: list[float] = []
    for share in _GAUGE_SHARES:
        size = round(round((wanted.at(share) + SLIDES_AT) / GAUGE_STEP) * GAUGE_STEP, 6)
        sizes.append(size if not sizes else max(size, round(sizes[-1] + GAUGE_STEP, 6)))
    return tuple(sizes)


def after(before: Needed, tried: Iterable[Tried], fit: FitClass) -> Needed:
    """What is known after gauges were tried, all that were tried together: their person is the same.

    Args:
        before: what things and printer said.
        tried: every gauge so far and its answer.
        fit: how a thing should go in.
    """
    prints: dict[int, list[Tried]] = defaultdict(list)
    for one in tried:
        prints[one.print_number].append(one)
    likelihood = np.ones((len(before.sizes), len(taste_weights())))
    for rings in prints.values():
        likelihood *= _of_print(before, rings, fit)
    weights = before.weights * (likelihood @ taste_weights())
    return replace(before, weights=weights / weights.sum())


def _of_print(before: Needed, rings: Sequence[Tried], fit: FitClass) -> np.ndarray:
    """How likely the answers of one print are: ``float[sizes][tastes]``."""
    shifts = PRINT_TO_PRINT * _SHIFT
    found = np.ones((len(before.sizes), len(shifts), len(taste_weights())))
    for one in rings:
        found *= likely(one.says, one.size + shifts - before.sizes[:, None], fit)
    return np.asarray(np.einsum("zst,s->zt", found, _SHIFT_WEIGHTS))


def gauged_pocket(wanted: Needed, fit: FitClass) -> float:
    """The size to draw, mm: the least one that holds about as surely as the best does.

    Args:
        wanted: what is known of the size needed.
        fit: how a thing goes in.
    """
    sizes = np.arange(wanted.at(_LEAST_SHARE), wanted.at(1 - _LEAST_SHARE) + loose_at(fit), DRAWN_STEP)
    holding = np.array([wanted.holds(float(size), fit) for size in sizes])
    return round(float(sizes[np.argmax(holding >= holding.max() - AS_GOOD)]), 6)


def worth_gauging(wanted: Needed, fit: FitClass) -> bool:
    """Whether more gauges would change anything: not where the fit holds as surely as it can be told.

    Args:
        wanted: what is known of the size needed.
        fit: how a thing should go in.
    """
    return wanted.holds(gauged_pocket(wanted, fit), fit) < ENOUGH
