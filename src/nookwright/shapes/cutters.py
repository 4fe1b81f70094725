"""Cutters overshoot by rule: a cut that opens a face reaches past it by ``tolerances.OVERSHOOT``.

Whether a cutter that ends exactly on a face opens it depends on the last bit of a sum; one that is short by
1e-12 leaves a skin, watertight and far too thin to see. So no cutter is made flush by hand: it is made
here, and told which of its ends is open. The end that is not open is exact.

>>> open_below(Rect(10, 10), 0, 3).bounds
(0.0, 0.0, -0.5, 10.0, 10.0, 3.0)
"""

from __future__ import annotations

from nookwright.ground.tolerances import OVERSHOOT
from nookwright.shapes.node import snapped
from nookwright.shapes.regions import Circle, Rect, Region
from nookwright.shapes.solids import Move, Prism, Taper


def through(region: Region, z0: float, z1: float) -> Move:
    """A cutter that goes right through a body from ``z0`` to ``z1``, open at both ends."""
    return _prism(region, z0 - OVERSHOOT, z1 + OVERSHOOT)


def open_below(region: Region, z0: float, z1: float) -> Move:
    """A cutter whose mouth is at the underside ``z0`` and whose ceiling is exactly at ``z1``."""
    return _prism(region, z0 - OVERSHOOT, z1)


def open_above(region: Region, z0: float, z1: float) -> Move:
    """A cutter whose floor is exactly at ``z0`` and whose mouth is at the top ``z1``."""
    return _prism(region, z0, z1 + OVERSHOOT)


def taper_open_below(mouth: Rect | Circle, z0: float, height: float, draw: float) -> Move:
    """A tapered cutter: ``mouth`` in the underside ``z0``, its ceiling ``height`` above drawn in by ``draw``.

    The overshoot goes on with the same slope, so the mouth has its size to within the grid of recipes.
    """
    more = snapped(draw * OVERSHOOT / height)
    if isinstance(mouth, Circle):
        return Move(Taper(Circle(mouth.radius + more), height + OVERSHOOT, draw + more), z=z0 - OVERSHOOT)
    wider = Rect(mouth.width + 2 * more, mouth.depth + 2 * more, mouth.radius + more)
    return Move(Taper(wider, height + OVERSHOOT, draw + more), x=-more, y=-more, z=z0 - OVERSHOOT)


def _prism(region: Region, z0: float, z1: float) -> Move:
    return Move(Prism(region, z1 - z0), z=z0)
