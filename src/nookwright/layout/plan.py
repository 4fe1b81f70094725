"""From the room to its plan: usable insides, module, cells, candidates, what goes where, the liner of every space."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from nookwright.layout.asks import asks_of
from nookwright.layout.calm.judging import judge_of
from nookwright.layout.calm.room import CalmLayout, calm_layout
from nookwright.layout.filling import Means, fill
from nookwright.layout.filling.said import about_filling, fill_wish
from nookwright.layout.less_growth import LessGrowth
from nookwright.layout.mixtures import Household, about_mixtures
from nookwright.layout.pinning import lay_out_around
from nookwright.layout.pins import about_slips, read_pins
from nookwright.layout.place import Effort, lay_out
from nookwright.layout.positions import improved
from nookwright.layout.said import about_layers, about_layout, about_spaces
from nookwright.layout.sharing import with_guests
from nookwright.layout.space_liner import wish_of
from nookwright.layout.spaces import HEADROOM, SpacePlan, lined, space_plan
from nookwright.layout.stacks import about_stacks, lidded, stacked
from nookwright.layout.stock import about_boxes
from nookwright.layout.straighten import straightened
from nookwright.layout.wide_pockets import about_pockets
from nookwright.layout.wishes import about_standing
from nookwright.module.choice import Decided, Inside, choose
from nookwright.module.lines import WALL
from nookwright.module.seat import CLEARANCE, CLEARANCE_GROWTH, drawn_layer
from nookwright.sizing.fits.found import seat_move
from nookwright.sizing.lot_sizes import Terms, terms_of
from nookwright.sizing.usable import Usable, usable_of
from nookwright.sizing.ways import Limits, Way
from nookwright.sizing.ways.household import hosts_of, ways_of_room
from nookwright.survey.layout_wishes import Style
from nookwright.survey.models import NO_FLOOR

if TYPE_CHECKING:
    from collections.abc import Mapping

    from nookwright.ground.findings import Finding
    from nookwright.ground.progress import Progress
    from nookwright.layout.model import Ask, Layout
    from nookwright.layout.pins import Slip
    from nookwright.module.choice import ModuleChoice
    from nookwright.module.module import Module
    from nookwright.sizing.printers.errors import PrinterErrors
    from nookwright.sizing.tray_needs import TrayNeeds
    from nookwright.survey.models import Room


@dataclass(frozen=True)
class Laid:
    """What goes where before what is left is filled.

    Attributes:
        chosen: the layout that is wished.
        tight, calm: the two that it was chosen from.
        slips: places of the room file that cannot be kept.
        asks: the lots with what could hold each.
    """

    chosen: Layout
    tight: Layout
    calm: CalmLayout
    slips: tuple[Slip, ...] = ()
    asks: tuple[Ask, ...] = ()


@dataclass(frozen=True)
class Plan:
    """A whole room, planned.

    Attributes:
        module: the household's module.
        choice: how the module was chosen, with its tables.
        spaces: in the order of the room file.
        layout: what goes where.
        laid: the calm layout and the tightest, before what is left was filled.
        terms: by which its things and pockets were sized.
        findings: what there is to say about it.
    """

    module: Module
    choice: ModuleChoice
    spaces: tuple[SpacePlan, ...]
    layout: Layout
    laid: Laid
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
    ways = ways_of_room(room, limits, needs or {}, terms)
    layers = tuple(printer.layer for printer in room.printer)
    choice = choose(
        drawn_layer(layers),
        [Inside(usables[one.id], wish_of(one, room.choices).level.lined, float(HEADROOM)) for one in fitted],
        [ways[lot.id] for lot in room.lot if lot.shares is None],
        decided=Decided(**dict(room.module)),
        growth=growth,
        weights=room.choices.weights,
    )
    module = choice.module
    module = replace(module, seat=replace(module.seat, clearance=round(CLEARANCE + seat_move(room.found), 6)))
    spaces = tuple(space_plan(space, usables[space.id], room, module, longest) for space in room.space)
    means = Means(module, room.choices.floor, (int(whole[0] // module.pitch), int(whole[1] // module.pitch)))
    less = LessGrowth(room, module, limits, needs or {}, terms)
    laid = _lay_out(room, means, spaces, ways, less, effort=effort, progress=progress)
    layout, filled = _filled(room, means, spaces, laid.chosen)
    spaces = tuple(lined(space, layout, module, longest) for space in spaces)
    findings = (
        *about_layers(layers),
        *about_spaces(spaces, layout, module),
        *about_layout(layout),
        *about_pockets(room, layout, terms),
        *about_boxes(room, layout),
        *about_mixtures(Household(room, module, limits, needs or {}, ways, terms)),
        *about_stacks(layout, module.pitch),
        *about_standing(
            tuple(one.grid for one in spaces), layout, module.pitch, {lot.id: lot.name or lot.id for lot in room.lot}
        ),
        *(laid.calm.findings if room.choices.layout is Style.CALM else ()),
        *filled,
        *about_slips(laid.slips),
    )
    return Plan(module, choice, spaces, layout, laid, terms, findings)


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
    means: Means,
    spaces: tuple[SpacePlan, ...],
    ways: dict[str, tuple[Way, ...]],
    less: LessGrowth,
    *,
    effort: Effort,
    progress: Progress,
) -> Laid:
    """Candidates of every lot, both layouts, and the one that is wished."""
    asks, homeless = asks_of(room, means.module, ways)
    grids = tuple(plan.grid for plan in spaces)
    pins, slips = read_pins(room, spaces, asks, means.module)
    stays, tight = lay_out_around(
        grids,
        asks,
        pins,
        means,
        lambda grids, asks: lay_out(
            grids, asks, pitch=means.module.pitch, effort=effort, progress=progress, lessen=less
        ),
    )
    judge = judge_of(
        stays.asks,
        means.module,
        weights=room.choices.weights,
        order=room.choices.order,
        largest=means.largest,
    )
    tight = improved(tight, stays.grids, judge, seed=effort.seed)
    calm = calm_layout(
        stays.grids,
        stays.asks,
        tight,
        module=means.module,
        order=room.choices.order,
        weights=room.choices.weights,
        largest=means.largest,
        seed=effort.seed,
    )
    wished = calm.layout if room.choices.layout is Style.CALM else straightened(tight, ways, means.module)
    wished = stays.put_back(wished)
    if room.choices.stacks:
        wished = stacked(wished, grids, asks, means, lids=lidded(room))
    wished = with_guests(wished, hosts_of(room))
    left_out = tuple(sorted((*wished.left_out, *homeless), key=lambda one: one.lot))
    calm = replace(calm, layout=stays.put_back(calm.layout))
    return Laid(replace(wished, left_out=left_out), stays.put_back(tight), calm, (*slips, *stays.slips), asks)


def _filled(
    room: Room, means: Means, spaces: tuple[SpacePlan, ...], bare: Layout
) -> tuple[Layout, tuple[Finding, ...]]:
    """The layout with what is left filled as each space wishes, and what that takes."""
    wishes = {plan.space.id: fill_wish(plan.space, room.choices) for plan in spaces}
    filling = fill(bare, tuple(plan.grid for plan in spaces), wishes, means)
    return filling.layout, about_filling(filling, means.module)
