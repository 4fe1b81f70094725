"""Whether parts tip when their space stops: by energy, unless a neighbour backs them.

A part with all in it is a rigid block that is stopped at the foot of its leading side. It must not go over; nor may
it lift so far that its leading row of cones leaves the sockets. It may do both where a neighbour stands within 2 mm
that reaches above its centre of mass and stands itself, or where the wall does. Neighbours are looked at from the
wall on, so that a row leans on it.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.forces.around import WALL
from nookwright.checks.forces.blocks import Block
from nookwright.ground.findings import Against, Finding, Severity
from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from nookwright.checks.forces.around import Around
    from nookwright.checks.forces.cones import Seated
    from nookwright.checks.forces.slams import Slam
    from nookwright.checks.forces.stands import Stand

BACKED = Fact(
    2.0, unit="mm", kind=Kind.CHOICE, source="A neighbour so near stops a part of 45 high before it leans by 3 degrees."
)
_REMEDY = (
    "Put it beside a wall or a neighbour as tall as its centre of mass, move what is heavy down in it or into a "
    "lower part, lay felt into the gap beside it, or say soft_close = true where a damper brakes the drawer."
)


def block_of(stand: Stand, slam: Slam) -> Block:
    """A stand as a block that turns about the foot of its leading side."""
    mass = stand.mass
    edge = stand.high[1] if slam.throw.sign > 0 else stand.low[1]
    back = slam.throw.sign * (float(edge) - float(mass.centre[1]))
    up = float(mass.centre[2] - stand.low[2])
    return Block(back, up, mass.about_x / mass.mass_g + back**2 + up**2)


def toppling_parts(
    stands: Sequence[Stand], seats: Mapping[str, Seated], around: Around, slam: Slam
) -> Iterator[Finding]:
    """Parts of a space that tip at a stop.

    Args:
        stands: everything that stands in it.
        seats: what each has in its sockets, by its name.
        around: the parts of the space.
        slam: the stop.
    """
    owner = {part: stand.name for stand in stands for part in stand.parts}
    falling: set[str] = set()
    for stand in sorted(stands, key=lambda one: (-slam.throw.sign * one.high[1], one.name)):
        if stand.mass.mass_g <= 0:
            continue
        block = block_of(stand, slam)
        over = block.topples(slam.accel_g, slam.speed_m_s)
        off = not over and _leaves_cones(stand, block, seats[stand.name], slam)
        if not (over or off) or _backed(stand, around, slam, owner, falling):
            continue
        falling.add(stand.name)
        yield _topples(stand, block, slam) if over else _unseats(stand, block, seats[stand.name], slam)


def _backed(stand: Stand, around: Around, slam: Slam, owner: Mapping[str, str], falling: set[str]) -> bool:
    """Whether something that stands is near enough and high enough in its way."""
    above = float(stand.mass.centre[2])
    stop = around.next(stand.low, stand.high, slam.throw, above=above, own=frozenset(stand.parts))
    return stop.gap <= BACKED and (stop.name == WALL or owner.get(stop.name, WALL) not in falling)


def row_lift(stand: Stand, block: Block, seated: Seated, slam: Slam) -> float:
    """By how much the leading row of cones is left when the part lifts, mm; infinite where it goes over."""
    edge = stand.high[1] if slam.throw.sign > 0 else stand.low[1]
    angle = block.angle_at(slam.speed_m_s) if slam.accel_g > block.tips_at_g else 0.0
    nearest = float(np.abs(edge - seated.places[:, 1]).min()) if len(seated.places) else 0.0
    return math.inf if angle >= math.pi / 2 else nearest * math.sin(angle)


def _leaves_cones(stand: Stand, block: Block, seated: Seated, slam: Slam) -> bool:
    cones = seated.cones
    return cones is not None and len(seated.places) > 0 and row_lift(stand, block, seated, slam) >= cones.height


def _topples(stand: Stand, block: Block, slam: Slam) -> Finding:
    text = (
        f"{stand.label} in {stand.space} topples to the {slam.throw.value} {slam.words}, at {slam.speed_m_s:g} m/s: it "
        f"does so from {block.topples_at_m_s:.2f} m/s on, and nothing within {BACKED:g} mm backs it above "
        f"{block.up:.0f} mm."
    )
    against = Against(slam.speed_m_s, block.topples_at_m_s, "m/s")
    return Finding("slam-topples", Severity.WARN, stand.name, text, _REMEDY, against=against)


def _unseats(stand: Stand, block: Block, seated: Seated, slam: Slam) -> Finding:
    lift = row_lift(stand, block, seated, slam)
    height = seated.cones.height if seated.cones else 0.0
    text = (
        f"{stand.label} in {stand.space} lifts by {lift:.1f} mm at its leading cones {slam.words}; they are "
        f"{height:.1f} mm high, and nothing within {BACKED:g} mm backs it above {block.up:.0f} mm."
    )
    return Finding("slam-unseats", Severity.WARN, stand.name, text, _REMEDY, against=Against(lift, height, "mm"))
