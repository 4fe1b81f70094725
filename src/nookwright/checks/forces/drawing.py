"""Whether a dispenser stays down when one hand draws a thing from it, full and when hardly anything is left.

The slot is in the middle of the lid. A pull straight up lifts the dispenser by its weight, a slanting one tips it
over its edge too; cones hold it in the plane. What it lacks is said as a plate of steel under the stack and as sand
in a hollow riser of its footprint.

What this does not know: how things cling to each other; who doubts the force measures it and writes it into the room
file.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.checks.forces.densities import GRAVEL_KN_M3, KN_M3, MM3_PER_ML, STEEL_KN_M3, one_g
from nookwright.checks.weights import weight_n
from nookwright.ground.findings import Against, Finding, Severity
from nookwright.ground.sources import Fact, Kind
from nookwright.sizing.ways.words import IN_A_DISPENSER
from nookwright.survey.dispensed import Dispensed
from nookwright.survey.models import Shape

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.checks.forces.stands import Loads, Stand
    from nookwright.exchange.kit import LotPlace
    from nookwright.survey.models import Lot

PULL_N = Fact(4.0, unit="N", kind=Kind.COMMON_PRACTICE, source="To draw a bag or a glove out of a pack through a slot.")
SHEET_N = Fact(2.0, unit="N", kind=Kind.CHOICE, source="Two fingertips pinch the uppermost sheet: half of a pull.")
RESERVE = Fact(1.5, unit="1", kind=Kind.COMMON_PRACTICE, source="By which a dispenser is heavier than the pull.")
WALL = Fact(5.0, unit="mm", kind=Kind.CHOICE, source="Wall, fillet and clearance on each side of a plate of ballast.")


@dataclass(frozen=True)
class Drawn:
    """A pull, and the mass that withstands it.

    Attributes:
        force_n: of the hand.
        needs_g: mass that stays down with the reserve.
        least_g: mass that just stays down.
    """

    force_n: float
    needs_g: float
    least_g: float


def force_of(lot: Lot) -> float:
    """Force with which one thing of a lot is drawn, N: as the room file says, or what is usual."""
    if lot.pull.force_n is not None:
        return lot.pull.force_n
    what = lot.dispenses or (Dispensed.SHEETS if lot.shape is Shape.FLAT else Dispensed.GLOVES)
    return float(SHEET_N if what is Dispensed.SHEETS else PULL_N)


def drawn_from(stand: Stand, force_n: float, up_deg: float) -> Drawn:
    """What mass a stand needs so that a pull at the middle of its top neither lifts nor tips it.

    Args:
        stand: with its lid and its things.
        force_n: of the hand.
        up_deg: how steep, degrees above the level.
    """
    up = force_n * math.sin(math.radians(up_deg))
    level = force_n * math.cos(math.radians(up_deg))
    top = float(stand.high[2] - stand.low[2])
    newtons = up
    for axis in (0, 1):
        half = float(stand.high[axis] - stand.low[axis]) / 2
        arm = min(float(stand.mass.centre[axis] - stand.low[axis]), float(stand.high[axis] - stand.mass.centre[axis]))
        newtons = max(newtons, (up * half + level * top) / max(arm, 1.0))
    least_g = newtons / weight_n(1.0)
    return Drawn(force_n, least_g * RESERVE, least_g)


def lifting_dispensers(stands: dict[str, Stand], loads: Loads) -> Iterator[Finding]:
    """Dispensers that a pull lifts.

    Args:
        stands: by the placements that they consist of.
        loads: of the kit.
    """
    for kept in loads.kit.lots:
        for place in kept.places:
            stand = stands.get(place.placement)
            if place.stance == IN_A_DISPENSER and stand is not None:
                yield from _lifts(stand, place, loads.lots[kept.id], loads)


def _lifts(stand: Stand, place: LotPlace, lot: Lot, loads: Loads) -> Iterator[Finding]:
    pull = drawn_from(stand, force_of(lot), lot.pull.up_deg)
    full_g = stand.mass.mass_g + lot.pull.ballast_g
    empty_g = full_g - loads.of_things(lot.id, place).mass_g
    if empty_g >= pull.needs_g:
        return
    lacks_g = pull.needs_g - empty_g
    severity = Severity.WARN if full_g < pull.least_g else Severity.NOTE
    when = _when(full_g, lacks_g, pull, place, lot)
    text = (
        f"The dispenser of {lot.name or lot.id} in {stand.space} {when}: a pull of {pull.force_n:g} N needs "
        f"{pull.needs_g:.0f} g with a reserve of {RESERVE:g}; empty it has {empty_g:.0f} g."
    )
    yield Finding(
        "dispenser-lifts",
        severity,
        stand.name,
        text,
        _remedy(stand, lacks_g),
        against=Against(empty_g, pull.needs_g, "g"),
    )


def _when(full_g: float, lacks_g: float, pull: Drawn, place: LotPlace, lot: Lot) -> str:
    """From when on a dispenser may lift, in words."""
    if full_g < pull.least_g:
        return "lifts even when it is full"
    if full_g < pull.needs_g:
        return "has little reserve against lifting, even when it is full"
    return f"may lift once fewer than {math.ceil(lacks_g / max(1e-9, one_g(lot)))} of {place.count} are left"


def ballast_levels(width: float, depth: float, lacks_g: float) -> tuple[float, float]:
    """Thickness of a steel plate, and height of sand, that make up for a mass, mm.

    Args:
        width: outer, of the dispenser, mm.
        depth: the same to the back.
        lacks_g: mass.

    >>> [round(level, 1) for level in ballast_levels(110.0, 110.0, 500.0)]
    [6.4, 32.7]
    """
    area = max(1.0, (width - 2 * WALL) * (depth - 2 * WALL))
    steel, sand = (lacks_g / (density * KN_M3) * MM3_PER_ML / area for density in (STEEL_KN_M3, GRAVEL_KN_M3))
    return float(steel), float(sand)


def _remedy(stand: Stand, lacks_g: float) -> str:
    width, depth = (float(stand.high[axis] - stand.low[axis]) for axis in (0, 1))
    steel, sand = ballast_levels(width, depth, lacks_g)
    return (
        f"Lay {lacks_g:.0f} g under the stack, such as a steel plate {max(0.1, steel):.1f} mm thick, or put it on a "
        f"hollow riser with {max(1.0, math.ceil(sand)):.0f} mm of dry sand, or under a rail that holds its rim, or "
        "draw with two hands; then say so with ballast_g, or measure the pull (force_n)."
    )
