"""What a wall meets when its space is stopped: so many times the weight of what lies behind it, or the energy it has.

A stiff wall stops things at once and takes the force that stops them. A soft one gives way and takes less: no more than
the energy that they come with. Whichever is less decides. Something behind the wall helps as soon as it is met.
"""

from __future__ import annotations

import math

from nookwright.checks.strength.backing import NOTHING, Behind
from nookwright.checks.weights import G_PER_KG, weight_n
from nookwright.ground.sources import Fact, Kind

N_MM_PER_J = Fact(1000.0, unit="N mm/J", kind=Kind.STANDARD, source="SI.")


def bulge(mass_g: float, sag_per_n: float, *, accel_g: float, speed_m_s: float, behind: Behind = NOTHING) -> float:
    """How far a wall bulges when things come against it, mm: the lesser of what their force and their energy do.

    Args:
        mass_g: of the things.
        sag_per_n: of the wall alone, mm/N.
        accel_g: how hard they are stopped.
        speed_m_s: from what speed.
        behind: what is behind the wall.

    >>> round(bulge(1000, 0.1, accel_g=5, speed_m_s=0.5), 2), round(bulge(1000, 1.0, accel_g=5, speed_m_s=0.5), 2)
    (4.9, 15.81)
    """
    if mass_g <= 0 or sag_per_n <= 0:
        return 0.0
    by_force = behind.held(accel_g * weight_n(mass_g) * sag_per_n)
    return min(by_force, _by_energy(energy_n_mm(mass_g, speed_m_s), 1 / sag_per_n, behind))


def energy_n_mm(mass_g: float, speed_m_s: float) -> float:
    """Energy of things on the move, N mm.

    >>> energy_n_mm(1000, 0.5)
    125.0
    """
    return mass_g / G_PER_KG * speed_m_s**2 / 2 * N_MM_PER_J


def _by_energy(energy: float, stiffness: float, behind: Behind) -> float:
    """Bulge that takes up an energy: k w^2 / 2 of the wall, and as much again of what gives way behind it."""
    alone = math.sqrt(2 * energy / stiffness)
    if alone <= behind.gap:
        return alone
    if not behind.gives:
        return behind.gap
    # k w^2 / 2 + k (w - gap)^2 / 2 = energy
    return (behind.gap + math.sqrt(4 * energy / stiffness - behind.gap**2)) / 2
