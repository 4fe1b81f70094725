"""What is laid round the pieces of a bedful in its first layer: a skirt round all of them, pads at their corners.

A skirt runs round the convex hull of all that lies on the bed, so that it crosses nothing that lies there.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nookwright.making.estimate.contours import Loops, loops_of
from nookwright.making.estimate.kinds import Laid, Spent
from nookwright.making.estimate.motion import loops_s, move_s
from nookwright.making.estimate.travel import seams

if TYPE_CHECKING:
    from nookwright.making.estimate.settings import PrintSettings

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]


@dataclass(frozen=True)
class Around:
    """What is laid round pieces: plastic in mm3 and seconds, by kind."""

    laid_mm3: dict[Laid, float]
    spent_s: dict[Spent, float]


NOTHING = Around({}, {})


def skirt_reach(settings: PrintSettings) -> float:
    """How far a skirt reaches from the pieces, to the outer edge of its last line, mm; 0 where there is none."""
    if not settings.skirt_loops:
        return 0.0
    return settings.brim + settings.skirt + settings.line_width + (settings.skirt_loops - 1) * settings.spacing


def skirt_of(points: Array, settings: PrintSettings) -> Loops:
    """The lines of a skirt.

    Args:
        points: (n, 2), that pieces cover or end at, mm.
        settings: what the bedful is printed with.
    """
    from manifold3d import CrossSection, JoinType

    hull = CrossSection.hull_points(np.ascontiguousarray(points, np.float64))
    first = settings.brim + settings.skirt + settings.line_width / 2
    contours = [
        one
        for number in range(settings.skirt_loops)
        for one in hull.offset(first + number * settings.spacing, JoinType.Round).to_polygons()
    ]
    return loops_of(contours)


def skirt_laid(skirt: Loops, settings: PrintSettings) -> Around:
    """What a skirt takes.

    Args:
        skirt: its lines.
        settings: what the bedful is printed with.
    """
    if not skirt.count:
        return NOTHING
    machine, speed = settings.machine, np.full(skirt.count, settings.speeds.first_mm_s)
    time = loops_s(skirt, seams(skirt, settings.seam), speed, machine.acceleration_mm_s2, machine.corner_mm_s)
    return Around({Laid.SKIRT: skirt.length * settings.bead_mm2}, {Spent.SKIRT: float(time.sum())})


def pads_laid(area_mm2: float, pads: int, settings: PrintSettings) -> Around:
    """What pads take: lines beside each other over their area, each reached by a move of its own.

    Args:
        area_mm2: of all of them.
        pads: how many they are.
        settings: what the bedful is printed with.
    """
    if not pads:
        return NOTHING
    machine, length = settings.machine, area_mm2 / settings.spacing
    side = (area_mm2 / pads) ** 0.5  # a pad is about a square of lines of this length
    line = move_s(side, settings.speeds.first_mm_s, machine.acceleration_mm_s2, machine.corner_mm_s)
    time = float(line) * length / side + pads * machine.retract_s
    return Around({Laid.PADS: area_mm2 * settings.layer}, {Spent.PADS: time})


def both(one: Around, other: Around) -> Around:
    """What two of them take together."""
    return Around(one.laid_mm3 | other.laid_mm3, one.spent_s | other.spent_s)
