"""From what a room file wishes for a lot's tray to its options, and to the room that these take from its inside."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING

from nookwright.ground.errors import RecipeError
from nookwright.ground.sources import Fact
from nookwright.ground.sources import Kind as SourceKind
from nookwright.layout.liner import Side
from nookwright.module.lines import WALL
from nookwright.module.seat import drawn_layer, seat_of
from nookwright.parts.trays.divider import STANDING, room_taken
from nookwright.parts.trays.front import least_rise, least_sweep_mm2, sweep_room
from nookwright.parts.trays.grip import grip_of, hole_needs
from nookwright.parts.trays.low_side import low_needs
from nookwright.parts.trays.name_strip import Lettering, least_strip_width, strip_depth
from nookwright.parts.trays.tray_frame import LEAST_CLEAR, TrayFrame
from nookwright.parts.trays.tray_options import (
    STRIP_HEIGHT,
    DividerKind,
    Dividers,
    Front,
    Grip,
    LowSide,
    Split,
    TrayOptions,
)
from nookwright.sizing.tray_needs import PLAIN, Parting, TrayNeeds
from nookwright.sizing.ways import HAND_WIDTH
from nookwright.sizing.ways.shared import spans_of
from nookwright.survey.tray_wishes import DividerWish, FrontWish, StripWish, TrayGrip, TrayWishes, settled

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from nookwright.module.module import Module
    from nookwright.sizing.ways import Way
    from nookwright.survey.models import Choices, FloorStyle, Lot, Printer, Room

LONGEST_STRIP = Fact(
    140.0, unit="mm", kind=SourceKind.CHOICE, source="A longer name is no easier to read, and two lines of it are."
)
_LOW_SHARE = LowSide(Side.FRONT).share


def wishes_of(lot: Lot, choices: Choices) -> TrayWishes:
    """All that a lot's tray should have, the room's wishes included."""
    return settled(lot.tray, choices.tray)


def text_of(lot: Lot, wishes: TrayWishes) -> str:
    """What a lot's strip says; empty for a blank one, and where there is none."""
    lettered = wishes.strip in (StripWish.PRINTED, StripWish.INLAID)
    return (wishes.text or lot.name or lot.id) if lettered else ""


def lettering_of(wishes: TrayWishes) -> Lettering:
    """How its text stands."""
    return Lettering.INLAID if wishes.strip is StripWish.INLAID else Lettering.RAISED


def strip_length(printers: Sequence[Printer]) -> float:
    """Length of the longest name strip that is made, mm: it lies on every bed of the household.

    Args:
        printers: of the household.
    """
    beds = (max(printer.bed_width, printer.bed_depth) - 2 * printer.margin for printer in printers)
    return math.floor(min(float(LONGEST_STRIP), *beds))


def options_of(wishes: TrayWishes, floor: FloorStyle, grip: Grip, strip: float, *, wet: bool = False) -> TrayOptions:
    """The options of a tray.

    Args:
        wishes: settled.
        floor: as its things need it.
        grip: of the room, for a lot that asks for none.
        strip: length of a name strip at most, mm.
        wet: it stands where it may get wet, and gets drains unless that was refused.
    """
    low = LowSide(Side.FRONT, wishes.low_share or _LOW_SHARE) if wishes.front is FrontWish.LOW else None
    return TrayOptions(
        floor=floor,
        inlay=wishes.inlay or 0.0,
        front=Front.SWEPT if wishes.front is FrontWish.SWEPT else Front.PLAIN,
        low_side=low,
        grip=Grip(wishes.grip.value) if wishes.grip else grip,
        dividers=_dividers(wishes),
        strip_height=_strip_height(wishes),
        strip_length=strip if _strip_height(wishes) else 0.0,
        drained=wet if wishes.drained is None else wishes.drained,
        picked_by_hand=False,  # sizing keeps a hand's width where things are picked; positions are the person's affair
    )


def feasible_grip(module: Module, cols: int, rows: int, height: float, options: TrayOptions) -> Grip:
    """The grip of the options, or a notch where a hand hole was wished for the room and finds no wall for it."""
    if options.grip is Grip.HAND_HOLE:
        try:
            grip_of(TrayFrame(module, cols, rows, height, options))
        except RecipeError:
            return Grip.NOTCH
    return options.grip


def needs_of_room(room: Room) -> Mapping[str, TrayNeeds]:
    """What the options of every lot's tray take, by the lot's id."""
    layers = tuple(printer.layer for printer in room.printer)
    layer = drawn_layer(layers)
    strip = strip_length(room.printer)
    hosts = {lot.shares for lot in room.lot}
    return {lot.id: needs_of(lot, room.choices, layer=layer, strip=strip, shared=lot.id in hosts) for lot in room.lot}


def needs_of(lot: Lot, choices: Choices, *, layer: float, strip: float, shared: bool = False) -> TrayNeeds:
    """What the options of a lot's tray take of its inside.

    Args:
        lot: a loaded lot, its text without fault.
        choices: of the room.
        layer: the common layer, mm.
        strip: length of the longest name strip that is made, mm.
        shared: whether other lots share the tray; then it says what a divider between them takes.

    Raises:
        RecipeError: the text has a character that is not drawn, or is too long.
    """
    wishes = wishes_of(lot, choices)
    if wishes == TrayWishes() and not shared:
        return PLAIN
    width, depth = _least_sides(lot, wishes, strip)
    return TrayNeeds(
        columns=_between(wishes, layer) if shared else _parting(wishes, wishes.columns, wishes.columns_at, layer),
        rows=_rows(wishes, layer),
        inlay=wishes.inlay or 0.0,
        least_width=max(0.0, width - 2 * WALL),
        least_depth=max(0.0, depth - 2 * WALL),
        least_wall=_least_wall(wishes, layer, divided=shared or wishes.divided),
        faces_front=faces_front(wishes),
        below_rim=wishes.below_rim or 0.0,
        swept_mm2=least_sweep_mm2() if wishes.front is FrontWish.SWEPT else 0.0,
        strip=(strip, _strip_height(wishes)) if _strip_height(wishes) else (0.0, 0.0),
    )


def shared_dividers(module: Module, way: Way, cols: int, wishes: TrayWishes) -> tuple[Dividers, ...]:
    """The dividers between the lots of a shared tray on so many cells.

    Args:
        module: the household's module.
        way: how the lots share it.
        cols: footprint along x, cells.
        wishes: settled, of the lot whose tray it is.
    """
    spans = spans_of(way, module.inner(cols), module.wall)
    at = tuple(round(module.wall + (end + start) / 2, 4) for (_, end), (start, _) in pairwise(spans))
    return (Dividers(Split.COLUMNS, _kind(wishes), 0, at, wishes.card or 0.0, wishes.below_rim or 0.0),)


def faces_front(wishes: TrayWishes) -> bool:
    """Whether a tray has something at its front that a hand or an eye looks for there."""
    return wishes.front in (FrontWish.SWEPT, FrontWish.LOW) or _strip_height(wishes) > 0


def _strip_height(wishes: TrayWishes) -> float:
    if wishes.strip in (None, StripWish.NONE):
        return 0.0
    return wishes.strip_height or float(STRIP_HEIGHT)


def _kind(wishes: TrayWishes) -> DividerKind:
    return DividerKind((wishes.dividers or DividerWish.FIXED).value)


def _dividers(wishes: TrayWishes) -> tuple[Dividers, ...]:
    found = []
    for split, count, at in (
        (Split.COLUMNS, wishes.columns, wishes.columns_at),
        (Split.ROWS, wishes.rows, wishes.rows_at),
    ):
        if count or at:
            found.append(Dividers(split, _kind(wishes), count or 0, at, wishes.card or 0.0, wishes.below_rim or 0.0))
    return tuple(found)


def _parting(wishes: TrayWishes, count: int | None, at: tuple[float, ...], layer: float) -> Parting:
    """One side, without what the front takes."""
    if not (count or at):
        return Parting()
    thick, guide = room_taken(_kind(wishes), card=wishes.card or 0.0, layer=layer, wall=float(WALL))
    inside = tuple(middle - WALL for middle in at)
    fixed = _kind(wishes) is DividerKind.FIXED
    return Parting(count or 1, inside, thick, guide, least_clear=float(HAND_WIDTH), fixed=fixed)


def _between(wishes: TrayWishes, layer: float) -> Parting:
    """What a divider between two lots takes; how many there are, and where, is up to the lots."""
    thick, guide = room_taken(_kind(wishes), card=wishes.card or 0.0, layer=layer, wall=float(WALL))
    return Parting(thick=thick, guide=guide, fixed=_kind(wishes) is DividerKind.FIXED)


def _rows(wishes: TrayWishes, layer: float) -> Parting:
    """The side from front to back."""
    parting = _parting(wishes, wishes.rows, wishes.rows_at, layer)
    front, share = sweep_room() if wishes.front is FrontWish.SWEPT else (0.0, 0.0)
    if _strip_height(wishes):
        front = max(front, strip_depth(layer))
    return replace(parting, front=front, front_share=share)


def _least_sides(lot: Lot, wishes: TrayWishes, strip: float) -> tuple[float, float]:
    """Outer width and depth at least, mm."""
    width = depth = 0.0
    if _strip_height(wishes):
        width = least_strip_width(text_of(lot, wishes), strip)
    if wishes.front is FrontWish.LOW:
        width = max(width, low_needs(0.0, wishes.low_share or _LOW_SHARE, 0.0)[0])
    if wishes.grip is TrayGrip.HAND_HOLE:
        length = hole_needs(TrayOptions())[0]
        front_is_taken = bool(_strip_height(wishes) or wishes.columns) or wishes.front is FrontWish.SWEPT
        width, depth = (width, length) if front_is_taken else (max(width, length), depth)
    return width, depth


def _least_wall(wishes: TrayWishes, layer: float, *, divided: bool) -> float:
    """Height over the domes at least, mm, the inlay included."""
    inlay, dome = wishes.inlay or 0.0, seat_of(layer).dome
    strip = _strip_height(wishes)
    walls = [inlay + LEAST_CLEAR, inlay + strip]
    if wishes.front is FrontWish.SWEPT:
        below = strip + WALL + strip_depth(layer) if strip else 0.0
        walls.append(below + least_rise())
    if wishes.front is FrontWish.LOW:
        walls.append(low_needs(dome + inlay, wishes.low_share or _LOW_SHARE, layer)[1] - dome)
    if divided:
        walls.append(inlay + STANDING + (wishes.below_rim or 0.0) + layer)
    if wishes.grip is TrayGrip.HAND_HOLE:
        walls.append(inlay + hole_needs(TrayOptions())[1] + layer)
    return max(walls)
