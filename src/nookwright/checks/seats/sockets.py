"""Sockets of every part that stands on cones, as found in its pieces, against what the module asks for.

Looked for: a cell without a socket, a socket off its cell, one of the wrong width for its ring, one whose slope, depth
or lead-in is not the seat's. A cell that the part leaves open (a bent tray, a shoe with an open floor) needs none, as
long as a cone there meets nothing. What it does not know: how the printer changes sizes.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.in_words import OURS, some
from nookwright.checks.seats.drawn import SEATED, Footprint, footprint_of
from nookwright.checks.seats.rounds import BESIDE, SAME_PLACE
from nookwright.checks.seats.words import are, at, stop
from nookwright.ground.findings import Against
from nookwright.ground.sources import Fact, Kind
from nookwright.module.seat import LEAD_IN, LEAD_IN_HEIGHT

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from nookwright.checks.boxes import Floats, Indices
    from nookwright.checks.bridges import Which as Flags
    from nookwright.checks.seats.drawn import Drawn
    from nookwright.checks.seats.members import Member
    from nookwright.checks.seats.rounds import Rounds
    from nookwright.ground.findings import Finding

EXACT = Fact(
    0.03,
    unit="mm",
    kind=Kind.CALCULATED,
    source="Three times what a mesh is off the true circle, and less than half of a step from ring to ring.",
)
SAME_DRAW = Fact(
    0.018, unit="mm/mm", kind=Kind.CALCULATED, source="One degree of slope at 75 degrees; the window is 73 to 78."
)
HALF_DRAW = Fact(0.5, unit="1", kind=Kind.CHOICE, source="A hole with less than this share of the draw is no socket.")


def check_sockets(members: Mapping[str, Member], drawn: Drawn) -> Iterator[Finding]:
    """Faults of the sockets of all parts that stand on cones, at most one of a kind for each part.

    Args:
        members: parts by id.
        drawn: the seat that they should have.
    """
    for member in members.values():
        if member.part.kind in SEATED:
            yield from _check(member, drawn)


def matched(rounds: Rounds, places: Floats, within: float) -> tuple[Indices, Floats]:
    """For each place the nearest cone or socket and how far it is, mm; -1 where none is within a distance.

    Args:
        rounds: cones or sockets.
        places: (n, 2), mm.
        within: mm.
    """
    if not len(rounds) or not len(places):
        return np.full(len(places), -1), np.full(len(places), np.inf)
    away = np.hypot(*(places[:, None] - rounds.places[None]).transpose(2, 0, 1))
    nearest = away.argmin(axis=1)
    least = away[np.arange(len(places)), nearest]
    return np.where(least <= within, nearest, -1), least


def _check(member: Member, drawn: Drawn) -> Iterator[Finding]:
    """Faults of one part."""
    footprint = footprint_of(member.part, drawn.pitch)
    tapered = member.sockets.draw >= HALF_DRAW * drawn.draw
    nearest, away = matched(member.sockets, footprint.places, drawn.pitch / 2)
    mine = nearest >= 0
    mine[mine] = (away[mine] <= SAME_PLACE) | tapered[nearest[mine]]
    yield from _absent(member, footprint, ~mine, drawn)
    yield from _shifted(member, nearest, np.where(mine, away, 0.0))
    yield from _astray(member, footprint, tapered, drawn)
    here = np.flatnonzero(mine)
    yield from _widths(member, footprint, here, nearest[here], drawn)
    yield from _shapes(member, nearest[here], drawn)


def _absent(member: Member, footprint: Footprint, absent: Flags, drawn: Drawn) -> Iterator[Finding]:
    """Cells in which a cone would meet the part's underside."""
    cells = footprint.places[absent]
    if not len(cells):
        return
    clear = np.minimum(member.clear(cells, LEAD_IN_HEIGHT + BESIDE), member.clear(cells, float(BESIDE)))
    closed = clear < 0
    if closed.any():
        text = (
            f"Of its {footprint.in_words} {closed.sum()} {'has' if closed.sum() == 1 else 'have'} no socket, the first "
            f"{at(cells[closed][0])}; a cone there lifts it by {drawn.seat.cone_height:g} mm."
        )
        yield stop("socket-missing", member.part.id, text, against=Against(float(closed.sum()), 0.0, "1"))
    least = drawn.seat.cone_base + drawn.seat.clearance
    tight = ~closed & (clear < least)
    if tight.any():
        worst = int(np.flatnonzero(tight)[clear[tight].argmin()])
        text = (
            f"In {some(int(tight.sum()), 'cell')} a cone lacks room, the worst {at(cells[worst])}: "
            f"{2 * clear[worst]:.2f} mm instead of {2 * least:.2f} mm."
        )
        yield stop("socket-tight", member.part.id, text, against=Against(float(2 * clear[worst]), 2 * least, "mm"))


def _shifted(member: Member, nearest: Indices, away: Floats) -> Iterator[Finding]:
    """Sockets off the middle of their cell."""
    off = away > EXACT
    if off.any():
        worst = int(away.argmax())
        text = (
            f"{are(int(off.sum()), 'socket')} off the middle of its cell, the worst by {away[worst]:.2f} mm, "
            f"{at(member.sockets.places[nearest[worst]])}; allowed {EXACT:g} mm."
        )
        yield stop("socket-shifted", member.part.id, text, against=Against(float(away[worst]), float(EXACT), "mm"))


def _astray(member: Member, footprint: Footprint, tapered: Flags, drawn: Drawn) -> Iterator[Finding]:
    """Sockets that no cell is near: they belong to no cone."""
    if not len(member.sockets):
        return
    away = np.hypot(*(member.sockets.places[:, None] - footprint.places[None]).transpose(2, 0, 1)).min(axis=1)
    astray = tapered & (away > drawn.pitch / 2)
    if astray.any():
        text = (
            f"{are(int(astray.sum()), 'socket')} outside of its {footprint.in_words}, the first "
            f"{at(member.sockets.places[astray][0])}."
        )
        yield stop("socket-shifted", member.part.id, text)


def _widths(member: Member, footprint: Footprint, here: Indices, nearest: Indices, drawn: Drawn) -> Iterator[Finding]:
    """Sockets whose clearance is not that of their ring."""
    if not len(here):
        return
    distance = np.hypot(*(footprint.places[here] - np.array(footprint.middle)).T)
    asked = np.array([drawn.clearance(float(one)) for one in distance])
    found = member.sockets.wide[nearest] - drawn.seat.cone_base
    for code, beyond, how in (("socket-tight", asked - found, "narrow"), ("socket-wide", found - asked, "wide")):
        worst = int(beyond.argmax())
        if beyond[worst] > EXACT:
            text = (
                f"{are(int((beyond > EXACT).sum()), 'socket')} too {how}: {at(member.sockets.places[nearest[worst]])} "
                f"a cone has {found[worst]:.2f} mm on each side; {distance[worst]:.0f} mm from the part's middle it "
                f"should have {asked[worst]:.1f} mm."
            )
            against = Against(float(found[worst]), float(asked[worst]), "mm")
            yield stop(code, member.part.id, text, OURS, against)


def _shapes(member: Member, nearest: Indices, drawn: Drawn) -> Iterator[Finding]:
    """Sockets that are too shallow or too deep, of another slope, or without their lead-in."""
    sockets, seat = member.sockets, drawn.seat
    for code, what, found, asked, exact, unit in (
        ("socket-shallow", "not {} mm deep", sockets.height, seat.socket_depth, float(EXACT), "mm"),
        ("socket-slope", "not drawn in by {} mm a mm of depth", sockets.draw, drawn.draw, float(SAME_DRAW), "mm/mm"),
        ("socket-lead-in", "not {} mm wider at the mouth", sockets.lead, float(LEAD_IN), float(EXACT), "mm"),
    ):
        off = np.abs(found[nearest] - asked)
        if code != "socket-slope":  # a deeper socket, a hole through the floor, a wider lead-in do as well
            off = asked - found[nearest]
        if len(off) and off.max() > exact:
            worst = nearest[int(off.argmax())]
            text = (
                f"{are(int((off > exact).sum()), 'socket')} {what.format(f'{asked:.3g}')}: {at(sockets.places[worst])} "
                f"it is {found[worst]:.3g} mm."
            )
            yield stop(code, member.part.id, text, OURS, Against(float(found[worst]), float(asked), unit))
