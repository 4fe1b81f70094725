"""All that is to be said about keeping a kit clean, from its files and its room."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.checks.care.drains import check_drains
from nookwright.checks.care.hollows import check_hollows
from nookwright.checks.care.lifting import lifting
from nookwright.checks.care.places import misplaced

if TYPE_CHECKING:
    from collections.abc import Mapping

    from nookwright.checks.bodies import Shape
    from nookwright.checks.verdicts import Verdicts
    from nookwright.exchange.kit import Kit
    from nookwright.ground.findings import Finding
    from nookwright.survey.models import Room


def check_care(
    kit: Kit, room: Room, written: Mapping[str, Shape], sound: Mapping[str, Shape], verdicts: Verdicts
) -> tuple[Finding, ...]:
    """Findings about cleaning, water and warmth.

    Args:
        kit: the kit, its references sound.
        room: says where it gets wet or warm.
        written: meshes by file, the unsound ones too.
        sound: those that are sound.
        verdicts: those reached before.
    """
    return (
        *lifting(kit, room, sound),
        *check_hollows(kit, room, written, sound, verdicts),
        *check_drains(kit, room, sound),
        *misplaced(kit, room),
    )
