"""Prisms that lie: outlines in an upright plane, drawn as a maker draws them, front view or side view."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.shapes.solids import Move, Prism, Solid, Tip

if TYPE_CHECKING:
    from nookwright.shapes.regions import Region


def along_y(front_view: Region, y0: float, y1: float) -> Solid:
    """An outline in (x, z), seen from the front, stretched from ``y0`` back to ``y1``."""
    return Move(Tip(Prism(front_view, y1 - y0), "x"), y=y1)


def along_x(side_view: Region, x0: float, x1: float) -> Solid:
    """An outline in (y, z), seen from the right, stretched from ``x0`` to ``x1``."""
    return Move(Tip(Prism(side_view, x1 - x0), "x"), x=x0, quarter_turns=1)
