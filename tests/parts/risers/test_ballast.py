from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.ground.errors import RecipeError
from nookwright.module.choice import module_of
from nookwright.parts.risers.ballast import Filling, ballast_g, capacity_mm3, level_for
from nookwright.parts.risers.hollow_riser import Chamber, HollowSpec, chamber_mm3

if TYPE_CHECKING:
    from nookwright.module.module import Module

SPEC = HollowSpec(4, 4, 6)


def test_the_mass_is_volume_times_density(module: Module) -> None:
    """A cubic centimetre of dry sand is 1.6 g, of steel shot 4.7 g, of loose gravel 1.5 g."""
    room_cm3 = capacity_mm3(module, SPEC) / 1000
    for filling, density in ((Filling.DRY_SAND, 1.6), (Filling.STEEL_SHOT, 4.7), (Filling.LOOSE_GRAVEL, 1.5)):
        assert ballast_g(module, SPEC, filling) == pytest.approx(density * room_cm3)


@given(share=st.floats(0, 1), filling=st.sampled_from(list(Filling)), rises=st.integers(2, 9), cells=st.integers(2, 6))
def test_the_level_holds_the_wanted_mass(share: float, filling: Filling, rises: int, cells: int) -> None:
    """Filled up to the level that is said, it holds as much as was wanted, to a tenth of a millimetre."""
    module, spec = module_of(18.0, 6.0, 0.2, ""), HollowSpec(cells, 3, rises)
    wanted = share * ballast_g(module, spec, filling)
    level, room = level_for(module, spec, filling, wanted), Chamber(module, spec)
    assert room.floor <= level <= room.ceiling
    low, high = (chamber_mm3(room, level + by) / 1000 * filling.density_g_cm3 for by in (-0.1, 0.1))
    assert low - 1e-9 <= wanted <= high + 1e-9


def test_more_than_it_takes_is_refused(module: Module) -> None:
    """With what it takes."""
    most = ballast_g(module, SPEC, Filling.DRY_SAND)
    with pytest.raises(RecipeError, match=f"takes it in dry sand; found .* g, allowed: 0 to {most:.0f} g"):
        level_for(module, SPEC, Filling.DRY_SAND, most + 1)
    with pytest.raises(RecipeError, match="found -1 g"):
        level_for(module, SPEC, Filling.DRY_SAND, -1)
