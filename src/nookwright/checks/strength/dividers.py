"""Loose dividers of trays: a plate in three grooves, its rim free, pushed by a hand or by what lies beside it.

A divider is printed lying, so it bends along its layers. What this does not know: how deep it stands in its grooves.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.bodies import matrix_of
from nookwright.checks.forces.slams import slams_of
from nookwright.checks.strength.impact import bulge
from nookwright.checks.strength.plates import THIN, Edge, Edges, Patch, Plate, Spread
from nookwright.checks.strength.walls import BENDING_GAIN, CROSSED, HAND_N, HAND_WIDE
from nookwright.checks.strength.worst import Case, worst_of
from nookwright.ground.findings import Severity

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.checks.strength.loads import Carried
    from nookwright.exchange.kit import Placement
    from nookwright.ground.findings import Finding

GROOVED = Edges(Edge.RESTING, Edge.RESTING, Edge.RESTING, Edge.FREE)


def check_dividers(carried: Carried) -> tuple[Finding, ...]:
    """Check every loose divider that is placed; its size is that of its file, which is compared elsewhere.

    Args:
        carried: the kit and what its parts carry.
    """
    cases = [case for placement in carried.kit.placements for case in _cases(placement, carried)]
    return (
        *worst_of(
            "divider-weak", Severity.WARN, cases,
            "{what} bends it by up to {sag:.1f} mm with {stress:.1f} MPa; the plastic bears {limit:.1f} MPa at once.",
            "Take fixed dividers, a thicker card, or more of them.",
        ),
    )  # fmt: skip


def _cases(placement: Placement, carried: Carried) -> Iterator[Case]:
    """A hand at the middle of its rim, and a stop that throws all of a compartment against it."""
    part = carried.parts[placement.part]
    plastic = carried.plastic(part.id)
    if part.kind != "divider" or plastic is None:
        return
    low, high = carried.boxes[placement.id]
    sides = high - low
    thickness = min(part.size)
    upright = float(sides[2])
    length = float(np.max(sides[:2]))
    plate, limit = Plate(length, upright, thickness, GROOVED), plastic.strength_mpa * BENDING_GAIN
    wide, tall = (round(min(HAND_WIDE / side, 1.0), 1) or 0.1 for side in (length, upright))
    pushed = plate.bent(Patch(0.5, 1 - tall / 2, wide, tall), HAND_N, plastic.modulus_mpa)
    worst = max(pushed.along_x, pushed.along_y)
    push = f"A push of {HAND_N:g} N at its rim"
    yield Case(part.id, placement.label, push, worst, limit, pushed.sag, bound=not pushed.thin)
    normal = matrix_of(placement.space_from_part)[:3, int(np.argmin(part.size))]
    if abs(float(normal[1])) < CROSSED:
        return
    one_n = plate.bent(Spread.EVEN, 1 / (length * upright), plastic.modulus_mpa)
    mass_g = _beside_g(placement, carried)
    for slam in slams_of(carried.surveyed[placement.space]):
        sag = bulge(mass_g, one_n.sag, accel_g=slam.accel_g, speed_m_s=slam.speed_m_s)
        stress = max(one_n.along_x, one_n.along_y) * sag / one_n.sag
        what = f"What lies beside it, {slam.words},"
        yield Case(part.id, placement.label, what, stress, limit, sag, bound=sag > THIN * thickness)


def _beside_g(placement: Placement, carried: Carried) -> float:
    """Mass of the things beside a divider at most, g: those of its tray, shared by its dividers."""
    shares = [0.0]
    for host in placement.stands_on:
        dividers = sum(1 for one in carried.on_it[host] if carried.parts[one.part].kind == "divider")
        shares.append(carried.inside_g[host] / dividers)
    return max(shares)
