"""Inlays: loose sheets of felt, cork, card or rubber on the floor of a tray, as outlines to cut.

An inlay lies on the domes of a shell floor, 2 mm off the walls all round: cut with scissors, it still drops in. On a
smooth floor it keeps off the roll between floor and walls. Where fixed dividers part the tray, each compartment has its
own. It is no printed part; its outline goes to ``exchange/dxf.py`` and ``exchange/cut_sheet.py``.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.parts.refusals import refuse_part
from nookwright.parts.trays.bent_plan import rounded
from nookwright.parts.trays.divider import compartments, rib_reach
from nookwright.parts.trays.divider_play import OFF_RIB
from nookwright.parts.trays.front import sweep_length, swept_radius
from nookwright.parts.trays.name_strip import inward_of, under_of
from nookwright.parts.trays.tray_options import DividerKind, Front, Split
from nookwright.parts.underside import inner_radius
from nookwright.sizing.ways import SHELL_FILLET, SMOOTH_FILLET

if TYPE_CHECKING:
    from nookwright.module.module import Module
    from nookwright.parts.trays.bent_plan import BentPlan
    from nookwright.parts.trays.divider import Span
    from nookwright.parts.trays.tray_frame import TrayFrame
    from nookwright.shapes.regions import Path

OFF_WALL = Fact(
    2.0,
    unit="mm",
    kind=Kind.COMMON_PRACTICE,
    source="A sheet cut by hand is a millimetre off, and felt spreads by one.",
)
LEAST_INLAY = Fact(8.0, unit="mm", kind=Kind.CHOICE, source="A narrower strip of felt curls up.")


def inlay_outline(module: Module, cols: int, rows: int, *, smooth: bool = False) -> Path:
    """The inlay of a plain tray; its front left corner is at the origin.

    Args:
        module: the household's module.
        cols: footprint along x, cells.
        rows: footprint along y, cells.
        smooth: whether the floor is smooth.

    Raises:
        RecipeError: nothing worth cutting is left.
    """
    return _sheet(module, module.inner(cols), module.inner(rows), off_wall(smooth=smooth))


def off_wall(*, smooth: bool) -> float:
    """How far an inlay keeps off the walls, mm."""
    return max(float(OFF_WALL), float(SMOOTH_FILLET if smooth else SHELL_FILLET))


def inlay_outlines(frame: TrayFrame) -> tuple[Path, ...]:
    """The inlays of a tray, one a compartment that fixed dividers make, row by row from the front left.

    Behind a swept front, and behind a name strip that reaches down to it, the front ones are shorter.

    Args:
        frame: the tray.

    Raises:
        RecipeError: nothing worth cutting is left.
    """
    across, back = compartments(frame)
    fixed = {entry.split for entry in frame.options.dividers if entry.kind is DividerKind.FIXED}
    columns = across if Split.COLUMNS in fixed else _whole(across)
    lines = back if Split.ROWS in fixed else _whole(back)
    first = _behind_front(frame, back[0])
    spans = ((lines[0][0] + first, lines[0][1]), *lines[1:])
    ribs = rib_reach(frame)
    off = max(off_wall(smooth=frame.smooth), ribs + OFF_RIB if ribs else 0.0)
    return tuple(_sheet(frame.module, x1 - x0, y1 - y0, off) for y0, y1 in spans for x0, x1 in columns)


def bent_inlay_outline(plan: BentPlan, *, smooth: bool = False) -> Path:
    """The inlay of a bent tray, in the tray's own axes.

    Args:
        plan: the tray's footprint.
        smooth: whether its floor is smooth.

    Raises:
        RecipeError: nothing worth cutting is left of a leg.
    """
    off = off_wall(smooth=smooth)
    inset = plan.module.wall + off
    narrowest = min(min(x1 - x0, y1 - y0) for x0, y0, x1, y1 in plan.legs(inset))
    _check(narrowest)
    return plan.outline(inset, _radius(plan.module, off))


def _sheet(module: Module, room_x: float, room_y: float, off: float) -> Path:
    width, depth = room_x - 2 * off, room_y - 2 * off
    _check(min(width, depth))
    return rounded(((0.0, 0.0), (width, 0.0), (width, depth), (0.0, depth)), _radius(module, off))


def _check(narrowest: float) -> None:
    if not narrowest >= LEAST_INLAY:
        refuse_part(
            "inlay", "a sheet is worth cutting", found=f"{narrowest:.1f} wide", allowed=f"at least {LEAST_INLAY:g}",
            remedy="Leave the inlay out.",
        )  # fmt: skip


def _radius(module: Module, off: float) -> float:
    """Of its corners: concentric with the tray's."""
    return max(0.0, inner_radius(module) - off)


def _whole(spans: tuple[Span, ...]) -> tuple[Span, ...]:
    return ((spans[0][0], spans[-1][1]),)


def _behind_front(frame: TrayFrame, front: Span) -> float:
    """How far the inlay begins behind the inside of the front, mm."""
    curve = 0.0
    if frame.options.front is Front.SWEPT:
        curve = sweep_length(swept_radius(frame, front[1] - front[0]))
    strip = frame.options.strip_height > 0 and under_of(frame) < frame.rest_height
    return max(curve, inward_of(frame) if strip else 0.0)
