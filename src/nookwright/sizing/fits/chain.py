"""The chain of one fit: thing, printer, function.

A pocket is drawn as the limit of the things, and what the printer may take off it, and the clearance that its purpose
asks for. The first two are sized together, so that with the stated confidence every thing of the lot goes into every
pocket; each is shown apart, so that a person can follow the sum.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from scipy.optimize import brentq

from nookwright.ground.sources import Fact, Kind
from nookwright.sizing.printers.errors import PrinterErrors, inside_sensitivities
from nookwright.sizing.statistics.nodes import normal_nodes, share_nodes, smallest_of
from nookwright.survey.origins import FitClass, Purpose

if TYPE_CHECKING:
    from nookwright.sizing.statistics.largest import Judged, Largest

CONFIDENCE = Fact(
    0.95, unit="1", kind=Kind.CHOICE, source="That all things of a lot go into all pockets of the first print."
)
CLEARANCE = {
    FitClass.FALLS_IN: Fact(
        0.8, unit="mm", kind=Kind.COMMON_PRACTICE, source="Let go above the pocket, the thing finds the bottom."
    ),
    FitClass.EASY: Fact(
        0.4, unit="mm", kind=Kind.COMMON_PRACTICE, source="One hand puts it in without looking; it rattles a little."
    ),
    FitClass.CLOSE: Fact(
        0.15, unit="mm", kind=Kind.COMMON_PRACTICE, source="Goes in when it is held straight; does not rattle."
    ),
    FitClass.HELD: Fact(
        0.0, unit="mm", kind=Kind.CHOICE, source="The largest just touches; yielding ribs or felt hold the rest."
    ),
}
FIT_OF = {
    Purpose.LOCATE: FitClass.CLOSE,
    Purpose.KEEP_UPRIGHT: FitClass.EASY,
    Purpose.KEEP_APART: FitClass.FALLS_IN,
}

_BIAS, _BIAS_WEIGHTS = normal_nodes(11)
_SHARES, _SHARE_WEIGHTS = share_nodes(15)


@dataclass(frozen=True)
class PocketSize:
    """One dimension of a pocket and what it is the sum of, mm.

    Attributes:
        measured: the largest reading.
        limit: what no thing of the lot exceeds, less the largest reading.
        printer: what the printer may take off the pocket; negative where it prints insides large.
        clearance: for the function.
        confidence: that all go in everywhere, with the clearance to spare; after gauges, that the fit holds.
        found: what gauges move the sum by.
    """

    measured: float
    limit: float
    printer: float
    clearance: float
    confidence: float
    found: float = 0.0

    @property
    def pocket(self) -> float:
        """The size that is drawn, mm."""
        return self.measured + self.limit + self.printer + self.clearance + self.found

    @property
    def thing(self) -> float:
        """The largest that a thing is taken to be, mm: its limit, or after gauges what goes into the pocket."""
        limit = self.measured + self.limit
        return min(limit, self.pocket) if self.found else limit


@dataclass(frozen=True)
class Pockets:
    """Pockets of one dimension that the things of a lot are put into in any order.

    Attributes:
        count: how many.
        round_hole: a round one, which small ones draw shut.
    """

    count: int
    round_hole: bool


def size_pocket(
    judged: Judged,
    errors: PrinterErrors,
    *,
    pockets: Pockets,
    fit: FitClass,
    confidence: float = CONFIDENCE,
) -> PocketSize:
    """Size one dimension of the pockets of a lot.

    Args:
        judged: that dimension of its things.
        errors: of the printer.
        pockets: how many there are, and of what shape.
        fit: how a thing goes in.
        confidence: that every thing goes into every pocket with the clearance of the fit.
    """
    largest = judged.largest()
    limit, measured = largest.limit(confidence), max(judged.sampled.readings)
    shrink = _shrink(errors, limit, pockets)
    low, high = float(largest.sizes[0]) - shrink.max() - 1, float(largest.sizes[-1]) - shrink.min() + 1

    def surplus(size: float) -> float:
        return _all_fit(largest, size, shrink) - confidence

    alone = float(brentq(surplus, low, high, xtol=1e-4))
    return PocketSize(measured, limit - measured, alone - limit, float(CLEARANCE[fit]), confidence)


def all_fit_probability(
    judged: Judged, errors: PrinterErrors, *, pockets: Pockets, drawn: float, clearance: float = 0.0
) -> float:
    """How likely every thing of the lot goes into every pocket of the first print.

    Args:
        judged: that dimension of its things.
        errors: of the printer.
        pockets: how many there are, and of what shape.
        drawn: size of the pockets as drawn, mm.
        clearance: that is to be left, mm.
    """
    return _all_fit(judged.largest(), drawn - clearance, _shrink(errors, drawn, pockets))


def _shrink(errors: PrinterErrors, size: float, pockets: Pockets) -> np.ndarray:
    """Printed less drawn of the tightest pocket: ``float[biases][tightest]``, mm."""
    mean, uncertainty = errors.of(inside_sensitivities(size, round_hole=pockets.round_hole))
    tightest = smallest_of(pockets.count, _SHARES) * errors.scatter
    return np.asarray(mean + uncertainty * _BIAS[:, None] + tightest)


def _all_fit(largest: Largest, size: float, shrink: np.ndarray) -> float:
    return float(_BIAS_WEIGHTS @ largest.probability(size + shrink) @ _SHARE_WEIGHTS)
