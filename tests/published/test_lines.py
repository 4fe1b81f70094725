"""Walls in whole lines against the cross-section of a bead.

Source: geometry of a rectangle with round ends, ``A = (w - h) h + pi h^2 / 4``; the worked figures for a line of
0.45 x 0.2 mm are 0.081416 mm2 (a plain rectangle would be 0.0900), 0.10096 g of PLA (1.24 g/cm3) a metre, and
335.3 m of 1.75 mm filament a kilogram.
"""

from __future__ import annotations

import math

import pytest

from nookwright.module.lines import lines_of, spacing


def bead_mm2(width: float, layer: float) -> float:
    """Cross-section of one line."""
    return (width - layer) * layer + math.pi * layer**2 / 4


def test_a_line_of_045_by_02() -> None:
    """0.081416 mm2, a tenth less than a rectangle; 0.10096 g of PLA a metre."""
    assert bead_mm2(0.45, 0.2) == pytest.approx(0.081416, abs=5e-7)
    assert 0.09 / bead_mm2(0.45, 0.2) == pytest.approx(1.105, abs=5e-4)
    assert bead_mm2(0.45, 0.2) * 1000 / 1000 * 1.24 == pytest.approx(0.10096, abs=5e-6)


@pytest.mark.parametrize(("width", "layer"), [(0.45, 0.2), (0.429, 0.2), (0.622, 0.2), (0.6, 0.3)])
def test_lines_at_our_spacing_leave_no_void(width: float, layer: float) -> None:
    """A line's area is its spacing times its height, so lines side by side fill the wall between their middles."""
    assert spacing(width, layer) * layer == pytest.approx(bead_mm2(width, layer))


@pytest.mark.parametrize(("nozzle", "count", "width"), [(0.4, 3, 0.429), (0.6, 2, 0.622)])
def test_a_wall_of_12(nozzle: float, count: int, width: float) -> None:
    """At layers of 0.2 a wall of 1.2 is three lines of 0.429 or two of 0.622."""
    lines = lines_of(1.2, nozzle, 0.2)
    assert lines is not None
    assert lines.count == count
    assert lines.width == pytest.approx(width, abs=1e-3)
