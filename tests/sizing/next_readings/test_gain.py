"""When readings are worth asking for, and how they are compared."""

from __future__ import annotations

import pytest

from nookwright.sizing.next_readings.gain import Gain, effort_s, rate


@pytest.mark.parametrize(
    ("below", "at"),
    [
        (Gain(pocket=0.29), Gain(pocket=0.3)),
        (Gain(cells=0.9), Gain(cells=1.0)),
        (Gain(mass_g=4.9), Gain(mass_g=5.0)),
        (Gain(fit=0.004), Gain(fit=0.005)),
        (Gain(lines=0.19), Gain(lines=0.2)),
    ],
)
def test_each_part_of_a_gain_counts_from_its_own_limit(below: Gain, at: Gain) -> None:
    """A tenth of a cell and a tenth of a gram together are still no decision."""
    assert (below.counts, at.counts) == (False, True)


def test_small_gains_do_not_add_up_to_a_decision() -> None:
    """Their worth does, their counting does not."""
    small = Gain(pocket=0.2, cells=0.7, mass_g=3)
    assert small.worth > 1
    assert not small.counts


def test_a_loss_is_no_gain() -> None:
    """Pockets that would get wider, parts that would grow, prints that would fit less likely."""
    assert Gain(pocket=-1, cells=-9, mass_g=-9, fit=-0.1).worth == 0


def test_a_reading_takes_half_a_minute_and_the_way_to_it_one() -> None:
    """So that three at once cost less than three times one, and a gain is counted by the minute."""
    assert effort_s(1) == 90
    assert effort_s(3) < 3 * effort_s(1)
    assert rate(Gain(pocket=0.6), 2) == pytest.approx(1.0)
