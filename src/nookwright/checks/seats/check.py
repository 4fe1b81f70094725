"""All that is looked at about seats, in one call; every distinct mesh and every set of sockets once."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.checks.gathering import gathered
from nookwright.checks.seats.cones import check_cones
from nookwright.checks.seats.dividers import check_dividers
from nookwright.checks.seats.drawn import drawn_of
from nookwright.checks.seats.engaged import check_engaged
from nookwright.checks.seats.going_on import check_going_on
from nookwright.checks.seats.lids import check_lids
from nookwright.checks.seats.members import made_of, members_of
from nookwright.checks.seats.play import check_play
from nookwright.checks.seats.pockets import check_pockets
from nookwright.checks.seats.press_lids import check_press_lids
from nookwright.checks.seats.resting import check_carriers, check_resting, raised_parts
from nookwright.checks.seats.sockets import check_sockets
from nookwright.checks.seats.standing import stands_of
from nookwright.checks.seats.strips import check_strips
from nookwright.checks.seats.swapping import check_swapping
from nookwright.ground.progress import Silent
from nookwright.sizing.printers.household import household_of

if TYPE_CHECKING:
    from collections.abc import Mapping

    from nookwright.checks.bodies import Shape
    from nookwright.checks.verdicts import Verdicts
    from nookwright.exchange.kit import Kit
    from nookwright.ground.findings import Finding
    from nookwright.ground.progress import Progress
    from nookwright.survey.models import Room

_NOBODY = Silent()


def check_seats(
    kit: Kit, room: Room, shapes: Mapping[str, Shape], verdicts: Verdicts, progress: Progress = _NOBODY
) -> tuple[Finding, ...]:
    """Cones, sockets, engagement, the probability of going on, exchange, play; lids and pockets.

    Args:
        kit: the kit, its references sound.
        room: the room that it is for.
        shapes: sound meshes by file; a part that is not whole among them is passed over.
        verdicts: those reached before.
        progress: hears how far it has come.
    """
    drawn, errors = drawn_of(kit, room), household_of(room).envelope
    members = members_of(kit, shapes, verdicts)
    stands = stands_of(kit, members, drawn)
    raised = raised_parts(kit, members, drawn)
    too_high = frozenset(one.placement.id for one in raised)
    return (
        *gathered(check_sockets(members, drawn)),
        *gathered(check_cones(kit, members, drawn)),
        *gathered(check_resting(raised, stands)),
        *gathered(check_carriers(kit, members, raised, drawn)),
        *gathered(check_engaged(kit, stands, made_of(kit, shapes), too_high=too_high)),
        *check_going_on(kit, stands, drawn, verdicts, progress),
        *check_swapping(kit, stands, drawn),
        *check_play(kit, room, stands),
        *check_lids(kit, members, errors),
        *check_press_lids(members, drawn, errors),
        *check_dividers(kit, members, errors),
        *check_strips(kit, made_of(kit, shapes), errors),
        *check_pockets(kit, room, members, errors),
    )
