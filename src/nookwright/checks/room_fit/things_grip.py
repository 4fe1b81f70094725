"""Whether a hand gets hold of the things: room for thumb and finger, or a head that stands out, or another way.

The things of a lot are alike, so it is enough that one of them can be taken: that leaves room beside the next. Measured
is at a fingertip's height below its top, in the written meshes and among the other things. A thing can be taken where

* thumb and finger find room on two opposite sides of it (a head that stands out has all the room there is), or
* one fingertip gets beside it, to tip it up by its lower edge, or
* it is a sheet or a stack, and a fingernail gets behind it, or
* it is small: it is shaken out, or rolled up the wall, in a tray that can be taken out.

What is heaped, drawn from a slot, or in a box of the person's own is not looked at. What it does not know: things that
have a knob or a loop of their own.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.bodies import matrix_of, moved_by
from nookwright.checks.in_words import names, unlike
from nookwright.checks.room_fit.cuts import Strip, cut_of, joined, rectangle, room
from nookwright.ground.findings import Against, Finding, Severity
from nookwright.ground.sources import Fact, Kind
from nookwright.sizing.ways.clearances import FINGER_ROOM, SMALL
from nookwright.sizing.ways.handling import FINGERTIP
from nookwright.sizing.ways.words import HEAPED, IN_A_BOX, IN_A_DISPENSER, IN_A_REST

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.checks.boxes import Floats
    from nookwright.checks.room_fit.furnished import Furnished, Lying

PINCH = Fact(
    8.0,
    unit="mm",
    kind=Kind.MEMORY,
    source="Thumb and finger hold by half a fingertip, from anthropometric tables: the last joint is 24 to 28 long.",
)
FINGER = Fact(
    12.0, unit="mm", kind=Kind.MEMORY, source="Thickness of a fingertip: 11 to 14 in anthropometric tables of adults."
)
FLAT = Fact(
    15.0, unit="mm", kind=Kind.CHOICE, source="What is no thicker than a finger is taken by its edge, a nail behind it."
)
_NOT_PICKED = frozenset({HEAPED, IN_A_DISPENSER, IN_A_BOX, IN_A_REST})
_MOST_TRIED = 24  # things of a lot: they are alike, and those at the edges come first


def check_things_grip(spaces: tuple[Furnished, ...]) -> list[Finding]:
    """One note for all lots of a space whose things are hard to take.

    Args:
        spaces: with what stands in them.
    """
    found = []
    for space in spaces:
        hard = [(gap, lying) for lying in space.lying if (gap := _best(space, lying)) is not None]
        if hard:
            found.append(_said(space, hard))
    return found


def _best(space: Furnished, lying: Lying) -> float | None:
    """Room beside the thing that is easiest to take, mm, if that is not enough; nothing where one can be taken."""
    place = lying.place
    if lying.beside or place.stance in _NOT_PICKED or max(place.size) <= SMALL:
        return None
    best = 0.0
    for gaps in _gaps(space, lying):
        if _taken(gaps, place.size):
            return None
        best = max(best, *gaps)
    return best


def _taken(gaps: list[float], size: tuple[float, float, float]) -> bool:
    """Whether a thing with so much room on its sides, each after the one opposite, can be taken."""
    one_side = max(gaps)
    if min(size) <= FLAT:
        return one_side >= FINGER_ROOM
    two_sides = max(min(one, other) for one, other in zip(gaps[::2], gaps[1::2], strict=True))
    return two_sides >= FINGER or one_side >= FINGERTIP


def _gaps(space: Furnished, lying: Lying) -> Iterator[list[float]]:
    """Room on the sides of each of the topmost things, opposite sides one after the other."""
    place, own = lying.place, space.by_id.get(lying.place.placement)
    if own is None:
        return
    at = moved_by(own.body.matrix, np.array(place.at, dtype=np.float64))
    turned = abs(matrix_of(own.placement.space_from_part)[0, 0]) < 0.5  # noqa: PLR2004 - a quarter turn or none
    width, depth, height = (place.size[1], place.size[0], place.size[2]) if turned else place.size
    top = at[:, 2].max()
    upper = at[at[:, 2] > top - height / 2]
    z = float(top + height - min(float(PINCH), height / 2))
    lines = _lines(space, lying, z)
    others = [(x, y) for x, y, low in at if low <= z <= low + height]
    round_ = place.round_axis == "z"
    for x, y, _ in upper[np.argsort(-np.abs(upper[:, :2] - upper[:, :2].mean(axis=0)).max(axis=1))][:_MOST_TRIED]:
        near = [(u, v) for u, v in others if (u, v) != (x, y)]
        among = joined([lines, *(_outline((u, v), (width, depth), round_) for u, v in near)])
        yield [_room(among, (x, y), (width, depth), angle, round_) for angle in _angles(round_)]


def _angles(round_: bool) -> tuple[float, ...]:  # noqa: FBT001 - the shape of the thing
    """Directions in which a hand may take it, opposite ones after each other."""
    return (0.0, 180.0, 90.0, 270.0, *((45.0, 225.0, 135.0, 315.0) if round_ else ()))


def _room(lines: Floats, at: tuple[float, float], size: tuple[float, float], angle: float, round_: bool) -> float:  # noqa: FBT001
    """How far it is from a side of a thing to what is next, as wide as a finger, mm."""
    turn = math.radians(angle)
    half = size[0] / 2 if round_ else abs(math.cos(turn)) * size[0] / 2 + abs(math.sin(turn)) * size[1] / 2
    start = (at[0] + half * math.cos(turn), at[1] + half * math.sin(turn))
    across = abs(math.sin(turn)) * size[0] + abs(math.cos(turn)) * size[1]
    return room(lines, Strip(start, angle, min(float(FINGER), across)))


def _outline(at: tuple[float, float], size: tuple[float, float], round_: bool) -> Floats:  # noqa: FBT001
    """A thing from above, as lines."""
    if not round_:
        half = np.array(size) / 2
        return rectangle(np.array(at) - half, np.array(at) + half)
    turn = np.arange(24) * (2 * math.pi / 24)
    ring = np.array(at) + size[0] / 2 * np.column_stack([np.cos(turn), np.sin(turn)])
    return np.stack([ring, np.roll(ring, -1, axis=0)], axis=1)


def _lines(space: Furnished, lying: Lying, z: float) -> Floats:
    """What stands round the things at a height: parts, the things of other lots, the walls of the space."""
    reach = float(FINGERTIP)
    parts = [cut_of(one.body, z) for one in space.near(lying, reach) if one.low[2] < z < one.high[2]]
    things = [cut_of(other.body, z) for other in space.things_near(lying, reach)]
    level = space.space.usable[0]
    walls = rectangle(np.array([level.x, level.y]), np.array([level.x + level.width, level.y + level.depth]))
    return joined([*parts, *things, walls])


def _said(space: Furnished, hard: list[tuple[float, Lying]]) -> Finding:
    """One note for a space."""
    gap, worst = min(hard, key=lambda each: (each[0], each[1].lot.id))
    finds, enough = unlike(gap, float(FINGER), 1)
    others = sorted({lying.lot.name for _, lying in hard} - {worst.lot.name})
    more = f" So it is beside {names(others)}." if others else ""
    text = (
        f"Beside {worst.lot.name} a finger finds only {finds} mm, and nothing to take hold of stands out; {enough} mm "
        f"are enough.{more}"
    )
    remedy = "Give the lot less depth or a lower part, fewer things in a row, or a tray with a low side."
    return Finding("thing-hard-to-grip", Severity.NOTE, space.space.id, text, remedy, Against(gap, float(FINGER), "mm"))
