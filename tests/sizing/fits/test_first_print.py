"""The probability of the first print: against closed forms and the chain's integration, and what helps."""

from __future__ import annotations

from dataclasses import replace

import pytest
from scipy.special import ndtr

from nookwright.sizing.fits.chain import Pockets, all_fit_probability, size_pocket
from nookwright.sizing.fits.first_print import PocketFit, SpaceFit, Step, first_print
from nookwright.sizing.fits.judgement import SLIDES_AT
from nookwright.sizing.printers.errors import OUTSIDE_MEAN, Error, PrinterErrors, inside_sensitivities, unmeasured
from nookwright.sizing.statistics.largest import Expected, Judged, Sampled
from nookwright.survey.origins import FitClass

POCKETS = Pockets(12, round_hole=True)
NEARLY = 0.005  # what 40,000 trials are good for


def judged(*readings: float, spread: float = 0.4, count: int = 12) -> Judged:
    """A lot measured with a caliper."""
    return Judged(Sampled(readings, 0.02, count), Expected(spread))


def fit(lot: str, things: Judged, drawn: float, wanted: FitClass = FitClass.EASY) -> PocketFit:
    """A lot in twelve round pockets."""
    return PocketFit(lot, things, POCKETS, drawn, wanted)


def exact() -> PrinterErrors:
    """A printer without any error."""
    none = unmeasured()
    return replace(none, mean=(0.0,) * 7, covariance=tuple((0.0,) * 7 for _ in range(7)), scatter=0.0, measured=True)


@pytest.mark.parametrize("drawn", [75.3, 76.0, 76.6, 77.5])
def test_one_lot_is_what_the_chain_integrates(drawn: float) -> None:
    """By chance the same as by nodes: things, the printer's bias, and the tightest of twelve pockets."""
    things = judged(75.0, 75.2, 74.8)
    found = first_print([fit("jars", things, drawn)], [], unmeasured())
    expected = all_fit_probability(things, unmeasured(), pockets=POCKETS, drawn=drawn, clearance=float(SLIDES_AT))
    assert found.kit == found.lots["jars"] == pytest.approx(expected, abs=NEARLY)


def test_a_pocket_that_the_chain_sized_fits_with_the_confidence_asked_for() -> None:
    """Sized to touch at 95 %, with nothing for its function, twelve of twelve go in with 95 %."""
    things = judged(75.0, 75.2)
    size = size_pocket(things, unmeasured(), pockets=POCKETS, fit=FitClass.HELD)
    found = first_print([fit("jars", things, size.pocket, FitClass.HELD)], [], unmeasured())
    assert found.kit == pytest.approx(0.95, abs=NEARLY)


def test_lots_that_share_no_doubt_multiply() -> None:
    """With an exact printer two lots are independent."""
    things = judged(75.0, 75.2)
    drawn = things.largest().limit(0.9) + SLIDES_AT
    found = first_print([fit("one", things, drawn), fit("other", things, drawn)], [], exact())
    assert found.lots["one"] == pytest.approx(0.9, abs=NEARLY)
    assert found.kit == pytest.approx(0.81, abs=2 * NEARLY)


def test_lots_of_one_printer_fail_together() -> None:
    """With things that are known, both depend on the same printer: the kit is as likely as each of them."""
    known = judged(75.0, count=1)
    errors = replace(unmeasured(), scatter=0.0)
    lots = [fit(name, known, 75.3) for name in ("one", "other")]
    found = first_print(lots, [], errors)
    assert 0.2 < found.lots["one"] < 0.98
    assert found.kit == pytest.approx(found.lots["one"], abs=0.03)


@pytest.mark.parametrize("room", [0.0, 0.5, 1.5])
def test_a_space_is_a_normal_sum(room: float) -> None:
    """Its own doubt, the scale of 400 mm of liner along both axes, and the outsides' offset."""
    errors = unmeasured()
    scale = errors.uncertainty(Error.SCALE_X) * 400 / 2**0.5
    spread = (0.5**2 + scale**2 + errors.uncertainty(Error.OUTSIDE) ** 2) ** 0.5
    found = first_print([], [SpaceFit("drawer", "width", room, 0.5, 400.0)], errors)
    assert found.spaces["drawer"] == pytest.approx(ndtr((room - OUTSIDE_MEAN) / spread), abs=NEARLY)


def test_both_sides_of_a_space_must_fit() -> None:
    """A drawer that is surely deep enough, and wide enough every second time."""
    sides = [SpaceFit("drawer", "width", 0.0, 0.5, 400.0), SpaceFit("drawer", "depth", 50.0, 0.5, 400.0)]
    assert first_print([], sides, exact()).spaces == {"drawer": pytest.approx(0.5, abs=NEARLY)}


def test_a_coupon_helps_most_where_the_printer_is_the_doubt() -> None:
    """Known things in pockets that the usual printer just makes large enough."""
    known = judged(75.0, count=1)
    likeliest = unmeasured().of(inside_sensitivities(75.0, round_hole=True))[0]
    found = first_print([fit("jars", known, 75.0 - likeliest + 0.15)], [], unmeasured())
    assert next(one for one in found.helps if one.step is Step.COUPON).gain > 0.1
    assert all(one.step is not Step.MEASURE for one in found.helps)


def test_no_coupon_is_asked_for_twice() -> None:
    """A printer that was measured needs none, where one that was not does."""
    for errors in (unmeasured(), replace(unmeasured(), measured=True)):
        found = first_print([fit("jars", judged(75.0, count=1), 75.4)], [], errors)
        assert any(one.step is Step.COUPON for one in found.helps) is not errors.measured


def test_measuring_helps_most_where_the_things_are_the_doubt() -> None:
    """One glass of twelve was measured, in pockets at their 80 % limit; the other lot is surely small enough."""
    things = judged(75.0)
    drawn = things.largest().limit(0.8) + 0.3
    found = first_print([fit("glasses", things, drawn), fit("pins", judged(5.0, count=1), 8.0)], [], unmeasured())
    steps = [(one.step, one.subject) for one in found.helps]
    assert (Step.MEASURE, "glasses") in steps[:2]
    assert all(subject != "pins" for _, subject in steps)
    assert found.lots["pins"] == pytest.approx(1.0)


def test_helps_are_in_order_and_add_up() -> None:
    """The greatest gain first; each is the probability less the kit's; a gauge on the only lot leaves no doubt."""
    jars, pins = fit("jars", judged(75.0), 75.8), fit("pins", judged(5.0, count=1), 5.35)
    gains = [one.gain for one in first_print([pins, jars], [], unmeasured()).helps]
    assert len(set(gains)) > 2
    assert gains == sorted(gains, reverse=True)
    found = first_print([jars], [], unmeasured())
    assert all(one.gain == pytest.approx(one.probability - found.kit) for one in found.helps)
    assert found.helps[0].step is Step.GAUGE
    assert found.helps[0].probability == 1.0


def test_the_same_kit_has_the_same_figures() -> None:
    """Seeded: two runs are equal to the last bit."""
    asked = ([fit("jars", judged(75.0), 75.8)], [SpaceFit("drawer", "width", 0.5, 0.5, 400.0)], unmeasured())
    assert first_print(*asked) == first_print(*asked)


def test_a_kit_without_fits_fits() -> None:
    """No pockets and no liner: nothing can be too tight."""
    found = first_print([], [], unmeasured())
    assert (found.kit, found.lots, found.spaces, found.helps) == (1.0, {}, {}, ())
