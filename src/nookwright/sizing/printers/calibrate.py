"""A printer's errors from the readings of its coupon: a linear Gaussian update of the defaults.

Every reading is linear in the errors (first order; the second is below 0.001 mm), so the update has a closed form and
its covariance says how well each error is known. Readings of one feature share the feature's own scatter, those over
one peg what it stands off its place, and readings of nearly one length the instrument's error there: repeating them
averages the hand only.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from nookwright.ground.sources import Fact, Kind
from nookwright.sizing.printers.coupon import feature as feature_of
from nookwright.sizing.printers.errors import ERRORS, PrinterErrors, unmeasured
from nookwright.sizing.statistics.uncertainty import reading_components
from nookwright.survey.origins import CouponForm as Form
from nookwright.survey.origins import Instrument

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from nookwright.sizing.printers.coupon import Feature

ALIKE_WITHIN = Fact(
    150.0,
    unit="mm",
    kind=Kind.CHOICE,
    source="Distance along a caliper's beam over which its error changes: it was zeroed with its jaws closed, and what "
    "is off after that builds up along the beam.",
)


def calibrate(
    readings: Mapping[str, Sequence[float]],
    *,
    before: PrinterErrors | None = None,
    instrument: Instrument = Instrument.CALIPER,
    form: Form = Form.SHORT,
) -> PrinterErrors:
    """What the readings of one coupon say of the printer that printed it.

    Args:
        readings: mm, of each feature that was measured, by its id; features may be left out.
        before: what was known before; the defaults when left out.
        instrument: what the coupon was measured with.
        form: how long its cross is.

    Raises:
        KeyError: for a feature that the coupon does not have.
    """
    known = before or unmeasured()
    features = [feature_of(name, form) for name in readings if readings[name]]
    if not features:
        return known
    design = np.array([[feature.sensitivities.get(error, 0.0) for error in ERRORS] for feature in features])
    seen = np.array([float(np.mean(readings[feature.id])) - feature.nominal for feature in features])
    noise = _noise(features, readings, instrument, known.scatter)
    prior_mean, prior = np.array(known.mean), np.array(known.covariance)
    gain = np.linalg.solve(design @ prior @ design.T + noise, design @ prior).T
    mean = prior_mean + gain @ (seen - design @ prior_mean)
    kept = np.eye(len(ERRORS)) - gain @ design
    covariance = kept @ prior @ kept.T + gain @ noise @ gain.T  # this form stays positive
    return PrinterErrors(tuple(mean.tolist()), tuple(map(tuple, covariance.tolist())), known.scatter, measured=True)


def _noise(
    features: list[Feature], readings: Mapping[str, Sequence[float]], instrument: Instrument, scatter: float
) -> np.ndarray:
    """Covariance of the mean readings, ``float[n][n]`` in mm2."""
    lengths = np.array([feature.nominal for feature in features])
    parts = [reading_components(instrument, float(length)) for length in lengths]
    shared = np.array([one[0].standard for one in parts])
    alike = np.exp(-np.abs(lengths[:, None] - lengths) / ALIKE_WITHIN)
    own = np.array([np.hypot(digit.standard, hand.standard) for _, digit, hand in parts])
    times = np.array([len(readings[feature.id]) for feature in features])
    return np.asarray(shared[:, None] * shared * alike + np.diag(own**2 / times) + _stand(features) * scatter**2)


def _stand(features: list[Feature]) -> np.ndarray:
    """How much of their scatter the readings share, ``float[n][n]``: a peg stands off its place for all of them."""
    places = list(dict.fromkeys(place for feature in features if len(feature.at) > 1 for place in feature.at))
    moved = np.zeros((len(features), len(places), 2))
    for row, feature in enumerate(features):
        for sign, place in zip((-1, 1), feature.at if len(feature.at) > 1 else (), strict=False):
            moved[row, places.index(place)] = sign * np.array(feature.along)
    flat = moved.reshape(len(features), -1) / np.sqrt(2)  # of two pegs together as much as of any other feature
    single = np.array([len(feature.at) == 1 for feature in features], dtype=float)
    return np.asarray(flat @ flat.T + np.diag(single))
