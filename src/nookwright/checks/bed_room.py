"""Whether a bedful leaves the room that its printer asks for: between pieces, for the head, and where nothing may lie.

Distances are those of what pieces cover of the bed, seen from above; a piece may lie in the middle of another one.
"""

from __future__ import annotations

from itertools import combinations
from typing import TYPE_CHECKING

import numpy as np
from manifold3d import CrossSection, JoinType, Manifold, Mesh

from nookwright.checks.bodies import moved_by
from nookwright.checks.in_words import length, outer, unlike
from nookwright.ground.findings import Finding, Severity
from nookwright.ground.sources import Fact, Kind
from nookwright.ground.tolerances import GRID
from nookwright.module.lines import spacing

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.checks.bodies import Body
    from nookwright.exchange.kit import Bedful
    from nookwright.survey.models import Printer

TOUCH_MM2 = Fact(1e-3, unit="mm2", kind=Kind.CHOICE, source="Common area below which two outlines only touch.")
_REMEDY = "Do not print this bedful. This is a fault of the tool: please report it with the room file."


def check_bed_room(bedful: Bedful, printer: Printer, bodies: list[Body]) -> Iterator[Finding]:
    """Check one bedful.

    Args:
        bedful: whose items lie on the bed.
        printer: as surveyed.
        bodies: its copies, in the order of the items.
    """
    yield from _kept_free(bedful, printer, bodies)
    yield from _too_near(bedful, printer, bodies)
    yield from _skirt(bedful, printer, bodies)
    head = printer.one_by_one
    if head:
        for body in bodies[:-1]:
            if body.box[1][2] > head.height + GRID:
                high, clears = unlike(float(body.box[1][2]), head.height, 1)
                text = f"{body.owner} is {high} mm high and not the last; the head clears {clears} mm."
                yield _stop("item-under-head", bedful.id, text)


def _kept_free(bedful: Bedful, printer: Printer, bodies: list[Body]) -> Iterator[Finding]:
    """Copies, with their brim, on places that must stay free."""
    for zone in printer.keep_out:
        place = CrossSection.square((zone.width, zone.depth)).translate((zone.x, zone.y))
        for body in bodies:
            if common_mm2(covered(body), place, printer.profile.brim) > TOUCH_MM2:
                text = f"{body.owner} lies on the place of {outer((zone.width, zone.depth))} at {zone.x:g}, {zone.y:g}"
                why = f" that stays free ({zone.why})." if zone.why else " that stays free."
                yield _stop("item-kept-free", bedful.id, text + why)


def _too_near(bedful: Bedful, printer: Printer, bodies: list[Body]) -> Iterator[Finding]:
    """Copies that are nearer to each other than pieces, brims or the head ask for."""
    brim, head = printer.profile.brim, printer.one_by_one
    apart = max(printer.spacing + 2 * brim, head.radius + brim if head else 0.0)
    for one, other in combinations(bodies, 2):
        gaps = np.maximum(one.box[0] - other.box[1], other.box[0] - one.box[1])[:2]
        if gaps.max() < apart - GRID and common_mm2(covered(one), covered(other), apart) > TOUCH_MM2:
            text = f"{one.owner} and {other.owner} are nearer to each other than {apart:.4g} mm."
            yield _stop("items-near", bedful.id, text)


def _skirt(bedful: Bedful, printer: Printer, bodies: list[Body]) -> Iterator[Finding]:
    """A skirt that leaves the bed, or crosses a place that must stay free."""
    settings = bedful.settings
    if settings is None or not settings.skirt_loops or not bodies:
        return
    lines = settings.line_width + (settings.skirt_loops - 1) * spacing(settings.line_width, settings.layer)
    whole = CrossSection.batch_hull([covered(body) for body in bodies])
    whole = whole.offset(settings.brim + settings.skirt + lines, JoinType.Round)
    low_x, low_y, high_x, high_y = whole.bounds()
    over = max(-low_x, -low_y, high_x - printer.bed_width, high_y - printer.bed_depth)
    if over > GRID:
        yield _stop("skirt-off-bed", bedful.id, f"Its skirt reaches {length(over)} beyond the printable area.")
    for zone in printer.keep_out:
        place = CrossSection.square((zone.width, zone.depth)).translate((zone.x, zone.y))
        if common_mm2(whole, place, 0.0) > TOUCH_MM2:
            text = f"Its skirt crosses the place of {outer((zone.width, zone.depth))} at {zone.x:g}, {zone.y:g}"
            yield _stop("skirt-kept-free", bedful.id, f"{text} that stays free.")


def covered(body: Body) -> CrossSection:
    """What a body covers of the bed.

    Args:
        body: in its place.
    """
    points = moved_by(body.matrix, body.shape.vertices)
    mesh = Mesh(np.array(points, np.float32, order="C"), np.array(body.shape.triangles, np.uint32, order="C"))
    return Manifold(mesh).project()


def common_mm2(one: CrossSection, other: CrossSection, reach: float) -> float:
    """Common area when one grows by a reach, less what is lost in rounding.

    Args:
        one: what grows.
        other: what it may meet.
        reach: mm.
    """
    grown = one.offset(reach - GRID, JoinType.Round) if reach > GRID else one
    return float((grown ^ other).area())


def _stop(code: str, subject: str, text: str) -> Finding:
    return Finding(code, Severity.STOP, subject, text, _REMEDY)
