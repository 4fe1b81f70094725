"""Figures of standards and handbooks that cautions and care rest on, each beside its source."""

from __future__ import annotations

import math

import pytest

from nookwright.checks.care.drains import LEAST_HOLE
from nookwright.checks.care.lifting import HEAVIEST_G
from nookwright.checks.cautions.cylinder import DEEP, DIAMETER, SHALLOW
from nookwright.checks.cautions.words import CAUTIONS
from nookwright.parts.trays.drains import RADIUS

INCH = 25.4  # mm, exactly (international yard and pound agreement, 1959)


def test_the_small_parts_cylinder_is_that_of_the_regulation() -> None:
    """16 CFR 1501.4, figure 1: 1.25 in across, 1 to 2.25 in deep, as the standard rounds them down to tenths."""
    for ours, inches in ((DIAMETER, 1.25), (SHALLOW, 1.0), (DEEP, 2.25)):
        assert ours == pytest.approx(math.floor(inches * INCH * 10) / 10)
    assert pytest.approx(DIAMETER) == DEEP - SHALLOW  # its bottom slants at 45 degrees


def test_a_drop_closes_what_is_narrower_than_its_capillary_length() -> None:
    """CRC Handbook, water at 20 degC: 72.75 mN/m, 998.2 kg/m3; sqrt(tension / weight density) is 2.73 mm."""
    length = math.sqrt(72.75e-3 / (998.2 * 9.80665)) * 1000
    assert length == pytest.approx(2.73, abs=0.01)
    assert length < LEAST_HOLE
    usual_loss = 0.486  # mm off a small round hole, for 95 of 100 printers
    assert 2 * RADIUS - usual_loss > LEAST_HOLE


def test_one_hand_lifts_what_the_standard_gives_everybody_at_home() -> None:
    """EN 1005-2: reference mass 5 kg for domestic use by everybody, multiplier 0.6 for one hand; from memory."""
    assert pytest.approx(5000 * 0.6) == HEAVIEST_G


def test_child_locks_hold_a_pull_that_no_printed_latch_is_tested_for() -> None:
    """ASTM F3492-21: mean breaking strength of 45.3 lbf or more, that is 201.5 N: the words say some 200 N."""
    assert pytest.approx(201.5, abs=0.05) == 45.3 * 4.4482216
    assert "200 N" in CAUTIONS["latch-no-lock"].source
