"""How far parts can move in their seats and between each other, and where glass or metal asks for quiet.

A part shifts until the tightest socket about a cone stops it; turned about its middle it moves farthest at a corner.
Both follow from the clearances found in its file and the cones under it. A part on one cone turns with its neighbours'
leave: that is looked at elsewhere. What it does not know: how printers change clearances; how loud a drawer is.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.bodies import moved_by
from nookwright.checks.in_words import names
from nookwright.ground.findings import Against, Finding, Severity
from nookwright.ground.sources import Fact, Kind
from nookwright.ground.tolerances import GRID, MESH
from nookwright.survey.origins import Process

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from nookwright.checks.boxes import Floats
    from nookwright.checks.seats.standing import Stand
    from nookwright.exchange.kit import Kit
    from nookwright.survey.models import Lot, Room

QUIET = Fact(
    0.3, unit="mm", kind=Kind.CHOICE, source="Glass and metal that can move by more clink; no more than a sliding fit."
)
CLINKS = frozenset({Process.MOULDED_GLASS, Process.BLOWN_GLASS, Process.CERAMICS})


def asks_for_quiet(lot: Lot) -> bool:
    """Whether a lot should lie still: as the room file says, else if it is of glass or ceramics."""
    return lot.made in CLINKS if lot.quiet is None else lot.quiet


def shift(stand: Stand) -> float:
    """How far a part can shift to each side, mm; infinite where no cone holds it."""
    return float(np.min(stand.play[stand.holds], initial=np.inf))


def at_corner(stand: Stand) -> float:
    """How far a corner can move when the part turns about its middle between its cones, mm; at least its shift."""
    held = stand.holds
    arms = np.hypot(*(stand.cones[held] - np.array(stand.footprint.middle)).T)
    if held.sum() <= 1:
        return shift(stand)
    angle = float((stand.play[held] / np.maximum(arms, GRID)).min())
    width, depth, _ = stand.member.part.size
    return max(shift(stand), angle * float(np.hypot(width, depth)) / 2)


def gaps(stands: Sequence[Stand]) -> tuple[float, float] | None:
    """The least and the greatest gap from a part to the nearest one beside it on its level, mm; none without any."""
    if not stands:
        return None
    boxes = np.array([_box(stand) for stand in stands])
    spaces = np.array([stand.placement.space for stand in stands])
    found: list[float] = []
    for number, stand in enumerate(stands):
        apart = np.maximum(boxes[number, 0] - boxes[:, 1], boxes[:, 0] - boxes[number, 1])
        facing = (spaces == spaces[number]) & (apart[:, 2] < 0) & ((apart[:, :2] < 0).sum(axis=1) == 1)
        nearest = float(apart[facing, :2].max(axis=1).min(initial=np.inf))
        if nearest <= stand.footprint.pitch / 2:
            found.append(nearest)
    return (min(found), max(found)) if found else None


def check_play(kit: Kit, room: Room, stands: Sequence[Stand]) -> Iterator[Finding]:
    """How far seated parts move, and the quiet lots whose parts may rattle.

    Args:
        kit: the kit, its references sound.
        room: says which lots ask for quiet.
        stands: every seated part in its place.
    """
    held = [stand for stand in stands if stand.holds.any()]
    if not held:
        return
    yield _said(held)
    yield from _rattling(kit, room, held)


def _said(held: Sequence[Stand]) -> Finding:
    """The play of all parts, in one finding."""
    kinds: dict[str, float] = {}
    for stand in held:
        kinds[stand.member.part.kind] = max(kinds.get(stand.member.part.kind, 0.0), shift(stand))
    loosest = max(held, key=at_corner)
    each = ", ".join(f"{kind} {play:.1f}" for kind, play in sorted(kinds.items()))
    beside = gaps(held)
    between = f" Neighbours stand {_range(*beside)} mm apart." if beside else ""
    text = (
        f"Seated parts can shift to each side by at most (mm): {each}. A corner of {loosest.placement.label} moves by "
        f"up to {at_corner(loosest):.1f} mm when it turns.{between}"
    )
    remedy = "Nothing has to be done; a coupon of each printer halves what grows with the size of a part."
    return Finding("seat-play", Severity.NOTE, "kit", text, remedy, Against(max(kinds.values()), float(QUIET), "mm"))


def _range(least: float, most: float) -> str:
    """Two figures as a range, or as one where they read the same.

    >>> _range(0.6, 0.7), _range(0.6, 0.61)
    ('0.6 to 0.7', '0.6')
    """
    low, high = f"{least:.1f}", f"{most:.1f}"
    return low if low == high else f"{low} to {high}"


def _rattling(kit: Kit, room: Room, held: Sequence[Stand]) -> Iterator[Finding]:
    """Lots that ask for quiet in parts that move."""
    quiet = {lot.id for lot in room.lot if asks_for_quiet(lot)}
    plays = {stand.placement.id: shift(stand) for stand in held}
    called = {lot.id: lot.name for lot in kit.lots}
    loose = {
        lot.id: max((plays.get(place.placement, 0.0) for place in lot.places), default=0.0)
        for lot in kit.lots
        if lot.id in quiet
    }
    loose = {name: play for name, play in loose.items() if play > QUIET + MESH}
    if not loose:
        return
    worst = max(loose, key=lambda name: loose[name])
    most = f", that of {called[worst]} the most" if len(loose) > 1 else ""
    text = (
        f"{names([called[name] for name in loose])} should lie quietly, and what holds them moves in its seat by up to "
        f"{loose[worst]:.1f} mm{most}; quiet is up to {QUIET:g} mm."
    )
    remedy = (
        "Lay felt under the things, put a dot of rubber between part and liner, or print the coupon for closer seats."
    )
    yield Finding("rattle", Severity.NOTE, worst, text, remedy, Against(loose[worst], float(QUIET), "mm"))


def _box(stand: Stand) -> Floats:
    """Least and greatest corner of a part where it stands, (2, 3), mm."""
    corners = moved_by(stand.matrix, np.array([(0.0, 0.0, 0.0), stand.member.part.size]))
    return np.array([corners.min(axis=0), corners.max(axis=0)])
