"""What a support of a rest must obey, looked at before anything is made."""

from __future__ import annotations

import math
from itertools import combinations, pairwise
from typing import TYPE_CHECKING

from nookwright.ground.tolerances import KERNEL
from nookwright.module.floor import CORNER_RADIUS
from nookwright.module.rests import LEAST_WEB
from nookwright.module.seat import outer_size
from nookwright.parts.refusals import refuse_part, require_whole_layers
from nookwright.parts.rests.rest_plan import CLOSED_END, Holes, bottom_of, dowel_height, rim_of
from nookwright.parts.rests.rest_slots import BladeSlot, check_slot

if TYPE_CHECKING:
    from nookwright.module.module import Module
    from nookwright.parts.rests.rest_plan import Rest
    from nookwright.parts.rests.rest_slots import Slot
    from nookwright.parts.rests.rest_span import Dowel


def check(module: Module, asked: Rest, subject: str, width: float) -> None:
    """Refuse what is unsafe or cannot be made.

    Args:
        module: the household's module.
        asked: the support.
        subject: its name, for messages.
        width: of the support, mm.

    Raises:
        RecipeError: a blade would be free, or slots, holes and sides come too near to each other.
    """
    require_whole_layers(subject, asked.height, module.seat.layer)
    if not asked.slots:
        refuse_part(subject, "a rest has slots", found=0, allowed="1 or more", remedy="Take a riser.")
    for slot in asked.slots:
        check_slot(subject, slot)
        least = slot.rim(module.seat.dome, module.seat.layer)
        covered = asked.cover and isinstance(slot, BladeSlot)
        if asked.height < least and not covered:
            refuse_part(
                subject, "what lies in a slot is held, and no blade is free",
                found=f"{asked.height:g} for {slot.words}",
                allowed=f"at least {least:g}", remedy="Make the rest higher, or give the blade cover ribs.",
            )  # fmt: skip
        if covered and asked.height < bottom_of(module, asked, slot) + LEAST_WEB:
            refuse_part(
                subject, "the block holds the edge of the blade", found=f"{asked.height:g}",
                allowed=f"at least {bottom_of(module, asked, slot) + LEAST_WEB:g}", remedy="Make the block higher.",
            )  # fmt: skip
    _check_sides(module, asked, subject, width)
    if asked.dowel:
        _check_dowels(module, asked, asked.dowel, subject, width)
    elif asked.dowels_at:
        refuse_part(subject, "holes have a dowel", found=len(asked.dowels_at), allowed="none without a dowel",
                    remedy="Say which dowel.")  # fmt: skip


def _side(module: Module, asked: Rest, slot: Slot) -> float:
    """Half the width that a slot takes, its cover ribs included."""
    covered = rim_of(module, asked, slot) > asked.height
    return slot.half + (module.wall if covered else 0.0)


def _in_block(module: Module, asked: Rest, slot: Slot) -> float:
    """Half the width that a slot takes at the corners of the block, where no rib stands."""
    covered = rim_of(module, asked, slot) > asked.height
    return slot.width / 2 if covered and isinstance(slot, BladeSlot) else slot.half


def _check_sides(module: Module, asked: Rest, subject: str, width: float) -> None:
    """Refuse slots that come too near to each other or to a side."""
    spans = sorted((slot.x - _side(module, asked, slot), slot.x + _side(module, asked, slot)) for slot in asked.slots)
    gaps = [b[0] - a[1] for a, b in pairwise(spans)]
    round_corner = CORNER_RADIUS  # a slot at a corner would leave a sliver beside it
    for slot in asked.slots:
        beside = min(slot.x, width - slot.x)
        gaps += [beside - _in_block(module, asked, slot) - round_corner + LEAST_WEB]
        gaps += [beside - _side(module, asked, slot) + LEAST_WEB]  # ribs stand on the block
    if min(gaps) < LEAST_WEB:
        refuse_part(
            subject, "plastic stands between slots, and beside the outer ones", found=f"{min(gaps):.2f}",
            allowed=f"at least {LEAST_WEB:g}, and {round_corner:g} to the sides",
            remedy="Move the slots, or take more cells.",
        )  # fmt: skip


def _check_dowels(module: Module, asked: Rest, dowel: Dowel, subject: str, width: float) -> None:
    """Refuse holes that come too near to a slot, to each other, to a side or to the top."""
    radius, z = dowel.hole / 2, dowel_height(module, dowel)
    gaps = [abs(a - b) - 2 * radius for a, b in combinations(asked.dowels_at, 2)]
    gaps += [min(x, width - x) - radius for x in asked.dowels_at]
    gaps += [asked.height - z - radius]
    for slot in asked.slots:
        outline = slot.corners(rim_of(module, asked, slot), bottom_of(module, asked, slot))
        gaps += [_distance((x, z), outline) - radius * math.sqrt(2) for x in asked.dowels_at]
    if not asked.dowels_at or min(gaps) < LEAST_WEB - KERNEL:
        refuse_part(
            subject, "plastic stands around every dowel", found=f"{min(gaps):.2f}" if asked.dowels_at else "no dowel",
            allowed=f"at least {LEAST_WEB:g}", remedy="Move the dowel between two slots, or make the rest higher.",
        )  # fmt: skip
    if asked.holes is not Holes.THROUGH and outer_size(asked.rows, module.pitch) < 2 * dowel.diameter + CLOSED_END:
        refuse_part(
            subject, "a blind hole is two diameters deep", found=f"{asked.rows} cells",
            allowed="more cells along the thing", remedy="Let the dowel go through.",
        )  # fmt: skip


def _distance(point: tuple[float, float], outline: tuple[tuple[float, float], ...]) -> float:
    """From a point to a convex outline whose corners run counter-clockwise; 0 inside."""
    px, py = point
    inside, nearest = True, math.inf
    for (x0, y0), (x1, y1) in pairwise((*outline, outline[0])):
        dx, dy = x1 - x0, y1 - y0
        inside = inside and dx * (py - y0) - dy * (px - x0) >= 0
        t = min(1.0, max(0.0, ((px - x0) * dx + (py - y0) * dy) / (dx * dx + dy * dy)))
        nearest = min(nearest, math.hypot(px - x0 - t * dx, py - y0 - t * dy))
    return 0.0 if inside else nearest
