"""The mechanics of lids: how a sliding lid jams, what strain a snapping tongue bears, what it takes to press it in.

All of it is closed forms of handbooks, checked in ``tests/published/test_lids.py``.
"""

from __future__ import annotations

import math

from nookwright.ground.sources import Fact, Kind

SLIDING_FRICTION = Fact(
    0.6, unit="1", kind=Kind.CHOICE, source="The worst of the published 0.2 to 0.6 of plastics on plastics: a lid jams."
)
MODULUS_MPA = Fact(
    2200.0, unit="MPa", kind=Kind.MEMORY, source="Bending modulus of printed PLA; data sheets give 2000 to 2600."
)
ONE_OFF_STRAIN = Fact(
    0.0075,
    unit="1",
    kind=Kind.CALCULATED,
    source="Half of 1.5 %, the yield strain that a maker's sheet gives for printed PLA by ASTM D638.",
)


def jamming_length(width: float, friction: float = SLIDING_FRICTION) -> float:
    """Guided length below which a lid that is pulled at one corner jams, mm.

    Pulled by F at a corner, half a width beside its middle, it bears on its guides by a couple N over the guided length
    l: N l = F w / 2. Their friction 2 mu N = F mu w / l reaches F where l = mu w.

    Args:
        width: between the guides, mm.
        friction: coefficient.

    >>> jamming_length(100.0, 0.3)
    30.0
    """
    return friction * width


def snap_strain(thickness: float, deflection: float, length: float) -> float:
    """Largest strain of a tongue of constant section that is bent at its end: 1.5 h Y / L^2.

    Args:
        thickness: in the direction of bending, mm.
        deflection: at the end, mm.
        length: from root to end, mm.

    >>> round(snap_strain(2.5, 2.5, 15.0), 4)
    0.0417
    """
    return 1.5 * thickness * deflection / length**2


def snap_length(thickness: float, deflection: float, strain: float = ONE_OFF_STRAIN) -> float:
    """Shortest tongue that bears a deflection at a strain, mm.

    >>> round(snap_strain(2.0, 0.8, snap_length(2.0, 0.8)), 5)
    0.0075
    """
    return math.sqrt(1.5 * thickness * deflection / strain)


def snap_force_n(
    width: float, thickness: float, deflection: float, length: float, *, modulus_mpa: float = MODULUS_MPA
) -> float:
    """Force that bends the end of a tongue so far: E b h^3 Y / (4 L^3), N.

    >>> round(snap_force_n(8.0, 2.0, 1.0, 12.0, modulus_mpa=2200.0), 1)
    20.4
    """
    return modulus_mpa * width * thickness**3 * deflection / (4 * length**3)


def mating_force_n(force_n: float, ramp_deg: float, friction: float) -> float:
    """Force along the way that pushes a nose over an edge: P (mu + tan a) / (1 - mu tan a), N; infinite where it locks.

    Args:
        force_n: that bends the tongue, N.
        ramp_deg: angle of the ramp against the way, degrees.
        friction: coefficient.

    >>> round(mating_force_n(1.0, 30.0, 0.3), 3)
    1.061
    """
    slope = math.tan(math.radians(ramp_deg))
    return force_n * (friction + slope) / (1 - friction * slope) if friction * slope < 1 else math.inf


def beam_sag(load_n: float, span: float, width: float, thickness: float) -> float:
    """Sag of a strip on two supports under a load in its middle: F L^3 / (48 E I) = F L^3 / (4 E b h^3), mm.

    >>> round(beam_sag(10.0, 100.0, 20.0, 3.0) * 2200 / 2000, 3)
    2.315
    """
    return load_n * span**3 / (4 * MODULUS_MPA * width * thickness**3)
