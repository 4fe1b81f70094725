"""The loop of gauges closes: a small run of ``benchmarks/sizing/gauges.py``."""

from __future__ import annotations

import numpy as np
import pytest
from benchmarks.sizing.gauges import LEAST_USERS, ROUNDS, outcomes
from benchmarks.sizing.populations import KINDS, Case

from nookwright.survey.origins import FitClass

USERS = 40


@pytest.mark.parametrize("fit", [FitClass.EASY, FitClass.CLOSE])
def test_after_three_rounds_nearly_every_users_fit_holds(fit: FitClass) -> None:
    """99 % for 95 % of the users, within two standard errors of so few; before any gauge far fewer reach it."""
    found = outcomes(KINDS[0], Case.DRAWN, 1, fit, USERS)
    allowed = 2 * np.sqrt(LEAST_USERS * (1 - LEAST_USERS) / USERS)
    assert found[ROUNDS].share >= LEAST_USERS - allowed
    assert found[0].share < 0.75


def test_what_the_tool_says_of_a_gauged_fit_is_true_on_average() -> None:
    """The probability that it states and the true one, over all users, within two points."""
    last = outcomes(KINDS[2], Case.DRAWN, 3, FitClass.CLOSE, USERS)[ROUNDS]
    assert last.told.mean() == pytest.approx(last.true.mean(), abs=0.02)


def test_gauges_also_take_off_what_pockets_had_too_much() -> None:
    """The median gap of the largest thing gets smaller, where one sample was all there was."""
    found = outcomes(KINDS[0], Case.HALF, 1, FitClass.EASY, USERS)
    assert found[ROUNDS].gap < found[0].gap
