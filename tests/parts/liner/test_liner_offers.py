from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nookwright.layout.liner_levels import Level, cones_under, level_pattern, liner_at
from nookwright.layout.space_liner import LinerWish, cones_needed
from nookwright.module.floor import floor_of
from nookwright.module.pattern import Pattern
from nookwright.parts.liner.filler import filler
from nookwright.parts.liner.liner_offers import liner_offers
from nookwright.parts.liner.panel import panel
from nookwright.sizing.usable import Usable

if TYPE_CHECKING:
    from tests.parts.conftest import Bench

    from nookwright.module.module import Module

USABLE = Usable("drawer", 300.0, 250.0, 60.0, 0.0, ())


def test_levels_are_offered_from_the_most_to_none(module: Module) -> None:
    """Grams fall from full to sparse to none; only none loses no height; each says what it keeps."""
    offers = liner_offers(module, floor_of(USABLE, module), USABLE, longest=210.0, density_g_cm3=1.24)
    assert [offer.level for offer in offers] == list(Level)
    mass = {offer.level: offer.mass_g for offer in offers}
    assert mass[Level.FULL] > mass[Level.SPARSE] > mass[Level.CROSS] > mass[Level.NONE] == 0
    assert mass[Level.FULL] > mass[Level.FRAME]
    assert [offer.lost_height for offer in offers] == [0.6, 0.6, 0.6, 0.6, 0.0]
    assert len({offer.keeps for offer in offers}) == len(offers)


def test_cones_only_under_the_layout_are_offered_where_it_is_known(module: Module) -> None:
    """Lighter than sparse, with two cones a part, and it says that parts no longer swap."""
    floor = floor_of(USABLE, module)
    places = [(col, row, 4, 4) for col in (0, 4, 8) for row in (0, 4, 8)]
    cells = [(c, r) for c in range(floor.cols) for r in range(floor.rows)]
    offers = liner_offers(module, floor, USABLE, longest=210.0, density_g_cm3=1.24, needed=cones_under(places, cells))
    under = next(offer for offer in offers if offer.pattern is Pattern.UNDER_LAYOUT)
    sparse = next(offer for offer in offers if offer.level is Level.SPARSE)
    assert under.cones == 18
    assert under.mass_g < sparse.mass_g
    assert "no longer swap" in under.keeps


@pytest.mark.parametrize("level", Level)
@pytest.mark.parametrize("usual", [Pattern.EVERY_CELL, Pattern.CHESSBOARD, Pattern.UNDER_LAYOUT])
def test_just_the_one_that_was_wished_for_is_chosen(module: Module, level: Level, usual: Pattern) -> None:
    """Whatever level and pattern; it stands among the offers."""
    wish = LinerWish(level, level_pattern(level, usual))
    floor = floor_of(USABLE, module)
    needed = cones_needed(wish.under_layout, floor, ())
    offers = liner_offers(module, floor, USABLE, longest=210.0, density_g_cm3=1.24, wish=wish, needed=needed)
    (chosen,) = (offer for offer in offers if offer.chosen)
    assert chosen.level is level
    assert not level.lined or chosen.pattern is wish.pattern


@pytest.mark.parametrize("level", [Level.FULL, Level.SPARSE, Level.FRAME, Level.CROSS])
def test_what_is_offered_is_what_the_meshes_weigh(bench: Bench, module: Module, level: Level) -> None:
    """Within 3 %."""
    floor = floor_of(USABLE, module)
    offers = liner_offers(module, floor, USABLE, longest=210.0, density_g_cm3=1.24)
    offered = next(offer for offer in offers if offer.level is level)
    liner = liner_at(level, floor, USABLE, module.pitch, 210.0)
    made = [panel(module, placed.spec) for placed in liner.panels]
    made += [filler(module, placed.spec) for placed in liner.fillers]
    assert offered.mass_g == pytest.approx(sum(bench.mesh(one).volume_mm3 for one in made) * 1.24e-3, rel=0.03)
