from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.module.choice import module_of
from nookwright.module.seat import outer_size

if TYPE_CHECKING:
    from nookwright.module.module import Module


@given(inner=st.floats(0.1, 600), pitch=st.floats(17, 24))
def test_cells_are_the_fewest_that_give_the_room_inside(inner: float, pitch: float) -> None:
    """A tray of that many cells has the room; one of a cell less has not."""
    module = module_of(pitch, 6.0, 0.2, "")
    cells = module.cells(inner)
    assert module.inner(cells) >= inner
    assert cells == 1 or module.inner(cells - 1) < inner


def test_inside_is_outside_less_two_walls(module: Module) -> None:
    """The room inside follows from the outer size alone."""
    assert module.inner(6) == pytest.approx(outer_size(6, 18.0) - 2 * 1.2)


@given(wanted=st.floats(0.1, 300), rise=st.sampled_from([5.0, 6.0, 7.2]))
def test_heights_are_whole_rises_and_enough(wanted: float, rise: float) -> None:
    """A height is rounded up to whole rises, and by less than one of them."""
    height = module_of(18.0, rise, 0.2, "").height(wanted)
    assert height / rise == pytest.approx(round(height / rise), abs=1e-6)
    assert wanted - 1e-5 <= height < max(wanted, 1e-3) + rise


def test_a_whole_rise_is_not_rounded_up(module: Module) -> None:
    """What is a whole number of rises already stays, in spite of floating point."""
    assert [module.height(6.0 * count) for count in range(1, 20)] == [6.0 * count for count in range(1, 20)]
