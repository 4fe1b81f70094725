"""Pockets with much play, and what would be better."""

from __future__ import annotations

import pytest

from nookwright.sizing.fits.advice import Sleeve, advice
from nookwright.sizing.statistics.largest import Expected, Judged, Sampled

SLEEVE = Sleeve(wall=1.2, height=30.0, count=12)


def bowls(*readings: float, count: int = 12, spread: float = 0.9) -> Judged:
    """A lot of bowls by hand."""
    return Judged(Sampled(readings, 0.03, count), Expected(spread))


def test_things_that_hardly_differ_need_no_advice() -> None:
    """With a spread of 0.2 mm the middle thing has less than 1.5 mm of play."""
    assert advice(bowls(60.0, 60.2, spread=0.2), SLEEVE, 0.95) is None


def test_one_sample_of_many_asks_for_more() -> None:
    """With one bowl of twelve measured, a few more readings gain most of what can be gained, and plastic with it."""
    found = advice(bowls(60.0), SLEEVE, 0.95)
    assert found is not None
    assert 1 <= found.more < 11
    assert 0.3 < found.measured.play < found.play
    assert found.measured.mm3 == pytest.approx(found.measured.play * 3.14159 * 1.2 * 30 * 12, rel=1e-4)


def test_nothing_is_left_to_measure_where_everything_was() -> None:
    """Three bowls that differ by 6 mm, all measured: two sizes or ribs help, more readings do not."""
    found = advice(bowls(57.0, 60.0, 63.0, count=3), SLEEVE, 0.95)
    assert found is not None
    assert (found.more, found.measured.play) == (0, 0.0)
    assert 60.0 <= found.small < 63.2
    assert found.two_sizes.play > 0


def test_ribs_take_all_play_and_cost_plastic() -> None:
    """Ribs reach from the sleeve to the middle thing: half the play each."""
    found = advice(bowls(60.0), SLEEVE, 0.95)
    assert found is not None
    assert found.ribs.play == found.play
    assert found.ribs.mm3 == pytest.approx(-3 * 1.2 * found.play / 2 * 30 * 12)


def test_half_of_a_lot_stays_below_the_small_size() -> None:
    """The small pockets are smaller than the large ones, and wide enough for the mean."""
    found = advice(bowls(59.0, 60.0, 61.0), SLEEVE, 0.95)
    assert found is not None
    assert 60.0 < found.small < 60.0 + found.play
