"""The roof of a part as its mesh has it: how thick the plate on top is, and how wide the hollow that it spans.

Looked at are upright lines. Where the uppermost stretch of plastic is thin there is a hollow below it; the box round
those places is the span, and a lid, which has nothing below, spans all of itself.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.strength.probes import scattered, solid_along
from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from nookwright.checks.bodies import Shape
    from nookwright.checks.verdicts import Verdicts

PLATE = Fact(6.0, unit="mm", kind=Kind.CHOICE, source="A thicker roof is a block: nothing of ours breaks it.")
LEAST_SHARE = Fact(0.1, unit="1", kind=Kind.CHOICE, source="A hollow below fewer places is a hole, not a room.")
LOW_QUARTER = Fact(25.0, unit="%", kind=Kind.CHOICE, source="Of places: cones and ribs on a roof take less than that.")
_LINES = 169


@dataclass(frozen=True)
class Roof:
    """A roof: width and depth of the hollow that it spans, its thickness, in mm."""

    width: float
    depth: float
    thickness: float


def roof_of(shape: Shape, verdicts: Verdicts) -> Roof | None:
    """The roof of a part; nothing for one that is solid below its top.

    Args:
        shape: of the part.
        verdicts: those reached before.
    """
    found = verdicts.of(f"roof {shape.key}", lambda: _looked_at(shape))
    return Roof(*found) if found else None


def _looked_at(shape: Shape) -> tuple[float, ...]:
    """Width, depth and thickness, or nothing."""
    low, high = shape.box
    points = scattered((low[0], low[1]), (high[0], high[1]), _LINES)
    upper = solid_along(shape, 2, points).last()
    thin = upper.where(upper.thickness < PLATE)
    if len(thin.line) < LEAST_SHARE * thin.count:
        return ()
    places = points[thin.line.astype(np.int64)]
    apart = np.sqrt((high - low)[0] * (high - low)[1] / _LINES)  # the edge of the hollow lies between two lines
    span = np.minimum(np.ptp(places, axis=0) + apart, (high - low)[:2])
    return float(span[0]), float(span[1]), float(np.percentile(thin.thickness, LOW_QUARTER))
