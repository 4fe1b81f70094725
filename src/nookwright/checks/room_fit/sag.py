"""Whether the tops of neighbours meet over a hollow floor.

A floor that sags by b over a side W is taken as a parabola. Stiff parts stand on it at an angle to each other of
8 b / W^2 times the distance of their middles, so their tops come together by that times the height of the lower one.
What is left of the gap between them in the written meshes, when both are printed at their largest, must be more. What
it does not know: how the liner gives way. Over a bulge tops go apart.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.checks.room_fit.distances import least_distance
from nookwright.checks.room_fit.gaps import beside, between, grown_by, longest, neighbours
from nookwright.ground.findings import Against, Finding, Severity
from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator, Mapping

    from nookwright.checks.room_fit.furnished import Furnished, Stood
    from nookwright.checks.room_fit.printed import Largest

PARABOLA = Fact(8.0, unit="1", kind=Kind.CALCULATED, source="A parabola of sag b over a span W bends by 8 b / W^2.")
SAID = "floor-bowed-tops"  # what the layout says of the same, by cells


def check_sag(spaces: tuple[Furnished, ...], largest: Mapping[str, Largest], said: Collection[str]) -> list[Finding]:
    """A warning for each space whose floor sags so far that tops of neighbours meet.

    Args:
        spaces: with what stands in them.
        largest: how large each part may be printed, by its id.
        said: ids of the spaces of which that was said before.
    """
    found = []
    for space in spaces:
        if space.space.bow > 0 and space.space.id not in said:
            meeting = list(_meeting(space, largest))
            if meeting:
                found.append(_said(space, meeting))
    return found


def _meeting(space: Furnished, largest: Mapping[str, Largest]) -> Iterator[tuple[float, float, str, str]]:
    """Pairs whose tops meet: by how much they come together, what is left between them, and who."""

    def reach(one: Stood) -> float:
        return largest[one.part.id].growth(longest(one)) / 2 + _most(space, one)

    for one, other in neighbours(space, reach):
        closing = _closing(space, one, other)
        grown = grown_by(one, other, (largest[one.part.id], largest[other.part.id]))
        gap = least_distance(*beside(one, other), closing + grown)
        if gap - grown < closing:
            first, second = sorted((one.id, other.id))
            yield closing, max(0.0, gap - grown), first, second


def _bend(space: Furnished, axis: int) -> float:
    """Change of slope of the floor along a side, for each mm."""
    level = space.space.usable[0]
    return float(PARABOLA) * space.space.bow / (level.width, level.depth)[axis] ** 2


def _most(space: Furnished, one: Stood) -> float:
    """The most by which a part may lean towards another as long as it, halved, mm."""
    return float(one.high[2]) * max(_bend(space, 0), _bend(space, 1)) * longest(one) / 2


def _closing(space: Furnished, one: Stood, other: Stood) -> float:
    """By how much the tops of two neighbours come together, mm."""
    axis = between(one, other)
    apart = abs(float((one.low + one.high)[axis] - (other.low + other.high)[axis])) / 2
    return _bend(space, axis) * apart * float(min(one.high[2], other.high[2]))


def _said(space: Furnished, meeting: list[tuple[float, float, str, str]]) -> Finding:
    """One warning for a space: the worst pair."""
    closing, left, one, other = max(meeting, key=lambda each: (each[0] - each[1], each[2], each[3]))
    more = f" So do {len(meeting) - 1} more." if len(meeting) > 1 else ""
    text = (
        f"The floor sags by {space.space.bow:.1f} mm: the tops of {one} and {other} come together by {closing:.2f} mm, "
        f"and {left:.2f} mm are left between them when both are printed at their largest.{more}"
    )
    remedy = f"Shim the liner by up to {space.space.bow:.1f} mm in the middle, or prop the board from below."
    return Finding("tops-meet", Severity.WARN, space.space.id, text, remedy, Against(closing, left, "mm"))
