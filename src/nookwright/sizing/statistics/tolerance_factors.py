"""Classical statistical tolerance limits: factors for normal samples, and what order statistics alone allow.

They know nothing of how a thing was made and are offered beside the limits of ``largest.py``, which do. With ``n``
samples of mean ``m`` and standard deviation ``s``, at least the share ``p`` of the population lies below ``m + k1 s``
(one-sided), or within ``m - k2 s`` and ``m + k2 s`` (two-sided), with the confidence asked for.

Source: NIST/SEMATECH e-Handbook of Statistical Methods, 7.2.6.3 and 7.2.6.4; ISO 16269-6.
"""

from __future__ import annotations

import math

import numpy as np
from scipy import optimize, special, stats

_NODES = 96  # of the outer quadrature; the factors agree to 1e-6 with twice as many
_REACH = 9.0  # standard errors to which the mean is followed


def one_sided_factor(samples: int, share: float, confidence: float) -> float:
    """The factor k1: exact, from the noncentral t distribution.

    Args:
        samples: number of samples, 2 or more.
        share: of the population that is covered, between 0 and 1.
        confidence: that it is, between 0 and 1.

    Raises:
        ValueError: for fewer samples, or for shares and confidences outside of 0 to 1.
    """
    _check(samples, share, confidence)
    root = math.sqrt(samples)
    return float(stats.nct.ppf(confidence, samples - 1, special.ndtri(share) * root) / root)


def two_sided_factor(samples: int, share: float, confidence: float) -> float:
    """The factor k2: exact, the coverage integrated over the sample's mean and spread; not an approximation.

    Args:
        samples: number of samples, 2 or more.
        share: of the population that is covered, between 0 and 1.
        confidence: that it is, between 0 and 1.

    Raises:
        ValueError: for fewer samples, or for shares and confidences outside of 0 to 1.
    """
    _check(samples, share, confidence)
    nodes, weights = np.polynomial.legendre.leggauss(_NODES)
    errors = _REACH / 2 * (nodes + 1)  # of the mean, in standard errors; both signs alike
    density = _REACH * weights * stats.norm.pdf(errors)
    reaches = _reach_about(errors / math.sqrt(samples), share)
    freedom = samples - 1

    def surplus(factor: float) -> float:
        enough = stats.chi2.sf(freedom * (reaches / factor) ** 2, freedom)
        return float(density @ enough) - confidence

    start = howe_factor(samples, share, confidence)
    return float(optimize.brentq(surplus, start / 2, start * 2, xtol=1e-10))


def howe_factor(samples: int, share: float, confidence: float) -> float:
    """Howe's approximation of k2, which many handbooks print; at 3 samples it is 4 % too large.

    Args:
        samples: number of samples, 2 or more.
        share: of the population that is covered, between 0 and 1.
        confidence: that it is, between 0 and 1.

    Raises:
        ValueError: for fewer samples, or for shares and confidences outside of 0 to 1.
    """
    _check(samples, share, confidence)
    freedom = samples - 1
    spread = freedom * (1 + 1 / samples) / stats.chi2.ppf(1 - confidence, freedom)
    return float(special.ndtri((1 + share) / 2) * math.sqrt(spread))


def order_confidence(samples: int, share: float, left_out: int) -> float:
    """How sure the samples' extremes cover a share of any population, whatever its distribution.

    Args:
        samples: number of samples, 1 or more.
        share: of the population that is to be covered, between 0 and 1.
        left_out: extremes that do not count, of both ends together: 1 for "below the largest", 2 for "from the
            smallest to the largest".
    """
    return float(stats.binom.cdf(samples - left_out, samples, share))


def samples_needed(share: float, confidence: float, left_out: int) -> int:
    """The least number of samples whose extremes cover a share of any population (Wilks, 1941).

    Args:
        share: of the population that is to be covered, between 0 and 1.
        confidence: that it is, between 0 and 1.
        left_out: extremes that do not count, as in ``order_confidence``.

    Raises:
        ValueError: for shares and confidences outside of 0 to 1.
    """
    _check(2, share, confidence)
    few, many = left_out - 1, max(2, left_out)
    while order_confidence(many, share, left_out) < confidence:
        few, many = many, 2 * many
    while many - few > 1:
        middle = (few + many) // 2
        few, many = (few, middle) if order_confidence(middle, share, left_out) >= confidence else (middle, many)
    return many


def _reach_about(offsets: np.ndarray, share: float) -> np.ndarray:
    """Half widths of the intervals about these offsets from the mean that hold the share of a unit normal."""
    low = np.full_like(offsets, special.ndtri((1 + share) / 2))
    high = offsets + low
    for _ in range(60):
        middle = (low + high) / 2
        short = special.ndtr(offsets + middle) - special.ndtr(offsets - middle) < share
        low, high = np.where(short, middle, low), np.where(short, high, middle)
    return np.asarray(high)


def _check(samples: int, share: float, confidence: float) -> None:
    if samples < 2:  # noqa: PLR2004 - one sample has no spread
        text = f"{samples} samples have no spread of their own; 2 are the least."
        raise ValueError(text)
    for name, value in (("share", share), ("confidence", confidence)):
        if not 0 < value < 1:
            text = f"The {name} is {value:g}; it lies between 0 and 1."
            raise ValueError(text)
