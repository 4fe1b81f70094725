"""Round bodies as outlines."""

from __future__ import annotations

import math

import numpy as np
import pytest

from nookwright.shapes.regions import Circle, Rect
from nookwright.shapes.solids import Move, Named, Prism, Repeat, Revolution, Solid, Taper
from nookwright.solids.rounds import Round, outline_of, placed

SOCKET = Revolution(((0, -0.5), (4, -0.5), (4, 0), (3, 1), (2, 4), (0, 4)))
CONE = Taper(Circle(4), 2, 1)


def rings(solid: Solid) -> list[tuple[float, float]]:
    """Radius and height of each ring."""
    shape = outline_of(solid, 0.01)
    assert shape is not None
    return list(zip(shape.radii.tolist(), shape.levels.tolist(), strict=True))


@pytest.mark.parametrize(
    ("solid", "expected"),
    [
        (Prism(Circle(3), 5), [(3, 0), (3, 5)]),
        (CONE, [(4, 0), (3, 2)]),
        (SOCKET, [(4, -0.5), (4, 0), (3, 1), (2, 4)]),
        (Revolution(((4, 0), (2, 4), (0, 4), (0, 0))), [(4, 0), (2, 4)]),
    ],
)
def test_outlines_rise_ring_by_ring(solid: Solid, expected: list[tuple[float, float]]) -> None:
    """A profile may begin anywhere; its two points on the axis are no rings."""
    assert rings(solid) == expected


@pytest.mark.parametrize(
    "solid",
    [
        Prism(Rect(3, 3), 5),
        Taper(Rect(5, 5, 1), 2, 1),
        Revolution(((3, 0), (5, 0), (5, 2), (3, 2))),
        Revolution(((0, 0), (5, 0), (0, 2))),
        Revolution(((0, 0), (5, 0), (5, 3), (2, 3), (2, 5), (0, 5))),
        Revolution(((0, 1), (5, 0), (5, 3), (0, 3))),
    ],
    ids=["square", "pyramid", "ring", "tip", "step", "dent"],
)
def test_what_is_not_round_with_flat_ends_has_no_outline(solid: Solid) -> None:
    """Such bodies are left to booleans."""
    assert outline_of(solid, 0.01) is None


def test_a_cut_keeps_what_is_above_or_below() -> None:
    """Between two rings the radius is on the line between them; a ring at the cut is not there twice."""
    shape = outline_of(SOCKET, 0.01)
    assert shape is not None
    assert shape.above(0.0).levels.tolist() == [0, 1, 4]
    assert shape.below(2.5).levels.tolist() == [-0.5, 0, 1, 2.5]
    assert shape.below(2.5).radii.tolist() == [4, 4, 3, 2.5]


def test_a_wall_holds_what_stays_inside_it() -> None:
    """A dome over a socket does as long as there is a wall between them; where they do not meet, it does too."""
    socket = Round(np.array([4.0, 3.0]), np.array([0.0, 4.0]), 8)
    assert Round(np.array([5.0, 4.0]), np.array([1.0, 5.0]), 8).holds(socket)
    assert not Round(np.array([5.0, 2.0]), np.array([1.0, 5.0]), 8).holds(socket)
    assert not socket.holds(Round(np.array([5.0, 4.0]), np.array([1.0, 5.0]), 8))
    assert Round(np.array([1.0, 1.0]), np.array([5.0, 6.0]), 8).holds(socket)


def test_places_go_through_moves_and_repeats() -> None:
    """Each copy is where the recipe puts it, turned moves included; of two names the outer one is told."""
    pair = Repeat(Named(Move(CONE, x=1), "cone"), ((0, 0), (10, 0)))
    inner, places, name = placed(Named(Move(pair, x=5, y=7, z=2, quarter_turns=1), "cones"))
    assert inner is CONE
    assert name == "cones"
    assert sorted(places.tolist()) == [[5, 8, 2], [5, 18, 2]]


def test_its_points_lie_on_its_rings() -> None:
    """As many on each as it has chords, on the grid of files."""
    shape = outline_of(CONE, 0.01)
    assert shape is not None
    points = shape.points()
    assert points.shape == (2, shape.count, 3)
    assert np.hypot(points[1, :, 0], points[1, :, 1]) == pytest.approx(3, abs=1e-5)
    assert math.pi / math.acos(1 - 0.01 / 4) <= shape.count
