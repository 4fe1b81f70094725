"""Faults of shape: what a printer cannot lay without support, or cannot hold."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from manifold3d import CrossSection, Manifold, OpType

from nookwright.checks.bridges import LONGEST_BRIDGE
from nookwright.checks.closing import losses_of
from nookwright.checks.print_words import FIRST_LAYER_LEAST_MM2
from nookwright.checks.sections import STEEPEST_OVERHANG_DEG
from nookwright.checks.standing import HOLD_MPA, PUSH_N, SLIMMEST
from nookwright.ground.findings import Severity
from nookwright.module.lines import NARROWEST_SHARE, WALL, lines_of
from nookwright.survey.plastic_sheet import PlasticSheet

from .solids import box
from .table import plain, sized

if TYPE_CHECKING:
    from .harness import Sample

STROKE_AT = (4.0, 1.5)  # on a name strip, beside its letters


def _block(sample: Sample, solid: Manifold) -> Sample:
    """Another shape in the file of a lid that was ordered and stands nowhere."""
    return sample.cut(sample.part("lid", "71x71").id, lambda _: solid)


def _wedge(degrees: float) -> Manifold:
    """A post with a shelf of 5 mm whose underside leans out by an angle from the upright."""
    drop = 5 / math.tan(math.radians(degrees)) if degrees < 90 else 0.0
    side = CrossSection([[(0, 0), (6, 0), (6, 8), (11, 8 + drop), (11, 20), (0, 20)]])
    return Manifold.extrude(side, 10).rotate((90, 0, 0)).translate((0, 10, 0))


@sized("overhang", f"{STEEPEST_OVERHANG_DEG:g} degrees from the upright")
def overhang(sample: Sample, size: float) -> Sample:
    """A shelf sticks out with nothing below it."""
    return _block(sample, _wedge(size * STEEPEST_OVERHANG_DEG))


@plain("island-in-air")
def island(sample: Sample) -> Sample:
    """A hook hangs down from a shelf and begins in the air."""
    return _block(sample, _wedge(90) + box((9, 0, 4), (11, 10, 9)))


@sized("bridge-long", f"{LONGEST_BRIDGE:g} mm", severity=Severity.WARN)
def bridge(sample: Sample, size: float) -> Sample:
    """A ceiling spans too far."""
    gap = size * LONGEST_BRIDGE
    return _block(sample, box((0, 0, 0), (gap + 12, 10, 14)) - box((6, -1, -1), (6 + gap, 11, 10)))


@sized("first-layer-small", f"{FIRST_LAYER_LEAST_MM2:g} mm2 at least", severity=Severity.WARN)
def small_foot(sample: Sample, size: float) -> Sample:
    """A piece stands on a foot that is too small."""
    side = math.sqrt(FIRST_LAYER_LEAST_MM2 / size)
    grown = Manifold.hull_points(
        [(x, y, z) for z, by in ((4, 3), (7, 0), (12, 0)) for x in (by, 6 + side - by) for y in (by, 6 + side - by)]
    )
    return _block(sample, grown + box((3, 3, 0), (3 + side, 3 + side, 5)))


@sized("tall-slim", f"{SLIMMEST:g} times as high as deep", severity=Severity.NOTE)
def slim(sample: Sample, size: float) -> Sample:
    """A piece is too slim for its height."""
    return _block(sample, box((0, 0, 0), (8, 6, size * SLIMMEST * 6)))


@sized("wall-thin", "the narrowest line", severity=Severity.WARN)
def thin_wall(sample: Sample, size: float) -> Sample:
    """A wall is thinner than a line."""
    lines = lines_of(WALL, sample.room.printer[0].nozzle, sample.room.printer[0].layer)
    line = NARROWEST_SHARE * lines.width if lines else 0.0
    return _block(sample, box((0, 0, 0), (16, 14, 2)) + box((2, 2, 0), (2 + line / size, 12, 12)))


@sized("hole-closes", "what the printer may take off it", severity=Severity.WARN)
def slit(sample: Sample, size: float) -> Sample:
    """A slit is so narrow that it comes out closed."""
    wide = losses_of(None).slit / size
    return _block(sample, box((0, 0, 0), (20, 10, 12)) - box((4, 5 - wide / 2, -1), (16, 5 + wide / 2, 13)))


@sized("knocked-over", f"{HOLD_MPA:g} MPa that a bed holds", severity=Severity.WARN)
def wobbly(sample: Sample, size: float) -> Sample:
    """A nozzle that catches at the top of a tall post would tear it off the bed."""
    side = 6.0
    height = size * HOLD_MPA * side**3 / 6 / math.sqrt(2) / PUSH_N  # pushed along its diagonal
    return _block(sample, box((0, 0, 0), (side, side, height)))


@plain("corners-lift", severity=Severity.WARN)
def shrinking(sample: Sample) -> Sample:
    """A large tray is of a plastic that shrinks so much that its corners lift."""
    return sample.surveyed("material", "red", sheet=PlasticSheet(expansion_um_m_k=450, softens_c=120))


@sized("text-small", "the narrowest line", severity=Severity.WARN)
def thin_stroke(sample: Sample, size: float) -> Sample:
    """A stroke of the lettering on a name strip is thinner than a line."""
    wide = NARROWEST_SHARE * _line(sample) / size
    return _lettered(sample, (0.0, wide))


@sized("text-fills", "what the printer may take off it", severity=Severity.WARN)
def strokes_near(sample: Sample, size: float) -> Sample:
    """Two strokes of the lettering on a name strip are so near to each other that they run together."""
    wide, gap = 2 * _line(sample), losses_of(None).slit / size
    return _lettered(sample, (0.0, wide), (wide + gap, 2 * wide + gap))


def _line(sample: Sample) -> float:
    """Width of a printer's line, mm."""
    lines = lines_of(WALL, sample.room.printer[0].nozzle, sample.room.printer[0].layer)
    assert lines
    return lines.width


def _lettered(sample: Sample, *strokes: tuple[float, float]) -> Sample:
    """With strokes more on a name strip, each from so far to so far above the lowest, 5 mm long."""
    strip = sample.part("name strip")
    thick = float(strip.parameters["thickness"])  # type: ignore[arg-type]
    top = strip.size[2]
    more = [
        box((STROKE_AT[0], STROKE_AT[1] + low, thick - 0.1), (STROKE_AT[0] + 5, STROKE_AT[1] + high, top))
        for low, high in strokes
    ]
    return sample.cut(strip.id, lambda solid: Manifold.batch_boolean([solid, *more], OpType.Add))
