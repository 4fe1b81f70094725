"""Pockets for bodies with a neck, a shoulder or a rim, from their outline in radii and heights.

The pocket is the body grown by the clearance, with everything taken away that would keep it from lifting straight out:
at each height it is as wide as the body is anywhere below. The body stands on the floor, so it grows to the side and
downwards at its shoulders, but not through its foot.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from nookwright.ground.sources import Fact, Kind
from nookwright.parts.cradles.pocket import RadiusAtHeight, Revolved
from nookwright.parts.refusals import refuse_part
from nookwright.shapes.node import snapped

FEWEST_POINTS = Fact(2, unit="1", kind=Kind.CHOICE, source="A foot and a top: less is no body.")
_LEVEL = 1e-6  # heights that differ by less are one ledge


@dataclass(frozen=True)
class Profiled(Revolved):
    """A pocket for a turned body.

    Attributes:
        body: the body's outline from its foot, at height 0, to its top, as (radius, height); heights never fall.
        clearance: around it, on the radius, mm.
    """

    body: tuple[RadiusAtHeight, ...]
    clearance: float

    @property
    def words(self) -> str:
        """Kind, widest diameter and height of the body."""
        widest = 2 * max(radius for radius, _ in self.body)
        return f"profile {widest:g} wide {self.body[-1][1]:g} high"

    def profile(self, height: float) -> tuple[RadiusAtHeight, ...]:
        """The grown outline from the floor up to a height."""
        return cut_at(grown(without_undercuts(self.body), self.clearance), height)

    def _check(self) -> None:
        heights = [z for _, z in self.body]
        if len(self.body) < FEWEST_POINTS or abs(heights[0]) > _LEVEL or any(b < a for a, b in pairwise(heights)):
            refuse_part(
                "a profile pocket",
                "the outline rises from the foot at height 0",
                found=heights,
                allowed="two heights or more that never fall",
                remedy="Read radii from the bottom up.",
            )
        if not heights[-1] > 0 or self.clearance < 0:
            refuse_part(
                "a profile pocket",
                "the body has a height and room around it",
                found=f"{heights[-1]:g} high, clearance {self.clearance:g}",
                allowed="more than 0, and 0 or more",
                remedy="Give the height of the top.",
            )
        self._require_size(foot=2 * (self.body[0][0] + self.clearance))


def without_undercuts(body: tuple[RadiusAtHeight, ...]) -> tuple[RadiusAtHeight, ...]:
    """The outline of the room that a body sweeps when it is lifted: at each height the widest of what lies below.

    >>> without_undercuts(((10, 0), (20, 10), (5, 20), (25, 30)))
    ((10, 0), (20, 10), (20, 27.5), (25, 30))
    """
    made = [body[0]]
    for (r0, z0), (r1, z1) in pairwise(body):
        widest = made[-1][0]
        if r1 <= widest:
            continue
        if r0 < widest or made[-1] != (r0, z0):
            made.append((widest, z0 + (z1 - z0) * (widest - r0) / (r1 - r0)))
        made.append((r1, z1))
    if body[-1][1] > made[-1][1]:
        made.append((made[-1][0], body[-1][1]))
    return tuple(point for point, before in zip(made, [None, *made[:-1]], strict=True) if point != before)


def grown(outline: tuple[RadiusAtHeight, ...], clearance: float) -> tuple[RadiusAtHeight, ...]:
    """A widening outline, wider by a clearance and its shoulders lower by it, but for the foot on the floor.

    Args:
        outline: that never narrows, from height 0.
        clearance: to the side and downwards, mm.
    """
    lowered = tuple((radius + clearance, z - clearance) for radius, z in outline)
    above = [point for point in lowered if point[1] > 0]
    start = _radius_at(lowered, 0.0)
    return ((start, 0.0), *above)


def cut_at(outline: tuple[RadiusAtHeight, ...], height: float) -> tuple[RadiusAtHeight, ...]:
    """An outline from the floor up to a height, its last radius going on upwards."""
    kept = [point for point in outline if point[1] < height - _LEVEL]
    end = (_radius_at(outline, height), height)
    made: list[RadiusAtHeight] = []
    for radius, z in (*kept, end):
        point = snapped(radius), snapped(z)
        if not made or made[-1] != point:
            made.append(point)
    return tuple(made)


def _radius_at(outline: tuple[RadiusAtHeight, ...], height: float) -> float:
    """Radius of an outline at a height, the upper one on a ledge."""
    radius = outline[0][0]
    for (r0, z0), (r1, z1) in pairwise(outline):
        if z0 <= height:
            radius = r1 if height >= z1 else r0 + (r1 - r0) * (height - z0) / (z1 - z0)
    return radius
