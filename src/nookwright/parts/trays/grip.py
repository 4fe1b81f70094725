"""Grips: a notch in two opposite rims, a hand hole in two opposite walls, or what a tray has in their place.

Which one a tray gets, in this order:

1. A low side is a grip.
2. A notch (or a hand hole, where it is asked for) in the two opposite walls that are nearer to each other: a hand spans
   them. The other two where these are too short, are taken (by a name strip or a swept front), or where a divider
   stands in the middle.
3. Where no pair of walls has room: two fingers spread against two walls from inside, wherever these are as far apart
   as a hand needs; that needs no shape.
4. A tray of one cell has room for neither: it has no grip, and says so.

A hand hole is only made where it was asked for, and refused where the walls are too low: a smaller one pinches.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.ground.tolerances import OVERSHOOT
from nookwright.layout.liner import Side
from nookwright.parts.trays.divider import compartments, guide_half, middles_of, top_of
from nookwright.parts.trays.opening import (
    CORNER,
    CROWN,
    arch_height,
    arched_opening,
    arched_opening_mm2,
    rim_opening,
    rim_opening_mm2,
    rim_opening_reach,
    through_wall,
)
from nookwright.parts.trays.tray_frame import NOTHING, Addition, TrayFrame
from nookwright.parts.trays.tray_options import NOTCH_DEPTH, NOTCH_WIDTH, Front, Grip, Split
from nookwright.sizing.ways import HAND_WIDTH

if TYPE_CHECKING:
    from nookwright.parts.trays.tray_options import TrayOptions
    from nookwright.shapes.regions import Region

SILL = Fact(4.0, unit="mm", kind=Kind.CHOICE, source="Below a notch or a hole the wall still holds what lies there.")
END_LAND = Fact(
    3.5,
    unit="mm",
    kind=Kind.CHOICE,
    source="From an opening at the rim to the end of its wall: it may begin in the curve.",
)
HOLE_STRIP = Fact(
    6.0, unit="mm", kind=Kind.CALCULATED, source="Above a hand hole: 6 x 1.2 over 14 carry 40 N at 16 MPa in bending."
)
HOLE_LAND = Fact(
    8.0, unit="mm", kind=Kind.CHOICE, source="From a hand hole to the end of its wall: clear of the corner."
)
_PAIRS = ((Side.FRONT, Side.BACK), (Side.LEFT, Side.RIGHT))


@dataclass(frozen=True)
class GripChoice:
    """What a tray is taken by: the kind, the walls that get an opening, and why it is not what was asked for."""

    kind: Grip
    sides: tuple[Side, ...] = ()
    reason: str = ""


def grip_of(frame: TrayFrame) -> GripChoice:
    """The grip of a tray, by the rule of this module.

    Args:
        frame: the tray.

    Raises:
        RecipeError: a notch too small for a finger, or a hand hole that has no room.
    """
    wished = frame.options.grip
    if wished is Grip.NONE:
        return GripChoice(Grip.NONE)
    if frame.options.low_side and wished is not Grip.HAND_HOLE:
        return GripChoice(Grip.LOW_SIDE, (frame.options.low_side.side,))
    if wished is Grip.LOW_SIDE:
        frame.refuse(
            "a low side is a grip where there is one", found="none", allowed="a side and its share of the height",
            remedy="Say which side is low.",
        )  # fmt: skip
    if wished is Grip.HAND_HOLE:
        return _hole_choice(frame)
    pair = _pair(frame, _checked_notch(frame), END_LAND, frame.height - frame.options.notch_depth)
    if wished is Grip.NOTCH and pair and _notch_sill(frame) >= frame.rest_height + SILL:
        return GripChoice(Grip.NOTCH, pair)
    return _from_inside(frame)


def grip(frame: TrayFrame) -> Addition:
    """The openings of a tray's grip; a hand hole is a handle of the body, two of them are two."""
    choice = grip_of(frame)
    options = frame.options
    if choice.kind is Grip.NOTCH:
        outline = rim_opening(options.notch_width, options.notch_depth)
        area = rim_opening_mm2(options.notch_width, options.notch_depth)
        return _openings(frame, choice, outline, frame.height, area)
    if choice.kind is Grip.HAND_HOLE:
        outline = arched_opening(options.hole_width, options.hole_height)
        area = arched_opening_mm2(options.hole_width, options.hole_height)
        return _openings(frame, choice, outline, _hole_sill(frame), area, handles=len(choice.sides))
    return NOTHING


def hole_needs(options: TrayOptions) -> tuple[float, float]:
    """Outer length of the shortest wall with a hand hole, and its height over what things lie on at least, mm.

    Args:
        options: of the tray.
    """
    high = SILL + arch_height(options.hole_width, options.hole_height) + HOLE_STRIP
    return options.hole_width + 2 * HOLE_LAND, high


def _openings(
    frame: TrayFrame, choice: GripChoice, outline: Region, z: float, area_mm2: float, *, handles: int = 0
) -> Addition:
    """The same opening in the middle of each chosen wall."""
    cuts = tuple(
        through_wall(frame, side, outline, middle=frame.length(side) / 2, z=z, inward=float(OVERSHOOT))
        for side in choice.sides
    )
    return Addition(cuts=cuts, body_mm3=-area_mm2 * frame.wall * len(cuts), handles=handles)


def _pair(frame: TrayFrame, reach: float, land: float, bottom: float) -> tuple[Side, ...]:
    """The two opposite walls that get an opening; none where neither pair has room.

    Args:
        frame: the tray.
        reach: of the opening along the wall, from its middle, mm.
        land: wall that must be left at each end, mm.
        bottom: of the opening, mm over the underside.
    """
    nearest_first = sorted(_PAIRS, key=lambda pair: -frame.length(pair[0]))
    for pair in nearest_first:
        long_enough = frame.length(pair[0]) >= 2 * (reach + land)
        if long_enough and not _taken(frame, pair) and not _divider_in(frame, pair, reach, bottom):
            return pair
    return ()


def _taken(frame: TrayFrame, pair: tuple[Side, Side]) -> bool:
    """Whether one of the two walls is used by something else."""
    options = frame.options
    low = options.low_side is not None and options.low_side.side in pair
    front = options.strip_height > 0 or options.front is Front.SWEPT
    return low or (Side.FRONT in pair and front)


def _divider_in(frame: TrayFrame, pair: tuple[Side, Side], reach: float, bottom: float) -> bool:
    """Whether a divider, or its slot, meets these walls inside the opening."""
    split = Split.ROWS if pair[0].upright else Split.COLUMNS
    middle = frame.length(pair[0]) / 2
    return any(
        abs(at - middle) < reach + guide_half(frame, entry) and top_of(frame, entry) > bottom
        for entry in frame.options.dividers
        if entry.split is split
        for at in middles_of(frame, entry)
    )


def _checked_notch(frame: TrayFrame) -> float:
    """How far a notch reaches on each side of its middle, mm."""
    width, depth = frame.options.notch_width, frame.options.notch_depth
    if not (width >= NOTCH_WIDTH and depth >= NOTCH_DEPTH):
        frame.refuse(
            "a notch takes a finger", found=f"{width:g} wide, {depth:g} deep",
            allowed=f"at least {NOTCH_WIDTH:g} and {NOTCH_DEPTH:g}", remedy="Make it larger, or choose no notch.",
        )  # fmt: skip
    return rim_opening_reach(width)


def _notch_sill(frame: TrayFrame) -> float:
    return frame.height - frame.options.notch_depth


def _hole_sill(frame: TrayFrame) -> float:
    """Height of a hand hole's sill, mm over the underside."""
    options = frame.options
    return round(frame.height - frame.whole(arch_height(options.hole_width, options.hole_height) + HOLE_STRIP), 4)


def _hole_choice(frame: TrayFrame) -> GripChoice:
    options, sill = frame.options, _hole_sill(frame)
    if not (options.hole_width > CROWN + 2 and options.hole_height > CORNER + 1):
        frame.refuse(
            "a hand hole has upright edges and slopes", found=f"{options.hole_width:g} x {options.hole_height:g}",
            allowed=f"wider than {CROWN + 2:g}, higher than {CORNER + 1:g}", remedy="Make it larger.",
        )  # fmt: skip
    pair = _pair(frame, options.hole_width / 2, HOLE_LAND, sill)
    if not (pair and sill >= frame.rest_height + SILL):
        least = frame.rest_height + SILL + frame.height - sill
        frame.refuse(
            "a hand hole has a wall around it", found=f"{frame.height:g} high", remedy="Choose a notch.",
            allowed=f"{least:g} high or more, and two free walls {options.hole_width + 2 * HOLE_LAND:g} long",
        )  # fmt: skip
    return GripChoice(Grip.HAND_HOLE, pair)


def _from_inside(frame: TrayFrame) -> GripChoice:
    """Fingers spread inside, where there is room for them."""
    across, back = compartments(frame)
    widest = max(end - start for start, end in (*across, *back))
    if round(widest, 4) >= HAND_WIDTH:
        return GripChoice(Grip.SPREAD, reason="no two walls have room for an opening: spread two fingers inside")
    return GripChoice(Grip.NONE, reason="one cell is too small for a finger: take it out with its neighbour")
