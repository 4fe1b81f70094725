from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nookwright.cutting.ends import end_of
from nookwright.cutting.leaves import leaves
from nookwright.cutting.sections import Sections
from nookwright.shapes.regions import Circle, Polygon, Rect, RegionDifference, RegionMove
from nookwright.shapes.solids import Difference, Move, Prism, Repeat, Tip, Union

if TYPE_CHECKING:
    from nookwright.shapes.solids import Solid

PLATE = Prism(Rect(60, 40), 2)
BOX = ((0.0, 30.0), (0.0, 40.0), (0.0, 50.0))  # the left half, and air above


@pytest.mark.parametrize(
    ("solid", "axis", "end", "place"),
    [
        (Union((PLATE, Move(Prism(Rect(10, 10), 9), x=5, y=5))), 2, 1, 9.0),
        (Union((PLATE, Move(Prism(Rect(10, 10), 9), x=45, y=5))), 2, 1, 2.0),  # the tower is in the other half
        (Difference(Prism(Rect(60, 40), 30), (Move(Prism(Rect(40, 50), 30), y=-5, z=12),)), 2, 1, 12.0),
        (Move(Prism(Circle(7), 3), x=12, y=20), 0, 0, 5.0),  # the tip of something round
        (Move(Prism(Circle(7), 3), x=12, y=20), 1, 1, 27.0),
        # A ramp that rises to the right ends where the box cuts it off: at half of its height.
        (Move(Tip(Prism(Polygon(((0, 0), (60, 0), (60, 20))), 40), "x"), y=40), 2, 1, 10.0),
    ],
)
def test_a_part_ends_where_its_last_material_is(solid: Solid, axis: int, end: int, place: float) -> None:
    """At a face, above a cutter, at a tip, or on a slope: to a thousandth of a millimetre, never outside."""
    found = end_of(Sections(solid), axis, BOX, end=end)
    assert found == pytest.approx(place, abs=1e-3)
    assert found <= place + 1e-4 if end else found >= place - 1e-4


def test_leaves_know_what_they_take_away() -> None:
    """Through differences of solids and regions, repeats and turns, each in the axes of the whole."""
    ring = RegionDifference(Rect(10, 6), (RegionMove(Circle(2), x=5, y=3),))
    solid = Difference(Prism(ring, 4), (Repeat(Move(Prism(Rect(2, 1), 4), quarter_turns=1), ((3, 0), (8, 0))),))
    found = set(leaves(solid))
    assert found == {
        ((0.0, 0.0, 0.0, 10.0, 6.0, 4.0), False),
        ((3.0, 1.0, 0.0, 7.0, 5.0, 4.0), True),
        ((2.0, 0.0, 0.0, 3.0, 2.0, 4.0), True),
        ((7.0, 0.0, 0.0, 8.0, 2.0, 4.0), True),
    }
    assert set(leaves(Difference(PLATE, (solid,)))) >= {((3.0, 1.0, 0.0, 7.0, 5.0, 4.0), False)}
