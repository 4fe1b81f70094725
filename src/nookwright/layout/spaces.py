"""Spaces as the solver sees them: their cells, what they carry, who gets into them; and the liner that each gets."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.layout.liner_model import Liner
from nookwright.layout.model import OPEN, Grid
from nookwright.layout.space_liner import LinerWish, floor_for, liner_for, wish_of
from nookwright.module.choice import TYPICAL_DENSITY_G_CM3
from nookwright.module.estimates import panel_plastic
from nookwright.survey.models import NO_FLOOR, SpaceKind

if TYPE_CHECKING:
    from nookwright.layout.model import Layout
    from nookwright.module.floor import Floor
    from nookwright.module.module import Module
    from nookwright.sizing.usable import Usable
    from nookwright.survey.models import Choices, Room, Space

HEADROOM = Fact(
    1.0,
    unit="mm",
    kind=Kind.COMMON_PRACTICE,
    source="Between the tallest thing and what passes over it: crumbs and warp.",
)
COMFORT_LOW = Fact(
    700.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="Lower floors of spaces are reached by stooping."
)
COMFORT_HIGH = Fact(1300.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="Higher ones by stretching.")
REACH_PER_MM = Fact(
    0.01,
    unit="cost/mm",
    kind=Kind.CHOICE,
    source="100 mm of stooping or stretching cost as much as one unit of trouble.",
)
G_PER_KG = Fact(1000.0, unit="g/kg", kind=Kind.STANDARD, source="SI.")


@dataclass(frozen=True)
class SpacePlan:
    """One space: as surveyed, usable, in cells, what liner it should get, and its liner."""

    space: Space
    usable: Usable
    floor: Floor
    grid: Grid
    wish: LinerWish
    liner: Liner


def space_plan(space: Space, usable: Usable, room: Room, module: Module, longest: float) -> SpacePlan:
    """One space in cells, with its liner as far as it can be known before the layout.

    Args:
        space: as surveyed.
        usable: its inside.
        room: that it is in.
        module: the household's module.
        longest: the longest strip that can be printed, mm.
    """
    wish, fitted = wish_of(space, room.choices), space.kind not in NO_FLOOR and not space.kept_free
    floor = floor_for(wish, usable, module, longest)
    liner = liner_for(wish, floor, usable, module, longest=longest) if fitted else Liner((), ())
    lined = bool(liner.panels)
    grid = Grid(
        space=space.id,
        cols=floor.cols,
        rows=floor.rows,
        blocked=floor.blocked,
        height=usable.height - (module.seat.panel if lined else 0.0) - HEADROOM,
        load_g=space.load_kg * G_PER_KG - _liner_g(liner, module),
        reach=_reach(space.floor_height),
        children=reached_by_children(space, room.choices),
        fill=fitted,
        smallest=wish.smallest,
        open_cost=OPEN * room.choices.weights.fewer_spaces,
        opening=(space.opening[0], space.opening[1]) if space.opening else None,
        warm=space.warm,
        wet=space.wet,
        behind=_behind(space, floor, module.pitch),
        drawer=space.kind is SpaceKind.DRAWER,
        coned=wish.level.all_over,
    )
    return SpacePlan(space, usable, floor, grid, wish, liner)


def reached_by_children(space: Space, choices: Choices) -> bool:
    """Whether children get into a space: it says so, is not locked, and is no higher than they reach."""
    too_high = choices.children_reach is not None and space.floor_height > choices.children_reach
    return space.children and not space.locked and not too_high


def _behind(space: Space, floor: Floor, pitch: float) -> int:
    """Rows more than half of which stay inside when the drawer is pulled out."""
    if space.pulls_out is None:
        return 0
    return sum(floor.y0 + (row + 1 / 2) * pitch > space.pulls_out for row in range(floor.rows))


def _liner_g(liner: Liner, module: Module) -> float:
    """Mass of the panels at the most cones, those with missing cells by their share of a whole one, g."""
    total = 0.0
    for spec in (panel.spec for panel in liner.panels):
        share = len(spec.cells) / (spec.cols * spec.rows)
        total += share * panel_plastic(module, spec.cols, spec.rows).mass_g(TYPICAL_DENSITY_G_CM3)
    return total


def _reach(floor_height: float) -> float:
    """Cost of reaching into a space once, by the height of its floor in the room."""
    return REACH_PER_MM * max(0.0, COMFORT_LOW - floor_height, floor_height - COMFORT_HIGH)


def lined(plan: SpacePlan, layout: Layout, module: Module, longest: float) -> SpacePlan:
    """A space with the liner that its part of the layout needs."""
    if not plan.liner.panels:
        return plan
    placed = layout.in_space(plan.space.id)
    return replace(plan, liner=liner_for(plan.wish, plan.floor, plan.usable, module, longest=longest, placed=placed))
