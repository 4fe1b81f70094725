"""Tolerances of making processes against single values of the standards that they come from.

Sources: ISO 2768-1:1989, table 1; DIN 16742:2013 (tolerance group 6, not bound to one tool); ISO 216; ISO 286-2. The
formula of glass bottles stands in ISO 9058 as we remember it: only its arithmetic can be checked, and the program says
so.
"""

from __future__ import annotations

import pytest

from nookwright.parts.rests.rest_span import Dowel, DowelStuff
from nookwright.sizing.statistics.processes import SIGMAS, tolerance_of
from nookwright.survey.origins import Process


@pytest.mark.parametrize(
    ("size", "medium", "coarse"),
    [
        (2.0, 0.1, 0.2),
        (3.0, 0.1, 0.2),
        (3.1, 0.1, 0.3),
        (6.0, 0.1, 0.3),
        (6.1, 0.2, 0.5),
        (30.0, 0.2, 0.5),
        (30.1, 0.3, 0.8),
        (120.0, 0.3, 0.8),
        (120.1, 0.5, 1.2),
        (400.0, 0.5, 1.2),
        (1000.0, 0.8, 2.0),
        (2000.0, 1.2, 3.0),
        (4000.0, 2.0, 4.0),
    ],
)
def test_general_tolerances_by_iso_2768(size: float, medium: float, coarse: float) -> None:
    """ISO 2768-1, table 1, classes m and c: over one limit, up to and including the next.

    Values of 0.15, 0.2 and 0.5 for class c go around; they are those of the older DIN 7168.
    """
    assert tolerance_of(Process.MACHINED_METAL, size).plus_minus == medium
    assert tolerance_of(Process.FORMED_SHEET, size).plus_minus == coarse


@pytest.mark.parametrize(
    ("size", "plus_minus"),
    [(2.0, 0.12), (3.0, 0.12), (5.0, 0.18), (10.0, 0.22), (18.0, 0.26), (25.0, 0.31), (50.0, 0.37), (60.0, 0.57),
     (80.0, 0.57), (100.0, 0.80), (180.0, 0.93), (250.0, 1.05), (400.0, 1.60), (500.0, 2.20), (1000.0, 3.10)],
)  # fmt: skip
def test_plastic_mouldings_by_din_16742(size: float, plus_minus: float) -> None:
    """DIN 16742, group 6 not bound to one tool: the tool-bound values of the next larger band."""
    assert tolerance_of(Process.MOULDED_PLASTIC, size).plus_minus == plus_minus


@pytest.mark.parametrize(("size", "plus_minus"), [(105, 1.5), (150, 1.5), (210, 2.0), (600, 2.0), (841, 3.0)])
def test_paper_by_iso_216(size: float, plus_minus: float) -> None:
    """ISO 216 (from memory): 1.5 up to 150, 2 up to 600, 3 above."""
    assert tolerance_of(Process.PAPER, size).plus_minus == plus_minus


def test_a_bottle_of_75() -> None:
    """ISO 9058 (from memory): +-(0.5 + 0.012 x 75) = 1.4; it is marked as not sure."""
    glass = tolerance_of(Process.MOULDED_GLASS, 75.0)
    assert glass.plus_minus == pytest.approx(1.4)
    assert not glass.sure


def test_what_was_checked_is_marked_as_sure() -> None:
    """Values of the two standards that were read, and no others."""
    sure = {process for process in Process if tolerance_of(process, 50.0).sure}
    assert sure == {Process.MACHINED_METAL, Process.FORMED_SHEET, Process.MOULDED_PLASTIC}


@pytest.mark.parametrize("process", list(Process))
def test_a_tolerance_is_three_spreads(process: Process) -> None:
    """99.7 % of a normal process lie within."""
    found = tolerance_of(process, 50.0)
    assert found.spread * SIGMAS == pytest.approx(found.plus_minus)


@pytest.mark.parametrize(("diameter", "upper"), [(4.0, 0.012), (5.0, 0.012), (6.0, 0.012), (8.0, 0.015)])
def test_ground_pins_by_iso_286(diameter: float, upper: float) -> None:
    """ISO 286-2, m6: +12 micrometres up to 6 mm, +15 up to 10 mm: a hole printed 0.25 small still takes the pin."""
    assert Dowel(diameter, DowelStuff.STEEL).hole - (diameter + upper) >= 0.25
