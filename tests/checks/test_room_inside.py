from __future__ import annotations

import numpy as np
import pytest

from nookwright.checks.room_inside import beyond, outside
from nookwright.exchange.kit import KitSpace, UsableAt

SPACE = KitSpace.model_validate(
    {
        "id": "left",
        "name": "Left",
        "kind": "drawer",
        "usable": [{"z": 0, "width": 100, "depth": 80}, {"z": 50, "width": 110, "depth": 80}],
        "height": 50,
        "corner_radius": 10,
        "blocked": [],
        "cell_origin": (0, 0),
        "cols": 5,
        "rows": 4,
        "blocked_cells": [],
        **dict.fromkeys(("mass_g", "time_s", "budget_g", "load_g", "load_limit_g"), 0),
    }
)


@pytest.mark.parametrize(
    ("point", "text"),
    [
        ((50, 40, 25), ""),
        ((0, 40, 0), ""),
        ((100, 40, 0), ""),
        ((100.00005, 40, 0), ""),
        ((50, 40, 50), ""),
        ((50, 80, 0), ""),
        ((-0.5, 40, 0), "0.50 mm past the left wall"),
        ((50, -0.5, 0), "0.50 mm past the front"),
        ((50, 40, -0.5), "0.50 mm past the floor"),
        ((100.5, 40, 0), "0.50 mm past the right wall"),
        ((104, 40, 20), ""),
        ((104.5, 40, 20), "0.50 mm past the right wall"),
        ((50, 80.5, 0), "0.50 mm past the back"),
        ((50, 40, 50.5), "0.50 mm past the clear height"),
        ((10 - 10 * 0.6, 10 - 10 * 0.8, 5), ""),
        ((10 - 10.5 * 0.6, 10 - 10.5 * 0.8, 5), "0.50 mm past a rounded corner"),
        ((90 + 10.5 * 0.8, 70 + 10.5 * 0.6, 0), "0.50 mm past a rounded corner"),
        ((0, 10, 0), ""),
        ((10, 0, 0), ""),
        ((0.1, 0.1, 0), "4.00 mm past a rounded corner"),
    ],
)
def test_a_point_is_inside_or_the_text_says_by_how_much_it_is_not(point: tuple[float, float, float], text: str) -> None:
    """A drawer that widens from 100 to 110 over its height, with corners of radius 10; distances by hand."""
    points = np.array([(50, 40, 25), point], dtype=np.float64)
    assert outside(SPACE, points) == text


LEANING = SPACE.model_copy(
    update={
        "usable": (
            UsableAt(z=0, width=100, depth=80),
            UsableAt(z=20, width=98, depth=80, x=2),
            UsableAt(z=50, width=92, depth=77, x=2, y=3),
        ),
        "corner_radius": 0.0,
    }
)


@pytest.mark.parametrize(
    ("point", "text"),
    [
        ((0, 40, 0), ""),
        ((1, 40, 10), ""),
        ((0.5, 40, 10), "0.50 mm past the left wall"),
        ((2, 40, 50), ""),
        ((1.5, 40, 35), "0.50 mm past the left wall"),
        ((100, 40, 20), ""),
        ((94, 40, 50), ""),
        ((97.5, 40, 35), "0.50 mm past the right wall"),
        ((50, 1, 35), "0.50 mm past the front"),
        ((50, 80, 50), ""),
        ((50, 80.5, 50), "0.50 mm past the back"),
    ],
)
def test_walls_that_stand_in_are_followed_at_every_height(point: tuple[float, float, float], text: str) -> None:
    """The left wall is 2 in from 20 mm up, the right one 6 at the top, the front 3; distances by hand."""
    points = np.array([(50, 40, 25), point], dtype=np.float64)
    assert outside(LEANING, points) == text


def test_square_corners_have_no_arc() -> None:
    """With a radius of nothing the corner itself is inside."""
    assert outside(SPACE.model_copy(update={"corner_radius": 0.0}), np.zeros((1, 3))) == ""


def test_all_that_is_wrong_is_said() -> None:
    """Two walls at once are both named."""
    text = outside(SPACE, np.array([[-1.0, -2, 0]]))
    assert text == "1.00 mm past the left wall, 2.00 mm past the front"


COVED = SPACE.model_copy(update={"cove_radius": 5.0})


@pytest.mark.parametrize(
    ("point", "text"),
    [
        ((5, 40, 0), ""),
        ((4.5, 40, 0), "0.50 mm past the round edge of the floor"),
        ((50, 4.5, 0), "0.50 mm past the round edge of the floor"),
        ((95.5, 40, 0), "0.50 mm past the round edge of the floor"),
        ((50, 75.5, 0), "0.50 mm past the round edge of the floor"),
        ((0, 40, 5), ""),
        ((2, 40, 1), ""),  # 5 - 3 from the wall at 5 - 4: on the arc by the triangle 3, 4, 5
        ((1.5, 40, 1), "0.50 mm past the round edge of the floor"),
        # At the floor the corner of 10 is an arc of 5 about (10, 10).
        ((10 - 5 * 0.6, 10 - 5 * 0.8, 0), ""),
        ((10 - 5.5 * 0.6, 10 - 5.5 * 0.8, 0), "0.50 mm past the round edge of the floor"),
        ((10 - 5.5 * 0.6, 10 - 5.5 * 0.8, 5), ""),
    ],
)
def test_a_cove_draws_the_walls_in_near_the_floor(point: tuple[float, float, float], text: str) -> None:
    """By a quarter circle, along the rounded corners too; above its radius the walls are upright."""
    assert outside(COVED, np.array([(50, 40, 25), point], dtype=np.float64)) == text


def test_room_that_is_left_is_negative() -> None:
    """One point 4 off the left wall; the other 3 off the right one, half way up, and 2 past the back."""
    past = beyond(SPACE, np.array([[4.0, 40.0, 0.0], [102.0, 82.0, 25.0]]))
    assert past["the left wall"] == pytest.approx(-4)
    assert past["the right wall"] == pytest.approx(-3)
    assert past["the back"] == pytest.approx(2)
    assert past["the clear height"] == pytest.approx(-25)
    assert past["a rounded corner"] == 0
