from __future__ import annotations

import math
import xml.etree.ElementTree as ET
from itertools import pairwise
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.exchange.cut_sheet import cut_sheet, flattened
from nookwright.parts.trays.inlay import inlay_outline
from nookwright.shapes.regions import Path

if TYPE_CHECKING:
    from nookwright.module.module import Module

SVG = "{http://www.w3.org/2000/svg}"


def polygons(text: str) -> list[list[tuple[float, float]]]:
    """Corners of all polygons of a drawing."""
    root = ET.fromstring(text)  # noqa: S314 - our own drawing
    found = []
    for element in root.iter(f"{SVG}polygon"):
        numbers = [tuple(map(float, point.split(","))) for point in element.attrib["points"].split()]
        found.append([(x, y) for x, y in numbers])
    return found


def test_the_sheet_is_at_full_size(module: Module) -> None:
    """A unit of the drawing is a millimetre of paper, and the outlines have their sizes, one below the other."""
    text = cut_sheet([inlay_outline(module, 6, 8), inlay_outline(module, 3, 2)], title="Felt")
    root = ET.fromstring(text)  # noqa: S314 - our own drawing
    assert root.attrib["width"] == f"{root.attrib['viewBox'].split()[2]}mm"
    large, small = polygons(text)
    for points, size in ((large, (101, 137)), (small, (47, 29))):
        for axis in (0, 1):
            values = [point[axis] for point in points]
            assert max(values) - min(values) == pytest.approx(size[axis], abs=0.02)
    assert min(y for _, y in small) > max(y for _, y in large)
    assert "101.0 x 137.0 mm, 1:1" in text


@given(st.floats(0.02, 1), st.floats(5, 500))
def test_chords_stay_within_a_hundredth(bulge: float, length: float) -> None:
    """Every chord of an arc is at most so far from it, and its corners lie on it."""
    path = Path(((0, 0, bulge), (length, 0, 0), (length / 2, length, 0)))
    arc = path.sides[0]
    points = [*flattened(path)]
    points = points[: points.index(arc.end) + 1]
    for before, after in pairwise(points):
        assert math.dist(before, arc.centre) == pytest.approx(arc.radius, rel=1e-6)
        middle = ((before[0] + after[0]) / 2, (before[1] + after[1]) / 2)
        assert arc.radius - math.dist(middle, arc.centre) <= 0.01 + 1e-6


def test_an_empty_sheet_is_an_error() -> None:
    with pytest.raises(ValueError, match="one outline or more"):
        cut_sheet([], title="Nothing")
