"""Walls that are thinner than the narrowest line of a nozzle: a slicer leaves them out, wholly or in part.

A section is opened: worn away by half of the narrowest line and grown again. What does not come back is too thin. It is
a wall if it is longer than the tip of a sharp corner and goes on higher than an edge that runs out.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from nookwright.checks.sections import STRIP
from nookwright.ground.sources import Fact, Kind
from nookwright.ground.tolerances import MESH
from nookwright.module.lines import NARROWEST_SHARE

if TYPE_CHECKING:
    from collections.abc import Iterator

    from manifold3d import CrossSection

    from nookwright.checks.sections import Sections

LONGEST_TIP = Fact(
    3.0, unit="lines", kind=Kind.CHOICE, source="A sharp corner ends as a tip thinner than a line; a wall is longer."
)
EDGE_HEIGHT = Fact(
    1.0, unit="mm", kind=Kind.CHOICE, source="The edge of a lead-in of 1 mm runs out over its height; a wall is higher."
)
SEAM = Fact(0.05, unit="mm", kind=Kind.CALCULATED, source="More than round corners lose when a section is opened.")
_SHARP = 2.0  # miter limit: exact at right angles


@dataclass(frozen=True, eq=False)
class ThinWalls:
    """What is too thin in a mesh; each layer is looked at once.

    Attributes:
        sections: of the mesh.
        line: width of a line, mm.
    """

    sections: Sections
    line: float
    _made: dict[int, list[CrossSection]] = field(default_factory=dict, repr=False)

    def found(self) -> Iterator[tuple[int, CrossSection]]:
        """Layer and place of each wall that is too thin in enough layers on end; a wall may be found more than once."""
        for number in self.sections.walls(self._run):
            yield from ((number, region) for region in self._in(number) if self._goes_on(number, region))

    @property
    def _run(self) -> int:
        """How many layers on end make a wall."""
        return min(math.floor(EDGE_HEIGHT / self.sections.layer) + 1, self.sections.count)

    def _in(self, number: int) -> list[CrossSection]:
        """What is thinner than the narrowest line in a layer, and longer than a tip."""
        if number not in self._made:
            here = self.sections.at(number)
            thin = here - opened(here, NARROWEST_SHARE * self.line / 2 - MESH, more=SEAM)
            apart = [] if thin.is_empty() else thin.decompose()
            self._made[number] = [each for each in apart if length_of(each) > LONGEST_TIP * self.line]
        return self._made[number]

    def _goes_on(self, number: int, region: CrossSection) -> bool:
        """Whether what is thin in a layer is thin in enough layers together."""
        run = 1
        for step in (-1, 1):
            other = number + step
            while run < self._run and 0 <= other < self.sections.count:
                if all((region ^ thin).is_empty() for thin in self._in(other)):
                    break
                run += 1
                other += step
        return run >= self._run


def grown(region: CrossSection, by: float) -> CrossSection:
    """A region grown, or worn away where ``by`` is negative, mm; right angles stay right angles."""
    from manifold3d import JoinType

    return region.offset(by, JoinType.Miter, _SHARP)


def opened(region: CrossSection, radius: float, more: float = 0.0) -> CrossSection:
    """What a body as wide as this radius on each side reaches from inside, and a little more, mm."""
    return grown(grown(region, -radius), radius + more)


def holds_a_disc(region: CrossSection, radius: float = STRIP / 2) -> bool:
    """Whether a disc of this radius fits in, mm.

    A region thinner than the plane kernel's grid may turn over when it is worn away, so the areas are asked too.
    """
    area = region.area()
    return bool(area >= math.pi * radius**2 and 0 < grown(region, -radius).area() < area)


def width_of(region: CrossSection, most: float) -> float:
    """How wide a region is where it is widest, mm: twice the radius of the largest disc in it, to a hundredth.

    Args:
        region: any.
        most: where the search ends, mm.
    """
    low, high = 0.0, most / 2
    while high - low > MESH / 4:
        middle = (low + high) / 2
        low, high = (low, middle) if grown(region, -middle).is_empty() else (middle, high)
    return low + high


def length_of(region: CrossSection) -> float:
    """The diagonal of its box, mm."""
    x0, y0, x1, y1 = region.bounds()
    return math.hypot(x1 - x0, y1 - y0)
