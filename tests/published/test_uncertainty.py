"""Uncertainty of measurement against the worked examples of its guide.

Source: JCGM 100:2008, Evaluation of measurement data: Guide to the expression of uncertainty in measurement (GUM),
annex G.4.1 and annex H.1 (table H.1), free of charge from the BIPM.
"""

from __future__ import annotations

import math

import pytest

from nookwright.sizing.statistics.uncertainty import Combined, Component, rectangular, repeated

END_GAUGE_NM = Combined(
    (
        # H.1.3.1: U = 75 nm, three standard deviations. H.1.3.2: a pooled deviation of 13 nm from 25 readings, of which
        # this mean is of 5; 10 nm at 95 % with 5 degrees of freedom, so 2.57; 20 nm, three deviations, known to 25 %.
        Component("calibration of the standard", 75 / 3, 18),
        Component("difference: repeated observations", 13 / math.sqrt(5), 24),
        Component("difference: random effects of the comparator", 10 / 2.57, 5),
        Component("difference: systematic effects of the comparator", 20 / 3, 8),
        # H.1.3.5 and H.1.3.6: 1e-6 /K known to 10 %, at -0.1 K; 0.05 K known to 50 %, at 11.5e-6 /K.
        Component("difference of the expansion coefficients", 50.000623e6 * 0.1 * rectangular(1e-6), 50),
        Component("difference of the temperatures", 50.000623e6 * 11.5e-6 * rectangular(0.05), 2),
    )
)


def test_the_end_gauge_of_annex_h() -> None:
    """GUM H.1.4: combined variance 1002 nm2, so 32 nm."""
    assert END_GAUGE_NM.standard**2 == pytest.approx(1002, abs=1)
    assert round(END_GAUGE_NM.standard) == 32


def test_degrees_of_freedom_of_the_end_gauge() -> None:
    """GUM H.1.6: 16.7 effective degrees of freedom, cut down to 16 in the guide; 16 to 17 here."""
    assert 16.2 < END_GAUGE_NM.freedom < 17


def test_expanded_uncertainty_of_the_end_gauge() -> None:
    """GUM H.1.6: U99 = 2.92 x 32 nm = 93 nm. Unrounded it is 92: 2.91 x 31.7 at 16.7 degrees of freedom."""
    assert END_GAUGE_NM.expanded(0.99) == pytest.approx(92.5, abs=1.0)
    assert END_GAUGE_NM.expanded(0.99) / END_GAUGE_NM.standard == pytest.approx(2.92, abs=0.03)


def test_parts_of_the_end_gauges_uncertainty() -> None:
    """GUM H.1.3.5, H.1.3.6: limits of 1e-6 /K and 0.05 K are 0.58e-6 and 0.029 standard; in table H.1: 2.9 and 16.6."""
    assert rectangular(1e-6) == pytest.approx(0.58e-6, abs=0.005e-6)
    assert rectangular(0.05) == pytest.approx(0.029, abs=0.0005)
    assert [round(one.standard, 1) for one in END_GAUGE_NM.components[-2:]] == pytest.approx([2.9, 16.6], abs=0.11)


def test_a_product_of_three_inputs() -> None:
    """GUM G.4.1, example: 0.25, 0.57 and 0.82 % of 10, 5 and 15 observations: 1.03 %, 19.0 degrees, U95 = 2.2 %."""
    product = Combined((Component("x1", 0.25, 9), Component("x2", 0.57, 4), Component("x3", 0.82, 14)))
    assert product.standard == pytest.approx(1.03, abs=0.005)
    assert product.freedom == pytest.approx(19.0, abs=0.05)
    assert product.expanded(0.95) == pytest.approx(2.2, abs=0.05)


@pytest.mark.parametrize(
    ("freedom", "share", "factor"),
    [(1, 0.95, 12.71), (2, 0.95, 4.30), (10, 0.95, 2.23), (16, 0.99, 2.92), (50, 0.99, 2.68)],
)
def test_factors_of_table_g_2(freedom: int, share: float, factor: float) -> None:
    """GUM table G.2: Student's factors."""
    assert Combined((Component("one", 1.0, freedom),)).expanded(share) == pytest.approx(factor, abs=0.005)


def test_a_known_uncertainty_is_expanded_by_the_normal_factor() -> None:
    """GUM table G.1: 1.960 for 95 %, 2.576 for 99 %; with one side 1.645."""
    known = Combined((Component("known", 1.0),))
    assert math.isinf(known.freedom)
    assert known.expanded(0.95) == pytest.approx(1.960, abs=5e-4)
    assert known.expanded(0.99) == pytest.approx(2.576, abs=5e-4)
    assert known.expanded(0.95, sides=1) == pytest.approx(1.645, abs=5e-4)


def test_twenty_temperatures() -> None:
    """GUM 4.4.3, table 1: 20 readings of mean 100.145; deviation of the mean 0.333 (1.489 / sqrt 20), 19 degrees."""
    readings = (
        96.90, 98.18, 98.25, 98.61, 99.03, 99.49, 99.56, 99.74, 99.89, 100.07,
        100.33, 100.42, 100.68, 100.95, 101.11, 101.20, 101.57, 101.84, 102.36, 102.72,
    )  # fmt: skip
    assert math.fsum(readings) / len(readings) == pytest.approx(100.145, abs=5e-4)
    mean = repeated(readings)
    assert mean.standard == pytest.approx(0.333, abs=5e-4)
    assert mean.freedom == 19
