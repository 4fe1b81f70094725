"""How every part stands on the cones under it: which are in a socket and how far, and which meet its floor.

A part rests with the face of its underside on straps; a cone holds while it is far enough in a socket. A bowed floor is
a paraboloid: over a hollow a stiff part stands on its ends and hangs in the middle, on a bulge it rests on its middle;
where it hangs, cones reach less far in. Which cones are under a part follows from where it lies, not from what the kit
says that it stands on. What it does not know: parts that bend.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeAlias

import numpy as np
import numpy.typing as npt

from nookwright.checks.bodies import matrix_of, moved_by
from nookwright.checks.seats.drawn import SEATED, footprint_of
from nookwright.checks.seats.members import in_space
from nookwright.checks.seats.rounds import BESIDE
from nookwright.checks.seats.sockets import matched
from nookwright.ground.sources import Fact, Kind
from nookwright.ground.tolerances import GRID, MESH
from nookwright.module.seat import LEAD_IN_HEIGHT

if TYPE_CHECKING:
    from collections.abc import Mapping

    from nookwright.checks.boxes import Floats
    from nookwright.checks.seats.drawn import Drawn, Footprint
    from nookwright.checks.seats.members import Member
    from nookwright.exchange.kit import Kit, KitSpace, Placement

Flags: TypeAlias = npt.NDArray[np.bool_]

ENGAGED = Fact(
    1.0,
    unit="mm",
    kind=Kind.CALCULATED,
    source="A cone holds while it is at least so far in its socket: its slope holds.",
)
SUNK = Fact(
    1.0,
    unit="mm",
    kind=Kind.CHOICE,
    source="A cone that starts higher above an underside stands on the part, not under.",
)


@dataclass(frozen=True, eq=False)
class Stand:
    """A seated part in its place; n cones are under it.

    Attributes:
        placement: where it is.
        member: what it is, as it is printed.
        footprint: its cells, in its own axes.
        cones: middles of the cones, in its own axes, (n, 2), mm.
        in_socket: how far each reaches into its socket; 0 for one that is in none, (n,), mm.
        play: how far the part can move to each side about each, infinite for one that is in none, (n,), mm.
        hang: how far the part hangs off the floor's curve at each, (n,), mm.
        meets: which meet the underside instead of a socket, (n,).
        on_floor: whether the cones are those of panels.
    """

    placement: Placement
    member: Member
    footprint: Footprint
    cones: Floats
    in_socket: Floats
    play: Floats
    hang: Floats
    meets: Flags
    on_floor: bool

    @property
    def holds(self) -> Flags:
        """Which cones are far enough in a socket to hold the part."""
        held: Flags = self.in_socket >= ENGAGED - GRID
        return held

    @property
    def matrix(self) -> Floats:
        """Takes the part to its space, 4 x 4."""
        return matrix_of(self.placement.space_from_part)


@dataclass(frozen=True, eq=False)
class _Cones:
    """The cones of a space: middle and height of the face, (n, 3); height, width and draw, (n,); of a panel, (n,)."""

    feet: Floats
    height: Floats
    wide: Floats
    draw: Floats
    floor: Flags


def stands_of(kit: Kit, members: Mapping[str, Member], drawn: Drawn) -> tuple[Stand, ...]:
    """Every seated part of a space, on the cones that are under it; none where there are none.

    Args:
        kit: the kit, its references sound.
        members: parts by id.
        drawn: the seat of the household.
    """
    spaces, cones = {space.id: space for space in kit.spaces}, _cones(kit, members)
    return tuple(
        _stand(one, members[one.part], cones[one.space], spaces[one.space], drawn)
        for one in kit.placements
        if one.part in members and members[one.part].part.kind in SEATED
    )


def _cones(kit: Kit, members: Mapping[str, Member]) -> Mapping[str, _Cones]:
    """All cones by space."""
    found: dict[str, list[_Cones]] = {space.id: [] for space in kit.spaces}
    for placement in kit.placements:
        member = members.get(placement.part)
        if member and len(member.cones):
            cones, panel = member.cones, member.part.kind == "panel"
            feet = in_space(cones, matrix_of(placement.space_from_part))
            found[placement.space].append(
                _Cones(feet, cones.height, cones.wide, cones.draw, np.full(len(cones), panel))
            )
    return {name: _joined(each) for name, each in found.items()}


def _joined(each: list[_Cones]) -> _Cones:
    """Cones of several parts in one."""
    empty = _Cones(np.empty((0, 3)), np.empty(0), np.empty(0), np.empty(0), np.empty(0, dtype=bool))
    return _Cones(
        *(
            np.concatenate([getattr(one, name) for one in (empty, *each)])
            for name in ("feet", "height", "wide", "draw", "floor")
        )
    )


def _stand(placement: Placement, member: Member, cones: _Cones, space: KitSpace, drawn: Drawn) -> Stand:
    """One part on the cones under it."""
    matrix, footprint = matrix_of(placement.space_from_part), footprint_of(member.part, drawn.pitch)
    back = np.asarray(np.linalg.inv(matrix), dtype=np.float64)
    feet = moved_by(back, cones.feet)
    size = np.array(member.part.size)
    under = ((feet[:, :2] > 0) & (feet[:, :2] < size[:2])).all(axis=1)
    under &= (feet[:, 2] + cones.height > 0) & (feet[:, 2] <= SUNK)
    feet, places = feet[under], feet[under][:, :2]
    on_floor = bool(cones.floor[under].any())
    hang = _hang(space, places, footprint, matrix) if on_floor else np.zeros(len(places))
    nearest, off = matched(member.sockets, places, drawn.pitch / 2)
    in_one = nearest >= 0
    foot = cones.wide[under] + cones.draw[under] * feet[:, 2]  # radius where it passes the underside
    room = np.where(in_one, _taken(member.sockets.wide, nearest) - foot, -np.inf)
    goes = in_one & (off <= room + MESH)
    reach = np.minimum(feet[:, 2] + cones.height[under], _taken(member.sockets.height, nearest)) - hang
    play = np.where(goes, room - off + cones.draw[under] * hang, np.inf)
    meets = ~goes
    meets[~goes] = _clear(member, places[~goes]) < foot[~goes] - MESH
    in_socket = np.where(goes, np.maximum(reach, 0.0), 0.0)
    return Stand(placement, member, footprint, places, in_socket, play, hang, meets, on_floor)


def _taken(values: Floats, numbers: npt.NDArray[np.int64]) -> Floats:
    """Values at some numbers; whatever the first is where a number is -1."""
    taken: Floats = values[np.maximum(numbers, 0)] if len(values) else np.zeros(len(numbers))
    return taken


def _clear(member: Member, places: Floats) -> Floats:
    """Room about each place in the underside, mm; negative inside plastic."""
    if not len(places):
        return np.empty(0)
    return np.minimum(member.clear(places, float(BESIDE)), member.clear(places, LEAD_IN_HEIGHT + BESIDE))


def _hang(space: KitSpace, places: Floats, footprint: Footprint, matrix: Floats) -> Floats:
    """How far a stiff part hangs off the curve of its floor at places of its own axes, mm."""
    turned = np.abs(matrix[:2, :2])
    from_middle = np.abs(places - np.array(footprint.middle)) @ turned.T
    half = turned @ np.array([footprint.cols, footprint.rows]) * footprint.pitch / 2
    return hang_at(space, from_middle, half)


def hang_at(space: KitSpace, from_middle: Floats, half: Floats) -> Floats:
    """How far a stiff part hangs off the curve of its floor, mm.

    Args:
        space: with its bow and its sides.
        from_middle: (n, 2), from the middle of the part along the sides of the space, mm.
        half: (2,), half of the part's sides along those of the space, mm.
    """
    if not space.bow or not space.usable:
        return np.zeros(len(from_middle))
    sides = np.maximum(np.array([space.usable[0].width, space.usable[0].depth]), GRID)
    away = half**2 - from_middle**2 if space.bow > 0 else from_middle**2
    hang: Floats = np.clip(4 * abs(space.bow) * (away / sides**2).sum(axis=1), 0.0, abs(space.bow))
    return hang
