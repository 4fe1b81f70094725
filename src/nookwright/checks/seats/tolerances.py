"""What printers make of a fit: the gap between an inside and an outside, at the tight and at the loose edge.

Both edges are those that 95 % of prints keep: the likeliest error, and 1.645 standard uncertainties to the bad side. An
inside and an outside that come from two prints err apart; a thing that is put into a print does not err. What it does
not know: which printer prints which of them; the worst of the household stands for all.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.sizing.printers.errors import inside_sensitivities, outside_sensitivities
from nookwright.sizing.printers.household import REACH

if TYPE_CHECKING:
    from nookwright.sizing.printers.errors import PrinterErrors


@dataclass(frozen=True)
class Edges:
    """What the printers do to a gap, mm.

    Attributes:
        tight: what they may take, as a positive number.
        loose: what they may add.
    """

    tight: float
    loose: float

    @property
    def likeliest(self) -> float:
        """What they likely add; negative where they take."""
        return (self.loose - self.tight) / 2


def of_two_prints(errors: PrinterErrors, size: float) -> Edges:
    """What they do to the whole gap, both sides, between a printed inside and a printed outside.

    Args:
        errors: of the household.
        size: of the fit, mm.
    """
    taken, inside = errors.of(inside_sensitivities(size, round_hole=False))
    given, outside = errors.of(outside_sensitivities(size))
    return _edges(taken - given, math.hypot(inside, outside, math.sqrt(2) * errors.scatter))


def of_one_print(errors: PrinterErrors, size: float, *, round_hole: bool) -> Edges:
    """What they do to the whole gap between a printed inside and a thing.

    Args:
        errors: of the household.
        size: of the fit, mm.
        round_hole: a round hole, which small ones draw shut.
    """
    taken, inside = errors.of(inside_sensitivities(size, round_hole=round_hole))
    return _edges(taken, math.hypot(inside, errors.scatter))


def _edges(likeliest: float, uncertainty: float) -> Edges:
    """Both edges of a change of the gap."""
    return Edges(REACH * uncertainty - likeliest, REACH * uncertainty + likeliest)
