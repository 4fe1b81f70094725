from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.making.bedfuls import Item, Load
from nookwright.making.jobs import make
from nookwright.making.schedule.from_loads import Needs, Spread, bedfuls_of, needs_of
from nookwright.making.schedule.model import Stage
from nookwright.parts.model import Kind

if TYPE_CHECKING:
    from nookwright.build import Designed


def load(*pieces: str) -> Load:
    return Load("small", "white", tuple(Item(piece, 0, 0) for piece in pieces), 100.0, 3600.0)


def test_copies_on_the_first_beds_go_to_the_first_spaces() -> None:
    """Copies of one piece are alike."""
    needs = Needs({"tray": ("left", "left", "right"), "panel": ("right",)}, frozenset({"tray"}))
    first, second, third = bedfuls_of(
        (load("tray"), load("tray", "tray"), load("panel")), needs, ids=("b1", "b2", "b3"), stage=Stage.TRIAL
    )
    assert (first.spaces, second.spaces, third.spaces) == (("left",), ("left", "right"), ("right",))
    assert (second.visible, third.visible) == (("left", "right"), ())
    assert first.stage is Stage.TRIAL


def test_the_interval_of_printer_and_material_is_that_of_the_bedful() -> None:
    """As prints have taught it."""
    needs = Needs({"tray": ("",)})
    spreads = {("small", "white"): Spread(0.9, 1.1, 1.05)}
    (one,) = bedfuls_of((load("tray"),), needs, ids=("b1",), spread=lambda *key: spreads[key])
    way = one.on("small")
    assert (way.low_s, way.likely_s, way.high_s) == (3240.0, 3600.0, 3960.0000000000005)
    assert one.high_g == 105.0
    assert one.spaces == ()


def test_every_piece_of_a_room_is_waited_for_by_its_space(tiny: Designed) -> None:
    """What lies on the floor is not seen; trays are."""
    making = make(tiny.room, tiny.all_copies, tiny.cut, lambda piece: piece.plastic.body_mm3)
    needs = needs_of(making, tiny.all_copies, ("drawer",))
    assert all(len(needs.spaces[piece.id]) == piece.count for piece in making.pieces)
    kinds = {made.id: made.part.kind for made in making.parts}
    seen = {kinds[piece.part] for piece in making.pieces if piece.id in needs.visible}
    assert Kind.TRAY in seen
    assert not seen & {Kind.PANEL, Kind.FILLER, Kind.KEY}
    ids = [f"b{number}" for number in range(len(making.loads))]
    assert {space for one in bedfuls_of(making.loads, needs, ids=ids) for space in one.spaces} == {"drawer"}
