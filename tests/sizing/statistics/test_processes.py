"""Tolerances of processes: what must hold at every size."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.sizing.statistics.processes import own_tolerance, tolerance_of
from nookwright.survey.origins import Process


@pytest.mark.parametrize("process", list(Process))
@given(st.floats(0.1, 6000), st.floats(0, 1000))
def test_a_larger_size_is_never_held_closer(process: Process, size: float, more: float) -> None:
    """Tolerances grow with the size, in bands or steadily, beyond the tables too; none is zero."""
    assert 0 < tolerance_of(process, size).plus_minus <= tolerance_of(process, size + more).plus_minus


@pytest.mark.parametrize("process", list(Process))
def test_every_process_says_where_its_figure_comes_from(process: Process) -> None:
    """A source, and that it is from memory or chosen where nobody checked it."""
    found = tolerance_of(process, 50.0)
    assert found.source
    assert found.sure != any(word in found.source for word in ("memory", "choice"))


def test_a_tolerance_of_ones_own() -> None:
    """A fixed part and a share: 0.2 and 1 % of 50."""
    assert own_tolerance(0.2, 1.0, 50.0).plus_minus == pytest.approx(0.7)
