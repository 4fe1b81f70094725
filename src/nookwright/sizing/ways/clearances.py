"""Room that things need beside and above them in a part, and what counts as small. All in mm."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.sizing.tray_needs import CORNER_ROOM, ROLLED_CORNER_ROOM
from nookwright.sizing.ways.way import PartKind
from nookwright.survey.models import FloorStyle, Lot, Shape, Stance

if TYPE_CHECKING:
    from nookwright.sizing.things import Standing
    from nookwright.sizing.ways.way import Limits

TRAY_CLEARANCE = Fact(
    1.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="From thing to thing and to the wall, to fall in easily."
)
FINGER_ROOM = Fact(
    4.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="Beside a pile of sheets, to get a fingertip behind it."
)
SHELL_FILLET = Fact(
    1.0,
    unit="mm",
    kind=Kind.CHOICE,
    source="Between walls and a shell floor: no crumbs in the corner; the domes give the strength.",
)
SMOOTH_FILLET = Fact(
    3.0,
    unit="mm",
    kind=Kind.CHOICE,
    source="Between walls and a smooth floor: a fingertip rolls small things up the wall.",
)
HAND_WIDTH = Fact(
    28.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="Least inside of a tray that things are picked from by hand."
)
SMALL = Fact(
    36.0,
    unit="mm",
    kind=Kind.CHOICE,
    source="Things no longer than this lie loose and catch on the domes of a shell floor.",
)


def capacity(lot: Lot) -> int:
    """How many things there should be room for: the count and its growth, rounded up."""
    return math.ceil(round(lot.count * (1 + lot.grow_percent / 100), 6))


def is_small(standing: Standing) -> bool:
    """Whether a thing is picked up with fingertips, whichever way it lies."""
    return max(standing.width, standing.depth, standing.height) <= SMALL


def floor_for(lot: Lot, standing: Standing, kind: PartKind, limits: Limits) -> FloorStyle:
    """The floor of a part: smooth where the things are small, flat or in pockets; else as lot or room prefer.

    Args:
        lot: a loaded lot.
        standing: one thing, as it stands.
        kind: of the part.
        limits: with the room's choice.
    """
    if lot.floor is not None and kind is PartKind.TRAY:
        return lot.floor
    needs = kind is PartKind.CRADLE or lot.shape is Shape.FLAT or is_small(standing)
    return FloorStyle.SMOOTH if needs else limits.floor


def pitches_of(lot: Lot, standing: Standing, kind: PartKind, limits: Limits) -> tuple[float, float]:
    """From thing to thing along x and y, mm.

    Args:
        lot: a loaded lot.
        standing: one thing, as it stands.
        kind: of the part.
        limits: with the wall between pockets.
    """
    if kind is PartKind.CRADLE:
        pitch = standing.pocket + limits.wall
        return pitch, pitch
    if standing.stance is Stance.ON_EDGE:
        return standing.width + TRAY_CLEARANCE, standing.depth
    if lot.shape is Shape.FLAT:
        return standing.width + FINGER_ROOM, standing.depth + FINGER_ROOM
    return standing.width + TRAY_CLEARANCE, standing.depth + TRAY_CLEARANCE


def edge_of(lot: Lot, standing: Standing, kind: PartKind, limits: Limits) -> float:
    """What the first and last thing need besides, along one side, mm: with half their clearance, fillet and corners.

    Args:
        lot: a loaded lot.
        standing: one thing, as it stands.
        kind: of the part.
        limits: with the room's choices.
    """
    if kind is PartKind.CRADLE:
        return limits.wall
    if lot.shape is Shape.FLAT and standing.stance is not Stance.ON_EDGE:
        return float(FINGER_ROOM)
    smooth = floor_for(lot, standing, kind, limits) is FloorStyle.SMOOTH
    clear = 0.0 if standing.stance is Stance.ON_EDGE else float(TRAY_CLEARANCE)
    fillet = SMOOTH_FILLET if smooth else SHELL_FILLET
    corner = fillet if standing.round_axis == "z" else ROLLED_CORNER_ROOM if smooth else CORNER_ROOM
    return max(float(TRAY_CLEARANCE), 2 * max(fillet, corner) - clear)
