"""Masses of what a kit holds, and masses as forces: what one presses with at rest, and what it takes to stop it.

What a thing weighs that nobody weighed is for each check to say: a sum in kit.json has nothing for it, a floor that is
to bear it takes it as heavy as it looks.
"""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.sizing.spaces.bow import GRAVITY

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from nookwright.exchange.kit import Kit, KitLot, LotPlace
    from nookwright.survey.models import Lot, Room

G_PER_KG = Fact(1000.0, unit="g/kg", kind=Kind.STANDARD, source="SI.")
MM3_PER_CM3 = Fact(1000.0, unit="mm3/cm3", kind=Kind.CALCULATED, source="10 x 10 x 10.")


def known_g(lot: Lot) -> float:
    """Mass of one thing of a lot, g; nothing where nobody weighed it."""
    return lot.mass_g or 0.0


def held_g(kit: Kit, room: Room, one_g: Callable[[Lot], float]) -> Iterator[tuple[KitLot, LotPlace, float]]:
    """Every place of every lot, with the mass of the things in it and of the box that they are in, g.

    Args:
        kit: the kit, its references sound.
        room: says what things and boxes weigh.
        one_g: what one thing of a lot weighs, g.
    """
    thing_g = {lot.id: one_g(lot) for lot in room.lot}
    box_g = {box.id: box.mass_g for box in room.box}
    for lot in kit.lots:
        for place in lot.places:
            yield lot, place, thing_g[lot.id] * place.count + box_g.get(place.box, 0.0)


def loads_g(kit: Kit, room: Room, one_g: Callable[[Lot], float], *, prints: bool = True) -> dict[str, float]:
    """What stands in each space of a kit, by its id, g; things alone, if prints are not asked for.

    Args:
        kit: the kit, its references sound.
        room: says what things and boxes weigh.
        one_g: what one thing of a lot weighs, g.
        prints: whether the parts themselves count.
    """
    space_of = {placement.id: placement.space for placement in kit.placements}
    part_g = {part.id: part.mass_g for part in kit.parts}
    found: dict[str, float] = defaultdict(float)
    for placement in kit.placements if prints else ():
        found[placement.space] += part_g[placement.part]
    for _, place, mass_g in held_g(kit, room, one_g):
        found[space_of[place.placement]] += mass_g
    return found


def weight_n(mass_g: float, accel_g: float = 1.0) -> float:
    """Force of a mass at rest, or of one that is stopped, N.

    >>> round(weight_n(1000.0), 2), round(weight_n(1000.0, 5.0), 1)
    (9.81, 49.0)

    Args:
        mass_g: of the body.
        accel_g: how hard it is stopped, in times the fall; at rest it is one.
    """
    return mass_g / G_PER_KG * accel_g * GRAVITY
