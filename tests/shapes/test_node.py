"""What all recipes have in common."""

from __future__ import annotations

import math
import os
import subprocess
import sys
from dataclasses import FrozenInstanceError

import numpy as np
import pytest

from nookwright.ground.errors import RecipeError
from nookwright.shapes.regions import Circle, Polygon, Rect, RegionMove, RegionRepeat, RegionUnion
from nookwright.shapes.solids import Difference, Move, Named, Prism, Tip

SAMPLE = """
from nookwright.shapes.regions import *
from nookwright.shapes.solids import *
base = Difference(Prism(Rect(40, 30, 5), 12), (Move(Bowl(36, 26, 4, 3, 12), x=2, y=2, z=1, quarter_turns=0),))
print(Union((base, Repeat(Named(Taper(Circle(3), 3, 0.8), "cone"), ((9, 9), (27, 9))))).digest)
"""


def test_numbers_are_snapped_to_the_grid() -> None:
    """Two ways to calculate one size give one recipe."""
    assert Rect(0.1 + 0.2, 1) == Rect(0.3, 1)
    assert Rect(0.30004, 1).width == 0.3
    assert Polygon(((0, 0), (1, 0), (1.00004, 0.99996))).points == ((0, 0), (1, 0), (1, 1))


def test_minus_zero_is_zero() -> None:
    """The sign of nothing does not tell two recipes apart."""
    moved = RegionMove(Circle(1), x=-0.0, y=-1e-9)
    assert math.copysign(1, moved.x) == math.copysign(1, moved.y) == 1
    assert moved.digest == RegionMove(Circle(1)).digest


def test_whole_numbers_lists_and_numpy_numbers_are_the_same_recipe() -> None:
    """A recipe holds plain floats and tuples, whatever it was made from."""
    plain = RegionRepeat(Circle(1.0), ((0.0, 0.0), (5.0, 5.0)))
    rough = RegionRepeat(Circle(1), [[0, 0], [np.float64(5), 5]])  # type: ignore[arg-type]
    assert plain == rough
    assert hash(plain) == hash(rough)
    assert type(rough.places[1][0]) is float


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_numbers_that_are_not_finite_are_refused(value: float) -> None:
    """Neither NaN nor infinity gets into a recipe, at any depth."""
    with pytest.raises(RecipeError, match=r"radius is finite"):
        Circle(value)
    with pytest.raises(RecipeError, match=r"points is finite"):
        Polygon(((0, 0), (value, 0), (0, 1)))


@pytest.mark.parametrize("value", [True, None, 1j, {}])
def test_what_is_no_number_is_refused(value: object) -> None:
    """A size is a number."""
    with pytest.raises(RecipeError, match="radius is a"):
        Circle(value)  # type: ignore[arg-type]


@pytest.mark.parametrize("turns", [0.5, 1.0, True, "1"])
def test_quarter_turns_are_whole(turns: object) -> None:
    """Nothing is turned by half a quarter."""
    with pytest.raises(RecipeError, match="quarter_turns is a whole number"):
        RegionMove(Circle(1), quarter_turns=turns)  # type: ignore[arg-type]


def test_four_quarter_turns_are_none() -> None:
    """The same place is the same recipe."""
    assert Move(Prism(Circle(1), 1), quarter_turns=5) == Move(Prism(Circle(1), 1), quarter_turns=-3)


def test_equality_is_that_of_the_tree() -> None:
    """Equal trees are equal, others are not, whatever their kind."""
    assert Prism(Rect(4, 3), 2) == Prism(Rect(4, 3), 2)
    different = [
        Prism(Rect(4, 3), 2),
        Prism(Rect(3, 4), 2),
        Prism(Rect(4, 3), 2.0001),
        Difference(Prism(Rect(4, 3), 2), ()),
        Named(Prism(Rect(4, 3), 2), "a"),
        Named(Prism(Rect(4, 3), 2), "b"),
        Tip(Prism(Rect(4, 3), 2), "x"),
        Tip(Prism(Rect(4, 3), 2), "y"),
    ]
    assert len(set(different)) == len({node.digest for node in different}) == len(different)
    assert Prism(Rect(4, 3), 2) != "Prism"


def test_the_order_of_a_union_is_part_of_the_recipe() -> None:
    """A digest names the tree as written, not the shape."""
    assert RegionUnion((Circle(1), Circle(2))) != RegionUnion((Circle(2), Circle(1)))


def test_a_recipe_is_frozen() -> None:
    """Nothing changes a recipe once it has been made."""
    with pytest.raises(FrozenInstanceError):
        Circle(1).radius = 2  # type: ignore[misc]


def test_the_digest_is_the_same_in_every_process() -> None:
    """Neither the process nor the seed of Python's hashes changes a digest."""
    seen = set()
    for seed in ("0", "1", "4711"):
        environment = {**os.environ, "PYTHONHASHSEED": seed}
        ran = subprocess.run(
            [sys.executable, "-c", SAMPLE], env=environment, capture_output=True, text=True, check=True
        )
        seen.add(ran.stdout.strip())
    assert len(seen) == 1
    assert len(seen.pop()) == 64


def test_the_digest_of_shared_sub_trees_is_taken_once() -> None:
    """A tree of 2**60 leaves has its digest at once, since every node keeps its own."""
    node: Prism | Difference = Prism(Circle(1), 1)
    for _ in range(60):
        node = Difference(node, (node,))
    assert len(node.digest) == 64
