"""How high a tray must be that closes over its things, and what its lid weighs, against the parts themselves."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.ground.errors import RecipeError
from nookwright.module.stacking import deck_g, decked_height, may_be_decked, stack_reserve
from nookwright.parts.lids.deck_lid import DeckSpec, deck_lid, deck_tray
from nookwright.parts.trays.tray import tray

if TYPE_CHECKING:
    from nookwright.module.module import Module

DENSITY_G_CM3 = 1.24
CELLS = st.integers(2, 24)


@given(CELLS, CELLS, st.floats(1, 60), st.booleans())
def test_a_tray_of_that_height_can_be_made_and_its_things_stay_below_its_swelling(
    module: Module,
    cols: int,
    rows: int,
    things: float,
    smooth: bool,  # noqa: FBT001 - drawn
) -> None:
    """Where the corners allow the ledge; a rise lower it is refused or too low for the things."""
    height = decked_height(module, cols, rows, things=things, smooth=smooth)
    if not may_be_decked(module, cols, rows):
        with pytest.raises(RecipeError):
            deck_tray(module, DeckSpec(cols, rows, height, smooth))
        return
    made = deck_tray(module, DeckSpec(cols, rows, height, smooth))
    assert made.size[2] == pytest.approx(height)
    assert height >= module.seat.dome + things + 1.2 + 2.3
    assert height - module.rise < module.seat.dome + max(things, 5.0) + 1.2 + 4.0


@pytest.mark.parametrize(("cols", "rows"), [(2, 3), (4, 8), (12, 9)])
def test_the_mass_of_lid_and_ledge_is_near_that_of_the_parts(module: Module, cols: int, rows: int) -> None:
    """Within a tenth: notches and round corners are left out."""
    spec = DeckSpec(cols, rows, 48.0)
    plain = tray(module, cols=cols, rows=rows, height=48.0, smooth=False)
    parts = deck_lid(module, spec).plastic.mass_g(DENSITY_G_CM3)
    parts += deck_tray(module, spec).plastic.mass_g(DENSITY_G_CM3) - plain.plastic.mass_g(DENSITY_G_CM3)
    assert deck_g(module, cols, rows, DENSITY_G_CM3) == pytest.approx(parts, rel=0.1)


def test_the_reserve_is_that_of_its_seats_and_of_its_height() -> None:
    """Two seats of 0.3 and 0.3 % of 100 mm."""
    assert stack_reserve(100.0) == pytest.approx(0.9)
    assert stack_reserve(100.0, seats=1) == pytest.approx(0.6)
