from __future__ import annotations

import math
from itertools import combinations, pairwise

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from nookwright.ground.errors import RecipeError
from nookwright.parts.cradles.pocket import Placed, Pocket, Round
from nookwright.parts.cradles.pocket_boxes import Boxed
from nookwright.parts.cradles.pocket_rows import (
    centred,
    in_row,
    lattice,
    row_length,
    staggered,
    staggered_count,
    staggering_gain,
)

HIGH = 20.0


def gap(one: Placed, other: Placed) -> float:
    """Distance between two round pockets, by Pythagoras."""
    radii = sum(each.pocket.outline(HIGH).radius for each in (one, other))
    return math.hypot(one.x - other.x, one.y - other.y) - radii


@given(st.lists(st.floats(3, 60), min_size=1, max_size=9), st.floats(0.5, 8))
def test_a_row_of_several_sizes_keeps_one_distance(sizes: list[float], land: float) -> None:
    """Between each two neighbours the land, from end to end the length that was foretold."""
    pockets: list[Pocket] = [Round(size) for size in sizes]
    row = in_row(pockets, HIGH, land=land, x=5.0, y=9.0)
    assert [gap(a, b) for a, b in pairwise(row)] == pytest.approx([land] * (len(sizes) - 1))
    assert row[0].x - sizes[0] / 2 == pytest.approx(5.0)
    assert row[-1].x + sizes[-1] / 2 - 5.0 == pytest.approx(row_length(pockets, HIGH, land=land))
    assert {placed.y for placed in row} == {9.0}


@given(st.floats(3, 60), st.integers(2, 7), st.integers(1, 7), st.floats(0.5, 8))
def test_staggered_pockets_keep_the_land_to_all_neighbours(size: float, columns: int, lines: int, land: float) -> None:
    """No two are nearer than the land, and every pocket has a neighbour at just that distance."""
    field = staggered(Round(size), HIGH, columns=columns, lines=lines, land=land)
    assert len(field) == staggered_count(columns, lines)
    gaps = [gap(one, other) for one, other in combinations(field, 2)]
    assert min(gaps) == pytest.approx(land)


@given(across=st.floats(0, 400), back=st.floats(0, 400), pitch=st.floats(6, 60))
def test_the_gain_is_what_counting_gives(across: float, back: float, pitch: float) -> None:
    """Against a plain count of the middles that lie within the area."""
    rounded = [round(value / pitch, 6) for value in (across, back)]
    assume(all(abs(value * 2 - round(value * 2)) > 1e-3 for value in rounded))
    plain = sum(1 for i in range(80) for j in range(80) if i * pitch <= across and j * pitch <= back)
    rise = pitch * math.sqrt(3) / 2
    assume(abs(back / rise - round(back / rise)) > 1e-3)
    other = sum(1 for i in range(80) for j in range(90) if (i + j % 2 / 2) * pitch <= across and j * rise <= back)
    assert staggering_gain(across=across, back=back, pitch=pitch) == other - plain


def test_boxes_do_not_stagger_and_rows_are_never_empty() -> None:
    """Refused with words."""
    with pytest.raises(RecipeError, match="only round pockets"):
        staggered(Boxed(10, 8), HIGH, columns=3, lines=2, land=2)
    with pytest.raises(RecipeError, match="every row holds a pocket"):
        staggered(Round(10), HIGH, columns=1, lines=2, land=2)


@given(st.integers(1, 5), st.integers(1, 5), st.floats(40, 300), st.floats(40, 300))
def test_a_centred_field_has_equal_edges(columns: int, lines: int, width: float, depth: float) -> None:
    """As far from the left as from the right, from the front as from the back."""
    field = centred(lattice(Boxed(12, 7), HIGH, columns=columns, lines=lines, land=2), HIGH, width=width, depth=depth)
    xs, ys = [placed.x for placed in field], [placed.y for placed in field]
    assert (min(xs) + max(xs), min(ys) + max(ys)) == pytest.approx((width, depth))
    assert len(set(field)) == columns * lines
