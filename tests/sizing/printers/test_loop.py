"""The calibration loop closes: what a coupon's readings say is what the printer hides. Long runs are in benchmarks/."""

from __future__ import annotations

import numpy as np
import pytest
from benchmarks.sizing.printers import CASES, SHARE, Case, close, hidden, repeated

from nookwright.sizing.printers.calibrate import calibrate
from nookwright.sizing.printers.coupon import features
from nookwright.sizing.printers.errors import ERRORS, Error, unmeasured
from nookwright.survey.origins import CouponForm, Instrument

FORMS = pytest.mark.parametrize("form", CouponForm)
DELTA = {Error.SCALE_X: 1e-5, Error.SCALE_Y: 1e-5, Error.SKEW_DEG: 1e-3}  # small steps; 0.001 mm for all else


@FORMS
def test_readings_follow_the_errors_as_the_estimate_assumes(form: CouponForm) -> None:
    """The sensitivities are the slopes of the exact model of the printed coupon, in which none of them is used."""
    still = np.zeros((1, len(ERRORS)))
    for column, error in enumerate(ERRORS):
        moved = still.copy()
        moved[0, column] = DELTA.get(error, 1e-3)
        slopes = (repeated(moved, form) - repeated(still, form))[0] / moved[0, column]
        for one, slope in zip(features(form), slopes, strict=True):
            assert slope == pytest.approx(one.sensitivities.get(error, 0.0), rel=1e-3, abs=2e-4), (one.id, error)


@pytest.mark.parametrize("case", [case for case in CASES if case.judged], ids=str)
def test_the_loop_closes(case: Case) -> None:
    """Of 50 printers: no share further below 95 % than chance allows, 3.5 standard deviations; bias within a fifth."""
    printers = 50
    loop = close(case, printers)
    least = SHARE - 3.5 * (SHARE * (1 - SHARE) / printers) ** 0.5
    assert min(loop.shares().values()) >= least
    assert loop.honest >= 0.9
    spread = loop.errors.std(axis=0)
    assert (np.abs(loop.errors.mean(axis=0)) < 4 * spread / printers**0.5).all()


@FORMS
def test_a_perfect_print_read_perfectly_often_says_so(form: CouponForm) -> None:
    """With the errors of the likeliest printer, exact readings leave the estimate where it was."""
    known = unmeasured()
    sizes = repeated(np.array([known.mean]), form)[0]
    found = calibrate({one.id: [size] for one, size in zip(features(form), sizes, strict=True)}, form=form)
    assert found.mean == pytest.approx(known.mean, abs=2e-4)
    assert found.measured


def test_more_readings_are_never_less_sure() -> None:
    """Each uncertainty shrinks or stays with each feature that is added."""
    sizes = {one.id: [one.nominal] for one in features()}
    before = unmeasured()
    for count in range(1, len(sizes) + 1, 5):
        after = calibrate(dict(list(sizes.items())[:count]))
        assert all(after.uncertainty(error) <= before.uncertainty(error) + 1e-12 for error in ERRORS)
        before = after


def test_a_tape_says_less_than_a_caliper() -> None:
    """What it was measured with counts."""
    sizes = {one.id: [one.nominal] for one in features()}
    caliper, tape = (calibrate(sizes, instrument=one) for one in (Instrument.CALIPER, Instrument.TAPE))
    assert caliper.uncertainty(Error.SCALE_X) < 0.5 * tape.uncertainty(Error.SCALE_X)


def test_no_readings_say_nothing() -> None:
    """The defaults stay, and are not called measured."""
    assert calibrate({}) == unmeasured()
    assert calibrate({"wall": []}) == unmeasured()


def test_features_that_are_not_there_are_refused() -> None:
    """By their id."""
    with pytest.raises(KeyError, match="long-z"):
        calibrate({"long-z": [1.0]})


def test_the_same_seed_hides_the_same_errors() -> None:
    """So a failure can be had again."""
    one, again = (hidden(3, 1.0, np.random.default_rng(7)) for _ in range(2))
    assert np.array_equal(one, again)
