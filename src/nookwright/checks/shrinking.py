"""Whether the corners of a piece lift off the bed while it cools.

A layer is laid hot onto one that is cold already. Free, it would draw in by its shrinkage; held, it pulls the corners
up, those most that lie farthest from the middle. Against it works what of the first layer lies near the corner; what
pulls is what stands above it there. So the way that the farthest corner would go is compared with one that corners of a
block are known to bear, times the share of the two: a tray on its whole floor bears more, a block on feet less.

What this does not know: drafts, the bed, brims and pads. It says where a brim is worth it, not that a piece fails.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.standing import moments_of
from nookwright.ground.sources import Fact, Kind
from nookwright.ground.tolerances import MESH

if TYPE_CHECKING:
    from nookwright.checks.sections import Sections
    from nookwright.checks.strength.plastics import Plastic

AIR_C = Fact(
    30.0, unit="degC", kind=Kind.COMMON_PRACTICE, source="The air above the bed of an open printer, while it prints."
)
STIFF_MPA = Fact(500.0, unit="MPa", kind=Kind.CHOICE, source="Softer plastics, TPU, give way before a corner lifts.")
BORNE = Fact(
    0.45,
    unit="mm",
    kind=Kind.COMMON_PRACTICE,
    source="By it square corners stay down to a diagonal of 390 in PLA and of 180 in ABS, as people find.",
)
LOW = Fact(5.0, unit="mm", kind=Kind.CHOICE, source="Lower pieces are limp: the first layer holds them down.")
NEAR = Fact(10.0, unit="mm", kind=Kind.CHOICE, source="What lies so near to a corner holds it.")
LEAST_HOLD = Fact(0.25, unit="1", kind=Kind.CHOICE, source="Of a block: feet so thin bend along.")
MOST_HOLD = Fact(1.5, unit="1", kind=Kind.CHOICE, source="Of a block: walls far thinner than their floor still peel.")
_SIDES = 64  # of the circle round a corner


@dataclass(frozen=True)
class Corner:
    """The corner that is likeliest to lift.

    Attributes:
        at: x, y, mm.
        goes: how far it would go to the middle if it were free, mm.
        bears: how far it may, by what holds it, mm.
    """

    at: tuple[float, float]
    goes: float
    bears: float


def shrinkage_of(plastic: Plastic) -> float:
    """How much a plastic draws in once it is hard, as a share; nothing of a soft one.

    Args:
        plastic: with its expansion and where it softens.
    """
    if plastic.modulus_mpa < STIFF_MPA:
        return 0.0
    return plastic.expansion_per_k * max(0.0, plastic.softens_c - AIR_C)


def corner_of(sections: Sections, shrinkage: float) -> Corner | None:
    """The corner of a first layer that goes farthest against what it bears; none of a limp piece.

    Args:
        sections: of the piece, some of its layers looked at.
        shrinkage: of its plastic, as a share.
    """
    hull = sections.at(0).hull()
    if sections.height < LOW or not shrinkage or hull.is_empty():
        return None
    corners = np.asarray(hull.to_polygons()[0])
    away = np.linalg.norm(corners - moments_of(hull).middle, axis=1)
    x, y = corners[int(away.argmax())].tolist()
    goes = shrinkage * float(away.max())
    hold = _hold(sections, x, y) if goes > BORNE * LEAST_HOLD else MOST_HOLD
    return Corner((x, y), goes, BORNE * hold)


def _hold(sections: Sections, x: float, y: float) -> float:
    """What lies on the bed near a corner, by the mean of what is above it there and pulls."""
    from manifold3d import CrossSection

    near = CrossSection.circle(float(NEAR), _SIDES).translate((x, y))
    areas = [float((sections.at(number) ^ near).area()) for number in sections.looked_at]
    starts = [*sections.looked_at, sections.count]  # each layer stands for those up to the next that was looked at
    above = sum(area * (end - start) for area, start, end in zip(areas, starts, starts[1:], strict=False))
    return min(max(areas[0] * sections.count / max(above, MESH), LEAST_HOLD), MOST_HOLD)
