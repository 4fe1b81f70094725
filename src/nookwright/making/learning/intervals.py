"""What a bedful will take on a printer that is known a little: low, likely and high."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nookwright.ground.sources import Fact, Kind
from nookwright.making.learning.factors import CLOCK_S
from nookwright.module.estimates import MM3_PER_CM3

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from nookwright.making.estimate.together import BedfulEstimate
    from nookwright.making.learning.factors import Factors
    from nookwright.making.learning.robust import Belief

    Array = NDArray[np.float64]

SURE = Fact(0.9, unit="1", kind=Kind.CHOICE, source="Nine prints in ten lie between low and high.")


@dataclass(frozen=True)
class Interval:
    """Between low and high with the probability ``SURE``."""

    low: float
    likely: float
    high: float


def time_of(bedful: BedfulEstimate, factors: Factors) -> Interval:
    """How long a bedful will take, heating included, s.

    Args:
        bedful: as estimated.
        factors: what is believed of its printer in its material.
    """
    slowed, fixed = factors.slowness * bedful.moving_s, bedful.time_s - bedful.moving_s
    likely = max(slowed + fixed + factors.start_s, float(CLOCK_S))
    return _about(likely, np.array([slowed, float(CLOCK_S)]) / likely, factors.time)


def mass_of(bedful: BedfulEstimate, factors: Factors, density_g_cm3: float) -> Interval:
    """What a bedful will weigh, g.

    Args:
        bedful: as estimated.
        factors: what is believed of its printer in its material.
        density_g_cm3: of the material.
    """
    likely = factors.heaviness * bedful.plastic_mm3 / MM3_PER_CM3 * density_g_cm3
    return _about(likely, np.ones(1), factors.mass)


def _about(likely: float, row: Array, belief: Belief) -> Interval:
    """The interval of one more print, by Student's t with the worth of what is believed of the noise."""
    from scipy.special import stdtrit

    spread = float(np.sqrt(row @ belief.covariance @ row + belief.spread**2))
    wide = float(np.exp(stdtrit(belief.worth, (1 + SURE) / 2) * spread))
    return Interval(likely / wide, likely, likely * wide)
