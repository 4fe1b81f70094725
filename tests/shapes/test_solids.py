"""Solids as data: rules and boxes."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nookwright.ground.errors import RecipeError
from nookwright.shapes.regions import Circle, Polygon, Rect
from nookwright.shapes.solids import (
    Bowl,
    Difference,
    Intersection,
    Move,
    Named,
    Prism,
    Repeat,
    Revolution,
    Solid,
    Taper,
    Tip,
    Union,
)

if TYPE_CHECKING:
    from collections.abc import Callable

    from nookwright.shapes.boxes import Box3

BLOCK = Prism(Rect(4, 3), 2)


@pytest.mark.parametrize(
    ("solid", "box"),
    [
        (BLOCK, (0, 0, 0, 4, 3, 2)),
        (Taper(Circle(5), 3, 0.8), (-5, -5, 0, 5, 5, 3)),
        (Taper(Circle(5), 3, -0.8), (-5.8, -5.8, 0, 5.8, 5.8, 3)),
        (Taper(Rect(9, 8, 2), 3, 2), (0, 0, 0, 9, 8, 3)),
        (Taper(Rect(9, 8), 3, -1.5), (-1.5, -1.5, 0, 10.5, 9.5, 3)),
        (Revolution(((1, -1), (4, 0), (2, 6))), (-4, -4, -1, 4, 4, 6)),
        (Bowl(20, 10, 5, 3, 8), (0, 0, 0, 20, 10, 8)),
        (Union((BLOCK, Taper(Circle(1), 5, 0.5))), (-1, -1, 0, 4, 3, 5)),
        (Difference(BLOCK, (Prism(Circle(9), 9),)), (0, 0, 0, 4, 3, 2)),
        (Intersection((BLOCK, Taper(Circle(1), 5, 0.5))), (0, 0, 0, 1, 1, 2)),
        (Move(BLOCK, x=0.1, y=0.2, z=-0.3), (0.1, 0.2, -0.3, 4.1, 3.2, 1.7)),
        (Move(BLOCK, x=10, quarter_turns=1), (7, 0, 0, 10, 4, 2)),
        (Tip(BLOCK, "x"), (0, -2, 0, 4, 0, 3)),
        (Tip(BLOCK, "y"), (0, 0, -4, 2, 3, 0)),
        (Repeat(BLOCK, ((0, 0), (10, -5))), (0, -5, 0, 14, 3, 2)),
        (Named(BLOCK, "floor"), (0, 0, 0, 4, 3, 2)),
    ],
)
def test_boxes(solid: Solid, box: Box3) -> None:
    """The box of every kind of solid is known without a kernel."""
    assert solid.bounds == box


@pytest.mark.parametrize(
    ("make", "rule"),
    [
        (lambda: Prism(Circle(1), 0), "height is positive"),
        (lambda: Taper(Circle(1), -1, 0), "height is positive"),
        (lambda: Taper(Circle(1), 3, 1), "top has a radius; found draw 1.0, allowed: less than 1"),
        (lambda: Taper(Rect(9, 8, 2), 3, 2.1), "concentric corners; found draw 2.1, allowed: at most 2"),
        (lambda: Taper(Rect(9, 8, 4), 3, 4), "concentric corners; found draw 4.0, .* less than 4"),
        (lambda: Taper(Polygon(((0, 0), (1, 0), (0, 1))), 3, 0), "only these regions taper"),  # type: ignore[arg-type]
        (lambda: Revolution(((-1, 0), (4, 0), (2, 6))), "one side of the axis; found r = -1"),
        (lambda: Revolution(((0, 0), (4, -1), (4, 1))), "meets the axis along one edge"),
        (lambda: Revolution(((0, 0), (4, 0), (4, 9), (0, 9), (0, 8), (2, 8), (2, 1), (0, 1))), "along one edge"),
        (lambda: Revolution(((4, 1), (4, -1), (1, 0))), "counter-clockwise"),
        (lambda: Bowl(20, 10, 5.1, 3, 8), "radius fits the shorter side"),
        (lambda: Bowl(20, 10, 2, 2.1, 8), "fillet fits the corner radius; found 2.1, allowed: 0 to 2"),
        (lambda: Bowl(20, 10, 5, -1, 8), "fillet fits the corner radius"),
        (lambda: Bowl(20, 10, 5, 3, 2), "fillet fits the height"),
        (lambda: Bowl(20, 10, 5, 3, 0), "height is positive"),
        (lambda: Union(()), "solids holds something"),
        (lambda: Intersection(()), "solids holds something"),
        (lambda: Intersection((BLOCK, Move(BLOCK, z=2))), "solids overlap"),
        (lambda: Tip(BLOCK, "z"), "axis lies flat"),  # type: ignore[arg-type]
        (lambda: Repeat(BLOCK, ((0, 0), (4.005, 0))), "no hair's gap"),
        (lambda: Named(BLOCK, ""), "a name says something"),
    ],
)
def test_what_cannot_be_made_is_refused(make: Callable[[], Solid], rule: str) -> None:
    """Each rule has a solid that breaks it; the message has the rule, the value and what is allowed."""
    with pytest.raises(RecipeError, match=rule):
        make()
