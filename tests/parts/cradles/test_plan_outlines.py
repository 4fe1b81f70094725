from __future__ import annotations

import math

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely import affinity

from nookwright.parts.cradles.plan_outlines import RoundedBox, Slab, bar, covered_mm2, slab

boxes = st.builds(
    lambda x, y, a, b, share: RoundedBox(x, y, a, b, share * min(a, b)),
    st.floats(-30, 30), st.floats(-30, 30), st.floats(1, 15), st.floats(1, 15),
    st.sampled_from([0.0, 0.1, 0.5, 0.9, 1.0]),
)  # fmt: skip


def shape_of(box: RoundedBox) -> shapely.Geometry:
    """The same outline by another library: a core grown by a disc."""
    a, b = box.core
    if a <= 0 and b <= 0:
        core: shapely.Geometry = shapely.Point(box.x, box.y)
    elif a <= 0 or b <= 0:
        core = shapely.LineString([(box.x - a, box.y - b), (box.x + a, box.y + b)])
    else:
        core = shapely.box(box.x - a, box.y - b, box.x + a, box.y + b)
    return core.buffer(box.radius, quad_segs=64) if box.radius else core


@given(boxes, boxes)
def test_the_gap_is_the_distance(one: RoundedBox, other: RoundedBox) -> None:
    """Against an outside library; outlines that overlap have a gap that is not positive."""
    distance = shape_of(one).distance(shape_of(other))
    gap = one.gap(other)
    if distance > 0.02:
        assert gap == pytest.approx(distance, abs=0.01)
    else:
        assert gap <= 0.03
    assert gap == pytest.approx(other.gap(one))


@given(st.lists(boxes, min_size=1, max_size=5))
def test_covered_area_is_that_of_the_union(shapes: list[RoundedBox]) -> None:
    """Against an outside library, within two per cent and a bit for the strips at the edges."""
    field = slab(-20, -20, 20, 20)
    union = shapely.union_all([shape_of(shape) for shape in shapes]).intersection(shapely.box(-20, -20, 20, 20))
    assert covered_mm2(shapes, field) == pytest.approx(union.area, rel=0.02, abs=12)


def test_outlines_that_lie_in_each_other_overlap_by_the_way_out() -> None:
    """A box of 10 by 6 about the middle of one of 20 by 20 has 13 to go along y until they part."""
    inner, outer = RoundedBox(0, 0, 5, 3, 0), RoundedBox(0, 0, 10, 10, 2)
    assert (inner.gap(outer), inner.gap(RoundedBox(4, 0, 10, 10, 2))) == (-13.0, -11.0)


def test_holes_are_taken_off() -> None:
    """A ring of 10 around a hole of 6."""
    ring, hole = RoundedBox(0, 0, 10, 10, 10), RoundedBox(0, 0, 6, 6, 6)
    area = covered_mm2([ring], slab(-12, -12, 12, 12), [hole])
    assert area == pytest.approx(math.pi * (100 - 36), rel=5e-3)


@given(st.floats(-20, 20), st.floats(-20, 20), st.floats(0.5, 5), st.floats(3, 30))
def test_a_bar_is_a_turned_rectangle(x: float, y: float, width: float, length: float) -> None:
    """Its area is width times length whatever its direction, and its corners run counter-clockwise."""
    for angle in (0.0, 0.3, 1.2, 2.5, 4.0):
        end = (x + length * math.cos(angle), y + length * math.sin(angle))
        made = shapely.Polygon(bar((x, y), end, width).points)
        assert made.area == pytest.approx(width * length)
        assert made.exterior.is_ccw
        straight = shapely.box(0, -width / 2, length, width / 2)
        turned = affinity.translate(affinity.rotate(straight, angle, (0, 0), use_radians=True), x, y)
        assert made.symmetric_difference(turned).area < 1e-6


def test_the_chord_of_a_slab_is_where_a_line_crosses_it() -> None:
    """A diamond, at its middle, half-way up, and above."""
    diamond = Slab(((0, -4), (4, 0), (0, 4), (-4, 0)))
    assert (diamond.chord(0), diamond.chord(2), diamond.chord(5)) == ((-4, 4), (-2, 2), None)
