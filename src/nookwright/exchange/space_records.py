"""Spaces as records of the kit."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.exchange import kit as k
from nookwright.exchange.rounding import rounded
from nookwright.layout.spaces import G_PER_KG
from nookwright.making.forecast import liners_of, wall_m_mm
from nookwright.module.estimates import budget_g

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from nookwright.layout.plan import Plan
    from nookwright.layout.spaces import SpacePlan
    from nookwright.making.jobs import Making
    from nookwright.parts.design import Copy
    from nookwright.parts.liner.liner_offers import LinerOffer
    from nookwright.sizing.spaces.outlines import Outline
    from nookwright.sizing.usable import Usable
    from nookwright.survey.models import Room


def _mass_and_time(copy: Copy, making: Making) -> tuple[float, float]:
    """Mass and time of all pieces of one copy."""
    part = making.part_ids[copy.part.recipe.digest]
    mine = [piece for piece in making.pieces if piece.part == part and piece.material == copy.material]
    return sum(piece.mass_g for piece in mine), sum(piece.time_s for piece in mine)


def mass_of(copies: Iterable[Copy], making: Making) -> float:
    """Mass of all pieces of some copies, g."""
    return sum(_mass_and_time(copy, making)[0] for copy in copies)


def time_of(copies: Iterable[Copy], making: Making) -> float:
    """Time to print all pieces of some copies one after the other, s."""
    return sum(_mass_and_time(copy, making)[1] for copy in copies)


def space_record(space: SpacePlan, room: Room, plan: Plan, copies: Sequence[Copy], making: Making) -> k.KitSpace:
    """One space: its inside, its cells, what stands in it, and what each liner would cost there."""
    usable, floor = space.usable, space.floor
    mine = [copy for copy in copies if copy.space == space.space.id]
    mass = mass_of(mine, making)
    held = [contents for copy in mine for contents in copy.holds]
    things = sum((one.lot.mass_g or 0.0) * one.count + (one.way.box.mass_g if one.way.box else 0.0) for one in held)
    return k.KitSpace(
        id=space.space.id,
        name=space.space.name or space.space.id,
        kind=space.space.kind.value,
        usable=tuple(_outline(usable, level) for level in usable.outlines),
        height=rounded(usable.height),
        corner_radius=rounded(usable.corner_radius),
        cove_radius=rounded(usable.cove_radius),
        margins=(rounded(usable.margins[0]), rounded(usable.margins[1]), rounded(usable.margins[2])),
        bow=rounded(usable.bow.sag),
        blocked=tuple(
            k.BlockedBox(
                reason=box.reason,
                service=box.service,
                low=(rounded(box.x0), rounded(box.y0), rounded(box.z0)),
                high=(rounded(box.x1), rounded(box.y1), rounded(box.z1)),
            )
            for box in usable.blocked
        ),
        cell_origin=(rounded(floor.x0), rounded(floor.y0)),
        cols=floor.cols,
        rows=floor.rows,
        blocked_cells=floor.blocked,
        mass_g=rounded(mass),
        time_s=rounded(time_of(mine, making)),
        budget_g=rounded(budget_g(fitted_mm2(space), wall_m_mm(mine, plan))),
        load_g=rounded(mass + things),
        load_limit_g=rounded(space.space.load_kg * G_PER_KG),
        liners=tuple(_liner(offer) for offer in liners_of(room, plan, space)),
    )


def _outline(usable: Usable, level: Outline) -> k.UsableAt:
    inset = level.insets
    return k.UsableAt(
        z=rounded(level.z),
        width=rounded(max(0.0, usable.width - inset.left - inset.right)),
        depth=rounded(max(0.0, usable.depth - inset.front - inset.back)),
        x=rounded(inset.left),
        y=rounded(inset.front),
    )


def _liner(offer: LinerOffer) -> k.LinerOffer:
    return k.LinerOffer(
        level=offer.level.value,
        pattern=offer.pattern.value,
        mass_g=rounded(offer.mass_g),
        time_s=rounded(offer.time_s),
        lost_height=rounded(offer.lost_height),
        cones=offer.cones,
        keeps=offer.keeps,
        chosen=offer.chosen,
    )


def fitted_mm2(space: SpacePlan) -> float:
    """Area of a space that is fitted out, mm2."""
    return space.usable.width * space.usable.depth if space.grid.fill else 0.0
