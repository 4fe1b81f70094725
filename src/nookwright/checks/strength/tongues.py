"""Tongues that bend as they are found in the written meshes: of sliding lids, of press-on lids, leaves of a spring.

A tongue is read off as thickness, free length and how far its end is bent. What is not found is not judged.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.strength.beams import tongue_strain
from nookwright.checks.strength.outlines import signed_mm2, solid_of
from nookwright.checks.strength.probes import grid, scattered, solid_along, spread
from nookwright.ground.sources import Fact, Kind
from nookwright.ground.tolerances import GRID

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.checks.bodies import Shape
    from nookwright.checks.boxes import Floats

FILLED = Fact(0.7, unit="1", kind=Kind.CALCULATED, source="A gap round a tongue fills less of its box; a slot more.")
STEP = Fact(0.25, unit="mm", kind=Kind.CHOICE, source="Leaves of a spring are looked at in steps of this.")
SAME = Fact(0.15, unit="mm", kind=Kind.CALCULATED, source="Three 32-bit steps of a file and a chord of an arc.")
_UPRIGHT = 89  # lines through a plate


@dataclass(frozen=True)
class Tongue:
    """A tongue: thickness in the direction of bending, how far its end is bent, its free length, in mm."""

    thickness: float
    deflection: float
    length: float

    @property
    def strain(self) -> float:
        """At its root."""
        return tongue_strain(self.thickness, self.deflection, self.length) if self.length > 0 else 0.0


def plate_of(shape: Shape) -> float:
    """Thickness of the plate that a lid is, as it is printed, mm."""
    low, high = shape.box
    points = scattered((low[0], low[1]), (high[0], high[1]), _UPRIGHT)
    first = solid_along(shape, 2, points).first()
    plate = first.where(first.start - low[2] < SAME)
    return float(np.percentile(plate.thickness, 25)) if len(plate.line) else 0.0


def sliding_tongues(shape: Shape) -> Iterator[Tongue]:
    """Tongues cut out of a plate on three sides, their noses above it as it is printed.

    Args:
        shape: of the lid, as it is printed: plate below.
    """
    low = float(shape.box[0][2])
    plate = plate_of(shape)
    if plate <= 0:
        return
    for polygon in solid_of(shape).slice(low + plate / 2).to_polygons():
        points = np.asarray(polygon, dtype=np.float64)
        if -FILLED * float(np.prod(np.ptp(points, axis=0))) < signed_mm2(points) < 0:
            tongue = _cut_out(shape, points, low + plate, plate)
            if tongue is not None:
                yield tongue


def _cut_out(shape: Shape, gap: Floats, top: float, plate: float) -> Tongue | None:
    """The tongue inside a gap: its root is where the gap is open, its nose what stands up inside."""
    low, high = gap.min(axis=0), gap.max(axis=0)
    x, y, z = shape.vertices.T
    inside = (x > low[0]) & (x < high[0]) & (y > low[1]) & (y < high[1]) & (z > top + SAME)
    if not inside.any():
        return None
    nose = shape.vertices[inside]
    tip = nose[nose[:, 2] > nose[:, 2].max() - SAME]
    length = max((_root_distance(gap, tip, axis, end) for axis in (0, 1) for end in (0, 1)), default=0.0)
    return Tongue(plate, float(tip[:, 2].max() - top), length) if length > 0 else None


def _root_distance(gap: Floats, tip: Floats, axis: int, end: int) -> float:
    """From an end of a gap's box to the nearest part of the nose, mm, where the gap is open there; else 0."""
    low, high = gap.min(axis=0), gap.max(axis=0)
    edge = (low, high)[end][axis]
    along = np.sort(gap[np.abs(gap[:, axis] - edge) < SAME][:, 1 - axis])
    width = (high - low)[1 - axis]
    if len(along) < 4 or float(np.diff(along).max()) < width / 3:  # noqa: PLR2004 - two ends of two gaps
        return 0.0
    return float(np.abs(tip[:, axis] - edge).min())


def leaves_of(shape: Shape, travel: float) -> Iterator[Tongue]:
    """Leaves of a sprung filler, the wall at y = 0: from their posts to their nubs.

    Args:
        shape: of the filler.
        travel: that its nubs are pressed in by, mm.
    """
    low, high = shape.box
    count = int((high[0] - low[0]) / STEP)
    x = spread(float(low[0]), float(high[0]), count)
    middle = float(low[2] + 0.6 * (high[2] - low[2]))
    first = solid_along(shape, 1, grid(x, np.array([middle]))).first()
    place = x[first.line.astype(np.int64)]
    nub = first.start < low[1] + SAME
    leaf = ~nub & (np.abs(first.start - low[1] - travel) < SAME)
    if not nub.any() or not leaf.any():
        return
    thickness = float(first.thickness[leaf].min())
    free = leaf & (first.thickness < thickness + SAME)
    posts = place[leaf & ~free]
    for start, stop in _runs(place[nub]):
        near = posts[np.argmin(np.abs(posts - (start + stop) / 2))] if len(posts) else (start + stop) / 2
        yield Tongue(thickness, travel, float(abs(near - (start + stop) / 2)))


def _runs(places: Floats) -> Iterator[tuple[float, float]]:
    """First and last of each run of places that lie a step apart."""
    for run in np.split(places, np.flatnonzero(np.diff(places) > 2 * STEP) + 1):
        yield float(run[0]), float(run[-1])


def pressing_tongues(shape: Shape, inside: tuple[float, float]) -> Iterator[Tongue]:
    """Tongues of a skirt that press on the walls of a tray, as the lid is printed: plate below, skirt up.

    Args:
        shape: of the lid.
        inside: width and depth between the walls of its tray, mm.
    """
    low = shape.box[0]
    plate = plate_of(shape)
    skirt = shape.vertices[shape.vertices[:, 2] > low[2] + plate + SAME]
    if plate <= 0 or not len(skirt):
        return
    for axis in (0, 1):
        reach = skirt[:, axis]
        pressed = (float(np.ptp(reach)) - inside[axis]) / 2
        tip = skirt[reach > reach.max() - GRID]
        if pressed > 0:
            across = skirt[:, 1 - axis]
            thickness = _skirt(shape, axis, float(across.mean()) + SAME, float(low[2]) + plate)
            if thickness > 0:
                yield Tongue(thickness, pressed, float(tip[:, 2].mean() - low[2]) - plate)


def _skirt(shape: Shape, axis: int, middle: float, foot: float) -> float:
    """Thickness of a skirt between the plate and its ridge, mm."""
    lines = solid_along(shape, axis, grid(np.array([middle]), foot + np.array([0.5, 1.0, 1.5]))).first()
    return float(lines.thickness.min(initial=np.inf)) if len(lines.line) else 0.0
