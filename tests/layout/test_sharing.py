"""Lots that share a tray: one ask, under the tray's own lot, with the wishes of all."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from nookwright.layout.asks import asks_of, things_g
from nookwright.layout.model import Layout, LeftOut
from nookwright.layout.sharing import merged, with_guests
from nookwright.sizing.lot_sizes import terms_of
from nookwright.sizing.ways import Limits
from nookwright.sizing.ways.household import hosts_of, ways_of_room
from nookwright.survey.models import FloorStyle

if TYPE_CHECKING:
    from nookwright.module.module import Module
    from nookwright.survey.models import Room

    from .conftest import Make

LIMITS = Limits(length=250.0, height=70.0, wall=1.2, floor=FloorStyle.SHELL)


def sharing(room: Room, **dice: object) -> Room:
    """The tiny room, its dice in the tray of the corks."""
    lots = [lot.model_copy(update={"shares": "corks", **dice}) if lot.id == "dice" else lot for lot in room.lot]
    return room.model_copy(update={"lot": tuple(lots)})


def test_one_tray_is_asked_for_once(tiny_room: Room, module: Module) -> None:
    """Three lots, two asks; the tray weighs what both lots weigh."""
    room = sharing(tiny_room)
    ways = ways_of_room(room, LIMITS, {}, terms_of(room))
    assert ways["dice"] == ()
    asks, homeless = asks_of(room, module, ways)
    assert homeless == ()
    assert [ask.lot for ask in asks] == ["corks", "notes"]
    assert {one.way.lots for one in asks[0].candidates} == {("corks", "dice")}
    things = sum(things_g(lot) for lot in room.lot if lot.id in ("corks", "dice"))
    for one in asks[0].candidates:
        assert one.mass_g == pytest.approx(one.part_g + things)


def test_the_wishes_of_all_hold(make: Make) -> None:
    """Hard ones of either, homes of both, reach and leaning of both together; nobody is bound to himself."""
    one = replace(make.ask("a", (3, 3), near=("b", "c")), spaces=("x", "y"), leaning=(("x", 1.0),), cool=True)
    two = replace(
        make.ask("b", (3, 3), near=("a", "d"), use=2.0), spaces=("y", "z"), leaning=(("x", 2.0),), out_of_reach=True
    )
    both = merged([one, two], {"b": "a", "d": "c"})
    assert (both.lot, both.use, both.cool, both.dry, both.out_of_reach) == ("a", 3.0, True, False, True)
    assert both.spaces == ("y",)
    assert both.leaning == (("x", 3.0),)
    assert both.bonds == (("c", 30.0),)


def test_homes_that_have_nothing_in_common_are_no_home(make: Make) -> None:
    """Not any space, as no home at all would be."""
    one = replace(make.ask("a", (3, 3)), spaces=("x",))
    two = replace(make.ask("b", (3, 3)), spaces=("y",))
    assert merged([one, two], {"b": "a"}).spaces == ("",)


def test_nobody_is_lost_with_a_tray_that_is_left_out(tiny_room: Room) -> None:
    """The lots in it are named as well, with what to do."""
    room = sharing(tiny_room)
    layout = Layout((), (LeftOut("corks", "no room", "make some"),), (), 0.0, 0.0, proven=True, by_clock=False, seed=1,
                    iterations=0)  # fmt: skip
    found = with_guests(layout, hosts_of(room)).left_out
    assert [one.lot for one in found] == ["corks", "dice"]
    assert "shares" in found[1].remedy


def test_lots_that_go_into_no_tray_together_are_all_left_out(tiny_room: Room, module: Module) -> None:
    """With a reason that names them."""
    room = sharing(tiny_room, count=9000)
    asks, homeless = asks_of(room, module, ways_of_room(room, LIMITS, {}, terms_of(room)))
    assert [ask.lot for ask in asks] == ["notes"]
    assert [one.lot for one in homeless] == ["corks", "dice"]
    assert all("do not go into one tray" in one.reason for one in homeless)
