"""What a bowed floor does to the parts on it."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.layout.floor_bow import about_bow, hang
from nookwright.layout.model import Placed
from nookwright.module.choice import module_of
from nookwright.sizing.spaces.bow import READ, Bow
from nookwright.sizing.usable import Usable

MODULE = module_of(20.0, 6.0, 0.2, "")
FLAT = Usable("drawer", 450.0, 500.0, 100.0, 0.0, ())


def bowed(sag: float) -> Usable:
    """A drawer of 450 x 500 whose floor was read under a straight edge."""
    return replace(FLAT, bow=Bow(sag, READ))


def tray(col: int, row: int, cols: int, rows: int, height: float = 45.0) -> Placed:
    """A spare tray."""
    return Placed("drawer", col, row, cols, rows, turned=False, candidate=None, height=height)


@pytest.mark.parametrize(("sag", "middle"), [(2.0, 0.4), (3.0, 0.6), (5.0, 1.0)])
def test_a_tray_of_200_hangs_by_a_fifth_of_the_bow(sag: float, middle: float) -> None:
    """Over a cylinder 450 wide: 0.4, 0.6 and 1.0 mm at sags of 2, 3 and 5; worked out by hand from its radius."""
    radius = 450**2 / 8 / sag
    assert 200**2 / 8 / radius == pytest.approx(middle, abs=0.02)
    assert hang(bowed(sag), 200, 0) == pytest.approx(middle, abs=0.02)


@given(sag=st.floats(0.5, 8), width=st.floats(20, 450), depth=st.floats(20, 500), left=st.floats(0, 1))
def test_no_tray_hangs_further_than_is_said(sag: float, width: float, depth: float, left: float) -> None:
    """A stiff rectangle whose corners lie on a paraboloid, wherever it stands; never farther than the whole bow."""
    usable = bowed(sag)
    x0 = left * (usable.width - width) - usable.width / 2
    xs, ys = np.meshgrid(np.linspace(x0, x0 + width, 41), np.linspace(-depth / 2, depth / 2, 41))
    floor = -sag + sag * ((2 * xs / usable.width) ** 2 + (2 * ys / usable.depth) ** 2)
    plane = np.interp(xs, [x0, x0 + width], [floor[0, 0], floor[0, -1]])
    most = float((plane - floor).max())
    assert min(most, sag) <= hang(usable, width, depth) + 1e-9


@pytest.mark.parametrize("sag", [5.0, -5.0])
def test_a_long_tray_on_a_bowed_floor_leaves_its_cones(sag: float) -> None:
    """400 x 200 at 5 mm: 4 mm along and 0.8 across; cones 3 high must be in by 1. At 1 mm all is well."""
    found = about_bow(bowed(sag), MODULE, [tray(0, 0, 20, 10), tray(0, 12, 4, 4)])
    assert [one.code for one in found if one.code == "floor-bowed"] == ["floor-bowed"]
    assert "1 parts stand up to 4.8 mm" in found[0].text
    where, remedy = ("in the middle", "in the middle") if sag > 0 else ("at the ends", "along the walls")
    assert where in found[0].text
    assert remedy in found[0].remedy
    assert about_bow(bowed(sag / 5), MODULE, [tray(0, 0, 20, 10)]) == ()


def test_trays_of_the_size_that_the_remedy_names_keep_their_cones() -> None:
    """And one cell more each way does not, in a square drawer."""
    usable = replace(bowed(8.0), width=450.0, depth=450.0)
    remedy = about_bow(usable, MODULE, [tray(0, 0, 22, 22)])[0].remedy
    cells = int(remedy.split("keep trays to ")[1].split()[0])
    assert not about_bow(usable, MODULE, [tray(0, 0, cells, cells)])
    assert about_bow(usable, MODULE, [tray(0, 0, cells + 1, cells + 1)])


def test_tops_of_neighbours_come_together_over_a_hollow_only() -> None:
    """100 mm long and 90 high at 3 mm: 0.0107 rad, 1.07 mm of 0.4; not apart, not over a bulge, not when low."""
    high = [tray(0, 0, 5, 5, 90.0), tray(5, 0, 5, 5, 120.0)]
    found = about_bow(bowed(3.0), MODULE, high)
    assert [one.code for one in found] == ["floor-bowed-tops"]
    assert f"by {90 * 8 * 3 / 450**2 * 100:.1f} mm" in found[0].text
    assert about_bow(bowed(3.0), MODULE, [high[0], replace(high[1], col=6)]) == ()
    assert about_bow(bowed(3.0), MODULE, [high[0], replace(high[1], row=5)]) == ()
    assert about_bow(bowed(-3.0), MODULE, high) == ()
    assert about_bow(bowed(3.0), MODULE, [replace(one, height=24.0) for one in high]) == ()


def test_a_flat_floor_has_nothing_to_say() -> None:
    """Whatever stands on it."""
    assert about_bow(FLAT, MODULE, [tray(0, 0, 22, 25, 90.0)]) == ()
    assert not math.isnan(hang(bowed(0.5), 450, 500))
