"""The lots' benchmark, small: 200 lots instead of 2,000, so its targets are widened by what chance does to 200."""

from __future__ import annotations

import math

import pytest
from benchmarks.sizing.lots import (
    LEAST_SHARE,
    LEAST_SHARE_OFF,
    MOST_RATIO,
    OURS,
    SAMPLES,
    Outcome,
    outcomes,
    table,
)
from benchmarks.sizing.populations import KINDS, LOT, Case, lots, read

COUNT = 200
CHANCE = 2.5 * math.sqrt(0.95 * 0.05 / COUNT)  # deviations of a share
WIDER = 1.2  # of a median's ratio


def ours(kind: int, case: Case) -> dict[int, Outcome]:
    """Our rule by number of samples."""
    return {one.samples: one for one in outcomes(KINDS[kind], case, COUNT, [OURS])}


@pytest.mark.parametrize("kind", [0, 1, 2], ids=[kind.name for kind in KINDS])
def test_whole_lots_fit_and_little_is_given_away(kind: int) -> None:
    """Where the population follows the prior: the share of lots, and the excess gap over the oracle's."""
    found = ours(kind, Case.DRAWN)
    assert all(found[samples].share >= LEAST_SHARE - CHANCE for samples in SAMPLES)
    assert all(found[samples].ratio <= WIDER * most for samples, most in MOST_RATIO.items())


def test_lots_fit_at_half_the_spread() -> None:
    """With any number of samples."""
    assert all(one.share >= LEAST_SHARE_OFF for one in ours(0, Case.HALF).values())


def test_lots_fit_at_twice_the_spread_from_8_samples_on() -> None:
    """Fewer do not, and the benchmark says so: three samples cannot tell."""
    found = ours(0, Case.TWICE)
    assert found[8].share >= LEAST_SHARE_OFF - CHANCE
    assert found[10].share >= LEAST_SHARE_OFF - CHANCE
    assert found[1].share < LEAST_SHARE_OFF


def test_rules_of_thumb_know_no_spread() -> None:
    """The same half millimetre holds few lots of glass and nearly all of plastic."""
    glass, plastic = (
        {one.samples: one for one in outcomes(KINDS[kind], Case.DRAWN, COUNT, ["mean + 0.5"])} for kind in (0, 1)
    )
    assert glass[3].share < 0.5
    assert plastic[3].share > 0.8


@pytest.mark.parametrize("case", list(Case))
def test_populations_have_the_spread_that_they_say(case: Case) -> None:
    """Whatever their shape, sizes have the mean and the standard deviation of their population."""
    sizes, spreads = lots(KINDS[0], case, 4000)
    standard = (sizes - KINDS[0].size) / spreads[:, None]
    assert sizes.shape == (4000, LOT)
    assert standard.mean() == pytest.approx(0, abs=0.1)
    assert standard.std() == pytest.approx(1, abs=0.05)


def test_a_caliper_shares_its_error_within_a_lot() -> None:
    """What differs within a lot is the hand and the digit; the mean of a lot is off by the instrument too."""
    kind = KINDS[0]
    sizes, _ = lots(kind, Case.EQUAL, 3000)
    off = read(kind, sizes, Case.EQUAL) - sizes
    within = (off - off.mean(axis=1, keepdims=True)).std()
    assert off.std() == pytest.approx(kind.reading_error, rel=0.05)
    assert within < off.std()
    assert off.mean(axis=1).std() > 0.3 * off.std()


def test_a_miss_is_said_in_words() -> None:
    """A share or gap off its target, and none for populations that have no target."""
    bad = Outcome(KINDS[0], Case.DRAWN, 3, OURS, 0.9, 2.0, 1.0)
    assert len(bad.misses) == 2
    assert "90.0% of lots fit" in bad.misses[0]
    assert Outcome(KINDS[0], Case.TWICE, 3, OURS, 0.5, 2.0, 1.0).misses == ()
    assert len(Outcome(KINDS[0], Case.TWICE, 8, OURS, 0.5, 2.0, 1.0).misses) == 1
    assert Outcome(KINDS[0], Case.SKEWED, 3, OURS, 0.5, 9.0, 1.0).misses == ()
    assert "9.00" not in table([bad] + [Outcome(KINDS[0], Case.DRAWN, n, OURS, 0.9, 2.0, 1.0) for n in SAMPLES])
