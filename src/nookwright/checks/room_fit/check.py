"""All that room is needed for, space by space: the table of contents of this folder."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.checks.room_fit.furnished import furnished
from nookwright.checks.room_fit.gaps import check_gaps
from nookwright.checks.room_fit.grown import check_grown
from nookwright.checks.room_fit.moved import Ways
from nookwright.checks.room_fit.openings import check_openings
from nookwright.checks.room_fit.printed import largest_of
from nookwright.checks.room_fit.resting import check_resting
from nookwright.checks.room_fit.sag import SAID, check_sag
from nookwright.checks.room_fit.things_grip import check_things_grip
from nookwright.checks.room_fit.things_out import check_things_out
from nookwright.checks.room_fit.travel import check_travel
from nookwright.checks.room_fit.trays_grip import check_trays_grip
from nookwright.checks.room_fit.ways_out import check_ways_out

if TYPE_CHECKING:
    from collections.abc import Mapping

    from nookwright.checks.bodies import Shape
    from nookwright.checks.shared import Overlaps
    from nookwright.checks.verdicts import Verdicts
    from nookwright.exchange.kit import Kit
    from nookwright.ground.findings import Finding
    from nookwright.survey.models import Room


def check_room_fit(
    kit: Kit, room: Room, shapes: Mapping[str, Shape], overlaps: Overlaps, verdicts: Verdicts
) -> tuple[Finding, ...]:
    """Check that all has room to be there, to come in and to be taken out.

    Args:
        kit: the kit, its references sound.
        room: the room that it is for.
        shapes: sound meshes by file; a part whose mesh is not among them is passed over.
        overlaps: measures shared volumes.
        verdicts: reached before.
    """
    spaces, largest = furnished(kit, room, shapes), largest_of(kit)
    ways = Ways(verdicts, overlaps)
    return (
        *check_gaps(spaces, largest, ways),
        *check_sag(spaces, largest, {found.subject for found in kit.findings if found.code == SAID}),
        *check_grown(spaces, largest),
        *check_travel(spaces),
        *check_openings(spaces, kit, shapes, largest),
        *check_resting(spaces, ways),
        *check_ways_out(spaces, largest, ways),
        *check_things_out(spaces, ways),
        *check_things_grip(spaces),
        *check_trays_grip(spaces),
    )
