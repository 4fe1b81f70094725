"""Everything that is printed to try before the rest: pilots of spaces, gauges of pockets, the bar of the seat."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from nookwright.cutting.cut import bed_of, cut_all
from nookwright.cutting.loose_keys import loose_keys
from nookwright.cutting.model import uncut
from nookwright.making.gauge_sets import GaugeSet, gauge_sets
from nookwright.making.pilots import Pilot, pilots
from nookwright.parts.design import SPARE_GROUP, Copy, material_of
from nookwright.parts.trials.seat_bar import fewest_cells, seat_bar

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from nookwright.cutting.model import CutPart
    from nookwright.layout.plan import Plan
    from nookwright.survey.models import Room


@dataclass(frozen=True)
class Trials:
    """What is printed first.

    Attributes:
        pilots: one a space.
        gauges: of the lots whose pockets put the most at risk.
        seat: the bar that tries the seat; nothing where no space has a liner, or the seat was tried.
        keys: loose keys for strips that are longer than a bed, by space.
        cut: every distinct part and its pieces, by the digest of its recipe.
    """

    pilots: tuple[Pilot, ...] = ()
    gauges: tuple[GaugeSet, ...] = ()
    seat: tuple[Copy, ...] = ()
    keys: tuple[Copy, ...] = ()
    cut: Mapping[str, CutPart] = field(default_factory=dict)

    @property
    def copies(self) -> tuple[Copy, ...]:
        """Everything that is printed."""
        gauges = (copy for one in self.gauges for copy in one.copies)
        return (*(copy for pilot in self.pilots for copy in pilot.copies), *gauges, *self.seat, *self.keys)


def trials_of(room: Room, plan: Plan, copies: Sequence[Copy]) -> Trials:
    """What to print first, with what was found already left out.

    Args:
        room: as surveyed.
        plan: what goes where.
        copies: all copies of all parts that have a place.
    """
    tried = {(one.space, one.axis) for one in room.found if one.space}
    first = tuple(
        pilot
        for pilot in pilots(room, plan, copies)
        if not all((pilot.space, strip.axis) in tried for strip in pilot.strips) or not pilot.strips
    )
    sets = gauge_sets(room, plan, copies)
    seat = _seat(room, plan)
    wanted = (
        *(copy for pilot in first for copy in pilot.copies),
        *(copy for one in sets for copy in one.copies),
        *seat,
    )
    cut, _ = cut_all(wanted, plan.module, room.printer, room=room)
    keys = loose_keys(wanted, cut, plan.module)
    cut |= {copy.part.recipe.digest: uncut(copy.part) for copy in keys}
    return Trials(first, sets, seat, keys, cut)


def _seat(room: Room, plan: Plan) -> tuple[Copy, ...]:
    """The bar of the seat, where there is a liner to lay it on and a bed that is long enough for it."""
    if any(one.seat for one in room.found) or not any(space.liner.panels for space in plan.spaces):
        return ()
    bar, material = seat_bar(plan.module, fewest_cells(plan.module.pitch)), material_of(room, SPARE_GROUP)
    if not any(bed_of(printer).holds(*bar.size) for printer in room.printer if material in printer.materials):
        return ()
    return (
        Copy(
            part=bar,
            spec=None,
            space="",
            label="bar of the seat",
            material=material,
            x=0.0,
            y=0.0,
            z=0.0,
            quarter_turns=0,
            lined=False,
            contents=None,
        ),
    )
