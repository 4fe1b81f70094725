"""Faults that show when a drawer is slammed: what is thrown, comes off its cones, or slides with its liner."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.checks.forces.liners import LINER_GAP, LIP
from nookwright.checks.forces.thrown import HEAVY_G, LEAST_HOLD
from nookwright.ground.findings import Severity

from .table import plain, sized

if TYPE_CHECKING:
    from .harness import Sample

HARDLY = 0.2  # mm
FAST_M_S = 2.5


def _shut(sample: Sample, space: str, speed_m_s: float) -> Sample:
    """With a drawer that meets its stops so fast."""
    return sample.surveyed("space", space, shut_m_s=speed_m_s)


@plain("slam-throws", severity=Severity.WARN)
def thrown(sample: Sample) -> Sample:
    """The pockets of a cradle are hardly deeper than a rim: what stands in them tips out when the drawer is slammed."""
    (lot,) = (one for one in sample.kit.lots if one.id == "spice")
    top = lot.places[0].at[0][2] + LEAST_HOLD + HARDLY
    shallow = sample.cut(sample.placed("spice").part, lambda solid: solid.trim_by_plane((0, 0, -1), -top))
    return _shut(shallow, "drawer", FAST_M_S)


@sized("slam-throws-upper", f"{HEAVY_G:g} g, which are felt on a foot", severity=Severity.WARN)
def thrown_from_above(sample: Sample, size: float) -> Sample:
    """Heavy things lie above the rim of their tray in a drawer that is slammed."""
    (lot,) = (one for one in sample.kit.lots if one.id == "coin-cells")
    count = sum(place.count for place in lot.places)
    heavier = sample.surveyed("lot", lot.id, mass_g=size * HEAVY_G)
    return heavier.having("lots", lot.id, mass_g=size * HEAVY_G * count)


@sized("slam-liner-slides", f"{LINER_GAP:g} mm", severity=Severity.WARN, besides=("filler-missing",))
def liner_slides(sample: Sample, size: float) -> Sample:
    """A liner has room to slide before it meets a wall."""
    far = max(float(high[1]) for _, high in sample.in_space("drawer")) + size * LINER_GAP
    (space,) = (one for one in sample.kit.spaces if one.id == "drawer")
    deeper = tuple(at.model_copy(update={"depth": far}) for at in space.usable)
    return sample.having("spaces", "drawer", usable=deeper).surveyed("space", "drawer", depth=far + 2)


@sized("slam-liner-rides-over", f"{LIP:g} mm high", severity=Severity.WARN, besides=("sawing-wrong",))
def rides_over(sample: Sample, size: float) -> Sample:
    """The strip before a liner is so low that the liner's edge rides over it."""
    strips = {one.part for one in sample.kit.placements if one.label == "filler, front"}
    for part in sorted(strips):
        sample = sample.cut(part, lambda solid: solid.trim_by_plane((0, 0, -1), -LIP / size))
    return sample


@plain("slam-unseats", severity=Severity.WARN)
def unseats(sample: Sample) -> Sample:
    """A drawer is slammed so hard that a tray lifts off its leading cones."""
    return _shut(sample, "drawer", 0.9)
