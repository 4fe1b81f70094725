"""Spaces that carry more than they may; the load is added up anew from parts and things."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.checks.weights import G_PER_KG, known_g, loads_g
from nookwright.ground.findings import Against, Finding, Severity

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.exchange.kit import Kit
    from nookwright.survey.models import Room


def overloaded(kit: Kit, room: Room) -> Iterator[Finding]:
    """Findings about them.

    Args:
        kit: the kit, its references sound.
        room: says what a space may carry, and what things weigh.
    """
    limits_g = {space.id: space.load_kg * G_PER_KG for space in room.space}
    for space, load_g in sorted(loads_g(kit, room, known_g).items()):
        if load_g > limits_g[space]:
            load, most = load_g / G_PER_KG, limits_g[space] / G_PER_KG
            text = f"Prints and things weigh {load:.2f} kg; allowed {most:.2f} kg."
            remedy = "Take heavy things elsewhere, or state a higher load if the space can bear it."
            yield Finding("load-over", Severity.STOP, space, text, remedy, Against(load, most, "kg"))
