"""A line fitted to a few noisy readings, of which one may be a blunder, with what was believed before.

Readings y = X theta + noise. The noise is normal with an unknown spread, but one reading in twenty may come from a
normal ten times as wide: a print that was paused over night, a figure typed wrongly. Weights and spread are found by
expectation and maximisation (Dempster, Laird and Rubin 1977), the coefficients by the normal equations with the prior;
their covariance is that of the weighted readings.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

BLUNDERS = Fact(0.05, unit="1", kind=Kind.CHOICE, source="One figure in twenty is no figure of a normal print.")
BLUNDER_TIMES = Fact(10.0, unit="1", kind=Kind.CHOICE, source="How much wider a blunder is spread than a print.")
_ROUNDS = 50
_STILL = 1e-10


@dataclass(frozen=True, eq=False)
class Belief:
    """Coefficients and the spread about them.

    Attributes:
        mean: of the coefficients, (k,).
        covariance: of the coefficients, (k, k).
        spread: standard deviation of a reading about them.
        worth: how many readings the spread is worth.
    """

    mean: Array
    covariance: Array
    spread: float
    worth: float

    def widened(self, more: Array) -> Belief:
        """The same, less sure.

        Args:
            more: added to the variance of each coefficient, (k,).
        """
        return Belief(self.mean, self.covariance + np.diag(more), self.spread, self.worth)


def updated(prior: Belief, rows: Array, readings: Array, own: Array) -> Belief:
    """What is believed after some readings.

    Args:
        prior: what was believed before.
        rows: X, (n, k).
        readings: y, (n,).
        own: variance that each reading has besides the spread, such as that of a scale's digit, (n,).
    """
    if not len(readings):
        return prior
    precision, believed = np.linalg.inv(prior.covariance), prior.covariance
    mean, spread2 = prior.mean, prior.spread**2
    # begin at the median, not at the prior: a blunder must not seem likely only because the printer is slow
    shift = float(np.median(readings - rows @ mean))
    residual = readings - rows @ mean - shift
    for _ in range(_ROUNDS):
        sound = _sound(residual, spread2 + own, BLUNDER_TIMES**2 * spread2 + own)
        inverse = sound / (spread2 + own) + (1 - sound) / (BLUNDER_TIMES**2 * spread2 + own)
        information = precision + rows.T @ (rows * inverse[:, None])
        believed = np.linalg.inv(information).astype(np.float64)
        new = believed @ (precision @ prior.mean + rows.T @ (inverse * readings))
        residual = readings - rows @ new
        still = float(np.abs(new - mean).max()) < _STILL
        mean = new
        spread2 = _spread2(prior, residual, sound, own, spread2)
        if still:
            break
    return Belief(mean, believed, float(np.sqrt(spread2)), prior.worth + float(sound.sum()))


def _sound(residual: Array, narrow: Array, wide: Array) -> Array:
    """For each reading the probability that it is no blunder."""
    log_narrow = np.log(1 - BLUNDERS) - np.log(narrow) / 2 - residual**2 / narrow / 2
    log_wide = np.log(float(BLUNDERS)) - np.log(wide) / 2 - residual**2 / wide / 2
    found: Array = 1 / (1 + np.exp(np.clip(log_wide - log_narrow, -700.0, 700.0)))
    return found


def _spread2(prior: Belief, residual: Array, sound: Array, own: Array, now: float) -> float:
    """Squared spread: what was believed, and the residuals less their own variance, each with its worth."""
    shown = np.maximum(residual**2 - own, 0.0) * sound
    found = (prior.worth * prior.spread**2 + float(shown.sum())) / (prior.worth + float(sound.sum()))
    return max(found, now * 1e-6)
