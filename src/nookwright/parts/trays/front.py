"""A swept front: the inside of the front rises from the floor in a curve, so that a fingertip can roll things up.

The curve is an arc that leaves the floor at 10 degrees and meets the front at 70. It is filled below, sparsely, so it
prints at any steepness; a full quarter would meet floor and wall in tangents, and cost half as much again.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.layout.liner import Side
from nookwright.module.estimates import domes_mm3
from nookwright.parts.lying import along_x
from nookwright.parts.trays.low_side import low_height
from nookwright.parts.trays.name_strip import under_of
from nookwright.parts.trays.tray_frame import Addition
from nookwright.parts.trays.tray_options import DividerKind, Split
from nookwright.shapes.regions import Path

if TYPE_CHECKING:
    from nookwright.parts.trays.tray_frame import TrayFrame

FINGERTIP_RADIUS = Fact(
    8.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="A fingertip follows no tighter curve: width of a finger, 16 mm."
)
SWEEP_SHARE = Fact(
    0.3, unit="1", kind=Kind.CHOICE, source="Share of the depth that the curve takes where height does not limit it."
)
MOST_SWEEP_SHARE = Fact(0.5, unit="1", kind=Kind.CHOICE, source="A curve that takes more leaves no floor to lie on.")
FIRST_SLOPE_DEG = Fact(
    10.0,
    unit="deg",
    kind=Kind.CHOICE,
    source="Where the curve leaves the floor: not felt, and no tangent for a kernel.",
)
LAST_SLOPE_DEG = Fact(
    70.0,
    unit="deg",
    kind=Kind.CHOICE,
    source="Where it meets the front: steeper, a fingertip no longer rolls but lifts.",
)
_FIRST, _LAST = math.radians(FIRST_SLOPE_DEG), math.radians(LAST_SLOPE_DEG)
_LENGTH_OF_RADIUS = math.sin(_LAST) - math.sin(_FIRST)
_RISE_OF_RADIUS = math.cos(_FIRST) - math.cos(_LAST)
_STEP = 0.1  # radii come in tenths


def _radius(frame: TrayFrame, *, depth: float, rise: float) -> float:
    """Radius of the curve, mm: a share of the depth, no tighter than a fingertip, no higher than the front allows.

    Args:
        frame: the tray.
        depth: inside depth of the compartment at the front, mm.
        rise: how high the curve may rise over the floor, mm.

    Raises:
        RecipeError: not even a fingertip's curve has room.
    """
    most = min(MOST_SWEEP_SHARE * depth / _LENGTH_OF_RADIUS, rise / _RISE_OF_RADIUS)
    if not most >= FINGERTIP_RADIUS:
        frame.refuse(
            "a swept front has room for a fingertip's curve", found=f"radius {most:.1f}",
            allowed=f"at least {FINGERTIP_RADIUS:g}", remedy="Make the tray deeper or higher, or its front plain.",
        )  # fmt: skip
    return round(max(FINGERTIP_RADIUS, min(most, SWEEP_SHARE * depth / _LENGTH_OF_RADIUS)), 1)


def swept_radius(frame: TrayFrame, front_depth: float) -> float:
    """Radius of a swept front, mm; it ends below a low front and below a name strip.

    Args:
        frame: a tray with a swept front.
        front_depth: inside depth of its front compartment, mm.

    Raises:
        RecipeError: a fingertip's curve has no room, or slots in the front stand in its way.
    """
    options = frame.options
    slotted = any(entry.split is Split.COLUMNS and entry.kind is not DividerKind.FIXED for entry in options.dividers)
    if slotted:
        frame.refuse(
            "a swept front has no slots", found="loose dividers that end there", allowed="fixed ones, or rows",
            remedy="Make the dividers fixed or the front plain.",
        )  # fmt: skip
    low = options.low_side
    top = low_height(frame, low.share) if low is not None and low.side is Side.FRONT else frame.height
    if options.strip_height > 0:
        top = min(top, under_of(frame))
    return _radius(frame, depth=front_depth, rise=top - frame.floor)


def sweep_room() -> tuple[float, float]:
    """What a curve takes of the compartment at the front before its size is known: at least so many mm, else a share.

    Both reach as far as the rounded radius of any tray of that depth.
    """
    rounding = _STEP / 2 * _LENGTH_OF_RADIUS
    least = FINGERTIP_RADIUS * _LENGTH_OF_RADIUS + rounding
    return least, SWEEP_SHARE * (1 + rounding / least)


def least_rise() -> float:
    """How high over the floor the tightest curve rises, mm."""
    return (FINGERTIP_RADIUS + _STEP / 2) * _RISE_OF_RADIUS


def least_sweep_mm2() -> float:
    """Section of what fills the tightest curve, mm2."""
    return _area_mm2(FINGERTIP_RADIUS)


def sweep_length(radius: float) -> float:
    """How far the curve reaches back from the inside of the front, mm."""
    return radius * _LENGTH_OF_RADIUS


def sweep_rise(radius: float) -> float:
    """How high it rises over the floor, mm."""
    return radius * _RISE_OF_RADIUS


def sweep(frame: TrayFrame, radius: float) -> Addition:
    """The fill below the curve, over the whole inside width.

    Args:
        frame: the tray.
        radius: of the curve, mm.
    """
    wall, floor, root = frame.wall, frame.floor, frame.root
    end, top = wall + sweep_length(radius), floor + sweep_rise(radius)
    bulge = -math.tan((_LAST - _FIRST) / 4)
    outline = Path(
        ((wall / 2, root, 0.0), (end, root, 0.0), (end, floor, bulge), (wall, top, 0.0), (wall / 2, top, 0.0))
    )
    return Addition(
        adds=(frame.trimmed(along_x(outline, 0.0, frame.width)),),
        body_mm3=_area_mm2(radius) * (frame.width - 2 * wall) - _buried_mm3(frame, radius),
        sparse_mm3=_sparse_mm2(radius, wall) * (frame.width - 2 * wall),
    )


def _area_mm2(radius: float) -> float:
    """Between floor, front and curve: the triangle under the chord, less the segment between chord and arc."""
    segment = radius**2 / 2 * ((_LAST - _FIRST) - math.sin(_LAST - _FIRST))
    return sweep_length(radius) * sweep_rise(radius) / 2 - segment


def _sparse_mm2(radius: float, skin: float) -> float:
    """What is left of that area inside a skin: like a triangle, it shrinks about its incircle."""
    length, rise = sweep_length(radius), sweep_rise(radius)
    incircle = 2 * _area_mm2(radius) / (length + rise + radius * (_LAST - _FIRST))
    return _area_mm2(radius) * max(0.0, 1 - skin / incircle) ** 2


def _buried_mm3(frame: TrayFrame, radius: float) -> float:
    """What the fill covers of the domes, which are counted with the floor already: those under its higher half."""
    if frame.smooth:
        return 0.0
    share = sweep_length(radius) / 2 / frame.depth
    return domes_mm3(frame.module.seat, frame.cols, frame.rows, frame.module.pitch) * share
