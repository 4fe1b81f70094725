"""Lots as the solver sees them, with the wishes of the room file."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nookwright.layout.asks import ALIKE, HEAVY_PER_KG_M, LIFTED_FROM, asks_of
from nookwright.layout.problem import SPLIT
from nookwright.sizing.lot_sizes import Terms
from nookwright.sizing.ways import Limits, ways_of
from nookwright.survey.layout_wishes import Weights

if TYPE_CHECKING:
    from nookwright.layout.model import Ask
    from nookwright.module.module import Module
    from nookwright.survey.models import Room


def asked(room: Room, module: Module, **weights: float) -> dict[str, Ask]:
    """The asks of a room with other weights, by lot."""
    choices = room.choices.model_copy(update={"weights": Weights(**weights)})
    limits = Limits(length=200.0, height=70.0, wall=1.2, floor=choices.floor)
    ways = {lot.id: ways_of(lot, limits, terms=Terms()) for lot in room.lot}
    asks, homeless = asks_of(room.model_copy(update={"choices": choices}), module, ways)
    assert not homeless
    return {ask.lot: ask for ask in asks}


def grouped(room: Room, *, near: tuple[str, ...] = ()) -> Room:
    """The tiny room with all lots in one group, and neighbours of the first."""
    lots = [lot.model_copy(update={"group": "game"}) for lot in room.lot]
    lots[0] = lots[0].model_copy(update={"near": near})
    return room.model_copy(update={"lot": tuple(lots)})


def test_a_group_is_a_chain_of_weak_bonds(tiny_room: Room, module: Module) -> None:
    """Each lot is bound to the next of its group; the last to none."""
    asks = asked(grouped(tiny_room), module)
    assert [asks[lot].bonds for lot in ("corks", "dice", "notes")] == [(("dice", ALIKE),), (("notes", ALIKE),), ()]


def test_belonging_together_goes_before_being_alike(tiny_room: Room, module: Module) -> None:
    """Two lots that are both have the stronger bond, once."""
    asks = asked(grouped(tiny_room, near=("dice", "notes")), module)
    assert dict(asks["corks"].bonds) == {"dice": SPLIT, "notes": SPLIT}


def test_weights_scale_and_switch_off(tiny_room: Room, module: Module) -> None:
    """Twice the weight is twice the cost; none makes no bond at all."""
    room = grouped(tiny_room, near=("dice",))
    twice = asked(room, module, together=2.0, alike=3.0, reach=2.0)
    assert dict(twice["corks"].bonds) == {"dice": 2 * SPLIT}
    assert dict(twice["dice"].bonds) == {"notes": 3 * ALIKE}
    assert twice["dice"].use == pytest.approx(2 * asked(room, module)["dice"].use)
    assert asked(room, module, together=0.0, alike=0.0)["corks"].bonds == ()


def test_heavy_lots_lean_towards_low_spaces(tiny_room: Room, module: Module) -> None:
    """Ten dice of 500 g in a space 600 mm above the elbow's height: 5 kg by 0.6 m; nothing in a low one."""
    dice = next(lot for lot in tiny_room.lot if lot.id == "dice").model_copy(update={"mass_g": 500.0})
    high = tiny_room.space[0].model_copy(update={"id": "high", "floor_height": LIFTED_FROM + 600})
    room = tiny_room.model_copy(update={"lot": (dice,), "space": (*tiny_room.space, high)})
    ((space, cost),) = asked(room, module)["dice"].leaning
    assert space == "high"
    assert cost == pytest.approx(HEAVY_PER_KG_M * 5 * 0.6)
    assert asked(room, module, heavy_low=0.0)["dice"].leaning == ()
