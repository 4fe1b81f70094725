"""What of a layer's fill must be solid: whatever is not covered by enough layers above and below."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from nookwright.ground.sources import Fact, Kind
from nookwright.making.estimate.contours import loops_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from manifold3d import CrossSection

    from nookwright.making.estimate.contours import Loops
    from nookwright.making.estimate.layers import Layers
    from nookwright.making.estimate.regions import Region
    from nookwright.making.estimate.settings import PrintSettings

LEAST_SPARSE_MM2 = Fact(
    15.0, unit="mm2", kind=Kind.COMMON_PRACTICE, source="A smaller area is filled solid: its infill would hold nothing."
)

SAME = Fact(1e-4, unit="mm", kind=Kind.CHOICE, source="Figures of two contours that agree so far are those of one.")


def neighbours(layers: Layers, number: int, settings: PrintSettings) -> tuple[int, ...] | None:
    """The distinct sections that cover a layer, its own left out, or nothing where the stack ends too early.

    Args:
        layers: of the solid.
        number: of the layer.
        settings: how many solid layers lie below and above an infill.
    """
    low, high = number - settings.skin_below, number + settings.skin_above
    if low < 0 or high >= layers.count:
        return None
    own = layers.section[number]
    return tuple(sorted({int(one) for one in layers.section[low : high + 1]} - {int(own)}))


def sparse_of(region: Region, covers: tuple[int, ...] | None, regions: Sequence[Region]) -> CrossSection | None:
    """What of a region's fill may be sparse, or nothing.

    Args:
        region: of the layer.
        covers: the sections above and below, as ``neighbours`` gives them.
        regions: of all sections.
    """
    from manifold3d import CrossSection

    if covers is None or not _large(region.inside):
        return None
    left = region.fill
    cutting = (regions[one] for one in covers if not _covers(regions[one].outline, region.outline, region.depth))
    for cover in sorted(cutting, key=lambda one: one.area_mm2):
        left ^= cover.section  # the smallest first: often nothing is left to be cut by the others
        if not _large(loops_of(left.to_polygons())):
            return None
    return CrossSection.compose([one for one in left.decompose() if one.area() >= LEAST_SPARSE_MM2])


def _large(loops: Loops) -> bool:
    return bool((loops.areas >= LEAST_SPARSE_MM2).any())


def _covers(other: Loops, own: Loops, depth: float) -> bool:
    """Whether what lies deeper than ``depth`` inside one section lies inside another one for certain.

    It does where each island of the one and each hole of the other have a fellow in place that is the same, or a circle
    that is larger or smaller by less than the depth. Where that is not so, areas must tell.
    """
    between = np.hypot(*(other.middles[:, None] - own.middles[None]).transpose(2, 0, 1))
    marks = [np.column_stack([one.areas, one.lengths, one.spans]) for one in (other, own)]
    same = (np.abs(marks[0][:, None] - marks[1][None]) < SAME).all(axis=2) & (between < SAME)
    apart = between + np.abs(other.radii[:, None] - own.radii[None]) + other.rough[:, None] + own.rough[None]
    fellow = same | ((apart < depth) & (other.areas[:, None] * own.areas[None] > 0))
    return bool(fellow[:, own.areas > 0].any(axis=0).all() and fellow[other.areas < 0].any(axis=1).all())
