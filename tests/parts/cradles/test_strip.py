from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.ground.errors import RecipeError
from nookwright.parts.cradles.plan_outlines import RoundedBox
from nookwright.parts.cradles.strip import SLOT, Strip, lined_size, slot_mm2, slot_reach, slots


@given(size=st.floats(5, 90), thickness=st.floats(1.5, 6), share=st.floats(0.65, 1))
def test_a_lined_pocket_is_counted_with_the_pressed_thickness(size: float, thickness: float, share: float) -> None:
    """From slot to slot it is the thing and two pressed strips, whatever the slots take."""
    strip = Strip(6.0, thickness, share)
    assert lined_size(size, strip) + 2 * SLOT == pytest.approx(size + 2 * thickness * share, abs=3e-4)


@given(st.floats(9, 40))
def test_slots_of_a_round_pocket_stand_at_120_degrees(radius: float) -> None:
    """Three, their floors one slot deeper than the wall, their corners as far out as is said."""
    strip, outline = Strip(8.0, 2.0), RoundedBox(3.0, 4.0, radius, radius, radius)
    made = slots(outline, strip)
    middles = [tuple(sum(axis) / 2 for axis in zip(*each.points[1:3], strict=True)) for each in made]
    angles = [math.atan2(y - 4.0, x - 3.0) for x, y in middles]
    assert len(made) == 3
    assert sorted(math.degrees(angle) for angle in angles) == pytest.approx([-150, -30, 90])
    assert [math.hypot(x - 3.0, y - 4.0) for x, y in middles] == pytest.approx([radius + SLOT] * 3)
    corners = [math.hypot(x - 3.0, y - 4.0) for each in made for x, y in each.points]
    assert max(corners) == pytest.approx(radius + slot_reach(outline, strip))


def test_a_box_has_a_slot_on_each_side() -> None:
    """Four, in the middles of its sides."""
    made = slots(RoundedBox(0, 0, 15, 10, 0), Strip(8.0, 2.0))
    ends = {tuple(round(sum(axis) / 2, 6) for axis in zip(*each.points[1:3], strict=True)) for each in made}
    assert ends == {(15.6, 0.0), (-15.6, 0.0), (0.0, 10.6), (0.0, -10.6)}
    assert slot_mm2(Strip(8.0, 2.0)) == pytest.approx(8.4 * 0.6)


@pytest.mark.parametrize(
    "make",
    [
        lambda: Strip(8.0, 1.0, 0.7),
        lambda: Strip(8.0, 2.0, 0.0),
        lambda: Strip(8.0, 2.0, 1.1),
        lambda: Strip(8.0, math.nan),
        lambda: Strip(1.9, 2.0),
        lambda: Strip(-0.4, 2.0),
        lambda: slots(RoundedBox(0, 0, 7, 3, 3), Strip(2.0, 2.0)),
        lambda: slots(RoundedBox(0, 0, 7, 7, 7), Strip(8.0, 2.0)),
        lambda: slots(RoundedBox(0, 0, 15, 4, 0), Strip(8.0, 2.0)),
    ],
)
def test_strips_that_would_not_line_are_refused(make: object) -> None:
    """Too thin when pressed, no share, too narrow to stick, too wide for the pocket, whose flats may be nothing."""
    assert callable(make)
    with pytest.raises(RecipeError, match=r"allowed: .*\. [A-Z]"):
        make()
