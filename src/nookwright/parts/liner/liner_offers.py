"""What each level of liner costs in a space: grams in closed form, height lost, and what it still guarantees."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.layout.liner_levels import Level, level_pattern, liner_at
from nookwright.layout.space_liner import LinerWish
from nookwright.module.pattern import Pattern
from nookwright.parts.liner.filler import filler
from nookwright.parts.liner.panel_plastic import panel_plastic

if TYPE_CHECKING:
    from nookwright.layout.liner_model import Cell
    from nookwright.module.floor import Floor
    from nookwright.module.module import Module
    from nookwright.sizing.usable import Usable

USUAL = LinerWish()


@dataclass(frozen=True)
class LinerOffer:
    """One level of liner for one space.

    Attributes:
        level: how much liner.
        pattern: where its cones stand.
        mass_g: of panels and fillers.
        time_s: of printing them.
        lost_height: by which parts stand above the floor, mm.
        cones: how many.
        keeps: what it guarantees, in words.
        chosen: whether it is the one that was wished for.
    """

    level: Level
    pattern: Pattern
    mass_g: float
    time_s: float
    lost_height: float
    cones: int
    keeps: str
    chosen: bool


def liner_offers(
    module: Module,
    floor: Floor,
    usable: Usable,
    *,
    longest: float,
    density_g_cm3: float,
    wish: LinerWish = USUAL,
    needed: tuple[Cell, ...] | None = None,
) -> tuple[LinerOffer, ...]:
    """All levels for one space, from the most liner to none.

    Args:
        module: the household's module.
        floor: cells of the space and the widths of its fillers.
        usable: its usable inside.
        longest: the longest strip that can be printed, mm.
        density_g_cm3: of the liner's material.
        wish: what is chosen; its pattern, where it follows from the smallest footprint, is that of the full liner.
        needed: cells that the layout needs a cone in, see ``cones_under``; with them the fourth pattern is offered too.
    """
    usual = Pattern.CHESSBOARD if _leans(wish) else wish.pattern
    asked: list[tuple[Level, Pattern, tuple[Cell, ...]]] = [(level, usual, ()) for level in Level]
    if needed is not None:
        asked.insert(2, (wish.under_layout, Pattern.UNDER_LAYOUT, needed))
    found = []
    for level, pattern, chosen in asked:
        liner = liner_at(level, floor, usable, module.pitch, longest, usual=pattern, chosen=chosen)
        made = [panel_plastic(module, placed.spec) for placed in liner.panels]
        made += [filler(module, placed.spec).plastic for placed in liner.fillers]
        found.append(
            LinerOffer(
                level=level,
                pattern=level_pattern(level, pattern),
                mass_g=sum(plastic.mass_g(density_g_cm3) for plastic in made),
                time_s=sum(plastic.time_s(module.seat.layer) for plastic in made),
                lost_height=module.seat.panel if level.lined else 0.0,
                cones=sum(len(placed.spec.cones) for placed in liner.panels),
                keeps=pattern.keeps if pattern is Pattern.UNDER_LAYOUT else level.keeps,
                chosen=level is wish.level and (not level.lined or level_pattern(level, pattern) is wish.pattern),
            )
        )
    return tuple(found)


def _leans(wish: LinerWish) -> bool:
    """Whether its pattern is not one that a full liner has by the smallest footprint."""
    return wish.pattern is Pattern.UNDER_LAYOUT or wish.level is Level.SPARSE
