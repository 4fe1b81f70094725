"""Whether parts slide when their drawer stops: cones carry them, or a chain of neighbours to the wall does.

Only the tightest sockets of a part are taken to bear, and of friction under it nothing is counted. What its cones do
not bear is handed on to the next part in the way, down to the wall; so is what the liner carries. Shelves are passed
over: a knock that gives 0.2 m/s moves a part by some millimetres, no more.

What this does not know: how the wall takes it, and whether panels were keyed together as the plan says.
"""

from __future__ import annotations

import math
from collections import defaultdict
from typing import TYPE_CHECKING

from nookwright.checks.forces.around import WALL
from nookwright.checks.forces.wedge import DRY, DUSTY, OILY, cone_bears_n, ride_up_g
from nookwright.checks.weights import weight_n
from nookwright.ground.findings import Against, Finding, Severity
from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from nookwright.checks.forces.around import Around
    from nookwright.checks.forces.cones import Seated
    from nookwright.checks.forces.slams import Slam
    from nookwright.checks.forces.stands import Stand

SHIFT = Fact(
    4.0, unit="mm", kind=Kind.CHOICE, source="Gaps below this get no strip; a part that moves so far stays put."
)


def bears_n(seated: Seated, accel_g: float) -> float:
    """What the cones of a stand bear at a stop, N; nothing where it would ride up them."""
    cones = seated.cones
    if cones is None or not seated.bearing or ride_up_g(cones.slope_deg, DUSTY) < accel_g:
        return 0.0
    return seated.bearing * cone_bears_n(cones.foot, cones.base_radius, cones.height)


def sliding_parts(
    stands: Sequence[Stand], seats: Mapping[str, Seated], around: Around, slam: Slam
) -> Iterator[Finding]:
    """Parts of a drawer that nothing holds at a stop.

    Args:
        stands: everything that stands in it.
        seats: what each has in its sockets, by its name.
        around: the parts of the drawer.
        slam: the stop.
    """
    owner = {part: stand.name for stand in stands for part in stand.parts}
    pushed_n: dict[str, float] = defaultdict(float)
    for stand in sorted(stands, key=lambda one: (slam.throw.sign * one.high[1], one.name)):
        needs = weight_n(stand.mass.mass_g, slam.accel_g) + pushed_n[stand.name]
        bears = bears_n(seats[stand.name], slam.accel_g)
        if needs <= bears:
            continue
        own = frozenset(stand.parts)
        stop = around.next(stand.low, stand.high, slam.throw, above=float(stand.mass.centre[2]) / 2, own=own)
        if stop.gap <= SHIFT:
            if stop.name != WALL and stop.name in owner:
                pushed_n[owner[stop.name]] += needs - bears
            continue
        yield _slides(stand, slam, needs, bears, len(seats[stand.name].places))


def _slides(stand: Stand, slam: Slam, needs: float, bears: float, cones: int) -> Finding:
    held = f"its cones bear {bears:.0f} N" if cones else "it has no cone in its sockets"
    text = (
        f"{stand.label} in {stand.space} slides to the {slam.throw.value} {slam.words}: at {slam.accel_g:g} g it "
        f"needs {needs:.0f} N, {held}, and nothing is within {SHIFT:g} mm of it."
    )
    remedy = (
        "Put a neighbour or a tall filler against it, share its things among two parts, give the space a fuller "
        "liner, or say soft_close = true where a damper brakes the drawer."
    )
    return Finding("slam-slides", Severity.WARN, stand.name, text, remedy, against=Against(needs, bears, "N"))


def reserve_words(slope_deg: float, accel_g: float) -> str:
    """How often more a part could be thrown before it rides up its cones: dry, dusty, oily.

    >>> reserve_words(75.0, 5.0)
    'dry without limit, dusty 3.1 times, oily 1.2 times'
    """
    words = []
    for name, friction in (("dry", DRY), ("dusty", DUSTY), ("oily", OILY)):
        ratio = ride_up_g(slope_deg, friction) / accel_g
        words.append(f"{name} without limit" if math.isinf(ratio) else f"{name} {ratio:.1f} times")
    return ", ".join(words)
