"""How a piece stands while it is printed: whether the nozzle knocks it off the bed, how slim it is.

The nozzle catches on a curl or a blob now and then and pushes sideways. The first layer holds against that like the
foot of a post: the push at the top is a moment, and the pull at the far edge is that moment by the section modulus of
what lies on the bed.

What this does not know: brims and pads, how clean the bed is, how fast the printer goes, walls that sway by themselves.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nookwright.ground.sources import Fact, Kind
from nookwright.ground.tolerances import KERNEL

if TYPE_CHECKING:
    from manifold3d import CrossSection

    from nookwright.checks.boxes import Floats

PUSH_N = Fact(
    1.0, unit="N", kind=Kind.CHOICE, source="A nozzle that catches on a curl: a tenth of what makes belts skip."
)
HOLD_MPA = Fact(
    1.4, unit="MPa", kind=Kind.CHOICE, source="By it a square post 10 wide stands up to 165 high, one 5 wide up to 20."
)
SLIMMEST = Fact(
    10.0, unit="1", kind=Kind.COMMON_PRACTICE, source="Height over base; beyond this a piece sways and wants a brim."
)
DIRECTIONS = Fact(
    24, unit="1", kind=Kind.CHOICE, source="Pushes that are tried, 7.5 degrees apart, and the principal axes."
)


@dataclass(frozen=True)
class Moments:
    """Area, centroid and second moments about it of a plane region; mm."""

    area: float
    middle: tuple[float, float]
    xx: float  # integral of x squared
    yy: float
    xy: float

    @property
    def principal(self) -> float:
        """Direction of one of the two principal axes, radians; the other is square to it."""
        return float(np.arctan2(2 * self.xy, self.xx - self.yy) / 2)

    def along(self, cos: Floats, sin: Floats) -> Floats:
        """Second moment of the distances along each direction, mm4."""
        moment: Floats = self.xx * cos**2 + self.yy * sin**2 + 2 * self.xy * cos * sin
        return moment


def moments_of(region: CrossSection) -> Moments:
    """The moments of a region, by its outline.

    Args:
        region: with holes, if any, wound the other way.

    Returns:
        all of them; zeros for a region without area.
    """
    rings = [np.asarray(ring, dtype=np.float64) for ring in region.to_polygons()]
    if not rings:
        return Moments(0.0, (0.0, 0.0), 0.0, 0.0, 0.0)
    start = np.concatenate(rings)
    end = np.concatenate([np.roll(ring, -1, axis=0) for ring in rings])
    near = start.mean(axis=0)  # from nearby there is less to round
    (x0, y0), (x1, y1) = (start - near).T, (end - near).T
    cross = x0 * y1 - x1 * y0
    area = float(cross.sum() / 2)
    if area <= KERNEL:
        return Moments(0.0, (0.0, 0.0), 0.0, 0.0, 0.0)
    x, y = float((cross * (x0 + x1)).sum() / (6 * area)), float((cross * (y0 + y1)).sum() / (6 * area))
    xx = float((cross * (x0**2 + x0 * x1 + x1**2)).sum() / 12) - area * x**2
    yy = float((cross * (y0**2 + y0 * y1 + y1**2)).sum() / 12) - area * y**2
    xy = float((cross * (2 * x0 * y0 + x0 * y1 + x1 * y0 + 2 * x1 * y1)).sum() / 24) - area * x * y
    return Moments(area, (x + float(near[0]), y + float(near[1])), xx, yy, xy)


def pulled_mpa(first: CrossSection, height: float) -> float:
    """The pull at the edge of a first layer when the nozzle pushes at the top, MPa; over all directions the worst.

    Args:
        first: what lies on the bed.
        height: of the piece, mm.

    Returns:
        the stress; infinite where nothing lies on the bed.
    """
    moments = moments_of(first)
    if not moments.area:
        return float("inf")
    sampled = np.pi * np.arange(int(DIRECTIONS)) / DIRECTIONS
    turn = np.append(sampled, moments.principal + np.array([0.0, np.pi / 2]))  # a sliver gives way along its own axis
    cos, sin = np.cos(turn), np.sin(turn)
    points = np.concatenate([np.asarray(ring) for ring in first.to_polygons()]) - moments.middle
    reach = np.abs(points[:, :1] * cos + points[:, 1:] * sin).max(axis=0)
    stress = PUSH_N * height * reach / np.maximum(moments.along(cos, sin), KERNEL)
    return float(stress.max())


def slimness(first: CrossSection, height: float, least: float) -> float:
    """How many times as high as its base is deep a piece is.

    Args:
        first: what lies on the bed.
        height: of the piece, mm.
        least: a base counts as no less deep than this, mm.
    """
    x0, y0, x1, y1 = first.bounds() if not first.is_empty() else (0.0, 0.0, 0.0, 0.0)
    return float(height / max(min(x1 - x0, y1 - y0), least))
