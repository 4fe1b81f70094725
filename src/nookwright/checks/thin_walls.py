"""Walls that are thinner than the narrowest line of a nozzle: a slicer leaves them out, wholly or in part.

A section is opened: worn away by half of the narrowest line and grown again. What does not come back is too thin. It is
a wall if it is longer than the tip of a sharp corner and goes on higher than an edge that runs out.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.ground.tolerances import MESH
from nookwright.module.lines import NARROWEST_SHARE

if TYPE_CHECKING:
    from manifold3d import CrossSection

    from nookwright.checks.sections import Sections

LONGEST_TIP = Fact(
    3.0, unit="lines", kind=Kind.CHOICE, source="A sharp corner ends as a tip thinner than a line; a wall is longer."
)
EDGE_HEIGHT = Fact(
    1.0, unit="mm", kind=Kind.CHOICE, source="The edge of a lead-in of 1 mm runs out over its height; a wall is higher."
)
_SEAM = 0.05  # mm; more than round corners lose when they are opened
_STRIP = 0.01  # mm; half the width of what is left over by rounding alone
_ROUND = 32  # corners of a circle when a section is opened
_SHARP = 2.0  # miter limit: exact at right angles


def thin_walls(sections: Sections, number: int, line: float) -> list[CrossSection]:
    """What is too thin in a layer and in enough layers beside it.

    Args:
        sections: of the mesh.
        number: of the layer.
        line: width of a line, mm.
    """
    return [region for region in _thin(sections, number, line) if _goes_on(sections, number, line, region)]


def grown(region: CrossSection, by: float) -> CrossSection:
    """A region grown, or worn away where ``by`` is negative, mm; right angles stay right angles."""
    from manifold3d import JoinType

    return region.offset(by, JoinType.Miter, _SHARP)


def opened(region: CrossSection, radius: float, more: float = 0.0) -> CrossSection:
    """What a disc of this radius reaches from inside, and a little more, mm."""
    from manifold3d import JoinType

    return grown(region, -radius).offset(radius + more, JoinType.Round, _SHARP, _ROUND)


def holds_a_disc(region: CrossSection, radius: float = _STRIP) -> bool:
    """Whether a disc of this radius fits in, mm.

    A region thinner than the plane kernel's grid may turn over when it is worn away, so the areas are asked too.
    """
    area = region.area()
    return bool(area >= math.pi * radius**2 and 0 < grown(region, -radius).area() < area)


def length_of(region: CrossSection) -> float:
    """The diagonal of its box, mm."""
    x0, y0, x1, y1 = region.bounds()
    return math.hypot(x1 - x0, y1 - y0)


def _thin(sections: Sections, number: int, line: float) -> list[CrossSection]:
    """What is thinner than the narrowest line in a layer, and longer than a tip."""
    here = sections.at(number)
    thin = here - opened(here, NARROWEST_SHARE * line / 2 - MESH, more=_SEAM)
    return [each for each in thin.decompose() if length_of(each) > LONGEST_TIP * line]


def _goes_on(sections: Sections, number: int, line: float, region: CrossSection) -> bool:
    """Whether what is thin in a layer is thin in enough layers together."""
    wanted = min(math.floor(EDGE_HEIGHT / sections.layer) + 1, sections.count)
    run = 1
    for step in (-1, 1):
        other = number + step
        while run < wanted and 0 <= other < sections.count:
            if all((region ^ thin).is_empty() for thin in _thin(sections, other, line)):
                break
            run += 1
            other += step
    return run >= wanted
