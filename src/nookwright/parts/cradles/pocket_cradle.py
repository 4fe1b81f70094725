"""A cradle with pockets of any shape and of several sizes, wherever they are put.

Sleeves stand on a smooth floor, as in the plain cradle. All of it is a floor with upright walls, open above, so the
body has as many handles as holes go through its floor.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from nookwright.module.estimates import Plastic, tray_plastic
from nookwright.parts.cradles.cradle import ROOT, fillet_mm3
from nookwright.parts.cradles.plan_outlines import covered_mm2, slab
from nookwright.parts.cradles.pocket_checks import check
from nookwright.parts.cradles.pocket_floor import PushOut, rib
from nookwright.parts.cradles.pocket_plan import Plan, PocketCradle
from nookwright.parts.cradles.strip import slot_mm2, slots
from nookwright.parts.model import Kind, Part, Value, size_name
from nookwright.parts.underside import body, cavity, seated
from nookwright.shapes.solids import Difference, Move, Prism, Solid, Union

if TYPE_CHECKING:
    from nookwright.module.module import Module


def pocket_cradle(module: Module, asked: PocketCradle) -> Part:
    """A cradle with the pockets asked for.

    Args:
        module: the household's module.
        asked: its parameters.

    Raises:
        RecipeError: pockets lie too near to each other or to the wall, or a gap, a hole or a height is impossible.
    """
    plan = Plan(module, asked)
    check(plan)
    floor = module.seat.dome
    inside = cavity(module, asked.cols, asked.rows, floor=floor, height=asked.height, fillet=0.0)
    hollow = Difference(body(module, asked.cols, asked.rows, asked.height), (inside,))
    sleeves = Move(Prism(plan.region(), plan.high + ROOT), z=floor - ROOT)
    solid: Solid = Difference(Union((hollow, sleeves)), plan.cuts())
    if asked.push_out is PushOut.RIB:
        solid = Union((solid, *(rib(module, placed) for placed in asked.pockets)))
    return Part(
        kind=Kind.CRADLE,
        name=f"cradle {size_name(*plan.size)} h{asked.height:g} {_words(asked)}",
        parameters=_parameters(plan),
        recipe=seated(solid, module, asked.cols, asked.rows),
        plastic=_plastic(plan),
    )


def genus_of(asked: PocketCradle) -> int:
    """Handles of a cradle: one for each hole through its floor."""
    return len(asked.pockets) if asked.push_out is PushOut.HOLE else 0


def _words(asked: PocketCradle) -> str:
    """Pockets and options, as people say them."""
    kinds = sorted({placed.pocket.words for placed in asked.pockets})
    options = (
        (asked.push_out is PushOut.HOLE, "hole"),
        (asked.push_out is PushOut.RIB, "rib"),
        (bool(asked.finger_gap), "gaps"),
        (asked.strip is not None, "lined"),
        (not asked.lead_in, "sharp"),
    )
    shapes = kinds[0] if len(kinds) == 1 else f"{len(kinds)} sizes"
    return " ".join((shapes, *(word for there, word in options if there)))


def _plastic(plan: Plan) -> Plastic:
    """The tray's plastic without its fillet, and the plan raised, less what is cut away from it."""
    module, asked, inside = plan.module, plan.asked, plan.inside
    plain = tray_plastic(module, asked.cols, asked.rows, asked.height, smooth=True)
    whole = slab(inside.left, inside.front, inside.right, inside.back)
    raised = covered_mm2(plan.shapes, whole) * plan.high
    bored = sum(placed.pocket.volume_mm3(plan.high, asked.lead_in) for placed in asked.pockets)
    if asked.strip:
        bored += sum(len(slots(each, asked.strip)) for each in plan.outlines) * slot_mm2(asked.strip) * plan.high
    gone = sum(covered_mm2(plan.shapes, each, plan.outlines) for each in plan.troughs) * asked.finger_gap
    holes = genus_of(asked) * math.pi / 4 * asked.hole**2 * module.seat.dome
    ribs = sum(2 * each.pocket.floor_outline().half_width for each in asked.pockets) * module.wall * plan.rib
    body_mm3 = plain.body_mm3 - fillet_mm3(module, asked.cols, asked.rows) + raised - bored - gone - holes + ribs
    return Plastic(body_mm3, plain.sparse_mm3, plain.first_mm2, asked.height, 0.0)


def _parameters(plan: Plan) -> tuple[tuple[str, Value], ...]:
    """Everything that the part was made from, sorted by name."""
    asked = plan.asked
    return (
        ("cols", asked.cols),
        ("finger_gap", float(asked.finger_gap)),
        ("height", asked.height),
        ("hole", float(asked.hole) if asked.push_out is PushOut.HOLE else 0.0),
        ("lead_in", float(asked.lead_in)),
        ("pitch", plan.module.pitch),
        ("pockets", "; ".join(placed.pocket.words for placed in asked.pockets)),
        ("pockets_at", tuple((placed.x, placed.y) for placed in asked.pockets)),
        ("push_out", asked.push_out.value),
        ("rows", asked.rows),
        ("sleeve", plan.thick),
        ("strip", asked.strip.words if asked.strip else ""),
        ("wall", plan.module.wall),
    )
