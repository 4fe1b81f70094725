from __future__ import annotations

import math

import pytest

from nookwright.checks.forces.densities import assumed_g, one_g
from nookwright.survey.models import Lot

BOX = {"shape": "box", "width": 50, "depth": 40, "height": 20}  # 40 cm3


@pytest.mark.parametrize(
    ("lot", "expected"),
    [
        (BOX, 40 * 1.02),
        (BOX | {"made": "machined metal"}, 40 * 7.852 * 0.35),
        (BOX | {"made": "formed sheet"}, 40 * 7.852 * 0.25),
        (BOX | {"made": "wood"}, 40 * 0.714),
        (BOX | {"made": "soft"}, 40 * 0.408),
        (BOX | {"made": "a way of our own"}, 40 * 1.02),
        ({"shape": "round", "diameter": 20, "height": 100}, math.pi * 10 * 1.02),
        ({"shape": "flat", "width": 210, "depth": 297, "thickness": 0.1}, 6.237 * 0.918),
        ({"shape": "loose", "volume_ml": 100}, 153),
        ({"shape": "loose", "volume_ml": 100, "made": "wood"}, 153),
    ],
)
def test_what_nobody_weighed_is_assumed_by_shape_and_material(lot: dict[str, object], expected: float) -> None:
    """Volume by density by how full it is."""
    assert assumed_g(Lot.model_validate({"id": "x", "count": 1} | lot)) == pytest.approx(expected, rel=0.002)


def test_what_was_weighed_goes_before() -> None:
    """A mass of the room file."""
    assert one_g(Lot.model_validate({"id": "x", "count": 1, "mass_g": 7.0} | BOX)) == 7


def test_a_sheet_of_paper_weighs_what_it_does() -> None:
    """A4 of 80 g/m2 is 5.0 g; assumed from its size, within a sixth."""
    a4 = Lot.model_validate({"id": "x", "count": 1, "shape": "flat", "width": 210, "depth": 297, "thickness": 0.1})
    assert assumed_g(a4) == pytest.approx(5.0, rel=0.17)
