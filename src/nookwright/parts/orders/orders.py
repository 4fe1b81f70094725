"""Parts made to order: any part of the family, as a ``[[part]]`` of the room file asks for it.

They are printed with the kit; where they go is the person's affair. Kinds are named here; their keys follow from the
records that the parts are made from.
"""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from enum import StrEnum
from functools import cache
from typing import TYPE_CHECKING, Any

from nookwright.layout.liner import Side
from nookwright.parts.cradles.leaning_cradle import LeaningCradle, leaning_cradle
from nookwright.parts.cradles.pocket import Funnel, Placed, Pocket, Round, Tapered
from nookwright.parts.cradles.pocket_boxes import Boxed, Cornered
from nookwright.parts.cradles.pocket_cradle import pocket_cradle
from nookwright.parts.cradles.pocket_plan import PocketCradle
from nookwright.parts.cradles.profile_cradle import Profiled
from nookwright.parts.cradles.rib_cradle import RibPocket, rib_cradle
from nookwright.parts.cradles.strip import Strip
from nookwright.parts.design import Copy, material_of
from nookwright.parts.lids.deck_lid import DeckSpec, deck_lid, deck_tray
from nookwright.parts.lids.lid import LidSpec, lid
from nookwright.parts.lids.nest import NestSpec, nest
from nookwright.parts.lids.nest_lids import LidsSpec, nest_lids
from nookwright.parts.lids.sliding_lid import SlidingOrder, sliding_pair
from nookwright.parts.liner.fence import FenceSpec, fence
from nookwright.parts.model import Kind
from nookwright.parts.orders.order_models import cells_for, model_of, shape_name, spec_of
from nookwright.parts.racks.rack import RackSpec, rack
from nookwright.parts.rests.rest import rest
from nookwright.parts.rests.rest_plan import Rest
from nookwright.parts.rests.rest_set import Blade, Held, RestSet, Shaft, rest_set
from nookwright.parts.rests.rest_slots import BladeSlot, Slot, USlot, VSlot
from nookwright.parts.rests.rest_span import Dowel
from nookwright.parts.risers.cap import cap
from nookwright.parts.risers.drawer_riser import DrawerSpec, box_riser, drawer_riser, drawer_roof, little_drawer
from nookwright.parts.risers.hollow_riser import HollowSpec, hollow_riser
from nookwright.parts.risers.riser import RiserSpec, riser
from nookwright.parts.shoes.shoe import ShoeSpec, shoe
from nookwright.parts.shoes.shoe_corners import CornerSpec, shoe_corners
from nookwright.parts.trays.bent_plan import Missing
from nookwright.parts.trays.bent_tray import bent_tray
from nookwright.parts.trays.divider import DividerSize, divider
from nookwright.parts.trays.extras import Sheet, sheets_of
from nookwright.parts.trays.name_strip import NameStrip, name_strip
from nookwright.parts.trays.tray import tray
from nookwright.parts.trays.tray_frame import TrayFrame
from nookwright.parts.trays.tray_options import TrayOptions
from nookwright.survey.models import FloorStyle

if TYPE_CHECKING:
    from collections.abc import Callable

    from nookwright.ground.frozen import Model
    from nookwright.module.module import Module
    from nookwright.parts.model import Part
    from nookwright.survey.models import Order, Room

_NAMES = {kind.__name__: kind for kind in (Side, FloorStyle, Placed, Pocket, Slot, Held, Dowel, Strip)}
_SHAPES: dict[type, tuple[type, ...]] = {
    Pocket: (Round, Boxed, Cornered, Tapered, Funnel, Profiled),
    Slot: (BladeSlot, VSlot, USlot),
    Held: (Blade, Shaft),
}
SHAPE_NAMES = tuple(shape_name(kind) for kinds in _SHAPES.values() for kind in kinds)


@dataclass(frozen=True)
class TrayOrder:
    """A tray: outer height, and all that it may have."""

    cols: int
    rows: int
    height: float
    options: TrayOptions = field(default_factory=TrayOptions)


class Corner(StrEnum):
    """A corner of a footprint."""

    FRONT_LEFT = "front left"
    FRONT_RIGHT = "front right"
    BACK_LEFT = "back left"
    BACK_RIGHT = "back right"


@dataclass(frozen=True)
class BentOrder:
    """A tray round a corner.

    Attributes:
        corner: which corner is missing.
        missing_width: how much of it along x, mm; rounded up to whole cells.
        missing_depth: how much of it along y, mm.
    """

    cols: int
    rows: int
    corner: Corner
    missing_width: float
    missing_depth: float
    height: float
    smooth: bool = False


@dataclass(frozen=True)
class RibOrder:
    """A cradle with yielding ribs."""

    cols: int
    rows: int
    height: float
    pockets: tuple[RibPocket, ...]


@dataclass(frozen=True)
class _Maker:
    """How a kind is made: its record, and the parts that come of it."""

    spec: type
    make: Callable[[Module, Any], tuple[Part, ...]]
    what: str


def _one(make: Callable[[Module, Any], Part]) -> Callable[[Module, Any], tuple[Part, ...]]:
    return lambda module, spec: (make(module, spec),)


def _bent(module: Module, order: BentOrder) -> Part:
    cols, rows = (cells_for(side, module) for side in (order.missing_width, order.missing_depth))
    right, back = "right" in order.corner, "back" in order.corner
    missing = Missing(order.cols - cols if right else 0, order.rows - rows if back else 0, cols, rows)
    return bent_tray(
        module, cols=order.cols, rows=order.rows, missing=missing, height=order.height, smooth=order.smooth
    )


def _tray(module: Module, order: TrayOrder) -> tuple[Part, ...]:
    """The tray; refused, too, where a sheet that goes with it cannot be cut."""
    part = tray(module, cols=order.cols, rows=order.rows, height=order.height, options=order.options)
    sheets_of(TrayFrame(module, order.cols, order.rows, order.height, order.options))
    return (part,)


MAKERS: dict[str, _Maker] = {
    "tray": _Maker(
        TrayOrder,
        _tray,
        "a tray with front, low side, grip, dividers, name strip, inlay",
    ),
    "bent-tray": _Maker(
        BentOrder,
        lambda module, o: (_bent(module, o),),
        "a tray round a corner",
    ),
    "divider": _Maker(DividerSize, _one(divider), "a loose divider"),
    "name-strip": _Maker(NameStrip, _one(name_strip), "a strip with a name, to slide in"),
    "lid": _Maker(LidSpec, _one(lid), "a press-on lid"),
    "sliding-tray": _Maker(SlidingOrder, sliding_pair, "a tray and its sliding lid, with a dispensing slot if wanted"),
    "deck-tray": _Maker(
        DeckSpec, lambda module, o: (deck_tray(module, o), deck_lid(module, o)), "a tray and its deck lid"
    ),
    "riser": _Maker(RiserSpec, _one(riser), "a riser, solid or ribbed"),
    "hollow-riser": _Maker(
        HollowSpec, lambda module, o: (hollow_riser(module, o), cap(module, o)), "a riser for ballast, and its cap"
    ),
    "drawer-riser": _Maker(
        DrawerSpec,
        lambda module, o: (drawer_riser(module, o), drawer_roof(module, o), little_drawer(module, o)),
        "a riser with a little drawer, and its roof",
    ),
    "box-riser": _Maker(
        DeckSpec,
        lambda module, o: (box_riser(module, o), deck_lid(module, o)),
        "a riser with a compartment that opens above, and its lid",
    ),
    "shoe": _Maker(ShoeSpec, _one(shoe), "a shoe for a box, tin or jar that is there"),
    "shoe-corners": _Maker(
        CornerSpec,
        lambda module, o: tuple(part for part in shoe_corners(module, o) for _ in range(2)),
        "four corner pieces",
    ),
    "cradle": _Maker(PocketCradle, _one(pocket_cradle), "a cradle with pockets of any shape"),
    "leaning-cradle": _Maker(LeaningCradle, _one(leaning_cradle), "a cradle whose wells lean back"),
    "rib-cradle": _Maker(
        RibOrder,
        lambda module, o: (rib_cradle(module, cols=o.cols, rows=o.rows, height=o.height, pockets=o.pockets),),
        "a cradle with ribs that yield",
    ),
    "rest": _Maker(Rest, _one(rest), "one support of a rest"),
    "rest-set": _Maker(RestSet, rest_set, "a whole rest: its supports, guards between them, the dowels to cut"),
    "nest": _Maker(NestSpec, _one(nest), "a part for nested containers"),
    "nest-lids": _Maker(LidsSpec, _one(nest_lids), "a part for their lids on edge"),
    "rack": _Maker(RackSpec, _one(rack), "a rack to screw below a shelf, on a wall or a door; read its caution"),
    "fence": _Maker(FenceSpec, _one(fence), "a fence"),
}


@cache
def keys_of(kind: str) -> type[Model]:
    """The model of a kind's keys."""
    return model_of(MAKERS[kind].spec, _NAMES, _SHAPES)


def keys(order: Order, unit: str) -> Model:
    """The keys of an order as its model.

    Args:
        order: of a kind that is known.
        unit: of its plain numbers.

    Raises:
        ValidationError: they are not the keys of that kind.
    """
    return keys_of(order.kind).model_validate_json(json.dumps(order.keys), strict=True, context={"unit": unit})


def made_to_order(order: Order, module: Module, unit: str) -> tuple[Part, ...]:
    """The parts of an order.

    Args:
        order: without faults.
        module: the household's module.
        unit: of its plain numbers.

    Raises:
        RecipeError: a part of these sizes cannot be made; the message says why.
    """
    maker = MAKERS[order.kind]
    return maker.make(module, spec_of(keys(order, unit), maker.spec, module))


def ordered(room: Room, module: Module) -> tuple[Copy, ...]:
    """All parts that a room file orders, as copies that have no place.

    Args:
        room: without faults.
        module: the household's module.

    Raises:
        RecipeError: a part of these sizes cannot be made.
    """
    return tuple(
        Copy(
            part=part,
            spec=None,
            space="",
            label=order.id,
            material=material_of(room, order.group),
            x=0.0,
            y=0.0,
            z=0.0,
            quarter_turns=0,
            lined=False,
            contents=None,
            sheets=_sheets(order, part, module, room.room.units),
        )
        for order in room.part
        for part in made_to_order(order, module, room.room.units)
        for _ in range(order.count)
    )


def _sheets(order: Order, part: Part, module: Module, unit: str) -> tuple[Sheet, ...]:
    """The sheets that are cut for an ordered tray."""
    if order.kind != "tray" or part.kind is not Kind.TRAY:
        return ()
    one = spec_of(keys(order, unit), TrayOrder, module)
    return sheets_of(TrayFrame(module, one.cols, one.rows, one.height, one.options))
