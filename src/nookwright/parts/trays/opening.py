"""Openings in a wall: one that is open at the rim, with rounded corners, and one with an arch over it."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.ground.tolerances import OVERSHOOT
from nookwright.layout.liner import Side
from nookwright.parts.lying import along_x, along_y
from nookwright.shapes.arcs import QUARTER
from nookwright.shapes.regions import Path, Region, RegionMove

if TYPE_CHECKING:
    from nookwright.parts.trays.tray_frame import TrayFrame
    from nookwright.shapes.solids import Solid

CORNER = Fact(3.0, unit="mm", kind=Kind.CHOICE, source="Corners of an opening: soft to a finger, no notch for a crack.")
RIM_EDGE_SHARE = Fact(
    0.1,
    unit="1",
    kind=Kind.CHOICE,
    source="The rounding at the rim is cut off by this share of its radius: it meets the rim at 26 degrees, not in a "
    "tangent that a kernel could take for a crossing or a miss.",
)
CROWN = Fact(
    14.0,
    unit="mm",
    kind=Kind.CHOICE,
    source="Flat part of an arch between slopes of 45 degrees: one short bridge. A round crown would hang out, layer "
    "by layer, flatter than 45 degrees before it closes.",
)


def rim_opening(width: float, drop: float) -> Region:
    """An opening that is open above: its middle at x = 0, the rim at z = 0, the bottom at ``-drop``.

    Args:
        width: between its upright edges, mm; at least twice ``CORNER``.
        drop: depth below the rim, mm; at least twice ``CORNER``.
    """
    half, r = width / 2, float(CORNER)
    rise = RIM_EDGE_SHARE * r  # of the rounding above the rim
    top = rise + OVERSHOOT
    return Path(
        (
            (-half + r, -drop, 0.0), (half - r, -drop, float(QUARTER)), (half, r - drop, 0.0),
            (half, rise - r, -float(QUARTER)), (half + r, rise, 0.0), (half + r, top, 0.0),
            (-half - r, top, 0.0), (-half - r, rise, -float(QUARTER)), (-half, rise - r, 0.0),
            (-half, r - drop, float(QUARTER)),
        )
    )  # fmt: skip


def rim_opening_mm2(width: float, drop: float) -> float:
    """Its area below the rim; the cut-off tip of the rounding counts as if it were there."""
    return width * drop


def rim_opening_reach(width: float) -> float:
    """How far it reaches along the rim on each side of its middle, mm."""
    return width / 2 + CORNER


def arched_opening(width: float, height: float) -> Region:
    """An opening with an arch: its middle at x = 0, its sill at z = 0, slopes of 45 degrees from ``height`` to a crown.

    Args:
        width: mm; more than ``CROWN``.
        height: of its upright edges, mm; more than ``CORNER``.
    """
    half, crown, r = width / 2, CROWN / 2, float(CORNER)
    top = arch_height(width, height)
    return Path(
        (
            (-half + r, 0.0, 0.0), (half - r, 0.0, float(QUARTER)), (half, r, 0.0), (half, height, 0.0),
            (crown, top, 0.0), (-crown, top, 0.0), (-half, height, 0.0), (-half, r, float(QUARTER)),
        )
    )  # fmt: skip


def arch_height(width: float, height: float) -> float:
    """Height of an arched opening from its sill to its crown, mm."""
    return height + (width - CROWN) / 2


def arched_opening_mm2(width: float, height: float) -> float:
    """Its area: the upright part without its rounded corners, and the trapezium between the slopes."""
    lower = width * height - (2 - math.pi / 2) * CORNER**2
    return lower + (width + CROWN) / 2 * (width - CROWN) / 2


def through_wall(frame: TrayFrame, side: Side, outline: Region, *, middle: float, z: float, inward: float) -> Solid:
    """A cutter through one wall.

    Args:
        frame: the tray.
        side: whose wall.
        outline: in (along the wall, up).
        middle: where its x = 0 lies along the wall, from the front left, mm.
        z: where its z = 0 lies, mm.
        inward: how far it goes past the inside of the wall, mm.
    """
    placed, reach = RegionMove(outline, x=middle, y=z), frame.wall + inward
    match side:
        case Side.FRONT:
            return along_y(placed, -OVERSHOOT, reach)
        case Side.BACK:
            return along_y(placed, frame.depth - reach, frame.depth + OVERSHOOT)
        case Side.LEFT:
            return along_x(placed, -OVERSHOOT, reach)
    return along_x(placed, frame.width - reach, frame.width + OVERSHOOT)
