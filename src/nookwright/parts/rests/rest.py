"""A rest: one of two or more slotted supports for long things and blades, tied to the others by dowels.

A support is a block on whole cells of its own, slots run through it from front to back; its inside is printed sparsely.
Holes for dowels run along the thing. They have a roof of 45 degrees with a short flat, so they print without support.
The body has one handle for each hole that goes through it; a blind hole makes none.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact
from nookwright.ground.sources import Kind as SourceKind
from nookwright.ground.tolerances import OVERSHOOT
from nookwright.module.estimates import SKIN_LAYERS_ABOVE, Plastic, sockets_mm3, sparse_floor_mm3
from nookwright.module.floor import CORNER_RADIUS
from nookwright.module.seat import outer_size
from nookwright.parts.lying import along_y
from nookwright.parts.model import Kind, Part, Value, size_name
from nookwright.parts.rests.rest_checks import check
from nookwright.parts.rests.rest_plan import CLOSED_END, Holes, Rest, bottom_of, dowel_height, rim_of
from nookwright.parts.rests.rest_slots import BladeSlot, Slot
from nookwright.parts.underside import body, seated
from nookwright.shapes.regions import Circle, Polygon, Rect, Region, RegionMove, RegionUnion
from nookwright.shapes.solids import Difference, Move, Prism, Solid, Union

if TYPE_CHECKING:
    from nookwright.module.module import Module

RIB_ROOT = Fact(0.6, unit="mm", kind=SourceKind.CHOICE, source="A cover rib starts this deep in the block.")


def genus_of(asked: Rest) -> int:
    """Handles of a support: one for each hole that goes through."""
    return len(asked.dowels_at) if asked.dowel and asked.holes is Holes.THROUGH else 0


def rest(module: Module, asked: Rest) -> Part:
    """One support.

    Args:
        module: the household's module.
        asked: its parameters.

    Raises:
        RecipeError: a blade would be free, or slots, holes and sides come too near to each other.
    """
    width, depth = outer_size(asked.cols, module.pitch), outer_size(asked.rows, module.pitch)
    subject = f"rest {size_name(width, depth)} h{asked.height:g}"
    check(module, asked, subject, width)
    ribs = tuple(rib for slot in asked.slots for rib in _cover(module, asked, slot, depth))
    solid: Solid = body(module, asked.cols, asked.rows, asked.height)
    solid = Union((solid, *ribs)) if ribs else solid
    top = max([asked.height, *(rim_of(module, asked, slot) for slot in asked.slots)])
    words = sorted({slot.words.partition(" ")[0] for slot in asked.slots})
    return Part(
        kind=Kind.REST,
        name=f"rest {size_name(width, depth)} h{top:g} {' '.join(words)}",
        parameters=_parameters(module, asked),
        recipe=seated(Difference(solid, _cuts(module, asked, depth)), module, asked.cols, asked.rows),
        plastic=_plastic(module, asked, top),
    )


def _cuts(module: Module, asked: Rest, depth: float) -> tuple[Solid, ...]:
    """Slots and holes."""
    made: list[Solid] = [
        along_y(slot.region(rim_of(module, asked, slot), bottom_of(module, asked, slot)), -OVERSHOOT, depth + OVERSHOOT)
        for slot in asked.slots
    ]
    if asked.dowel:
        front = CLOSED_END if asked.holes is Holes.BACK else -OVERSHOOT
        back = depth - CLOSED_END if asked.holes is Holes.FRONT else depth + OVERSHOOT
        z = dowel_height(module, asked.dowel)
        made += [along_y(RegionMove(bore(asked.dowel.hole), x=x, y=z), front, back) for x in asked.dowels_at]
    return tuple(made)


def bore(diameter: float) -> Region:
    """A lying hole that prints without support, about its middle: its roof rises at 45 degrees to a short flat."""
    r = diameter / 2
    side, flat = r / math.sqrt(2), r * (math.sqrt(2) - 1)
    return RegionUnion(
        (Circle(r), Polygon(((-side, 0.0), (side, 0.0), (side, side), (flat, r), (-flat, r), (-side, side))))
    )


def bore_mm2(diameter: float) -> float:
    """Area of such a hole: a round, and two corners below its roof, 2 r^2 (sqrt 2 - 1 - pi/8) in all.

    >>> round(bore_mm2(2.0) - math.pi, 4)
    0.043
    """
    r = diameter / 2
    return math.pi * r**2 + 2 * r**2 * (math.sqrt(2) - 1 - math.pi / 8)


def _cover(module: Module, asked: Rest, slot: Slot, depth: float) -> tuple[Solid, ...]:
    """A rib over a slot, wall and chamfer to each side; the slot parts it in two."""
    rim = rim_of(module, asked, slot)
    if rim <= asked.height:
        return ()
    half, low, inset = slot.half + module.wall, asked.height - RIB_ROOT, _inset(module, asked, slot)
    plan = Rect(2 * half, depth - 2 * inset)
    return (Move(Prism(plan, rim - low), x=slot.x - half, y=inset, z=low),)


def _inset(module: Module, asked: Rest, slot: Slot) -> float:
    """How far a rib stays behind the front and the back: as far as the block is rounded there, in tenths."""
    width = outer_size(asked.cols, module.pitch)
    beside = min(slot.x, width - slot.x) - slot.half - module.wall
    short = max(0.0, CORNER_RADIUS - beside)
    return math.ceil(10 * (CORNER_RADIUS - math.sqrt(CORNER_RADIUS**2 - short**2))) / 10


def _plastic(module: Module, asked: Rest, top: float) -> Plastic:
    """A block, less slots, holes and sockets, and the cover ribs; the drawn-in foot is left out."""
    seat, pitch = module.seat, module.pitch
    width, depth = outer_size(asked.cols, pitch), outer_size(asked.rows, pitch)
    plan = width * depth - (4 - math.pi) * CORNER_RADIUS**2
    cut = ribs = 0.0
    for slot in asked.slots:
        rim, bottom = rim_of(module, asked, slot), bottom_of(module, asked, slot)
        if rim > asked.height:
            long = depth - 2 * _inset(module, asked, slot)
            raised = 2 * (slot.half + module.wall) * (rim - asked.height)
            ribs += (raised - slot.area_mm2(rim, bottom) + slot.area_mm2(asked.height, bottom)) * long
            cut += (slot.area_mm2(asked.height, bottom) - _mouth_mm2(slot, asked.height, bottom)) * depth
            ribs -= _mouth_mm2(slot, asked.height, bottom) * long
        else:
            cut += slot.area_mm2(rim, bottom) * depth
    bored = depth if asked.holes is Holes.THROUGH else depth - CLOSED_END
    cut += len(asked.dowels_at) * (bore_mm2(asked.dowel.hole) if asked.dowel else 0.0) * bored
    solid = plan * asked.height - cut - sockets_mm3(seat, asked.cols, asked.rows, pitch) + ribs
    inside = (width - 2 * module.wall) * (depth - 2 * module.wall) - sum(
        2 * (slot.half + module.wall) * (depth - 2 * module.wall) for slot in asked.slots
    )
    above = max(0.0, asked.height - SKIN_LAYERS_ABOVE * seat.layer - seat.dome)
    return Plastic(
        body_mm3=solid,
        sparse_mm3=max(0.0, inside) * above + sparse_floor_mm3(seat, asked.cols, asked.rows, pitch),
        first_mm2=width * depth - asked.cols * asked.rows * math.pi * seat.cone_base**2,
        height=top,
        hops=0.0,
    )


def _mouth_mm2(slot: Slot, rim: float, bottom: float) -> float:
    """What chamfers add to a slot's area; they are at the top of the cover ribs, not of the block."""
    return slot.area_mm2(rim, bottom) - (rim - bottom) * slot.width if isinstance(slot, BladeSlot) else 0.0


def _parameters(module: Module, asked: Rest) -> tuple[tuple[str, Value], ...]:
    """Everything that the part was made from, sorted by name."""
    return (
        ("cols", asked.cols),
        ("cover", asked.cover),
        ("dowel", asked.dowel.words if asked.dowel else ""),
        ("dowels_at", asked.dowels_at),
        ("height", asked.height),
        ("holes", asked.holes.value if asked.dowel else ""),
        ("pitch", module.pitch),
        ("rows", asked.rows),
        ("slots", "; ".join(slot.words for slot in asked.slots)),
        ("slots_at", tuple(slot.x for slot in asked.slots)),
        ("wall", module.wall),
    )
