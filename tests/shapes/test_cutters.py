"""Cutters overshoot by rule."""

from __future__ import annotations

import math

import pytest

from nookwright.ground.tolerances import GRID, OVERSHOOT
from nookwright.shapes.cutters import open_above, open_below, taper_open_below, through
from nookwright.shapes.regions import Circle, Rect, RegionMove
from nookwright.shapes.solids import Difference, Prism
from nookwright.solids.mesh import build


def test_open_ends_overshoot_and_closed_ends_are_exact() -> None:
    """Heights whose sums are not exact in binary still end where they should."""
    region = Rect(4, 3)
    assert through(region, 0.1, 0.3).bounds[2::3] == (0.1 - OVERSHOOT, 0.8)
    assert open_below(region, 0.1, 0.1 + 0.2).bounds[2::3] == (0.1 - OVERSHOOT, 0.3)
    assert open_above(region, 0.1 + 0.2, 0.7).bounds[2::3] == (0.3, 1.2)


@pytest.mark.parametrize("mouth", [Circle(4), Rect(9, 8, 3)])
def test_a_tapered_cutter_has_its_mouth_in_the_face(mouth: Circle | Rect) -> None:
    """The hole that it leaves in the face has the size of the mouth to within the grid, and one opening."""
    cutter = taper_open_below(mouth, 0, 3.4, 0.9)
    wide = (mouth.bounds[2] - mouth.bounds[0]) / 2
    grown = (cutter.bounds[3] - cutter.bounds[0]) / 2 - wide
    assert grown == pytest.approx(0.9 / 3.4 * OVERSHOOT, abs=GRID)
    assert cutter.bounds[2::3] == (-OVERSHOOT, 3.4)
    middle = (cutter.bounds[0] + cutter.bounds[3]) / 2, (cutter.bounds[1] + cutter.bounds[4]) / 2
    assert middle == pytest.approx(((mouth.bounds[0] + mouth.bounds[2]) / 2, (mouth.bounds[1] + mouth.bounds[3]) / 2))


def test_a_cut_through_opens_both_faces() -> None:
    """A plate cut through has one handle and no skin over the hole."""
    plate = build(Difference(Prism(Rect(20, 20), 0.3), (through(RegionMove(Circle(5), x=10, y=10), 0, 0.1 + 0.2),)))
    assert (plate.genus, plate.components) == (1, 1)
    assert plate.volume_mm3 == pytest.approx((400 - math.pi * 25) * 0.3, rel=1e-3)
