"""Pockets with much play, because their things differ or few were measured, and what would be better.

Three ways out: measure more, where the play comes from not knowing; pockets of two sizes, where many things are alike
and few are large; or ribs that yield, which hold small and large things alike. Each is compared by the play that it
takes away and by its plastic.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from statistics import fmean
from typing import TYPE_CHECKING

import numpy as np
from scipy.special import ndtri
from scipy.stats import binom

from nookwright.ground.sources import Fact, Kind
from nookwright.sizing.next_readings.futures import futures

if TYPE_CHECKING:
    from nookwright.sizing.statistics.largest import Judged

WIDE = Fact(
    1.5,
    unit="mm",
    kind=Kind.CHOICE,
    source="Play of the middle thing beyond its fit: from here on it leans and rattles.",
)
ENOUGH_OF_ALL = Fact(
    0.6, unit="1", kind=Kind.CHOICE, source="Share of what more readings can gain that the ones asked for should gain."
)
RIBS = Fact(
    3, unit="1", kind=Kind.CALCULATED, source="The least number of contacts that hold a round thing in the middle."
)
_FEW = (1, 2, 4, 8)  # readings more; nobody takes more of one lot for one pocket


@dataclass(frozen=True)
class Sleeve:
    """The sleeve of one pocket, mm."""

    wall: float
    height: float
    count: int


@dataclass(frozen=True)
class WayOut:
    """What one way out gains.

    Attributes:
        play: that it takes off, mm; of every pocket, or with two sizes of the smaller ones.
        mm3: plastic that it saves over the whole lot; negative where it costs some.
    """

    play: float
    mm3: float


@dataclass(frozen=True)
class Advice:
    """A pocket with much play, and what would be better.

    Attributes:
        play: of the middle thing beyond printer and clearance, mm.
        more: how many more things should be measured; 0 where that gains nothing worth it.
        measured: what measuring them gains, on average over what may be read.
        two_sizes: what pockets of two sizes gain.
        small: diameter that the smaller half stays below, mm.
        ribs: what yielding ribs gain: they take the play of all things.
    """

    play: float
    more: int
    measured: WayOut
    two_sizes: WayOut
    small: float
    ribs: WayOut


def advice(judged: Judged, sleeve: Sleeve, confidence: float) -> Advice | None:
    """What would be better than these pockets; ``None`` where their play is no matter.

    Args:
        judged: the diameter of the things.
        sleeve: what is printed round each of them.
        confidence: of the room.
    """
    limit = judged.largest().limit(confidence)
    play = limit - fmean(judged.sampled.readings)
    if play < WIDE:
        return None
    more, gained = _more(judged, limit, confidence)
    small = min(limit, _small(judged, confidence))
    ring = math.pi * sleeve.wall * sleeve.height  # plastic of one sleeve for each mm of its diameter
    halves = sleeve.count // 2
    return Advice(
        play=play,
        more=more,
        measured=WayOut(gained, gained * ring * sleeve.count),
        two_sizes=WayOut(limit - small, (limit - small) * ring * halves),
        small=small,
        ribs=WayOut(play, -RIBS * sleeve.wall * play / 2 * sleeve.height * sleeve.count),
    )


def _more(judged: Judged, limit: float, confidence: float) -> tuple[int, float]:
    """The fewest more readings that gain most of what can be gained, and their gain on average, mm."""
    steps = [step for step in _FEW if step <= judged.sampled.unmeasured]
    if not steps:
        return 0, 0.0
    gains = {step: _gain(judged, step, limit, confidence) for step in steps}
    best = next(step for step in steps if gains[step] >= ENOUGH_OF_ALL * max(gains.values()))
    return (best, gains[best]) if gains[best] > 0 else (0, 0.0)


def _gain(judged: Judged, more: int, limit: float, confidence: float) -> float:
    known = futures(judged, more, reading_error=judged.sampled.reading_error)
    return limit - float(np.mean([one.largest().limit(confidence) for one in known]))


def _small(judged: Judged, confidence: float) -> float:
    """The diameter that half of the lot does not exceed, with the stated confidence, mm."""
    count, readings = judged.sampled.count, judged.sampled.readings
    need = math.ceil(count / 2)
    shares = np.linspace(0.5, 1, 501)
    enough = binom.sf(need - 1, count, shares) >= confidence
    share = float(shares[int(np.argmax(enough))])
    doubt = judged.spread * math.sqrt(1 + 1 / len(readings))
    return fmean(readings) + float(ndtri(share)) * doubt
