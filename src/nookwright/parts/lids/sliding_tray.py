"""The tray of a sliding lid: a plain tray whose rim swells to a ledge, with a groove that leans over the lid."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.module.dispensers import SLOT_UNDER
from nookwright.module.estimates import Plastic, tray_plastic
from nookwright.module.floor import CORNER_RADIUS
from nookwright.parts.lids.sliding_rim import (
    SLOT_COLLAR,
    SLOT_PLAY,
    SlidingRim,
    SlidingSpec,
)
from nookwright.parts.model import Kind, Part, size_name
from nookwright.parts.swollen_rim import inset_mm2, inset_rect, swollen_rim, swollen_rim_mm3
from nookwright.parts.underside import body, cavity, domes, seated
from nookwright.shapes.cutters import open_above
from nookwright.shapes.regions import Rect, RegionMove
from nookwright.shapes.solids import Difference, Move, Prism, Solid, Taper, Union
from nookwright.sizing.ways import SHELL_FILLET, SMOOTH_FILLET

if TYPE_CHECKING:
    from nookwright.module.module import Module

_AHEAD = 2 * CORNER_RADIUS  # how far the cutter of the grooves reaches out at the front
_LAP = 0.05  # cutters on top of each other overlap: two sums that should be equal may differ in their last bit


def sliding_tray(module: Module, spec: SlidingSpec) -> Part:
    """The tray of a sliding lid, its front open above the ledge.

    Args:
        module: the household's module.
        spec: of the tray and its lid.

    Raises:
        RecipeError: too low, too long, too short for its width, or without room for its slot.
    """
    rim = SlidingRim(module, spec)
    seat, smooth = module.seat, spec.smooth
    floor = seat.dome if smooth else seat.shell_floor
    fillet = float(SMOOTH_FILLET if smooth else SHELL_FILLET)
    inside = cavity(module, spec.cols, spec.rows, floor=floor, height=spec.height, fillet=fillet)
    hollow = Difference(body(module, spec.cols, spec.rows, spec.height), (inside,))
    ring = swollen_rim(module, spec.cols, spec.rows, start=rim.swell_start, swell=rim.groove, top=spec.height)
    whole = Union((hollow, ring, *(() if smooth else domes(module, spec.cols, spec.rows))))
    open_front = Difference(whole, (*_groove(rim), _front(rim), *_gap(rim)))
    return Part(
        kind=Kind.TRAY,
        name=f"tray {size_name(rim.width, rim.depth)} h{spec.height:g} for a sliding lid",
        parameters=parameters_of(module, spec),
        recipe=seated(open_front, module, spec.cols, spec.rows),
        plastic=_plastic(rim),
    )


def parameters_of(module: Module, spec: SlidingSpec) -> tuple[tuple[str, bool | int | float | str], ...]:
    """What a tray and its lid are made from, sorted by name."""
    slot = spec.slot
    found = {
        "cols": spec.cols,
        "floor": "smooth" if spec.smooth else "shell",
        "height": spec.height,
        "pitch": module.pitch,
        "rows": spec.rows,
        "wall": module.wall,
        **({"slot_across": slot.across, "slot_along": slot.along, "slot_lip": slot.lip} if slot else {}),
    }
    return tuple(sorted(found.items()))


def _groove(rim: SlidingRim) -> tuple[Solid, ...]:
    """Cutters of the groove: upright part, leaning part, and the opening above the lid; all open at the front."""
    module, top = rim.module, rim.spec.height
    plan = inset_rect(module, rim.spec.cols, rim.spec.rows, module.wall)
    longer = Rect(plan.width, plan.depth + module.wall + _AHEAD, plan.radius)
    inner = Rect(longer.width - 2 * rim.groove, longer.depth - rim.groove, plan.radius - rim.groove)
    return (
        Move(Prism(longer, rim.edge + _LAP), x=module.wall, y=-_AHEAD, z=rim.sill),
        Move(Taper(longer, rim.groove, rim.groove), x=module.wall, y=-_AHEAD, z=rim.sill + rim.edge),
        open_above(RegionMove(inner, x=rim.opening, y=-_AHEAD), rim.sill, top),
    )


def _front(rim: SlidingRim) -> Solid:
    """A cutter of all above the ledge before the guides begin, where the outside is rounded."""
    plan = RegionMove(Rect(rim.width + 2 * CORNER_RADIUS, 2 * CORNER_RADIUS), x=-CORNER_RADIUS, y=-CORNER_RADIUS)
    return open_above(plan, rim.sill, rim.spec.height)


def _gap(rim: SlidingRim) -> tuple[Solid, ...]:
    """A cutter of the gap in the front wall through which the lip of a dispensing slot slides."""
    slot = rim.spec.slot
    if slot is None:
        return ()
    wide = slot.across + 2 * (SLOT_COLLAR + SLOT_PLAY)
    plan = RegionMove(Rect(wide, 2 * CORNER_RADIUS + rim.opening), x=rim.width / 2 - wide / 2, y=-CORNER_RADIUS)
    bottom = rim.sill - gap_depth(rim)
    return (open_above(plan, bottom, rim.sill),)


def gap_depth(rim: SlidingRim) -> float:
    """How far the gap in the front wall goes below the ledge, mm, in whole layers."""
    return 0.0 if rim.spec.slot is None else rim.whole(rim.spec.slot.lip + SLOT_UNDER)


def _plastic(rim: SlidingRim) -> Plastic:
    """The tray's plastic, its rim, less groove, front and gap; the corners of the groove at the front left out."""
    module, spec = rim.module, rim.spec
    plain = tray_plastic(module, spec.cols, spec.rows, spec.height, smooth=spec.smooth)
    args = (module, spec.cols, spec.rows)
    ring = swollen_rim_mm3(*args, start=rim.swell_start, swell=rim.groove, top=spec.height)
    between = inset_mm2(*args, module.wall) - inset_mm2(*args, rim.opening)
    grooves = between * (rim.edge + rim.groove / 2)
    front = (inset_mm2(*args, 0.0) - inset_mm2(*args, rim.opening)) * rim.width / (2 * (rim.width + rim.depth))
    sides = 2 * rim.opening * (CORNER_RADIUS - rim.opening)
    cut = (front + sides) * (spec.height - rim.sill) - between * rim.width / (2 * (rim.width + rim.depth)) * (
        rim.edge + rim.groove / 2
    )
    gap = 0.0
    if spec.slot:
        gap = (spec.slot.across + 2 * (SLOT_COLLAR + SLOT_PLAY)) * rim.opening * gap_depth(rim)
    return Plastic(
        plain.body_mm3 + ring - grooves - cut - gap, plain.sparse_mm3, plain.first_mm2, plain.height, plain.hops
    )
