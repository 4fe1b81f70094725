"""Whether every tray can be taken with its neighbours in place.

A tray is taken by two opposite sides, at their middles or near them, a little below its rim. It can be taken where the
hand gets down to it, and fingers find room on the outside of both walls to press them together, or inside of both, to
spread them or to pull at a notch, or thumb and finger on the two sides of one wall. What stands on it is put aside
before; what is in it is not. Height counts: of neighbours, of their things, and of the things in it. Cradles and rests
are taken by what stands up in them, and are not looked at.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.room_fit.cuts import Strip, cut_of, hits, joined, rectangle, room
from nookwright.ground.findings import Finding, Severity
from nookwright.ground.sources import Fact, Kind
from nookwright.sizing.ways.clearances import HAND_WIDTH

if TYPE_CHECKING:
    from nookwright.checks.boxes import Floats
    from nookwright.checks.room_fit.furnished import Furnished, Stood

TIP = Fact(
    8.0, unit="mm", kind=Kind.MEMORY, source="Room for the very tip of a finger, which is 7 to 9 thick in adults."
)
HOLD = Fact(6.0, unit="mm", kind=Kind.CHOICE, source="So much of a wall, below its rim, is enough for fingers to hold.")
HAND = Fact(100.0, unit="mm", kind=Kind.MEMORY, source="Breadth of a large hand over the knuckles, with a little room.")
DOWN = Fact(
    15.0,
    unit="mm",
    kind=Kind.COMMON_PRACTICE,
    source="A fingertip still reaches a rim that lies so far below the next.",
)
THICKEST_WALL = Fact(4.0, unit="mm", kind=Kind.CHOICE, source="Walls, also swollen to a ledge, are no thicker.")
_PLACES = (0.5, 0.25, 0.75)  # along a side
_TAKEN_BY_RIM = frozenset({"tray", "nest", "drawer"})


def check_trays_grip(spaces: tuple[Furnished, ...]) -> list[Finding]:
    """One note for the trays of a space that a hand does not get hold of.

    Args:
        spaces: with what stands in them.
    """
    found = []
    for space in spaces:
        hard = [one for one in space.stood if one.kind in _TAKEN_BY_RIM and not can_be_taken(space, one)]
        if hard:
            found.append(_said(space, hard))
    return found


def can_be_taken(space: Furnished, one: Stood) -> bool:
    """Whether a hand gets hold of a tray.

    Args:
        space: where it is.
        one: the tray.
    """
    z = float(one.high[2]) - float(HOLD)
    own, around, inside = _lines(space, one, z)
    above = _round(space, one, float(one.high[2]) + float(DOWN))
    for axis in (0, 1):
        pair = (180.0, 0.0) if axis == 0 else (270.0, 90.0)
        span = float(one.high[axis] - one.low[axis])
        for place in _PLACES:
            spots = [_spot(one, angle, place) for angle in pair]
            if span < HAND and not any(room(above, Strip(*spot, float(TIP))) >= TIP for spot in spots):
                continue
            out = [room(around, Strip(*spot, float(TIP))) >= TIP for spot in spots]
            within = [_within(own, inside, *spot) for spot in spots]
            if all(out) or any(a and b for a, b in zip(out, within, strict=True)):
                return True
            if all(within) and span - 2 * THICKEST_WALL >= HAND_WIDTH - THICKEST_WALL:
                return True
    return False


def _spot(one: Stood, angle: float, place: float) -> tuple[tuple[float, float], float]:
    """A place on the outside of a side, and the direction away from the tray."""
    x, y = one.low[:2] + place * (one.high - one.low)[:2]
    turn = math.radians(angle)
    if abs(math.cos(turn)) > abs(math.sin(turn)):
        x = one.high[0] if math.cos(turn) > 0 else one.low[0]
    else:
        y = one.high[1] if math.sin(turn) > 0 else one.low[1]
    return (float(x), float(y)), angle


def _within(own: Floats, inside: Floats, at: tuple[float, float], angle: float) -> bool:
    """Whether a finger finds room inside of a wall: between it and what is in the tray."""
    inwards = Strip(at, angle + 180.0, float(TIP))
    wall = hits(own, inwards)
    face = float(wall[wall <= THICKEST_WALL].max(initial=0.0))
    turn = math.radians(inwards.angle_deg)
    start = (at[0] + face * math.cos(turn), at[1] + face * math.sin(turn))
    nearer = wall[wall > face]
    beside = float(nearer.min(initial=math.inf)) - face
    return min(beside, room(inside, Strip(start, inwards.angle_deg, float(TIP)))) >= TIP


def _lines(space: Furnished, one: Stood, z: float) -> tuple[Floats, Floats, Floats]:
    """At a height: the tray's own lines, those of what is round it, and those of what is in it."""
    inserts = [other for other in space.near(one) if one.id in other.placement.stands_on and other.kind != "lid"]
    things = [lying for lying in space.things_near(one) if one.id in lying.holders]
    inside = joined([*(cut_of(other.body, z) for other in inserts), *(cut_of(lying.body, z) for lying in things)])
    return cut_of(one.body, z), _round(space, one, z), inside


def _round(space: Furnished, one: Stood, z: float) -> Floats:
    """The lines at a height of what is round a tray: neighbours, their things, the walls of the space."""
    reach = float(TIP)
    parts = [other for other in space.near(one, reach) if one.id not in other.below and other.id not in one.below]
    things = [
        lying
        for lying in space.things_near(one, reach)
        if one.id not in lying.holders and not _on(space, one, lying.holders)
    ]
    level = space.space.usable[0]
    walls = rectangle(np.array([level.x, level.y]), np.array([level.x + level.width, level.y + level.depth]))
    crossing = (cut_of(other.body, z) for other in parts if other.low[2] < z < other.high[2])
    return joined([walls, *crossing, *(cut_of(lying.body, z) for lying in things)])


def _on(space: Furnished, one: Stood, holders: tuple[str, ...]) -> bool:
    """Whether things are in something that stands on a tray."""
    return any(one.id in space.by_id[name].below for name in holders if name in space.by_id)


def _said(space: Furnished, hard: list[Stood]) -> Finding:
    """One note for a space."""
    names = "; ".join(one.placement.label for one in hard)
    text = (
        f"With its neighbours and its things in place a hand finds no room of {float(TIP):g} mm at two opposite "
        f"walls, outside or inside: {names}."
    )
    remedy = "Take out what stands at the wall first, or its neighbour; a tray with a low side or less in it is easier."
    return Finding("tray-hard-to-grip", Severity.NOTE, space.space.id, text, remedy)
