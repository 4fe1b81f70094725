"""What more readings of a dimension may say, and what would then be known.

The readings are drawn from what is known of the lot now, on fixed points that fill the possibilities evenly, each point
with its mirror image: the same room gives the same readings, and what shifts all sizes cancels exactly.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

import numpy as np
from scipy.special import ndtr, ndtri

from nookwright.ground.sources import Fact, Kind
from nookwright.sizing.statistics.largest import Judged, Sampled

if TYPE_CHECKING:
    from numpy.typing import NDArray

DRAWS = Fact(
    16,
    unit="1",
    kind=Kind.CALCULATED,
    source="Futures that are tried; 256 instead of 16 move the gain of 1 to 8 readings of jars by less than 0.05 mm.",
)
SEED = Fact(7, unit="1", kind=Kind.CHOICE, source="Any; fixed, so that the same room gives the same readings.")


def futures(judged: Judged, more: int, *, reading_error: float, rough: bool = False) -> tuple[Judged, ...]:
    """What may be known after more things were measured, each equally likely.

    Args:
        judged: what is known of the dimension now.
        more: how many things are measured; not more than there are.
        reading_error: standard uncertainty of one of these readings, mm.
        rough: the readings so far are rough, so that the new ones replace them.
    """
    known = judged.sampled
    drawn = judged.predicted(chances(2 + more), reading_error)
    before, error = ((), reading_error) if rough else (known.readings, max(known.reading_error, reading_error))
    return tuple(
        Judged(Sampled((*before, *row), error, known.count), judged.expected) for row in drawn.round(4).tolist()
    )


@cache
def chances(dimensions: int) -> NDArray[np.float64]:
    """Points that fill a cube evenly: a Latin square of fixed seed, and its mirror image in all but the first side.

    Args:
        dimensions: of the cube.

    Returns:
        ``float[DRAWS][dimensions]``, between 0 and 1.
    """
    half = int(DRAWS) // 2
    strata = (np.arange(half) + 0.5) / half
    scores = ndtri(strata)
    wide = ndtr(scores / scores.std())  # few points lack the tails: these have the normal distribution's variance
    random = np.random.default_rng(int(SEED))
    points = np.column_stack([strata, *(random.permutation(wide) for _ in range(dimensions - 1))])
    mirrored = np.where(np.arange(dimensions) == 0, points, 1 - points)
    return np.vstack([points, mirrored])
