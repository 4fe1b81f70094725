"""What parts carry, as the strength checks reckon with it."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from nookwright.checks.forces.densities import assumed_g
from nookwright.checks.strength.loads import Carried

from .conftest import vessel

if TYPE_CHECKING:
    from .conftest import Bench


@pytest.fixture
def loaded(bench: Bench) -> Bench:
    """A tray with two dice of 50 g each."""
    return bench.part("tray", "tray", vessel()).stands("tray").holds("tray", 100.0, (12.0, 12.0, 12.0), count=2)


def test_things_weigh_what_the_room_says(loaded: Bench) -> None:
    """Whatever kit.json says of them."""
    lots = tuple(lot.model_copy(update={"mass_g": 1.0}) for lot in loaded.kit.lots)
    light = replace(loaded, kit=loaded.kit.model_copy(update={"lots": lots}))
    assert light.carried.inside_g["tray"] == pytest.approx(100.0)


def test_things_that_nobody_weighed_press_as_well(loaded: Bench) -> None:
    """They weigh what their shape and making let assume, not nothing."""
    lots = tuple(lot.model_copy(update={"mass_g": None}) for lot in loaded.room.lot)
    unread = Carried(loaded.kit, loaded.room.model_copy(update={"lot": lots}))
    assert unread.inside_g["tray"] == pytest.approx(2 * assumed_g(lots[0]))
    assert unread.inside_g["tray"] > 2
