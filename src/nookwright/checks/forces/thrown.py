"""Things that leave their place at a stop, and what to say about them.

What is held too little is said lot by lot, what lies above its rim altogether once a space. It is a warning where it
breaks, cuts or is heavy, or where its part is a cradle or a rest, made to hold it; of light things in a tray a note.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.checks.forces.blocks import GRAVITY_MM_S2, MM_S
from nookwright.checks.forces.wedge import DUSTY
from nookwright.ground.findings import Against, Finding, Severity
from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from nookwright.checks.forces.slams import Slam

LEAST_HOLD = Fact(2.0, unit="mm", kind=Kind.CHOICE, source="What is rounded at its foot climbs over a lower edge.")
HEAVY_G = Fact(250.0, unit="g", kind=Kind.CHOICE, source="What falls on a foot or on glass and is felt.")
_MOST_NAMED = 6


@dataclass(frozen=True)
class Thrown:
    """The thing of a place that leaves it soonest at a stop.

    Attributes:
        lot: id of its lot.
        name: of the lot, for people.
        space: that it is in.
        slam: the stop.
        depth: how deep it is held, mm.
        needs: how deep it should be, mm.
        grave: whether it breaks, cuts or is heavy, or its part is made to hold it.
    """

    lot: str
    name: str
    space: str
    slam: Slam
    depth: float
    needs: float
    grave: bool

    @property
    def loose(self) -> bool:
        """Whether nothing holds it: it lies above the rim."""
        return self.depth < LEAST_HOLD


def slide_way(slam: Slam, friction: float = DUSTY) -> float:
    """How far a thing slides that nothing but friction stops, mm.

    Args:
        slam: the stop.
        friction: coefficient.
    """
    return 0.0 if slam.accel_g <= friction else (slam.speed_m_s * MM_S) ** 2 / (2 * friction * GRAVITY_MM_S2)


def thrown_findings(thrown: Iterable[Thrown]) -> Iterator[Finding]:
    """What to say: once a space of what lies loose above rims, once a lot of what is held too little.

    Args:
        thrown: of all places and all stops.
    """
    loose: dict[str, list[Thrown]] = defaultdict(list)
    held: dict[str, list[Thrown]] = defaultdict(list)
    for one in thrown:
        (loose[one.space] if one.loose else held[one.lot]).append(one)
    for space, several in sorted(loose.items()):
        yield _loose(space, several)
    for _, several in sorted(held.items()):
        yield _held(max(several, key=lambda one: one.needs - one.depth))


def _loose(space: str, thrown: Sequence[Thrown]) -> Finding:
    """What lies above its rim: a note, unless it is what breaks, cuts or is heavy."""
    grave = sorted({one.name for one in thrown if one.grave})
    names = sorted({one.name for one in thrown})
    said = grave or names
    more = len(names) - len(said[:_MOST_NAMED])
    what = "; ".join(said[:_MOST_NAMED]) + (f"; and {more} other {'lot' if more == 1 else 'lots'}" if more else "")
    slam = max((one.slam for one in thrown), key=slide_way)
    text = (
        f"In {space} the uppermost things of some lots lie above their rims ({what}): less than {LEAST_HOLD:g} mm of a "
        f"wall stands before them; {slam.words}, they slide {slide_way(slam):.0f} mm and fall off."
    )
    remedy = (
        "Keep fewer on each other, or ask for a higher tray, or keep them in a lower space or on a shelf; a damper "
        "(soft_close = true) helps when it is shut."
    )
    severity = Severity.WARN if grave else Severity.NOTE
    return Finding("slam-throws-upper", severity, space, text, remedy, against=Against(0.0, LEAST_HOLD, "mm"))


def _held(one: Thrown) -> Finding:
    text = (
        f"Of {one.name} in {one.space} a thing tips out of its place to the {one.slam.throw.value} {one.slam.words}: "
        f"walls hold it up to {one.depth:.1f} mm of its height, and should up to {one.needs:.1f} mm."
    )
    remedy = (
        "Give it a deeper pocket or a higher tray, a neighbour as tall as its middle, or a lower place; a damper "
        "(soft_close = true) helps when it is shut."
    )
    severity = Severity.WARN if one.grave else Severity.NOTE
    return Finding("slam-throws", severity, one.lot, text, remedy, against=Against(one.depth, one.needs, "mm"))
