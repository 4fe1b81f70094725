"""One section in lines: the walls along its contours, what is left inside them, and the gaps between.

A line of width w and height h laid beside others takes the spacing s = w - h (1 - pi/4) of the width. The first one
runs w/2 inside the contour, each further one s deeper. So the band of the first reaches from the contour to
(w + s) / 2, of which the outermost (w - s) / 2 stays empty under its round edge, and each further band is s wide.

Areas decide how much is laid, never the lengths of lines alone: where a wall is too thin for a line on each of its
sides, their two lines would lie on one another, and what is laid is what there is room for. What is left between bands
that do not meet is a gap, and is laid as one.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from nookwright.ground.sources import Fact, Kind
from nookwright.making.estimate.contours import Loops, loops_of
from nookwright.making.estimate.insets import Insets

if TYPE_CHECKING:
    from manifold3d import CrossSection

    from nookwright.making.estimate.layers import Layers
    from nookwright.making.estimate.settings import PrintSettings
    from nookwright.solids.triangles import Mesh

TIDY = Fact(
    0.001, unit="mm", kind=Kind.CHOICE, source="A corner of a section that stands out less is left over by rounding."
)
SLIVER = Fact(
    0.005,
    unit="mm",
    kind=Kind.CALCULATED,
    source="Half the tolerance of meshes: a wall of whole lines is not missed where its facets are thinner by so much.",
)
LEAST_FILL_MM2 = Fact(0.1, unit="mm2", kind=Kind.CHOICE, source="Less between walls is a gap, not filled in lines.")


@dataclass(frozen=True, eq=False)
class Wall:
    """Lines along the contours.

    Attributes:
        lines: their middles.
        room_mm2: the area that is there for them.
        laid_mm2: the area that they lay: their length times the spacing, at most what there is room for.
    """

    lines: Loops
    room_mm2: float
    laid_mm2: float

    @property
    def share(self) -> float:
        """How much of the length of the lines is laid: 1, but a half where two lie on one another."""
        return self.laid_mm2 / self._drawn if self._drawn else 0.0

    _drawn: float = 0.0


@dataclass(frozen=True, eq=False)
class Region:
    """A section in lines.

    Attributes:
        outline: the contours of the section.
        walls: from the outermost in.
        missing_mm2: what the round edge of the outermost lines leaves empty.
        inside: contours of what is left inside the walls.
        fill_mm2: its area; 0 where it is too little to be filled.
        gap_mm2: what no line of a wall and no fill covers.
        depth: how far inside the contours the fill begins, mm.
    """

    outline: Loops
    walls: tuple[Wall, ...]
    missing_mm2: float
    inside: Loops
    fill_mm2: float
    gap_mm2: float
    depth: float

    @property
    def area_mm2(self) -> float:
        """Area of the section."""
        return float(self.outline.areas.sum())

    @cached_property
    def section(self) -> CrossSection:
        """The section, for the kernel."""
        return as_section(self.outline)

    @cached_property
    def fill(self) -> CrossSection:
        """What is left inside the walls, for the kernel."""
        return as_section(self.inside)


def as_section(loops: Loops) -> CrossSection:
    """Loops as an area of the kernel."""
    from manifold3d import CrossSection, FillRule

    return CrossSection(loops.contours(), FillRule.Positive)


def regions_of(mesh: Mesh, layers: Layers, settings: PrintSettings) -> tuple[list[Region], int]:
    """All distinct sections of a mesh in lines, and how many times the kernel moved contours for them.

    Args:
        mesh: closed.
        layers: of it.
        settings: what it is printed with.
    """
    from manifold3d import Manifold, Mesh64

    solid = Manifold(Mesh64(np.array(mesh.vertices), mesh.triangles.astype(np.uint64)))
    insets = Insets(_distances(settings))
    sections = [loops_of(solid.slice(z).simplify(TIDY).to_polygons()) for z in layers.middles.tolist()]
    return [_region(section, insets.of(section), settings) for section in sections], insets.moved


def _distances(settings: PrintSettings) -> tuple[float, ...]:
    """For each wall how deep the middle of its lines runs, and how deep its band ends."""
    found = []
    for number in range(settings.walls):
        middle = settings.line_width / 2 + number * settings.spacing
        found += [middle - SLIVER, middle + settings.spacing / 2]
    return tuple(found)


def _region(outline: Loops, insets: tuple[Loops, ...], settings: PrintSettings) -> Region:
    missing = min(float(outline.areas.sum()), outline.length * settings.missing)
    left, walls = float(outline.areas.sum()) - missing, []
    for lines, inside in zip(insets[::2], insets[1::2], strict=True):
        rest = min(left, max(0.0, float(inside.areas.sum())))
        drawn = lines.length * settings.spacing
        walls.append(Wall(lines, left - rest, min(drawn, left - rest), drawn))
        left = rest
    fill = left if left > LEAST_FILL_MM2 else 0.0
    gap = left - fill + sum(wall.room_mm2 - wall.laid_mm2 for wall in walls)
    return Region(outline, tuple(walls), missing, insets[-1], fill, gap, _distances(settings)[-1])
