"""Lots that must not stand where it gets warm or wet, and do."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.checks.in_words import OURS
from nookwright.ground.findings import Finding, Severity

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.exchange.kit import Kit
    from nookwright.survey.models import Room


def misplaced(kit: Kit, room: Room) -> Iterator[Finding]:
    """Findings about them.

    Args:
        kit: the kit, its references sound.
        room: says which spaces get warm or wet, and which lots must not stand there.
    """
    spaces = {space.id: space for space in room.space}
    space_of = {placement.id: placement.space for placement in kit.placements}
    placed = {lot.id: {space_of[place.placement] for place in lot.places} for lot in kit.lots}
    for lot in room.lot:
        for name in sorted(placed.get(lot.id, ())):
            if lot.keep_dry and spaces[name].wet:
                text = f"It must be kept dry and lies in {name}, which may get wet."
                yield Finding("lot-in-wet", Severity.STOP, lot.id, text, OURS)
            if lot.keep_cool and spaces[name].warm:
                text = f"It must be kept cool and lies in {name}, which gets warm."
                yield Finding("lot-in-warm", Severity.STOP, lot.id, text, OURS)
