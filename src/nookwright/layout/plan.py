"""From the room to its plan: usable insides, module, cells, candidates, what goes where, the liner of every space."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from nookwright.ground.findings import Finding, Severity
from nookwright.layout.asks import asks_of, things_g
from nookwright.layout.filling import fill
from nookwright.layout.floor_bow import about_bow
from nookwright.layout.place import Effort, lay_out
from nookwright.layout.space_liner import about_liner
from nookwright.layout.spaces import NO_FLOOR, SpacePlan, lined, space_plan
from nookwright.layout.straighten import straightened
from nookwright.layout.wide_pockets import about_pockets
from nookwright.module.choice import TYPICAL_DENSITY_G_CM3, PitchRow, choose
from nookwright.module.estimates import tray_plastic
from nookwright.module.lines import WALL
from nookwright.module.seat import CLEARANCE, CLEARANCE_GROWTH, common_layer
from nookwright.sizing.fits.found import seat_move
from nookwright.sizing.lot_sizes import Terms, terms_of
from nookwright.sizing.spaces.notes import about_reading
from nookwright.sizing.tray_needs import PLAIN
from nookwright.sizing.usable import Usable, usable_of
from nookwright.sizing.ways import Limits, Way, ways_of
from nookwright.survey.models import FloorStyle, Room

if TYPE_CHECKING:
    from collections.abc import Mapping

    from nookwright.ground.progress import Progress
    from nookwright.layout.model import Layout
    from nookwright.module.module import Module
    from nookwright.sizing.printers.errors import PrinterErrors
    from nookwright.sizing.tray_needs import TrayNeeds


@dataclass(frozen=True)
class Plan:
    """A whole room, planned.

    Attributes:
        module: the household's module.
        pitches: the table that the pitch was chosen from.
        spaces: in the order of the room file.
        layout: what goes where.
        terms: by which its things and pockets were sized.
        findings: what there is to say about it.
    """

    module: Module
    pitches: tuple[PitchRow, ...]
    spaces: tuple[SpacePlan, ...]
    layout: Layout
    terms: Terms
    findings: tuple[Finding, ...]

    def space(self, name: str) -> SpacePlan:
        """The plan of a space by its id."""
        return next(plan for plan in self.spaces if plan.space.id == name)


def plan_room(
    room: Room,
    *,
    longest: float,
    whole: tuple[float, float],
    needs: Mapping[str, TrayNeeds] | None = None,
    errors: PrinterErrors | None = None,
    growth: float = CLEARANCE_GROWTH,
    effort: Effort,
    progress: Progress,
) -> Plan:
    """Plan a room.

    Args:
        room: as surveyed.
        longest: the longest strip that can be printed, mm.
        whole: the largest footprint that is printed in one piece; no tray grows beyond it, mm.
        needs: by id of a lot, what the options of its tray take of the inside; nothing for lots that are missing.
        errors: of the printer that makes the pockets; the usual ones when left out.
        growth: of a socket's clearance with its distance from a part's middle, mm/mm.
        effort: how hard the layout is searched.
        progress: who is told how far it is.
    """
    usables = {space.id: usable_of(space, room.found) for space in room.space}
    fitted = tuple(space for space in room.space if space.kind not in NO_FLOOR)
    limits = _limits(room, [usables[space.id] for space in fitted])
    terms = terms_of(room, errors)
    ways = {lot.id: ways_of(lot, limits, (needs or {}).get(lot.id, PLAIN), terms) for lot in room.lot}
    layers = tuple(printer.layer for printer in room.printer)
    module, pitches = choose(
        common_layer(layers) or layers[0],
        [usables[space.id] for space in fitted],
        [ways[lot.id] for lot in room.lot],
        pitch=room.module.pitch,
        rise=room.module.rise,
        growth=growth,
    )
    module = replace(module, seat=replace(module.seat, clearance=round(CLEARANCE + seat_move(room.found), 6)))
    spaces = tuple(space_plan(space, usables[space.id], room, module, longest) for space in room.space)
    bare = _lay_out(room, module, spaces, ways, effort=effort, progress=progress)
    layout, too_heavy = _filled(room, module, spaces, straightened(bare, ways, module), whole)
    spaces = tuple(lined(space, layout, module, longest) for space in spaces)
    findings = (
        *_about_layers(layers),
        *_about_spaces(spaces, layout, module),
        *_about_layout(layout),
        *about_pockets(room, layout, terms),
        *too_heavy,
    )
    return Plan(module, pitches, spaces, layout, terms, findings)


def _limits(room: Room, usables: list[Usable]) -> Limits:
    """The largest insides of the room; 0 where no space has a floor."""
    return Limits(
        length=max((max(usable.width, usable.depth) for usable in usables), default=0.0),
        height=max((usable.height for usable in usables), default=0.0),
        wall=float(WALL),
        floor=room.choices.floor,
    )


def _lay_out(
    room: Room,
    module: Module,
    spaces: tuple[SpacePlan, ...],
    ways: dict[str, tuple[Way, ...]],
    *,
    effort: Effort,
    progress: Progress,
) -> Layout:
    """Candidates of every lot, and the layout."""
    asks, homeless = asks_of(room, module, ways)
    grids = tuple(plan.grid for plan in spaces)
    layout = lay_out(grids, asks, pitch=module.pitch, effort=effort, progress=progress)
    return replace(layout, left_out=tuple(sorted((*layout.left_out, *homeless), key=lambda one: one.lot)))


def _filled(
    room: Room, module: Module, spaces: tuple[SpacePlan, ...], bare: Layout, whole: tuple[float, float]
) -> tuple[Layout, tuple[Finding, ...]]:
    """The layout with what is left filled; a space that would get too heavy by it is left as it was, and named."""
    most = int(whole[0] // module.pitch), int(whole[1] // module.pitch)
    rest = {plan.space.id: plan.space.rest or room.choices.rest for plan in spaces}
    full = fill(bare, tuple(plan.grid for plan in spaces), rest, largest=most)
    heavy = tuple(plan for plan in spaces if _mass_g(module, room, full, plan.space.id) > plan.grid.load_g)
    names = {plan.space.id for plan in heavy}
    placed = (
        *(one for one in full.placed if one.space not in names),
        *(one for one in bare.placed if one.space in names),
    )
    ordered = tuple(sorted(placed, key=lambda one: (one.space, one.row, one.col)))
    return replace(full, placed=ordered), tuple(_fill_too_heavy(plan) for plan in heavy)


def _mass_g(module: Module, room: Room, layout: Layout, space: str) -> float:
    """Mass of parts and things that stand in a space, g."""
    things = {lot.id: things_g(lot) for lot in room.lot}
    total = 0.0
    for placed in layout.placed:
        if placed.space == space:
            way = placed.candidate.way if placed.candidate else None
            smooth = (way.floor if way else room.choices.floor) is FloorStyle.SMOOTH
            plastic = tray_plastic(module, placed.cols, placed.rows, placed.height, smooth=smooth)
            own = plastic.mass_g(TYPICAL_DENSITY_G_CM3) + (things[placed.candidate.lot] if placed.candidate else 0.0)
            total += max(own, placed.candidate.mass_g if placed.candidate else 0.0)
    return total


def _fill_too_heavy(plan: SpacePlan) -> Finding:
    text = f"Filling what is left would load it beyond {plan.space.load_kg:g} kg, so it stays open."
    return Finding("fill-too-heavy", Severity.NOTE, plan.space.id, text, 'Say rest = "open" there, or keep less in it.')


def _about_layers(layers: tuple[float, ...]) -> tuple[Finding, ...]:
    if common_layer(layers) is not None:
        return ()
    text = f"The layers {', '.join(f'{layer:g}' for layer in sorted(set(layers)))} mm have no common height."
    remedy = f"Print all parts at {layers[0]:g} mm, or give the printers layers such as 0.2 and 0.3."
    return (Finding("layers-differ", Severity.WARN, "printers", text, remedy),)


def _about_spaces(spaces: tuple[SpacePlan, ...], layout: Layout, module: Module) -> tuple[Finding, ...]:
    found: list[Finding] = []
    for plan in spaces:
        if not plan.grid.fill:
            text = f"A space of kind {plan.space.kind} has no floor for trays; it is left empty."
            found.append(
                Finding("space-empty", Severity.NOTE, plan.space.id, text, "Plan hanging things by hand for now.")
            )
            continue
        placed = layout.in_space(plan.space.id)
        found += about_reading(plan.space, plan.usable)
        found += about_bow(plan.usable, module, placed)
        found += about_liner(plan.space.id, plan.wish, plan.liner, placed, thickness=module.seat.panel)
        for axis, rest in (("width", plan.floor.open_x), ("depth", plan.floor.open_y)):
            if rest > 0 and plan.liner.panels:
                text = f"{rest:.1f} mm of the {axis} stay open: too little for a filler."
                remedy = "Let the liner lie as it falls, or fix it with two spots of double-sided tape."
                found.append(Finding("edge-open", Severity.NOTE, plan.space.id, text, remedy))
    return tuple(found)


def _about_layout(layout: Layout) -> tuple[Finding, ...]:
    found = [
        Finding("lot-left-out", Severity.WARN, left.lot, _sentence(left.reason), _sentence(left.remedy))
        for left in layout.left_out
    ]
    if layout.by_clock:
        text = "The search for the layout was stopped by the clock; another machine may find another layout."
        found.append(Finding("layout-by-clock", Severity.WARN, "layout", text, "Build again on a quieter machine."))
    return tuple(found)


def _sentence(text: str) -> str:
    """A text with a capital and a full stop."""
    return text[:1].upper() + text[1:].rstrip(".") + "."
