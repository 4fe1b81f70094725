"""What the parts of a plan are made from, and a workshop that makes each distinct one once."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from nookwright.layout.liner import FillerSpec, PanelSpec
from nookwright.parts.cradles.cradle import Pockets, cradle, pockets_of, staggered_pockets
from nookwright.parts.lids.deck_lid import DeckSpec, deck_lid
from nookwright.parts.lids.sliding_lid import sliding_lid, slot_for
from nookwright.parts.lids.sliding_rim import SlidingSpec
from nookwright.parts.lids.sliding_tray import sliding_tray
from nookwright.parts.liner.fence import FenceSpec, fence
from nookwright.parts.liner.filler import filler
from nookwright.parts.liner.panel import panel
from nookwright.parts.placing import decked_tray
from nookwright.parts.rests.rest_placed import RestPart, rest_part, rest_parts
from nookwright.parts.shoes.own_box import owned_of
from nookwright.parts.shoes.shoe import ShoeSpec, shoe
from nookwright.parts.trays.tray import tray
from nookwright.parts.trays.tray_frame import TrayFrame
from nookwright.parts.trays.tray_options import Grip, TrayOptions, plain_options
from nookwright.parts.trays.wishes import feasible_grip, options_of, shared_dividers, strip_length, wishes_of
from nookwright.sizing.ways import Arrangement, PartKind
from nookwright.survey.models import FloorStyle
from nookwright.survey.tray_wishes import TrayWishes

if TYPE_CHECKING:
    from collections.abc import Callable

    from nookwright.layout.model import Candidate
    from nookwright.module.module import Module
    from nookwright.parts.model import Part
    from nookwright.sizing.ways import Way
    from nookwright.survey.models import Lot, Room


@dataclass(frozen=True)
class TraySpec:
    """A tray, or with pockets a cradle."""

    cols: int
    rows: int
    height: float
    smooth: bool
    pockets: Pockets | None
    grip: Grip = Grip.NONE
    options: TrayOptions | None = None  # what a lot or the room wishes besides; they say floor and grip too
    decked: bool = False  # closed by a deck lid, with a part on it


@dataclass(frozen=True)
class SlidingLid:
    """The lid of a tray with grooves."""

    tray: SlidingSpec


Spec = TraySpec | PanelSpec | FillerSpec | ShoeSpec | FenceSpec | DeckSpec | RestPart | SlidingSpec | SlidingLid
Seated = TraySpec | ShoeSpec | RestPart | SlidingSpec


_MAKERS: dict[type, Callable[[Module, Any], Part]] = {
    PanelSpec: panel,
    FillerSpec: filler,
    ShoeSpec: shoe,
    FenceSpec: fence,
    DeckSpec: deck_lid,
    RestPart: rest_part,
    SlidingSpec: sliding_tray,
    SlidingLid: lambda module, lid: sliding_lid(module, lid.tray),
}


class Workshop:
    """Makes parts from their specs, each distinct one once."""

    def __init__(self, module: Module) -> None:
        self.module = module
        self._made: dict[Spec, Part] = {}

    def part(self, spec: Spec) -> Part:
        """The part of a spec."""
        if spec not in self._made:
            self._made[spec] = self._make(spec)
        return self._made[spec]

    def _make(self, spec: Spec) -> Part:
        if not isinstance(spec, TraySpec):
            return _MAKERS[type(spec)](self.module, spec)
        if spec.pockets is not None:
            return cradle(self.module, cols=spec.cols, rows=spec.rows, height=spec.height, pockets=spec.pockets)
        if spec.decked:
            return decked_tray(self.module, spec.cols, spec.rows, spec.height, smooth=spec.smooth)
        return self._tray(spec)

    def _tray(self, spec: TraySpec) -> Part:
        """A tray with its grip; it is called by its size, whatever a hand takes it by, and by what else it has."""
        if spec.options is not None:
            return tray(self.module, cols=spec.cols, rows=spec.rows, height=spec.height, options=spec.options)
        if spec.grip is Grip.NONE:
            return tray(self.module, cols=spec.cols, rows=spec.rows, height=spec.height, smooth=spec.smooth)
        floor = FloorStyle.SMOOTH if spec.smooth else FloorStyle.SHELL
        options = TrayOptions(floor=floor, grip=spec.grip, picked_by_hand=False)
        options = replace(options, grip=feasible_grip(self.module, spec.cols, spec.rows, spec.height, options))
        gripped = tray(self.module, cols=spec.cols, rows=spec.rows, height=spec.height, options=options)
        return replace(gripped, name=TrayFrame(self.module, spec.cols, spec.rows, spec.height, options).called)


def frame_of(module: Module, spec: TraySpec) -> TrayFrame:
    """The frame of a tray with options."""
    return TrayFrame(module, spec.cols, spec.rows, spec.height, spec.options or plain_options(smooth=spec.smooth))


def spec_of(
    module: Module,
    candidate: Candidate | None,
    lot: Lot | None,
    cols: int,
    rows: int,
    *,
    height: float,
    room: Room,
    wet: bool = False,
) -> Seated:
    """What a placed candidate, or a spare tray, is made from; of a rest, its first support.

    Args:
        module: the household's module.
        candidate: what was placed; ``None`` for a spare tray.
        lot: what is in it.
        cols: footprint along x before it is turned, cells.
        rows: the same along y.
        height: outer height, mm.
        room: as surveyed.
        wet: it stands where it may get wet.
    """
    choices = room.choices
    grip = Grip(choices.grip.value)
    if candidate is None:
        spare = TraySpec(cols, rows, height, choices.floor is FloorStyle.SMOOTH, None, grip)
        return _drained(module, spare) if wet and choices.tray.drained is not False else spare
    way = candidate.way
    own = _own_spec(module, way, cols, rows, height)
    if own is not None:
        return own
    if way.kind is not PartKind.CRADLE:
        plain = TraySpec(cols, rows, height, way.floor is FloorStyle.SMOOTH, None, grip)
        wishes = TrayWishes() if lot is None else wishes_of(lot, choices)
        if wishes == TrayWishes() and not way.compartments:
            return _drained(module, plain) if wet else plain
        options = options_of(wishes, way.floor, grip, strip_length(room.printer), wet=wet)
        if way.compartments:
            options = replace(options, dividers=(*shared_dividers(module, way, cols, wishes), *options.dividers))
        if not wishes.grip:
            options = replace(options, grip=feasible_grip(module, cols, rows, height, options))
        return replace(plain, grip=options.grip, options=options)
    return TraySpec(cols, rows, height, smooth=True, pockets=_pockets(module, way, cols, rows))


def _drained(module: Module, plain: TraySpec) -> TraySpec:
    """A plain tray with drains."""
    floor = FloorStyle.SMOOTH if plain.smooth else FloorStyle.SHELL
    options = TrayOptions(floor=floor, grip=plain.grip, drained=True, picked_by_hand=False)
    grip = feasible_grip(module, plain.cols, plain.rows, plain.height, options)
    return replace(plain, grip=grip, options=replace(options, grip=grip))


def _own_spec(
    module: Module, way: Way, cols: int, rows: int, height: float
) -> ShoeSpec | RestPart | SlidingSpec | None:
    """What a part that is neither tray nor cradle is made from."""
    if way.box:
        return ShoeSpec(owned_of(way.box), cols, rows, height)
    if way.long:
        return rest_parts(module, way.long)[0]
    if way.drawn:
        return SlidingSpec(cols, rows, height, smooth=True, slot=slot_for(module, way.drawn, cols=cols))
    return None


def _pockets(module: Module, way: Way, cols: int, rows: int) -> Pockets:
    """The pockets of a cradle on so many cells."""
    diameter, columns, lines, pitch = way.pocket, way.columns, way.rows, way.pitch_x
    if way.arrangement is Arrangement.STAGGERED:
        return staggered_pockets(
            module, cols=cols, rows=rows, diameter=diameter, columns=columns, lines=lines, pitch=pitch, short=way.short
        )
    return pockets_of(module, cols=cols, rows=rows, diameter=diameter, columns=columns, lines=lines, pitch=pitch)
