"""How likely the first print of a planned room fits: its pockets and liners as they are drawn, into ``sizing/fits``."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.sizing.fits.chain import Pockets
from nookwright.sizing.fits.first_print import FirstPrint, PocketFit, SpaceFit, first_print
from nookwright.sizing.lot_sizes import fit_of, judged_of
from nookwright.sizing.usable import floor_sides
from nookwright.sizing.ways import capacity

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.layout.plan import Plan, SpacePlan
    from nookwright.survey.models import Room


def first_print_of(room: Room, plan: Plan) -> FirstPrint:
    """How likely everything fits that stands in a pocket or lies on a floor.

    Args:
        room: as surveyed.
        plan: what goes where.
    """
    sides = tuple(side for space in plan.spaces if space.liner.panels for side in _sides(space, plan.module.pitch))
    return first_print(tuple(_pockets(room, plan)), sides, plan.terms.errors)


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
