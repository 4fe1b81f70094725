"""Masses as forces: what a mass presses with at rest, and what it takes to stop it."""

from __future__ import annotations

from nookwright.ground.sources import Fact, Kind
from nookwright.sizing.spaces.bow import GRAVITY

G_PER_KG = Fact(1000.0, unit="g/kg", kind=Kind.STANDARD, source="SI.")


def weight_n(mass_g: float, accel_g: float = 1.0) -> float:
    """Force of a mass at rest, or of one that is stopped, N.

    >>> round(weight_n(1000.0), 2), round(weight_n(1000.0, 5.0), 1)
    (9.81, 49.0)

    Args:
        mass_g: of the body.
        accel_g: how hard it is stopped, in times the fall; at rest it is one.
    """
    return mass_g / G_PER_KG * accel_g * GRAVITY
