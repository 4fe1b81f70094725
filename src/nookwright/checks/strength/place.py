"""Plastic against the place it is in: where it softens, how far a liner grows, and springs that go slack.

How warm a space gets is read from the room file (``warmest_c``), else taken by common practice. What this does not
know: sunlight on one part alone, and how wood moves with damp, which is often more than plastic does with heat.
"""

from __future__ import annotations

import math
from collections import defaultdict
from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.bodies import matrix_of, moved_by
from nookwright.checks.room_inside import beyond
from nookwright.checks.strength.plastics import TABLE, Plastic, kind_of, plastic_of
from nookwright.ground.findings import Against, Finding, Severity
from nookwright.ground.sources import Fact, Kind
from nookwright.survey.models import SpaceKind
from nookwright.survey.plastic_sheet import PlasticKind

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator

    from nookwright.checks.boxes import Floats
    from nookwright.checks.strength.loads import Carried
    from nookwright.exchange.kit import KitSpace, Placement
    from nookwright.survey.models import Material, Space

ROOM_C = Fact(30.0, unit="degC", kind=Kind.COMMON_PRACTICE, source="A room on a hot summer day.")
WARM_C = Fact(
    50.0,
    unit="degC",
    kind=Kind.COMMON_PRACTICE,
    source="Above an oven, beside a heater, behind a pane in the sun: 40 to 60 until someone reads a thermometer.",
)
LAID_C = Fact(20.0, unit="degC", kind=Kind.COMMON_PRACTICE, source="A liner is laid, and a space measured, at this.")
NEAR_C = Fact(5.0, unit="K", kind=Kind.CHOICE, source="So near to its limit a place is worth a thermometer.")
LINER_KINDS = ("panel", "filler")
_LINER, _RACK = "liner", "rack"
# Where a rack hangs by its own words, and the kinds of spaces that are such places.
MOUNTS = {"under a shelf": SpaceKind.UNDER_SHELF, "on a wall": SpaceKind.WALL, "inside a door": SpaceKind.DOOR}


def warmest_c(space: Space) -> float:
    """How warm a space gets, degrees Celsius: as read, else by whether it is called warm.

    Args:
        space: as surveyed.
    """
    if space.warmest_c is not None:
        return space.warmest_c
    return float(WARM_C if space.warm else ROOM_C)


def check_place(carried: Carried) -> tuple[Finding, ...]:
    """Check what every part is made of against the space that it is in.

    Args:
        carried: the kit and what its parts carry.
    """
    placed: dict[str, list[Placement]] = defaultdict(list)
    for placement in carried.kit.placements:
        placed[placement.space].append(placement)
    found: list[Finding] = []
    for space in carried.kit.spaces:
        found += _softens(carried, carried.surveyed[space.id], placed[space.id])
        found += _grows(carried, space, carried.surveyed[space.id], placed[space.id])
        found += _slack(carried, space, placed[space.id])
    return (*found, *_ordered(carried))


def material_in(carried: Carried, placement: Placement) -> tuple[Material, ...]:
    """What a placed part is printed in: the colour of its group where the part is printed in several.

    Args:
        carried: the kit.
        placement: of the part.
    """
    could = carried.materials.get(placement.part, ())
    colours = carried.room.choices.colours
    groups = {lot.id: lot.group for lot in carried.room.lot}
    wanted = {colours.get(groups[heap.lot], "") for heap in carried.heaps.get(placement.id, ())}
    if carried.parts[placement.part].kind in LINER_KINDS:
        wanted = {colours.get(_LINER, "")}
    said = tuple(one for one in could if one.id in wanted)
    return said if len(could) > 1 and said else could


def _softens(carried: Carried, space: Space, placements: list[Placement]) -> Iterator[Finding]:
    """Materials that a space is too warm for; the one that bears least is named."""
    used: dict[str, Material] = {}
    for placement in placements:
        used |= {one.id: one for one in material_in(carried, placement)}
    yield from _too_warm(used.values(), space, subject=space.id, where="are in it")


def _ordered(carried: Carried) -> Iterator[Finding]:
    """The same of what was made to order, where the room file says which space it goes to.

    A rack that names none may be hung in any space of its kind: the warmest of them counts.
    """
    orders = {order.id: order for order in carried.room.part}
    for order in carried.kit.orders:
        part = carried.parts[order.part]
        goes_to = orders[order.id].space if order.id in orders else None
        if goes_to:
            could = [carried.surveyed[goes_to]]
        else:
            kind = MOUNTS.get(str(part.parameters.get("mount"))) if part.kind == _RACK else None
            could = [space for space in carried.room.space if kind and space.kind is kind]
        if could:
            warmest = max(could, key=lambda space: (warmest_c(space), space.id))
            where = f"{'go to' if goes_to else 'may hang in'} {warmest.name or warmest.id}"
            used = carried.materials.get(order.part, ())
            yield from _too_warm(used, warmest, subject=order.id, where=where)


def _too_warm(used: Collection[Material], space: Space, *, subject: str, where: str) -> Iterator[Finding]:
    """What to say where something is printed in what a space is too warm for."""
    if not used:
        return
    worst = min(used, key=lambda one: (plastic_of(one).most_c, one.id))
    plastic, warm = plastic_of(worst), warmest_c(space)
    if warm <= plastic.most_c - NEAR_C:
        return
    read = "was read there" if space.warmest_c is not None else "is taken for a warm space, since none was read"
    text = f"Prints of {worst.name or worst.id} ({plastic.name}) {where}, and {warm:g} degrees {read}; "
    over = warm > plastic.most_c
    if over:
        text += f"{plastic.name} may stay at up to {plastic.most_c:g} and softens from {plastic.softens_c:g}."
    else:
        text += f"that is within {NEAR_C:g} of the {plastic.most_c:g} that {plastic.name} may stay at."
    better = [kind for kind in TABLE.values() if kind.most_c >= warm + NEAR_C and kind is not TABLE[PlasticKind.TPU]]
    named = " or ".join(kind.name for kind in better)
    remedy = f"Print what goes there in {named}, or" if named else "Use no printed plastic there, or"
    remedy += " read a thermometer in it on the hottest day and write warmest_c."
    severity = Severity.STOP if over else Severity.WARN
    yield Finding("material-softens", severity, subject, text, remedy, Against(warm, plastic.most_c, "degC"))


def _grows(carried: Carried, space: KitSpace, surveyed: Space, placements: list[Placement]) -> Iterator[Finding]:
    """A liner that fills its space when it is as warm as it gets there."""
    liner = [one for one in placements if carried.parts[one.part].kind in LINER_KINDS]
    if not liner:
        return
    corners = np.vstack([_corners(carried, one) for one in liner])
    past = beyond(space, corners)
    length = np.ptp(corners, axis=0)
    alpha = max(plastic_of(one).expansion_per_k for placed in liner for one in material_in(carried, placed))
    warmer = max(0.0, warmest_c(surveyed) - LAID_C)
    ways = (("width", 0, "the left wall", "the right wall"), ("depth", 1, "the front", "the back"))
    for name, axis, one, other in ways:
        left = -past[one] - past[other]
        growth = float(alpha * warmer * length[axis])
        open_front = axis == 1 and surveyed.kind is SpaceKind.SHELF
        if growth > left and not open_front:
            text = (
                f"Over its {name} the liner of {length[axis]:.0f} mm grows by {growth:.2f} mm from {LAID_C:g} to "
                f"{LAID_C + warmer:g} degrees; {max(0.0, left):.2f} mm are left. It would press on the walls and rise."
            )
            less = math.ceil(10 * (growth - left)) / 10
            remedy = f"Write its {name} {less:g} mm smaller in the room file: fillers get narrower. Or keep it cooler."
            yield Finding("liner-grows", Severity.STOP, space.id, text, remedy, Against(growth, left, "mm"))


def _corners(carried: Carried, placement: Placement) -> Floats:
    """The eight corners of a part's box in its space; a sprung filler's as the wall presses it in."""
    size = carried.parts[placement.part].size
    sides = [(0.0, size[0]), (min(placement.travel, size[1]), size[1]), (0.0, size[2])]
    box = np.stack(np.meshgrid(*sides), axis=-1).reshape(-1, 3)
    return moved_by(matrix_of(placement.space_from_part), box)


def _slack(carried: Carried, space: KitSpace, placements: list[Placement]) -> Iterator[Finding]:
    """Springs of a plastic that creeps: nothing may depend on them."""
    sprung = [one for one in placements if one.travel > 0]
    if not sprung:
        return
    plastics = [plastic_of(one) for placed in sprung for one in material_in(carried, placed)]
    kinds = {kind_of(one) for placed in sprung for one in material_in(carried, placed)}
    travel = max(one.travel for one in sprung)
    name = _named(plastics)
    if not any(carried.parts[one.part].kind == "panel" for one in placements):
        text = (
            f"Its parts are kept in place by a filler with springs of {name} alone. Such a spring is slack within "
            f"weeks; they could then slide by {travel:g} mm."
        )
        remedy = "Take a plain filler there, or a liner with cones."
        yield Finding("spring-slack", Severity.STOP, space.id, text, remedy, Against(travel, 0.0, "mm"))
    elif PlasticKind.PLA in kinds:
        text = (
            f"Its sprung filler takes up {travel:g} mm of play while it is new. A spring of {name} is slack within "
            "weeks; the cones hold all that stands on them, with or without it."
        )
        remedy = "Nothing to do. Where the liner rattles later, put a strip of felt along the sprung filler."
        yield Finding("spring-slack", Severity.NOTE, space.id, text, remedy, Against(travel, travel, "mm"))


def _named(plastics: list[Plastic]) -> str:
    """Kinds of plastic in words."""
    return " and ".join(sorted({one.name for one in plastics})) or "plastic"
