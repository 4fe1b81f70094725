"""What a printer makes of estimates in one material: two factors and a few seconds, with how sure they are.

Time: t = (k m + f + c) e, with the moving time m and the fixed time f as estimated, k the printer's slowness, c what
each start takes more than believed, and e the noise from print to print. Mass: g = q g' e. What other materials say of
the printer is believed first, and is made less sure by what materials usually differ.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nookwright.ground.sources import Fact, Kind
from nookwright.making.learning.robust import Belief, updated
from nookwright.making.learning.spoilage import Spoilage, spoilage_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from nookwright.making.learning.observed import Observed

SLOWNESS_SPREAD = Fact(
    0.25, unit="1", kind=Kind.CHOICE, source="Of the logarithm of k before any print: a third slower is no surprise."
)
START_SPREAD_S = Fact(
    60.0, unit="s", kind=Kind.CHOICE, source="Heating differs by a minute or so from printer to printer."
)
MASS_SPREAD = Fact(
    0.08,
    unit="1",
    kind=Kind.COMMON_PRACTICE,
    source="Of the logarithm of q: filament and extruder are off by 5 to 10 %.",
)
NOISE = Fact(0.03, unit="1", kind=Kind.CHOICE, source="From print to print, before any print was timed or weighed.")
NOISE_WORTH = Fact(4.0, unit="prints", kind=Kind.CHOICE, source="So many prints change what is believed of the noise.")
MATERIALS_DIFFER = Fact(
    0.03,
    unit="1",
    kind=Kind.CHOICE,
    source="Standard deviation of the factors from material to material on one printer.",
)
CLOCK_S = Fact(60.0, unit="s", kind=Kind.COMMON_PRACTICE, source="Times are read to the minute.")
SCALE_G = Fact(1.0, unit="g", kind=Kind.COMMON_PRACTICE, source="Kitchen scales show whole grams.")
_STEPS = 4  # the start's share of the time depends on k, and is worked out anew as often


@dataclass(frozen=True, eq=False)
class Factors:
    """What is believed of a printer in one material.

    Attributes:
        time: of the logarithm of k, and of c in minutes.
        mass: of the logarithm of q.
        spoilage: how many bedfuls fail.
        timed, weighed: how many prints of the printer were timed and weighed.
    """

    time: Belief
    mass: Belief
    spoilage: Spoilage
    timed: int
    weighed: int

    @property
    def slowness(self) -> float:
        """How many times longer moves take than estimated."""
        return float(np.exp(self.time.mean[0]))

    @property
    def start_s(self) -> float:
        """What each start takes more than estimated, s."""
        return float(self.time.mean[1] * CLOCK_S)

    @property
    def heaviness(self) -> float:
        """How many times heavier prints are than estimated."""
        return float(np.exp(self.mass.mean[0]))


def unlearned() -> Factors:
    """What is believed before any print."""
    return factors_of((), "", "")


def factors_of(prints: Iterable[Observed], printer: str, material: str) -> Factors:
    """What is believed of a printer in one material.

    Args:
        prints: all that are known, of other printers too.
        printer: id of the printer.
        material: id of the material.
    """
    mine = [one for one in prints if one.printer == printer]
    others, own = ([one for one in mine if (one.material == material) is which] for which in (False, True))
    time = Belief(
        np.zeros(2), np.diag([SLOWNESS_SPREAD**2, (START_SPREAD_S / CLOCK_S) ** 2]), float(NOISE), float(NOISE_WORTH)
    )
    mass = Belief(np.zeros(1), np.array([[MASS_SPREAD**2]]), float(NOISE), float(NOISE_WORTH))
    if others:
        time = _timed(time, others).widened(np.array([MATERIALS_DIFFER**2, 0.0]))
        mass = _weighed(mass, others).widened(np.array([MATERIALS_DIFFER**2]))
    return Factors(
        time=_timed(time, own),
        mass=_weighed(mass, own),
        spoilage=spoilage_of(one.failed for one in mine),
        timed=sum(one.time_s is not None for one in mine),
        weighed=sum(one.mass_g is not None for one in mine),
    )


def _timed(prior: Belief, prints: Sequence[Observed]) -> Belief:
    """What is believed after some prints were timed: log t is made linear about what was believed, a few times over."""
    known = [one for one in prints if one.time_s]
    if not known:
        return prior
    moving, fixed = (np.array([getattr(one, name) for one in known]) for name in ("moving_s", "fixed_s"))
    actual = np.array([float(one.time_s or 0.0) for one in known])
    at, found = np.asarray(prior.mean), prior
    for _ in range(_STEPS):
        slowed = np.exp(at[0]) * moving
        foreseen = np.maximum(slowed + fixed + at[1] * CLOCK_S, CLOCK_S)
        rows = np.column_stack([slowed / foreseen, CLOCK_S / foreseen])
        readings = np.log(actual / foreseen) + rows @ at
        found = updated(prior, rows, readings, (CLOCK_S / actual) ** 2 / 12)
        at = found.mean
    return found


def _weighed(prior: Belief, prints: Sequence[Observed]) -> Belief:
    """What is believed after some prints were weighed."""
    known = [one for one in prints if one.mass_g and one.estimate_g]
    if not known:
        return prior
    actual = np.array([float(one.mass_g or 0.0) for one in known])
    readings = np.log(actual / np.array([one.estimate_g for one in known]))
    return updated(prior, np.ones((len(known), 1)), readings, (SCALE_G / actual) ** 2 / 12)
