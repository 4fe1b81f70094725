from __future__ import annotations

import re
from itertools import pairwise

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from nookwright.ground.errors import RecipeError
from nookwright.module.seat import outer_size
from nookwright.parts.rests.rest_span import STEEL, WOOD, Dowel, DowelStuff, dowel_length, support_cells, support_points


@given(st.floats(50, 900), st.integers(2, 6))
def test_supports_are_even_and_symmetric(length: float, count: int) -> None:
    """Equal distances, as far from one end as from the other, all under the thing."""
    points = support_points(length, count)
    assert points[0] + points[-1] == pytest.approx(length)
    steps = [b - a for a, b in pairwise(points)]
    assert steps == pytest.approx([steps[0]] * (count - 1))
    assert 0 < points[0] < points[-1] < length


@given(st.floats(50, 900), st.integers(2, 5), st.sampled_from([17.0, 18.0, 22.0]), st.integers(1, 2))
def test_cells_are_the_nearest_to_the_points(length: float, count: int, pitch: float, rows: int) -> None:
    """Each support is half a cell or less from where it belongs, against the first; none share a cell."""
    points = support_points(length, count)
    try:
        cells = support_cells(length, count, pitch=pitch, rows=rows)
    except RecipeError:
        assert min(b - a for a, b in pairwise(points)) < (rows + 1) * pitch
        return
    assert cells[0] == 0
    assert all(abs(cell * pitch - (p - points[0])) <= pitch / 2 + 1e-9 for cell, p in zip(cells, points, strict=True))
    assert all(b - a >= rows for a, b in pairwise(cells))


@given(st.integers(1, 30), st.integers(1, 3), st.floats(0, 5))
def test_a_dowel_is_no_longer_than_its_holes(apart: int, rows: int, inset: float) -> None:
    """It ends one joint's rest or more inside each face, and not more than half a millimetre beyond."""
    assume(apart >= rows)
    faces = apart * 18.0 + outer_size(rows, 18.0)
    left = faces - 2 * inset - dowel_length((0, apart), pitch=18.0, rows=rows, inset=inset)
    assert 3.0 - 1e-9 <= left < 3.5 + 1e-9


def test_only_diameters_that_are_sold_are_taken() -> None:
    """Wood and steel have their own rows; the hole of each is wider than it."""
    for stuff, sold in ((DowelStuff.WOOD, WOOD), (DowelStuff.STEEL, STEEL)):
        for size in sold:
            assert 0.2 < Dowel(size, stuff).hole - size < 0.5
        with pytest.raises(RecipeError, match=rf"{stuff} dowel: its diameter is sold.*allowed: .*\. [A-Z]"):
            Dowel(7.0, stuff)


def test_one_support_is_none() -> None:
    """A long thing tips from it."""
    with pytest.raises(RecipeError, match="two supports or more"):
        support_points(300, 1)


@pytest.mark.parametrize("length", [0.0, -1.0, 20.0])
@pytest.mark.parametrize("count", [2, 3])
def test_things_of_no_length_are_refused_with_what_would_do(length: float, count: int) -> None:
    """Two supports never share cells; the least length is said, and it is enough."""
    with pytest.raises(RecipeError, match="cells of their own") as refused:
        support_cells(length, count, pitch=18.0, rows=2)
    words = re.search(r"about (\d+) long or more", str(refused.value))
    assert words is not None
    assert support_cells(float(words[1]) + 18, count, pitch=18.0, rows=2)
