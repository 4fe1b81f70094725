"""A rim that swells inwards at 45 degrees: the ledge that a lid lies on, printed without support.

Also the areas and volumes that closed forms of lids and risers share.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.ground.tolerances import OVERSHOOT
from nookwright.module.floor import CORNER_RADIUS
from nookwright.module.seat import outer_size
from nookwright.parts.underside import inner_radius
from nookwright.shapes.cutters import open_above
from nookwright.shapes.regions import Rect, RegionMove
from nookwright.shapes.solids import Difference, Move, Prism, Solid, Taper, Tip

if TYPE_CHECKING:
    from nookwright.module.module import Module

_LAP = OVERSHOOT / 2  # cutters that go on from each other overlap by this
_CORNERS_LESS = 0.8584073464102069  # 4 - pi: what four round corners lack, in radii squared


def rounded_mm2(width: float, depth: float, radius: float) -> float:
    """Area of a rectangle with round corners, mm2.

    >>> rounded_mm2(10, 10, 0), round(rounded_mm2(2, 2, 1), 4)
    (100.0, 3.1416)
    """
    return width * depth - _CORNERS_LESS * radius**2


def tapered_mm3(width: float, depth: float, radius: float, *, height: float, draw: float) -> float:
    """Volume of a rounded rectangle drawn in evenly, mm3; by Simpson's rule, which is exact for a square of a length.

    >>> round(tapered_mm3(6, 6, 3, height=3, draw=3), 3)  # a cone
    28.274
    """
    weights = ((0.0, 1), (draw / 2, 4), (draw, 1))
    return height / 6 * sum(n * rounded_mm2(width - 2 * by, depth - 2 * by, radius - by) for by, n in weights)


def rounded_rect(width: float, depth: float, radius: float) -> Rect:
    """A rectangle whose corners may take up its whole shorter side, whatever the last digits of its sizes are.

    Args:
        width: along x, mm; rounded to a thousandth, so that its half is a number of the grid.
        depth: along y, mm; the same.
        radius: of the corners, mm; at most half the shorter side.

    >>> rounded_rect(10.00007, 20, 5.0001).radius
    5.0
    """
    wide, deep = round(width, 3), round(depth, 3)
    return Rect(wide, deep, min(max(0.0, radius), wide / 2, deep / 2))


def inset_rect(module: Module, cols: int, rows: int, inset: float) -> Rect:
    """The plan of a part drawn in on all sides, corners concentric, its front left corner at the origin."""
    width, depth = outer_size(cols, module.pitch), outer_size(rows, module.pitch)
    return Rect(width - 2 * inset, depth - 2 * inset, max(0.0, CORNER_RADIUS - inset))


def inset_mm2(module: Module, cols: int, rows: int, inset: float) -> float:
    """Area of that plan, mm2."""
    rect = inset_rect(module, cols, rows, inset)
    return rounded_mm2(rect.width, rect.depth, rect.radius)


def swollen_rim(module: Module, cols: int, rows: int, *, start: float, swell: float, top: float) -> Solid:
    """What makes the walls of a tray thicker from a height on, as a ring to be united with it.

    Args:
        module: the household's module.
        cols: footprint along x, cells.
        rows: footprint along y, cells.
        start: height at which the wall begins to swell, mm.
        swell: how far it swells, mm, as high as it is wide; at most the radius of the inside corners.
        top: height of the ring's upper face, mm.
    """
    wall = module.wall
    below = wall / 4  # the funnel goes on with its slope inside the wall, so that it starts without a skin
    mouth, shaft = inset_rect(module, cols, rows, wall - below), inset_rect(module, cols, rows, wall + swell)
    funnel = Move(Taper(mouth, swell + below, swell + below), x=wall - below, y=wall - below, z=start - below)
    through = open_above(RegionMove(shaft, x=wall + swell, y=wall + swell), start + swell - _LAP, top)
    ring = Move(Prism(inset_rect(module, cols, rows, wall / 2), top - start), x=wall / 2, y=wall / 2, z=start)
    return Difference(ring, (funnel, through))


def swollen_rim_mm3(module: Module, cols: int, rows: int, *, start: float, swell: float, top: float) -> float:
    """What such a ring adds inside the walls of a tray, mm3."""
    inner = (module.inner(cols), module.inner(rows), inner_radius(module))
    open_mm3 = tapered_mm3(*inner, height=swell, draw=swell)
    open_mm3 += inset_mm2(module, cols, rows, module.wall + swell) * (top - start - swell)
    return rounded_mm2(*inner) * (top - start) - open_mm3


def turned_over(solid: Solid) -> Solid:
    """A solid laid on its head: turned by 180 degrees about x, its box again at the origin."""
    x0, _, _, _, y1, z1 = solid.bounds
    return Move(Tip(Tip(solid, "x"), "x"), x=-x0, y=y1, z=z1)
