"""Whether the liner itself stays when its drawer stops: panels, strips, and the wall behind them.

Everything that stands pulls at the liner by its cones, and the liner is only laid in. It slides until what lies
beside it meets the wall; a thin edge that meets a low strip rides over it.

What this does not know: straps that buckle, though what stands on them keeps them flat.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.checks.forces.around import WALL
from nookwright.checks.weights import weight_n
from nookwright.ground.findings import Against, Finding, Severity
from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from nookwright.checks.forces.around import Around
    from nookwright.checks.forces.slams import Slam
    from nookwright.checks.forces.stands import Loads, Stand

LINER_GAP = Fact(
    8.0, unit="mm", kind=Kind.CALCULATED, source="A gap without a strip, 4, and what a liner is smaller: 1 + 0.15 %."
)
LIP = Fact(2.0, unit="mm", kind=Kind.CALCULATED, source="Three times a panel: its edge cannot ride over it in a slam.")


def sliding_liners(
    stands: Sequence[Stand], around: Around, slam: Slam, loads: Loads, panels: Sequence[str]
) -> Iterator[Finding]:
    """Liners that have room to slide before they meet the wall.

    Args:
        stands: everything that stands in the space.
        around: the parts of the space.
        slam: the stop.
        loads: of the kit.
        panels: ids of the placements that are panels.
    """
    for name in panels:
        yield from _rides_over(name, around, slam, loads)
        free = _free_way(name, around, slam, loads)
        if free <= LINER_GAP:
            continue
        carried = sum(stand.mass.mass_g for stand in stands if name in stand.on) + loads.of_part(name).mass_g
        text = (
            f"The liner of {loads.placements[name].space} has {free:.0f} mm to slide to the {slam.throw.value} "
            f"{slam.words}, with {weight_n(carried, slam.accel_g):.0f} N; allowed {LINER_GAP:g} mm."
        )
        remedy = "Lay a strip between liner and wall, or fix the liner with double-sided tape at its corners."
        yield Finding("slam-liner-slides", Severity.WARN, name, text, remedy, against=Against(free, LINER_GAP, "mm"))


def _rides_over(name: str, around: Around, slam: Slam, loads: Loads) -> Iterator[Finding]:
    """A strip beside a panel that is so low that the panel's thin edge rides over it."""
    low, high = loads.box_of(name)
    stop = around.next(low, high, slam.throw, above=float(low[2]), own=frozenset((name,)))
    if stop.name == WALL or loads.parts[loads.placements[stop.name].part].kind != "filler":
        return
    strip = loads.box_of(stop.name)
    lip = float(strip[1][2] - strip[0][2])
    if lip < LIP:
        text = (
            f"The strip to the {slam.throw.value} of the liner of {loads.placements[name].space} is {lip:.1f} mm high; "
            f"at a slam the liner's edge rides over what is lower than {LIP:g} mm."
        )
        remedy = "Lay a strip with a lip, or fix the liner with double-sided tape at its corners."
        yield Finding("slam-liner-rides-over", Severity.WARN, name, text, remedy, against=Against(lip, LIP, "mm"))


def _free_way(name: str, around: Around, slam: Slam, loads: Loads) -> float:
    """Gaps between a part of a liner and the wall added up, along what lies next in the way, mm."""
    free, seen = 0.0, set()
    while name != WALL and name not in seen:
        seen.add(name)
        low, high = loads.box_of(name)
        stop = around.next(low, high, slam.throw, above=float(low[2]), own=frozenset((name,)))
        free, name = free + stop.gap, stop.name
    return free
