"""Fences and deck lids of the layout in their place: whatever the turn, the box lies on the cells."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nookwright.layout.liner_model import Side
from nookwright.layout.model import FenceForm, Placed
from nookwright.module.seat import outer_size
from nookwright.parts.liner.fence import End, fence
from nookwright.parts.placing import deck_lid_at, fence_corner, fence_spec, fence_turns

if TYPE_CHECKING:
    from nookwright.module.module import Module


def placed(wall: Side, *, slot: bool = False, tongue: bool = False) -> Placed:
    """A fence of five cells."""
    cols, rows = (1, 5) if wall.upright else (5, 1)
    form = FenceForm(wall, slot=slot, tongue=tongue)
    return Placed("s", 0, 0, cols, rows, turned=wall.upright, candidate=None, height=24.0, fence=form)


@pytest.mark.parametrize(
    ("wall", "turns", "corner"),
    [(Side.BACK, 0, (0, 0)), (Side.LEFT, 1, (0, 0)), (Side.FRONT, 2, (-1, 0)), (Side.RIGHT, 3, (0, -1))],
)
def test_a_tongue_reaches_over_the_end_that_it_points_to(
    module: Module, wall: Side, turns: int, corner: tuple[int, int]
) -> None:
    """To the right, back, left, front; only in the last two the box begins before the cells."""
    one = placed(wall, tongue=True)
    part = fence(module, fence_spec(one))
    reach = part.size[0] - outer_size(5, module.pitch)
    assert reach > 3
    assert fence_turns(one) == turns
    assert fence_corner(module, one, part) == pytest.approx(tuple(side * reach for side in corner))


def test_the_ends_of_a_fence_are_those_that_the_layout_says(module: Module) -> None:
    """A slot at its left, a tongue at its right, seen with the wall at the back."""
    spec = fence_spec(placed(Side.FRONT, slot=True))
    assert (spec.cells, spec.height, spec.left, spec.right) == (5, 24.0, End.SLOT, End.PLAIN)
    assert fence_corner(module, placed(Side.FRONT), fence(module, fence_spec(placed(Side.FRONT)))) == (0.0, 0.0)


def test_only_fences_have_a_fence_s_form() -> None:
    """A spare tray is refused."""
    with pytest.raises(ValueError, match="no fence"):
        fence_spec(Placed("s", 0, 0, 2, 2, turned=False, candidate=None, height=24.0))


def test_a_lid_lies_in_the_middle_of_its_tray(module: Module) -> None:
    """As far from each wall, so that a turned tray needs no other place; flush with the rim."""
    spec, (x, y, z) = deck_lid_at(module, 4, 8, 42.0)
    assert x == y
    assert z == pytest.approx(42.0 - 1.2)
    assert (spec.cols, spec.rows) == (4, 8)
