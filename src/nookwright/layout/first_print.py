"""How likely the first print of a planned room fits: its pockets and liners as they are drawn, into ``sizing/fits``."""

from __future__ import annotations

import math
from collections import Counter
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.module.pattern import Pattern
from nookwright.module.seating import COUPON, COUPON_GROWTH, UNCALIBRATED, Turn, probability_of_seating
from nookwright.sizing.fits.chain import Pockets
from nookwright.sizing.fits.first_print import SEED, FirstPrint, PocketFit, SpaceFit, first_print
from nookwright.sizing.fits.found import needed_by, tried_of
from nookwright.sizing.lot_sizes import fit_of, judged_of
from nookwright.sizing.usable import floor_sides
from nookwright.sizing.ways import capacity

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.layout.plan import Plan
    from nookwright.layout.spaces import SpacePlan
    from nookwright.survey.models import Room

SEAT_TRIALS = Fact(
    500, unit="1", kind=Kind.CALCULATED, source="Of each footprint: one that fails in 1 % of them is known to 0.5 %."
)


def first_print_of(room: Room, plan: Plan) -> FirstPrint:
    """How likely everything fits that stands in a pocket or lies on a floor.

    Args:
        room: as surveyed.
        plan: what goes where.
    """
    sides = tuple(side for space in plan.spaces if space.liner.panels for side in _sides(space, plan.module.pitch))
    pockets = tuple(_pockets(room, plan))
    gauged = {one.lot: share for one in pockets if (share := _gauged(one, plan)) is not None}
    unproven = tuple(one for one in pockets if one.lot not in gauged)
    return first_print(unproven, sides, plan.terms.errors).with_gauged(gauged).with_seat(_seat(plan))


def _gauged(one: PocketFit, plan: Plan) -> float | None:
    """How likely a lot goes into its pockets by the gauges that were tried for it; ``None`` where none was."""
    tried = tried_of(plan.terms.found, one.lot)
    if not tried:
        return None
    wanted = needed_by(one.judged, plan.terms.errors, pockets=one.pockets, fit=one.fit, tried=tried)
    return wanted.goes_in(one.drawn, one.needed)


def _seat(plan: Plan) -> float:
    """That every part goes down onto its liner, counted as if parts were independent: on the safe side.

    Parts of one printer share its scale and skew, so that all of them go on more often than that.
    """
    parts: Counter[tuple[int, int, Turn, int, Pattern]] = Counter()
    liners = {space.space.id: space.liner.panels for space in plan.spaces}
    for placed in plan.layout.placed:
        panels = liners[placed.space]
        if panels:
            cells = min(min(panel.spec.cols, panel.spec.rows) for panel in panels)
            footprint = (placed.rows, placed.cols) if placed.turned else (placed.cols, placed.rows)
            turn = Turn.QUARTER if placed.turned else Turn.NONE
            parts[(*footprint, turn, cells, panels[0].spec.pattern)] += 1
    growth = plan.module.seat.growth
    spread = COUPON if growth <= COUPON_GROWTH else UNCALIBRATED
    return math.prod(
        probability_of_seating(
            plan.module, cols, rows, panel_cells=cells, spread=spread, trials=int(SEAT_TRIALS), seed=int(SEED),
            turn=turn, growth=growth, pattern=_played(pattern),
        ).probability ** count
        for (cols, rows, turn, cells, pattern), count in sorted(parts.items())
    )  # fmt: skip


def _played(pattern: Pattern) -> Pattern:
    """A pattern that goes on everywhere; one under the layout alone is tried as the chessboard that it thins out."""
    return Pattern.CHESSBOARD if pattern is Pattern.UNDER_LAYOUT else pattern


def _pockets(room: Room, plan: Plan) -> Iterator[PocketFit]:
    """Every lot in pockets; one that is spread over several cradles has the same pockets in all of them."""
    ways = {one.candidate.lot: one.candidate.way for one in plan.layout.placed if one.candidate}
    for lot in room.lot:
        way = ways.get(lot.id)
        if way and way.pocket:
            pockets = Pockets(capacity(lot), round_hole=True)
            yield PocketFit(lot.id, judged_of(lot, "diameter", plan.terms), pockets, way.pocket, fit_of(lot))


def _sides(plan: SpacePlan, pitch: float) -> Iterator[SpaceFit]:
    """Panels and fillers along both directions of a space, against what it likely measures where they lie."""
    width, depth = floor_sides(plan.space)
    floor, foot = plan.floor, plan.usable.foot
    across = floor.left + floor.cols * pitch + floor.right
    along = floor.front + floor.rows * pitch + floor.back
    for side, least, drawn, standing_in in (
        ("width", width, across, foot.left + foot.right),
        ("depth", depth, along, foot.front + foot.back),
    ):
        room = least.smallest - least.hidden - standing_in - drawn
        yield SpaceFit(plan.space.id, side, room, least.uncertainty.standard, drawn)
