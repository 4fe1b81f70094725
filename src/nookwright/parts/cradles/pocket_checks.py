"""What a cradle with pockets must obey, looked at before anything is made."""

from __future__ import annotations

import math
from itertools import combinations
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.parts.cradles.pocket import Round
from nookwright.parts.cradles.pocket_boxes import Boxed
from nookwright.parts.cradles.sleeve_lines import edge_of, land_of
from nookwright.parts.model import size_name
from nookwright.parts.refusals import refuse_part, require_whole_layers
from nookwright.parts.underside import inner_radius

if TYPE_CHECKING:
    from nookwright.parts.cradles.plan_outlines import RoundedBox
    from nookwright.parts.cradles.pocket_plan import Plan

LEAD_LEFT = Fact(
    0.2, unit="mm", kind=Kind.CHOICE, source="A chamfer stays off the outer wall by this, so that its rim is whole."
)
LEAST_HOLD = Fact(4.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="A pocket holds a thing when it is this deep.")
_SLACK = 2e-3  # distances are sums of rounded sizes


def check(plan: Plan) -> None:
    """Refuse a cradle that cannot be made or would not hold.

    Args:
        plan: of the cradle asked for.

    Raises:
        RecipeError: a height, a chamfer or a gap is impossible, or pockets lie too near to each other or to the wall.
    """
    subject = f"cradle {size_name(*plan.size)} h{plan.asked.height:g}"
    _check_heights(plan, subject)
    _check_strip(plan, subject)
    _check_each_other(plan, subject)
    _check_wall(plan, subject)


def _check_heights(plan: Plan, subject: str) -> None:
    asked, layer, wall = plan.asked, plan.module.seat.layer, plan.module.wall
    require_whole_layers(subject, asked.height, layer)
    require_whole_layers(f"{subject}, finger gap", asked.finger_gap, layer)
    if not asked.pockets:
        refuse_part(subject, "a cradle has pockets", found=0, allowed="1 or more", remedy="Take a tray.")
    if not 0 <= asked.lead_in <= wall - LEAD_LEFT:
        refuse_part(
            subject,
            "the chamfer leaves the outer wall whole",
            found=f"{asked.lead_in:g}",
            allowed=f"0 to {wall - LEAD_LEFT:g}",
            remedy="Take a smaller lead-in.",
        )
    least = max(placed.pocket.lowest() for placed in asked.pockets) + asked.lead_in + plan.rib + LEAST_HOLD
    if not plan.high >= least:
        refuse_part(
            subject,
            "pockets are deep enough to hold",
            found=f"{asked.height:g}",
            allowed=f"at least {plan.module.seat.dome + least:g}",
            remedy="Make the cradle higher.",
        )
    most = plan.high - LEAST_HOLD - plan.rib
    if not 0 <= asked.finger_gap <= most:
        refuse_part(
            subject,
            "below a finger gap a pocket still holds",
            found=f"{asked.finger_gap:g}",
            allowed=f"0 to {most:g}",
            remedy="Make the gap shallower or the cradle higher.",
        )


def _check_strip(plan: Plan, subject: str) -> None:
    """Strips line upright walls."""
    bad = [placed.pocket.words for placed in plan.asked.pockets if not isinstance(placed.pocket, Round | Boxed)]
    if plan.asked.strip and bad:
        refuse_part(
            subject,
            "strips line upright walls",
            found=bad[0],
            allowed="round and boxed pockets",
            remedy="Line the round pocket around it instead, or take no strip.",
        )


def _check_each_other(plan: Plan, subject: str) -> None:
    least = land_of(plan.module, plan.asked.lead_in, plan.asked.strip)
    for (one, first), (other, second) in combinations(enumerate(plan.outlines, start=1), 2):
        gap = first.gap(second)
        if gap < least - _SLACK:
            refuse_part(
                subject,
                f"pockets {one} and {other} leave a wall between them",
                found=f"{gap:.2f}",
                allowed=f"at least {least:g}",
                remedy=f"Move them apart by {least - gap:.2f}.",
            )


def _check_wall(plan: Plan, subject: str) -> None:
    least = edge_of(plan.module, plan.asked.strip)
    for number, outline in enumerate(plan.outlines, start=1):
        gap = _to_wall(plan, outline)
        if gap < least - _SLACK:
            refuse_part(
                subject,
                f"pocket {number} leaves a wall to the inside of the cradle",
                found=f"{gap:.2f}",
                allowed=f"at least {least:g}",
                remedy="Move it inwards, or take more cells.",
            )


def _to_wall(plan: Plan, outline: RoundedBox) -> float:
    """Distance from a pocket to the inside of the outer wall, round corners included."""
    inside, rounded = plan.inside, inner_radius(plan.module)
    flats = min(
        outline.x - outline.half_width - inside.left,
        inside.right - outline.x - outline.half_width,
        outline.y - outline.half_depth - inside.front,
        inside.back - outline.y - outline.half_depth,
    )
    (a, b) = outline.core
    across = max(inside.left + rounded - (outline.x - a), outline.x + a - (inside.right - rounded))
    back = max(inside.front + rounded - (outline.y - b), outline.y + b - (inside.back - rounded))
    if across <= 0 or back <= 0:
        return flats
    return min(flats, rounded - math.hypot(across, back) - outline.radius)
