"""Beams and snapping tongues by the formulas of any handbook; sections are rectangles, forces in N, lengths in mm."""

from __future__ import annotations

import math


def cantilever_sag(force_n: float, length: float, *, width: float, height: float, modulus_mpa: float) -> float:
    """Sag of a beam that is held at one end, under a force at the other, mm: F L^3 / (3 E I).

    >>> round(cantilever_sag(10, 100, width=20, height=3, modulus_mpa=2000), 2)
    37.04
    """
    return force_n * length**3 / (3 * modulus_mpa * inertia(width, height))


def inertia(width: float, height: float) -> float:
    """Second moment of area, mm4: b h^3 / 12.

    >>> inertia(20, 3)
    45.0
    """
    return width * height**3 / 12


def bending_mpa(moment_n_mm: float, *, width: float, height: float) -> float:
    """Largest stress, MPa: 6 M / (b h^2).

    >>> round(bending_mpa(1000, width=20, height=3), 2)
    33.33
    """
    return 6 * moment_n_mm / (width * height**2)


def tongue_strain(thickness: float, deflection: float, length: float) -> float:
    """Largest strain of a tongue of even section that is bent at its end: 1.5 h Y / L^2.

    >>> round(tongue_strain(2.5, 2.5, 15.0), 4), round(tongue_strain(2.5, 2.5, 18.0), 4)
    (0.0417, 0.0289)
    """
    return 1.5 * thickness * deflection / length**2


def tongue_force_n(width: float, thickness: float, deflection: float, length: float, modulus_mpa: float) -> float:
    """Force that bends a tongue so far, N: E b h^3 Y / (4 L^3).

    >>> round(tongue_force_n(8, 2, 1, 12, 2200), 1)
    20.4
    """
    return modulus_mpa * width * thickness**3 * deflection / (4 * length**3)


def mating_n(force_n: float, slope_deg: float, friction: float) -> float:
    """Force along the way that pushes a ramp over an edge, N: P tan(a + rho); infinite where it locks.

    >>> round(mating_n(1, 30, 0.3), 3), mating_n(1, 73.4, 0.3)
    (1.061, inf)
    """
    angle = math.radians(slope_deg) + math.atan(friction)
    return force_n * math.tan(angle) if angle < math.pi / 2 else math.inf
