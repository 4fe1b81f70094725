from __future__ import annotations

import math
from itertools import combinations

import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st

from nookwright.parts.cradles.plan_outlines import RoundedBox
from nookwright.parts.cradles.sleeves import Inside, ties, webs

INSIDE = Inside(1.2, 1.2, 98.8, 78.8, 1.2)
SHARES = st.sampled_from([0.2, 0.5, 1.0])
sleeves = st.builds(
    lambda x, y, a, b, share: RoundedBox(x, y, a, b, share * min(a, b)),
    st.floats(12, 88), st.floats(12, 68), st.floats(4, 10), st.floats(4, 10), SHARES,
)  # fmt: skip
coins = st.builds(lambda x, y, r: RoundedBox(x, y, r, r, r), st.floats(12, 88), st.floats(12, 68), st.floats(4, 10))


def shape_of(box: RoundedBox) -> shapely.Geometry:
    """The same outline by another library."""
    a, b = (max(1e-6, half) for half in box.core)
    return shapely.box(box.x - a, box.y - b, box.x + a, box.y + b).buffer(box.radius, quad_segs=32)


@given(st.one_of(sleeves, coins), st.one_of(sleeves, coins))
def test_a_slit_is_tied_across_and_nothing_else_is(one: RoundedBox, other: RoundedBox) -> None:
    """A tie wherever the gap is under a millimetre and the overlap under 0.2; it joins both, and lies near both."""
    gap = one.gap(other)
    made = ties((one, other), INSIDE)
    between = [tie for tie in made if not _at_the_wall(tie.points)]
    if -0.19 < gap < 0.95:
        assert len(between) == 1
        tie = shapely.Polygon(between[0].points)
        assert tie.is_valid
        assert tie.area > 0
        assert tie.intersects(shape_of(one))
        assert tie.intersects(shape_of(other))
        hull = shapely.union_all([shape_of(one), shape_of(other)]).convex_hull
        assert tie.difference(hull.buffer(0.01)).area < 0.05
    if gap > 1.01 or gap < -0.21:
        assert between == []


def _at_the_wall(points: tuple[tuple[float, float], ...]) -> bool:
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs) < 1.0 or max(xs) > 99.0 or min(ys) < 1.0 or max(ys) > 79.0


@given(st.floats(4, 12), st.floats(-0.15, 0.95), st.floats(0, 3))
def test_what_is_left_of_a_slit_between_rounds_is_a_millimetre_wide(radius: float, gap: float, turn: float) -> None:
    """Beside the tie of two equal rounds, the slit is a millimetre wide or more, but for its last hundredth."""
    far = 2 * radius + gap
    one = RoundedBox(50.0, 40.0, radius, radius, radius)
    other = RoundedBox(50.0 + far * math.cos(turn), 40.0 + far * math.sin(turn), radius, radius, radius)
    (tie,) = ties((one, other), Inside(-500, -500, 500, 500, 1.2))
    half = shapely.Polygon(tie.points).area / far / 2
    wide = gap + 2 * (radius - math.sqrt(radius**2 - half**2))
    assert wide >= 0.95 or half == pytest.approx(0.8 * radius)


@given(st.lists(coins, min_size=1, max_size=4))
def test_webs_leave_no_narrow_slit(coins: list[RoundedBox]) -> None:
    """Each web runs from wall to wall, and meets a sleeve well inside or misses it by a millimetre."""
    assume(all(one.gap(other) > 0 for one, other in combinations(coins, 2)))
    for web in webs(tuple(coins), INSIDE):
        (x0, y0), _, (x1, y1), _ = web.points
        assert {round(x1 - x0, 6), round(y1 - y0, 6)} in ({1.2, 98.8}, {1.2, 78.8})
        across = min(x1 - x0, y1 - y0) == y1 - y0
        for coin in coins:
            middle, half = (coin.y, coin.half_depth) if across else (coin.x, coin.half_width)
            low, high = (y0, y1) if across else (x0, x1)
            off = max(low - middle, middle - high, 0.0)
            assert off - half >= 1 - 1e-6 or max(abs(low - middle), abs(high - middle)) <= half + 1e-3


def test_a_slit_that_is_all_but_wide_enough_gets_no_hair_for_a_tie() -> None:
    """A hundred-thousandth short of a millimetre: a tie would be thinner than anything can be."""
    one = RoundedBox(30.0, 40.0, 8.0, 8.0, 8.0)
    assert ties((one, RoundedBox(30.0 + 16.99999, 40.0, 8.0, 8.0, 8.0)), INSIDE) == ()


def test_a_sleeve_near_the_wall_is_tied_to_it() -> None:
    """Half a millimetre off the left wall: a tie that reaches into the wall and as far as the middle of the sleeve."""
    (tie,) = ties((RoundedBox(1.2 + 0.5 + 8.0, 40.0, 8.0, 8.0, 8.0),), INSIDE)
    (x0, y0), _, (x1, y1), _ = tie.points
    assert (x0, x1) == pytest.approx((0.6, 9.7))
    assert y0 + y1 == pytest.approx(80.0)
    assert ties((RoundedBox(1.2 + 1.1 + 8.0, 40.0, 8.0, 8.0, 8.0),), INSIDE) == ()
