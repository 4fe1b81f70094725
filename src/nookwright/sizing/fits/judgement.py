"""What a person says of a thing in a gauge, and how likely each answer is at a gap.

Three answers, in order of the gap: tight, goes in, loose. The border between tight and goes in is sharp, since a thing
either slides or does not; where a person begins to call it loose is a matter of taste and of the fit. People differ, so
each border moves with the person; an answer may also be a slip.
"""

from __future__ import annotations

import numpy as np
from scipy.special import expit

from nookwright.ground.sources import Fact, Kind
from nookwright.sizing.fits.chain import CLEARANCE
from nookwright.sizing.statistics.nodes import normal_nodes
from nookwright.survey.origins import FitClass, Says

SLIDES_AT = Fact(
    0.05, unit="mm", kind=Kind.COMMON_PRACTICE, source="Gap on the diameter from which a thing slides by its weight."
)
SLIDES_SD = Fact(
    0.04,
    unit="mm",
    kind=Kind.CHOICE,
    source="How much people differ in what goes in for them; nobody measured it.",
)
SLIDES_WIDTH = Fact(
    0.02,
    unit="mm",
    kind=Kind.CHOICE,
    source="Of the logistic between tight and goes in: a ring's own scatter of 0.02, strings, how straight it is held.",
)
LOOSE_OVER = Fact(
    0.3, unit="mm", kind=Kind.CHOICE, source="A thing is called loose where its gap is twice the clearance and this."
)
HELD_RANGE = Fact(
    0.6, unit="mm", kind=Kind.COMMON_PRACTICE, source="Felt or ribs that yield by 0.3 a side still hold up to this gap."
)
LOOSE_SD = Fact(0.2, unit="mm", kind=Kind.CHOICE, source="How much people differ in what they call loose.")
LOOSE_WIDTH = Fact(0.1, unit="mm", kind=Kind.CHOICE, source="Of the logistic between goes in and loose.")
SLIP = Fact(0.02, unit="1", kind=Kind.CHOICE, source="Share of answers that are a slip: the wrong ring or word.")

_ANSWERS = len(Says)
_TASTE, _TASTE_WEIGHTS = normal_nodes(7)


def loose_at(fit: FitClass) -> float:
    """The gap from which a fit is called loose, mm.

    Args:
        fit: how a thing should go in.
    """
    return float(HELD_RANGE if fit is FitClass.HELD else 2 * CLEARANCE[fit] + LOOSE_OVER)


def likely(says: Says, gaps: np.ndarray, fit: FitClass) -> np.ndarray:
    """How likely an answer is, for people of different taste.

    Args:
        says: the answer.
        gaps: between gauge and thing, any shape, mm.
        fit: how a thing should go in.

    Returns:
        The shape of ``gaps`` and one axis more, over ``taste_weights``.
    """
    gap = np.asarray(gaps)[..., None]
    slides = expit((gap - SLIDES_AT - SLIDES_SD * _TASTE) / SLIDES_WIDTH)
    rattles = expit((gap - loose_at(fit) - LOOSE_SD * _TASTE) / LOOSE_WIDTH)
    sure = {Says.TIGHT: 1 - slides, Says.GOES_IN: slides * (1 - rattles), Says.LOOSE: slides * rattles}[says]
    return np.asarray(SLIP / _ANSWERS + (1 - SLIP) * sure)


def taste_weights() -> np.ndarray:
    """How many people have each taste, ``float[tastes]``; they sum to 1."""
    return np.asarray(_TASTE_WEIGHTS)
