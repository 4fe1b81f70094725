"""What a room costs before any geometry: grams and hours of every space in closed form, against a budget."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.cutting.cut import longest_strip_in
from nookwright.layout.space_liner import cones_needed
from nookwright.module.estimates import MM2_PER_DM2, MM_PER_M, budget_g
from nookwright.module.seat import outer_size
from nookwright.parts.design import LINER_GROUP, material_of
from nookwright.parts.liner.liner_offers import liner_offers
from nookwright.parts.workshop import TraySpec

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from nookwright.layout.plan import Plan
    from nookwright.layout.spaces import SpacePlan
    from nookwright.parts.design import Copy
    from nookwright.parts.liner.liner_offers import LinerOffer
    from nookwright.survey.models import Room


@dataclass(frozen=True)
class SpaceForecast:
    """One space, forecast.

    Attributes:
        space: id of the space.
        name: for people.
        area_dm2: floor that is fitted out.
        mass_g, time_s: of all its prints.
        budget_g: what they should weigh at most.
        liners: levels of liner that it could have, priced.
    """

    space: str
    name: str
    area_dm2: float
    mass_g: float
    time_s: float
    budget_g: float
    liners: tuple[LinerOffer, ...] = ()

    @property
    def g_per_dm2(self) -> float:
        """Grams for each dm2 of floor; 0 where nothing is fitted out."""
        return self.mass_g / self.area_dm2 if self.area_dm2 else 0.0


def forecast(room: Room, plan: Plan, copies: Sequence[Copy]) -> tuple[SpaceForecast, ...]:
    """The forecast of every space that gets prints, in the order of the room file.

    Args:
        room: as surveyed.
        plan: what goes where.
        copies: all copies of all parts.
    """
    density = {material.id: material.density_g_cm3 for material in room.material}
    layer = max(printer.layer for printer in room.printer)
    rows = []
    for space in plan.spaces:
        mine = [copy for copy in copies if copy.space == space.space.id]
        area = space.usable.width * space.usable.depth
        if mine:
            rows.append(
                SpaceForecast(
                    space=space.space.id,
                    name=space.space.name or space.space.id,
                    area_dm2=area / MM2_PER_DM2,
                    mass_g=sum(copy.part.plastic.mass_g(density[copy.material]) for copy in mine),
                    time_s=sum(copy.part.plastic.time_s(layer) for copy in mine),
                    budget_g=budget_g(area, wall_m_mm(mine, plan)),
                    liners=liners_of(room, plan, space),
                )
            )
    return tuple(rows)


def liners_of(room: Room, plan: Plan, space: SpacePlan) -> tuple[LinerOffer, ...]:
    """What each level of liner would cost in a space; nothing where it has no floor for one.

    Args:
        room: as surveyed.
        plan: what goes where.
        space: the space.
    """
    if not space.grid.fill:
        return ()
    material = material_of(room, LINER_GROUP)
    return liner_offers(
        plan.module,
        space.floor,
        space.usable,
        longest=longest_strip_in(room, material),
        density_g_cm3=next(one.density_g_cm3 for one in room.material if one.id == material),
        wish=space.wish,
        needed=cones_needed(space.wish.under_layout, space.floor, plan.layout.in_space(space.space.id)),
    )


def wall_m_mm(copies: Iterable[Copy], plan: Plan) -> float:
    """Metres of outer wall times their height in mm above the floor, over all trays and cradles."""
    pitch, floor = plan.module.pitch, plan.module.seat.shell_floor
    return sum(
        2
        * (outer_size(copy.spec.cols, pitch) + outer_size(copy.spec.rows, pitch))
        / MM_PER_M
        * (copy.spec.height - floor)
        for copy in copies
        if isinstance(copy.spec, TraySpec)
    )
