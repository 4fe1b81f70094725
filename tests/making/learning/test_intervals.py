from __future__ import annotations

import numpy as np
import pytest
from benchmarks.making.learning import HEAVIER, NOISE, SLOWER, Case, prints_of
from tests.making.estimate.solids import block, settings

from nookwright.making.estimate.piece import estimate
from nookwright.making.estimate.together import together
from nookwright.making.learning.factors import factors_of, unlearned
from nookwright.making.learning.intervals import mass_of, time_of
from nookwright.making.learning.observed import observed
from nookwright.making.records import Outcome, PrintRecord

PLAIN = settings()
BED = together([(estimate(block(60, 60, 10), PLAIN), 3)], PLAIN.machine, between=70.0)


def test_the_first_interval_is_wide_and_about_the_estimate() -> None:
    """Nothing is known yet: more than a third to each side."""
    time, mass = time_of(BED, unlearned()), mass_of(BED, unlearned(), 1.24)
    assert time.likely == pytest.approx(BED.time_s)
    assert mass.likely == pytest.approx(BED.plastic_mm3 * 1.24e-3)
    assert time.low < 0.75 * time.likely < 1.33 * time.likely < time.high
    assert mass.low < 0.9 * mass.likely


def test_nine_prints_in_ten_come_out_in_their_interval() -> None:
    """Two hundred users with eight prints each make a ninth: 85 to 97 of 100 are within low and high, time and mass."""
    random = np.random.default_rng(7)
    inside = []
    for _ in range(200):
        known = factors_of(prints_of(Case(8), random), "p", "m")
        time, mass = time_of(BED, known), mass_of(BED, known, 1.24)
        noise = np.exp(random.normal(0.0, NOISE, 2))
        took = (SLOWER * BED.moving_s + BED.time_s - BED.moving_s) * noise[0]
        weighs = HEAVIER * BED.plastic_mm3 * 1.24e-3 * noise[1]
        inside.append((time.low <= took <= time.high, mass.low <= weighs <= mass.high))
    assert ((np.mean(inside, axis=0) >= 0.85) & (np.mean(inside, axis=0) <= 0.97)).all()


def record(bedful: str, outcome: Outcome = Outcome.DONE, *, material: str = "white") -> PrintRecord:
    """A record of a print."""
    return PrintRecord(
        id="1", when="2031-05-17", printer="bench", material=material, bedful=bedful, outcome=outcome, time_s=9000.0,
        mass_g=140.0,
    )  # fmt: skip


def test_records_are_laid_beside_their_estimates() -> None:
    """With the moving and the fixed time of their bedful; a failure needs none; what nobody knows is named."""
    strange = record("bed-9"), record("bed-1", material="unknown")
    found, unknown = observed(
        [record("bed-1"), record("bed-9", Outcome.FAILED), *strange], {"bed-1": BED}, {"white": 1.24}
    )
    assert unknown == strange
    assert [one.failed for one in found] == [False, True]
    assert found[0].moving_s + found[0].fixed_s == pytest.approx(BED.time_s)
    assert found[0].estimate_g == pytest.approx(BED.plastic_mm3 * 1.24e-3)
    assert (found[0].time_s, found[1].time_s) == (9000.0, None)
