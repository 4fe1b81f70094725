"""A low side: one wall lower than the others between its corners, the opening's corners rounded."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.ground.tolerances import OVERSHOOT
from nookwright.module.floor import CORNER_RADIUS
from nookwright.parts.trays.opening import CORNER, rim_opening, rim_opening_mm2, through_wall
from nookwright.parts.trays.tray_frame import Addition

if TYPE_CHECKING:
    from nookwright.layout.liner import Side
    from nookwright.parts.trays.tray_frame import TrayFrame

LEAST_SILL = Fact(
    2.0, unit="mm", kind=Kind.CHOICE, source="A low side stands over what things lie on by this, or they slide out."
)
NARROWEST_OPENING = Fact(
    10.0, unit="mm", kind=Kind.CHOICE, source="A narrower opening is a slit: neither a finger nor a thing goes through."
)


def low_height(frame: TrayFrame, share: float) -> float:
    """Height of a low side in whole layers, mm.

    Args:
        frame: the tray.
        share: of the tray's height.

    Raises:
        RecipeError: the side would be too low to hold anything, or hardly lower than the others.
    """
    least, most = frame.whole(frame.rest_height + LEAST_SILL), frame.height - 2 * CORNER
    high = frame.whole(share * frame.height)
    if not least <= high <= most:
        frame.refuse(
            "a low side holds what lies in the tray and is lower than the others", found=f"{high:g} high",
            allowed=f"{least:g} to {most:g}", remedy="Change its share of the height.",
        )  # fmt: skip
    return high


def low_needs(rest: float, share: float, layer: float) -> tuple[float, float]:
    """Outer length of the shortest low side, and height of the lowest tray that has one, mm.

    Args:
        rest: height of what things lie on, mm.
        share: height of the low side as a share of the tray's.
        layer: the common layer, mm.
    """
    height = max((rest + LEAST_SILL + layer) / share, (2 * CORNER + layer) / (1 - share))
    return 2 * (CORNER_RADIUS + CORNER) + NARROWEST_OPENING, height


def low_side(frame: TrayFrame, side: Side, share: float) -> Addition:
    """The opening over a low side.

    Args:
        frame: the tray.
        side: which one.
        share: its height as a share of the tray's.

    Raises:
        RecipeError: too low, hardly lower, or the side too short.
    """
    high, length = low_height(frame, share), frame.length(side)
    width = length - 2 * (CORNER_RADIUS + CORNER)
    if not width >= NARROWEST_OPENING:
        frame.refuse(
            "a low side has room between its corners", found=f"an opening of {width:g}",
            allowed=f"at least {NARROWEST_OPENING:g}", remedy="Take a longer side.",
        )  # fmt: skip
    drop = frame.height - high
    cut = through_wall(
        frame, side, rim_opening(width, drop), middle=length / 2, z=frame.height, inward=float(OVERSHOOT)
    )
    return Addition(cuts=(cut,), body_mm3=-rim_opening_mm2(width, drop) * frame.wall)
