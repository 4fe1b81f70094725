"""Faults of loose dividers: what does not drop into its slots, falls over in them, or does not come out."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.bodies import matrix_of
from nookwright.checks.seats.dividers import slot_gap
from nookwright.checks.seats.lids import GOES_IN
from nookwright.checks.seats.members import members_of
from nookwright.checks.seats.tolerances import of_one_print
from nookwright.checks.verdicts import Verdicts
from nookwright.ground.findings import Severity
from nookwright.sizing.printers.household import household_of

from .solids import box
from .table import plain, sized

if TYPE_CHECKING:
    from nookwright.checks.seats.dividers import SlotGap

    from .harness import Sample

LABEL = "divider, CLIPS"


def _gap(sample: Sample) -> SlotGap:
    """The first divider in its slots."""
    divider, tray = sample.placed(LABEL), sample.placed("CLIPS")
    members = members_of(sample.kit, sample.shapes | sample.piece_shapes, Verdicts(None))
    between = np.linalg.inv(matrix_of(tray.space_from_part)) @ matrix_of(divider.space_from_part)
    return slot_gap(next(one for one in sample.kit.parts if one.id == divider.part), members[tray.part], between)


def _stretched(sample: Sample, along: int, more: float) -> Sample:
    """With dividers larger along one of their own axes, each still in the middle of its place."""
    part = sample.placed(LABEL).part
    (whole,) = (one for one in sample.kit.parts if one.id == part)
    scale = [1.0, 1.0, 1.0]
    scale[along] = (whole.size[along] + more) / whole.size[along]
    larger = sample.cut(part, lambda solid: solid.scale(scale))
    for one in sample.kit.placements:
        if one.part == part:
            aside = matrix_of(one.space_from_part)[:3, along] * -more / 2
            larger = larger.moved_alone(one.id, *aside.tolist())
    return larger


@sized("divider-tight", f"{GOES_IN:g} mm that must be left", severity=Severity.WARN)
def divider_thick(sample: Sample, size: float) -> Sample:
    """A divider is so thick that printers which err may close its slot."""
    part = next(one for one in sample.kit.parts if one.id == sample.placed(LABEL).part)
    edges = of_one_print(household_of(sample.room).envelope, part.size[2], round_hole=False)
    return _stretched(sample, 2, _gap(sample).beside - edges.tight - GOES_IN / size)


@plain("divider-tight", besides=("parts-collide", "insert-stuck"))
def divider_thicker(sample: Sample) -> Sample:
    """A divider is as thick as its slot is wide."""
    return _stretched(sample, 2, _gap(sample).beside + 0.02)


@plain("divider-loose")
def divider_short(sample: Sample) -> Sample:
    """A divider is so short that one of its ends leaves its ribs when it is pushed to the other."""
    gap = _gap(sample)
    return _stretched(sample, 0, -(gap.reach - gap.ends / 2))


@plain("insert-stuck", besides=("thing-stuck",))
def divider_barred(sample: Sample) -> Sample:
    """A bar across a tray keeps its divider in."""
    tray, divider = sample.placed("CLIPS"), sample.placed(LABEL)
    y = divider.space_from_part[1][3] - tray.space_from_part[1][3]
    width, _, height = next(one.size for one in sample.kit.parts if one.id == tray.part)
    bar = box((0.2, y - 3, height + 0.5), (width - 0.2, y + 3, height + 2))
    feet = box((0.2, y - 3, height - 1), (1.0, y + 3, height + 1)) + box(
        (width - 1.0, y - 3, height - 1), (width - 0.2, y + 3, height + 1)
    )
    return sample.cut(tray.part, lambda solid: solid + bar + feet)
