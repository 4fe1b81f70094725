"""Cones and sockets as wedges: when a part rides up, how hard a jammed one comes off, what a cone bears.

Friction of printed plastics differs widely, so all is worked out at both ends. A side force makes a part ride up its
cones where it is ``tan(b + phi)`` times its weight, ``tan(phi)`` the friction, b the slope; from ``b + phi = 90
degrees`` on it never does. A part that was pressed on comes off at ``(mu cos a - sin a) / (mu cos a + sin a)`` of the
press, ``a = 90 degrees - b``.
"""

from __future__ import annotations

import math

from nookwright.ground.sources import Fact, Kind
from nookwright.module.seat import STRAP_WIDTH

DRY = Fact(
    0.3, unit="1", kind=Kind.COMMON_PRACTICE, source="Plastics on each other, dry: published lists say 0.3 to 0.6."
)
DUSTY = Fact(0.2, unit="1", kind=Kind.CHOICE, source="The lower end of the same lists: dust rolls between the faces.")
OILY = Fact(
    0.1,
    unit="1",
    kind=Kind.MEASURED,
    source="Printed PLA and ABS on a tribometer, dry and oiled: 0.04 to 0.2 (Polymers 2023, 15(20), 4112).",
)
ROUGH = Fact(0.6, unit="1", kind=Kind.COMMON_PRACTICE, source="The upper end of published lists: what jams hardest.")
CONE_STRESS_MPA = Fact(
    15.0,
    unit="MPa",
    kind=Kind.COMMON_PRACTICE,
    source="What straps of PLA bear often: a third of their short strength.",
)
STRAPS = Fact(2.0, unit="1", kind=Kind.CALCULATED, source="Straps of a cone that pull in any one direction.")


def ride_up_g(slope_deg: float, friction: float) -> float:
    """Side force by weight at which a part rides up its cones; infinite where it locks.

    Args:
        slope_deg: of the cones, from the level, degrees.
        friction: coefficient.

    >>> round(ride_up_g(75.0, 0.2), 1), ride_up_g(75.0, 0.3)
    (15.5, inf)
    """
    angle = math.radians(slope_deg) + math.atan(friction)
    return math.tan(angle) if angle < math.pi / 2 else math.inf


def pull_off_share(slope_deg: float, friction: float) -> float:
    """Force that frees a jammed cone by the force that pressed it on; 0 where it frees itself.

    >>> round(pull_off_share(75.0, 0.6), 2), round(pull_off_share(75.0, 0.2), 2)
    (0.38, 0.0)
    """
    a = math.radians(90 - slope_deg)
    hold, push = friction * math.cos(a), math.sin(a)
    return max(0.0, (hold - push) / (hold + push))


def cone_bears_n(thickness: float, base_radius: float, height: float, strap: float = STRAP_WIDTH) -> float:
    """Side force that a cone bears with its straps, N: they pull at its foot, and it bends over it.

    Args:
        thickness: of the straps, mm.
        base_radius: of the cone, mm.
        height: of the cone above them, mm; the socket bears along its slope, so in the middle of it.
        strap: width of each strap, mm.

    >>> round(cone_bears_n(0.6, 2.5, 3.0))
    65
    """
    pulled = STRAPS * strap * thickness
    bent = math.pi * base_radius**3 / 4 / (height / 2)
    return float(CONE_STRESS_MPA * min(pulled, bent))
