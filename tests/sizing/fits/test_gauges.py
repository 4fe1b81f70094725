"""Gauges: what an answer says of the size needed, and what the next pocket makes of it."""

from __future__ import annotations

from itertools import pairwise, product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.sizing.fits.chain import Pockets, all_fit_probability
from nookwright.sizing.fits.gauges import Needed, Tried, after, gauge_sizes, gauged_pocket, needed, worth_gauging
from nookwright.sizing.fits.judgement import likely, loose_at, taste_weights
from nookwright.sizing.printers.errors import unmeasured
from nookwright.sizing.statistics.largest import Expected, Judged, Sampled
from nookwright.survey.origins import FitClass, Says

POCKETS = Pockets(12, round_hole=True)
JARS = Judged(Sampled((75.0, 75.3, 74.8), 0.02, 12), Expected(0.45))
START = needed(JARS, unmeasured(), pockets=POCKETS)
CLEAR = (Says.TIGHT, Says.TIGHT, Says.GOES_IN), (Says.TIGHT, Says.GOES_IN, Says.LOOSE)


def tried(sizes: tuple[float, ...], says: tuple[Says, ...], number: int = 0) -> list[Tried]:
    """The answers of one print."""
    return [Tried(number, size, word) for size, word in zip(sizes, says, strict=True)]


@pytest.mark.parametrize("drawn", [74.5, 75.5, 76.0, 77.0])
def test_before_any_gauge_the_probability_is_that_of_the_chain(drawn: float) -> None:
    """Two ways to the same figure; gauges know besides that prints differ a little."""
    chain = all_fit_probability(JARS, unmeasured(), pockets=POCKETS, drawn=drawn)
    assert START.goes_in(drawn) == pytest.approx(chain, abs=0.01)


def test_gauges_are_marked_in_tenths_and_lie_where_the_border_is_likely() -> None:
    """Three of them, rising; the middle one is about as likely too tight as not."""
    sizes = gauge_sizes(START)
    assert len(sizes) == 3
    assert all(round(size, 1) == size for size in sizes)
    assert all(high - low >= 0.1 - 1e-9 for low, high in pairwise(sizes))
    assert START.goes_in(sizes[1]) == pytest.approx(0.5, abs=0.15)


@settings(max_examples=40, deadline=None)
@given(st.floats(0.02, 2.0), st.integers(1, 5), st.floats(5, 200), st.integers(1, 30))
def test_gauges_of_any_lot_rise_by_a_tenth_or_more(spread: float, samples: int, size: float, count: int) -> None:
    """However well or badly it is known."""
    judged = Judged(Sampled((size,) * samples, 0.02, count), Expected(spread))
    sizes = gauge_sizes(needed(judged, unmeasured(), pockets=Pockets(count, round_hole=True)))
    assert all(high - low >= 0.1 - 1e-9 for low, high in pairwise(sizes))


@pytest.mark.parametrize("fit", list(FitClass))
def test_answers_are_all_that_may_be_said(fit: FitClass) -> None:
    """At every gap, for every taste, the three answers sum to one; each is likeliest where it should be."""
    gaps = np.linspace(-1, 4, 51)
    total = sum(likely(says, gaps, fit) for says in Says)
    assert total == pytest.approx(np.ones_like(total))
    usual = taste_weights().argmax()
    at = {Says.TIGHT: -0.3, Says.GOES_IN: loose_at(fit) / 2, Says.LOOSE: loose_at(fit) + 1}
    for says, gap in at.items():
        assert max(Says, key=lambda one: likely(one, np.array(gap), fit)[usual]) is says


@pytest.mark.parametrize("says", CLEAR)
def test_answers_narrow_the_doubt_to_the_border_between_tight_and_goes_in(says: tuple[Says, ...]) -> None:
    """The size needed lies between the last that is tight and the first that goes in."""
    sizes = gauge_sizes(START)
    now = after(START, tried(sizes, says), FitClass.CLOSE)
    first = says.index(Says.GOES_IN)
    assert sizes[first - 1] - 0.1 < now.at(0.5) < sizes[first]
    assert now.doubt < 0.6 * START.doubt


@pytest.mark.parametrize("fit", [FitClass.EASY, FitClass.CLOSE, FitClass.HELD])
def test_tight_moves_the_size_needed_up_and_loose_moves_it_down(fit: FitClass) -> None:
    """In the order of the answers."""
    sizes = gauge_sizes(START)
    orders = ((Says.LOOSE,) * 3, (Says.GOES_IN,) * 3, CLEAR[0], (Says.TIGHT,) * 3)
    middles = [after(START, tried(sizes, says), fit).at(0.5) for says in orders]
    assert middles == sorted(middles)
    assert middles[-1] - middles[0] > 0.5


def test_the_order_of_prints_and_answers_does_not_matter() -> None:
    """What is known is the same."""
    one, two = tried((75.2, 75.6, 76.0), CLEAR[1]), tried((75.3, 75.4, 75.5), CLEAR[0], number=1)
    forwards, backwards = (
        after(START, list(some), FitClass.CLOSE) for some in ([*one, *two], [*two[::-1], *one[::-1]])
    )
    assert forwards.weights == pytest.approx(backwards.weights, abs=1e-12)


def test_an_answer_that_contradicts_the_others_is_survived() -> None:
    """One slip among six answers moves the size needed by less than a tenth."""
    good = [*tried((75.2, 75.6, 76.0), CLEAR[1]), *tried((75.3, 75.4, 75.5), CLEAR[0], number=1)]
    slip = Tried(1, 75.6, Says.TIGHT)
    now, slipped = (after(START, some, FitClass.CLOSE) for some in (good, [*good, slip]))
    assert abs(slipped.at(0.5) - now.at(0.5)) < 0.1


@pytest.mark.parametrize(("fit", "says"), list(product((FitClass.EASY, FitClass.CLOSE, FitClass.HELD), CLEAR)))
def test_a_gauged_pocket_is_the_least_that_holds_about_as_surely_as_any(fit: FitClass, says: tuple[Says, ...]) -> None:
    """Nothing larger or smaller holds more surely by a thousandth, and a tenth smaller holds less."""
    now = after(START, tried(gauge_sizes(START), says), fit)
    pocket = gauged_pocket(now, fit)
    assert all(now.holds(pocket + more, fit) <= now.holds(pocket, fit) + 0.0015 for more in np.arange(-0.5, 0.6, 0.05))
    assert now.holds(pocket - 0.1, fit) < now.holds(pocket, fit)


def test_more_gauges_stop_where_nothing_is_gained() -> None:
    """A size that is known to a hundredth needs none, an unknown one does."""
    known = Needed(START.sizes, np.exp(-(((START.sizes - 75.5) / 0.01) ** 2) / 2), 0.02, 12)
    known = Needed(known.sizes, known.weights / known.weights.sum(), 0.02, 12)
    assert not worth_gauging(known, FitClass.EASY)
    assert worth_gauging(START, FitClass.EASY)
