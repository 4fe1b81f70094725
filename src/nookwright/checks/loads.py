"""Spaces that carry more than they may; the load is added up anew from parts and things."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.ground.findings import Against, Finding, Severity
from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.exchange.kit import Kit
    from nookwright.survey.models import Room

G_PER_KG = Fact(1000.0, unit="g/kg", kind=Kind.STANDARD, source="SI.")


def overloaded(kit: Kit, room: Room) -> Iterator[Finding]:
    """Findings about them.

    Args:
        kit: the kit, its references sound.
        room: says what a space may carry, and what things weigh.
    """
    limits_g = {space.id: space.load_kg * G_PER_KG for space in room.space}
    loads_g = dict.fromkeys(limits_g, 0.0)
    mass_g = {part.id: part.mass_g for part in kit.parts}
    for placement in kit.placements:
        loads_g[placement.space] += mass_g[placement.part]
    space_of = {placement.id: placement.space for placement in kit.placements}
    one_g = {lot.id: lot.mass_g or 0.0 for lot in room.lot}
    box_g = {box.id: box.mass_g for box in room.box}
    for lot in kit.lots:
        for place in lot.places:
            loads_g[space_of[place.placement]] += one_g[lot.id] * place.count + box_g.get(place.box, 0.0)
    for space, load_g in sorted(loads_g.items()):
        if load_g > limits_g[space]:
            load, most = load_g / G_PER_KG, limits_g[space] / G_PER_KG
            text = f"Prints and things weigh {load:.2f} kg; allowed {most:.2f} kg."
            remedy = "Take heavy things elsewhere, or state a higher load if the space can bear it."
            yield Finding("load-over", Severity.STOP, space, text, remedy, Against(load, most, "kg"))
