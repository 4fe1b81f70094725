"""Holes and slits that a printer draws shut: what is narrower inside than the printer takes off insides.

A layer is closed: grown by half of what a slit loses and worn away again. What is filled then and was open before does
not come out as a gap. A hole that is about as wide as it is long loses more, since it is drawn shut all round.

What this does not know: gaps between pieces, and holes that lie on their side.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.checks.thin_walls import grown, length_of, width_of
from nookwright.ground.sources import Fact, Kind
from nookwright.ground.tolerances import MESH
from nookwright.sizing.printers.errors import Error, inside_sensitivities, unmeasured

if TYPE_CHECKING:
    from collections.abc import Iterator

    from manifold3d import CrossSection

    from nookwright.checks.sections import Sections
    from nookwright.exchange.kit import KitPrinterErrors

SURE = Fact(1.645, unit="1", kind=Kind.CALCULATED, source="The one-sided 95 % point of the normal distribution.")
LONG = Fact(3.0, unit="1", kind=Kind.CHOICE, source="What is longer against its width is a slit, not a hole.")
SHORTEST_SLIT = Fact(
    3.0,
    unit="lines",
    kind=Kind.CHOICE,
    source="The foot of a sharp inner corner is filled over less; a slit is longer.",
)


@dataclass(frozen=True, order=True)
class Losses:
    """What a printer may take off insides, for 95 of 100 such printers at most.

    Attributes:
        slit: of the width of a long gap, mm.
        hole: of the diameter of a small round hole, mm.
    """

    slit: float
    hole: float


NO_LOSSES = Losses(0.0, 0.0)


def losses_of(errors: KitPrinterErrors | None) -> Losses:
    """The losses of a printer with one material, from what the kit says of it.

    Args:
        errors: as in kit.json; the usual ones where it says nothing.
    """
    said = {one.name: (one.value, one.uncertainty) for one in errors.components} if errors else {}
    usual = unmeasured()
    mean_slit, sd_slit = said.get(Error.INSIDE.value, (usual.value(Error.INSIDE), usual.uncertainty(Error.INSIDE)))
    mean_hole, sd_hole = said.get(
        Error.SMALL_HOLE.value, (usual.value(Error.SMALL_HOLE), usual.uncertainty(Error.SMALL_HOLE))
    )
    share = inside_sensitivities(0.0, round_hole=True)[Error.SMALL_HOLE]
    slit = max(0.0, SURE * sd_slit - mean_slit)
    hole = max(slit, SURE * (sd_slit**2 + (share * sd_hole) ** 2) ** 0.5 - mean_slit - share * mean_hole)
    return Losses(round(slit, 3), round(hole, 3))


def closing(sections: Sections, losses: Losses, line: float) -> Iterator[tuple[int, CrossSection]]:
    """Layer and place of each gap that is drawn shut, in the layers that were looked at before; some more than once.

    Args:
        sections: of the mesh.
        losses: of the printer.
        line: width of a line, mm.
    """
    for number in sections.looked_at:
        for gap in closed_in(sections.at(number), losses, line):
            if _goes_on(sections, number, gap):
                yield number, gap


def closed_in(section: CrossSection, losses: Losses, line: float) -> Iterator[CrossSection]:
    """The gaps of one section that are drawn shut.

    Args:
        section: of a layer.
        losses: of the printer.
        line: width of a line, mm.
    """
    for gap in _filled(section, losses.hole):
        if not _is_long(gap):
            if _is_hole(gap, section):
                yield gap
        elif length_of(gap) > SHORTEST_SLIT * line and width_of(gap, losses.hole) <= losses.slit:
            yield gap


def _filled(section: CrossSection, width: float) -> list[CrossSection]:
    """What is filled when gaps up to a width are closed."""
    if width <= 2 * MESH or section.is_empty():
        return []
    filled = grown(grown(section, width / 2), -width / 2 - MESH) - section
    return [] if filled.is_empty() else [each for each in filled.decompose() if each.area() > MESH]


def _is_long(gap: CrossSection) -> bool:
    """Whether a gap is a slit: much longer than wide, by its area."""
    length = length_of(gap)
    return bool(length**2 > LONG * gap.area())


def _is_hole(gap: CrossSection, section: CrossSection) -> bool:
    """Whether plastic lies all round a gap."""
    ring = grown(gap, 2 * MESH) - grown(gap, MESH)
    return bool((ring - section).area() < MESH * MESH)


def _goes_on(sections: Sections, number: int, gap: CrossSection) -> bool:
    """Whether a gap is as open in a layer above or below, so that it was meant as one."""
    return any(
        (gap ^ sections.at(other)).area() < gap.area() / 2
        for other in (number - 1, number + 1)
        if 0 <= other < sections.count
    )
