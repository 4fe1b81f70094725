"""Whether lines laid over nothing hold on at both ends: the spans of a region that has no plastic below it.

A bridge is laid in one direction. It holds if in some direction every line across the region begins and ends on what
was printed before; its span is then the longest of these lines, in the direction where that is least.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from manifold3d import CrossSection
    from numpy.typing import NDArray

    from nookwright.checks.boxes import Floats

    Which = NDArray[np.bool_]

LONGEST_BRIDGE = Fact(
    20.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="Printers of the trade lay bridges of this length flat."
)
DIRECTIONS = Fact(
    24, unit="1", kind=Kind.CHOICE, source="Tried for a bridge, 7.5 degrees apart: a span is at most 0.2 % longer."
)
_FREE_EDGES = 4  # whose directions are tried as well
_FEWEST_LINES = 5  # across a region in each direction
NUDGE = Fact(0.004, unit="mm", kind=Kind.CHOICE, source="What lies just outside an edge is looked up this far from it.")


@dataclass(frozen=True, eq=False)
class Carriers:
    """What was printed before and carries the ends of bridges: the edges of a section."""

    edges: Floats

    @staticmethod
    def of(section: CrossSection) -> Carriers:
        """Those of a section."""
        rings = [_edges(np.asarray(ring)) for ring in section.to_polygons()]
        return Carriers(np.concatenate(rings) if rings else np.empty((0, 2, 2)))

    def hold(self, points: Floats) -> Which:
        """Whether each point lies on them: an odd number of edges to its right."""
        (x0, y0), (x1, y1) = self.edges[:, 0].T, self.edges[:, 1].T
        low, high = points.min(axis=0), points.max(axis=0)
        near = (np.maximum(y0, y1) >= low[1]) & (np.minimum(y0, y1) <= high[1]) & (np.maximum(x0, x1) >= low[0])
        x0, y0, x1, y1 = x0[near], y0[near], x1[near], y1[near]
        x, y = points[:, :1], points[:, 1:]
        crosses = (y0 > y) != (y1 > y)
        at = x0 + (y - y0) * np.divide(x1 - x0, y1 - y0, out=np.zeros_like(x0), where=y1 != y0)
        odd: Which = (crosses & (at > x)).sum(axis=1) % 2 == 1
        return odd


def span_of(region: CrossSection, carriers: Carriers, *, spacing: float, enough: float = 0.0) -> float | None:
    """The span of a bridge over a region.

    Args:
        region: one connected region without support.
        carriers: what was printed before.
        spacing: of the lines that are tried, mm.
        enough: the first direction with a span of at most this will do, mm.

    Returns:
        The span, mm; ``None`` where in no direction all lines are carried at both ends.
    """
    edges = np.concatenate([_edges(np.asarray(ring)) for ring in region.to_polygons()])
    carried = carriers.hold(_just_outside(edges))
    if not carried.any():
        return None
    least = None
    for angle in (*_along_free(edges[~carried]), *(np.pi * np.arange(int(DIRECTIONS)) / DIRECTIONS).tolist()):
        span = _span_along(edges, carried, angle, spacing)
        if span is not None and (least is None or span < least):
            least = span
            if span <= enough:
                break
    return least


def _along_free(edges: Floats) -> list[float]:
    """Directions of the longest free edges: a bridge beside a free edge can only be laid along it."""
    along = edges[:, 1] - edges[:, 0]
    longest = along[np.argsort(-np.linalg.norm(along, axis=1), kind="stable")[:_FREE_EDGES]]
    return [float(angle) for angle in np.arctan2(longest[:, 1], longest[:, 0]) % np.pi]


def _edges(ring: Floats) -> Floats:
    """The edges of a contour, (n, 2, 2)."""
    return np.stack([ring, np.roll(ring, -1, axis=0)], axis=1)


def _just_outside(edges: Floats) -> Floats:
    """A point just outside the middle of each edge."""
    along = edges[:, 1] - edges[:, 0]
    outward = np.stack([along[:, 1], -along[:, 0]], axis=1)
    outward /= np.maximum(np.linalg.norm(outward, axis=1, keepdims=True), np.finfo(float).tiny)
    points: Floats = edges.mean(axis=1) + NUDGE * outward
    return points


def _span_along(edges: Floats, carried: Which, angle: float, spacing: float) -> float | None:
    """The longest line in one direction; ``None`` where one is not carried at both ends."""
    turn = np.array([[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]])
    (x0, y0), (x1, y1) = (edges @ turn).transpose(1, 2, 0)
    low, high = float(min(y0.min(), y1.min())), float(max(y0.max(), y1.max()))
    count = max(_FEWEST_LINES, int(np.ceil((high - low) / spacing)))
    longest = 0.0
    for y in low + (np.arange(count) + 0.5) * (high - low) / count:
        hit = np.flatnonzero((y0 > y) != (y1 > y))
        at = x0[hit] + (y - y0[hit]) * (x1[hit] - x0[hit]) / (y1[hit] - y0[hit])
        order = np.argsort(at)
        if not carried[hit].all():
            return None
        ends = at[order]
        longest = max(longest, float((ends[1::2] - ends[::2]).max(initial=0.0)))
    return longest
