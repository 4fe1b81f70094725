"""Whether all of a liner lies on the floor, and every seated part on its liner: how far it is above, and on what.

A part rests with its underside on the highest face below it that carries parts: a panel's, a deck's, a riser's; where
there is none, on the floor or on dots as thick as a panel. Faces are those of the files as written, the tops of cones
left out. Of a part that is too high, what ends at its underside is named: it stands on that, or it hangs in the air.
A part stands on those whose plastic is under it, not on one in whose hole, or beside whose arms, it stands.
What this does not know: how a part lies that is tilted, and how thick rubber dots are.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.bodies import matrix_of, moved_by
from nookwright.checks.in_words import called, names
from nookwright.checks.seats.drawn import SEATED
from nookwright.checks.seats.level import level_at
from nookwright.checks.seats.standing import ENGAGED, SUNK
from nookwright.checks.seats.words import stop
from nookwright.ground.findings import Against
from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from nookwright.checks.boxes import Floats
    from nookwright.checks.seats.drawn import Drawn
    from nookwright.checks.seats.members import Member
    from nookwright.checks.seats.standing import Stand
    from nookwright.exchange.kit import Kit, KitPart, Placement
    from nookwright.ground.findings import Finding

LIES = Fact(0.1, unit="mm", kind=Kind.CHOICE, source="Half of a thin layer: what is no farther above lies on it.")
BELOW = Fact(1.0, unit="mm", kind=Kind.CHOICE, source="What two parts share less of in plan carries nothing.")
LINER = frozenset({"panel", "filler", "key"})
_FLOOR = "the floor"
_AIR = ""


@dataclass(frozen=True)
class Raised:
    """A part that is too high.

    Attributes:
        placement: where it is.
        by: how far, mm.
        level: height of what it should rest on, mm above the floor.
        rest: what that is, in words.
        on: what ends at its underside, in words; empty where nothing does.
    """

    placement: Placement
    by: float
    level: float
    rest: str
    on: str


@dataclass(frozen=True, eq=False)
class _Level:
    """The placed parts of a space: (n, 2, 3) corners of their boxes, and the height of each one's face, (n,), mm."""

    those: tuple[Placement, ...]
    boxes: Floats
    faces: Floats


def raised_parts(kit: Kit, members: Mapping[str, Member], drawn: Drawn) -> tuple[Raised, ...]:
    """Parts of liners off the floor, and seated parts off their liners.

    Args:
        kit: the kit, its references sound.
        members: parts by id.
        drawn: the seat of the household.
    """
    parts = {part.id: part for part in kit.parts}
    return tuple(found for those in _by_space(kit).values() for found in _of_space(those, parts, members, drawn))


def check_carriers(
    kit: Kit, members: Mapping[str, Member], raised: Sequence[Raised], drawn: Drawn
) -> Iterator[Finding]:
    """Seated parts that by kit.json stand on something else than they do: loads would go astray.

    Args:
        kit: the kit, its references sound.
        members: parts by id.
        raised: parts that are too high, of which that is said.
        drawn: the seat of the household.
    """
    parts, names_of = {part.id: part for part in kit.parts}, {one.id: called(one) for one in kit.placements}
    too_high = {one.placement.id for one in raised}
    for those in _by_space(kit).values():
        level = _level_of(those, parts, members)
        for number, one in enumerate(those):
            if parts[one.part].kind not in SEATED or one.part not in members or one.id in too_high:
                continue
            at, _ = _carried(level, number, drawn)
            near = np.flatnonzero(_in_plan(level, number) & (np.abs(level.faces - at) <= LIES))
            low, high = level.boxes[number, :, :2]
            carriers = {
                other.id
                for other, face in ((those[int(which)], float(level.faces[which])) for which in near)
                if _under_it(members[other.part], matrix_of(other.space_from_part), face, (low, high))
            }
            if carriers != set(one.stands_on):
                said, true = (names([names_of[name] for name in sorted(ids)]) for ids in (one.stands_on, carriers))
                text = f"By kit.json it stands on {said or _FLOOR}; where it is, it stands on {true or _FLOOR}."
                yield stop("stands-otherwise", one.id, text, "Build the kit again; do not change kit.json by hand.")


def _by_space(kit: Kit) -> Mapping[str, list[Placement]]:
    """Placements by space, in their order."""
    found: dict[str, list[Placement]] = defaultdict(list)
    for one in kit.placements:
        found[one.space].append(one)
    return found


def check_resting(raised: Sequence[Raised], stands: Sequence[Stand]) -> Iterator[Finding]:
    """What to say of parts that are too high.

    Args:
        raised: those parts.
        stands: every seated part in its place.
    """
    seats = {stand.placement.id: stand for stand in stands}
    for one in raised:
        where = f"there it stands on {one.on}" if one.on else "nothing carries it there"
        below = f"its underside is at {one.level + one.by:.1f} mm, what should carry it ({one.rest}) ends at"
        text = f"It stands {one.by:.1f} mm too high: {below} {one.level:.1f} mm; {where}."
        if one.rest == _FLOOR:
            text = f"It lies {one.by:.1f} mm above the floor of its space; {where}."
        text += _cones(seats.get(one.placement.id))
        yield stop("part-raised", one.placement.id, text, against=Against(one.by, float(LIES), "mm"))


def _cones(stand: Stand | None) -> str:
    """What that means for the cones below a seated part, in words."""
    if stand is None:
        return ""
    best = float(stand.in_socket.max(initial=0.0))
    if best <= 0:
        return " No cone reaches into it: nothing keeps it from sliding."
    keeps = "which still holds" if best >= ENGAGED else "too little to hold"
    return f" Cones reach {best:.1f} mm into it, {keeps} (from {ENGAGED:g} mm on)."


def _of_space(
    those: Sequence[Placement], parts: Mapping[str, KitPart], members: Mapping[str, Member], drawn: Drawn
) -> Iterator[Raised]:
    """The parts of one space that are too high."""
    level = _level_of(those, parts, members)
    for number, one in enumerate(those):
        kind, bottom = parts[one.part].kind, float(level.boxes[number, 0, 2])
        if kind in LINER and bottom > LIES:
            yield Raised(one, bottom, 0.0, _FLOOR, _under(level, number))
        elif kind in SEATED:
            at, rest = _carried(level, number, drawn)
            if bottom - at > LIES:
                yield Raised(one, bottom - at, at, rest, _under(level, number))


def _level_of(those: Sequence[Placement], parts: Mapping[str, KitPart], members: Mapping[str, Member]) -> _Level:
    """Boxes and faces of the parts of a space."""
    boxes = np.empty((len(those), 2, 3))
    faces = np.full(len(those), -np.inf)
    for number, one in enumerate(those):
        matrix, part = matrix_of(one.space_from_part), parts[one.part]
        corners = moved_by(matrix, np.array([(0.0, 0.0, 0.0), part.size]))
        boxes[number] = corners.min(axis=0), corners.max(axis=0)
        member = members.get(one.part)
        if member and part.kind in ("panel", "lid", "riser"):
            cones = member.cones
            faces[number] = matrix[2, 3] + float(cones.face.max()) if len(cones) else boxes[number, 1, 2]
    return _Level(tuple(those), boxes, faces)


def _in_plan(level: _Level, number: int) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
    """Which parts share enough of a part's plan to carry it."""
    low, high = level.boxes[number]
    shared = np.minimum(level.boxes[:, 1, :2], high[:2]) - np.maximum(level.boxes[:, 0, :2], low[:2])
    meets: np.ndarray[tuple[int], np.dtype[np.bool_]] = (shared > BELOW).all(axis=1)
    meets[number] = False
    return meets


def _carried(level: _Level, number: int, drawn: Drawn) -> tuple[float, str]:
    """Height of what should carry a part, mm, and what that is."""
    bottom = float(level.boxes[number, 0, 2])
    below = _in_plan(level, number) & np.isfinite(level.faces) & (level.faces <= bottom + SUNK)
    if below.any():
        best = int(np.argmax(np.where(below, level.faces, -np.inf)))
        return float(level.faces[best]), level.those[best].label
    dots = bottom <= drawn.seat.panel + LIES
    return (bottom, "its dots") if dots else (0.0, _FLOOR)


def _under_it(member: Member, matrix: Floats, face: float, box: tuple[Floats, Floats]) -> bool:
    """Whether plastic of a carrying part, at its face, is under a box of the space in plan by more than a touch."""
    if (box[1] - box[0] <= 2 * BELOW).any():
        return True  # too narrow to tell
    inside = np.column_stack([(box[0] + BELOW, box[1] - BELOW), np.full(2, face - LIES)])
    corners = moved_by(np.asarray(np.linalg.inv(matrix), dtype=np.float64), inside)
    low, high = corners.min(axis=0), corners.max(axis=0)
    return any(
        level_at(shape, float(low[2] - at[2, 3])).meets(low[:2] - at[:2, 3], high[:2] - at[:2, 3])
        for shape, at in member.made
    )


def _under(level: _Level, number: int) -> str:
    """What ends at the underside of a part, in words; empty where nothing does."""
    bottom = float(level.boxes[number, 0, 2])
    meets = _in_plan(level, number)
    tops = np.flatnonzero(meets & (np.abs(level.boxes[:, 1, 2] - bottom) <= LIES))
    if not len(tops):
        return _AIR
    first = int(tops[0])
    name = level.those[first].label
    return f"the cones of {name}" if np.isfinite(level.faces[first]) else name
