"""What a print is meant to be printed with: the record that estimates rest on and that a print card shows."""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from nookwright.ground.digest import digest
from nookwright.ground.sources import Fact, Kind
from nookwright.module.lines import lines_of, spacing

if TYPE_CHECKING:
    from nookwright.survey.models import Printer
    from nookwright.survey.printer_profile import Pattern, PrinterProfile, Seam

USUAL_SHARE = Fact(
    1.05, unit="nozzle", kind=Kind.COMMON_PRACTICE, source="Width of a line where no width makes whole walls of it."
)


@dataclass(frozen=True, kw_only=True)
class Speeds:
    """Speeds by what is laid, mm/s; the hot end's limit is already taken into account."""

    outer_mm_s: float
    inner_mm_s: float
    skin_mm_s: float
    infill_mm_s: float
    gap_mm_s: float
    first_mm_s: float

    def in_first_layer(self) -> Speeds:
        """The same in the first layer, where none is quicker than its own."""
        most = self.first_mm_s
        return Speeds(
            outer_mm_s=min(self.outer_mm_s, most),
            inner_mm_s=min(self.inner_mm_s, most),
            skin_mm_s=min(self.skin_mm_s, most),
            infill_mm_s=min(self.infill_mm_s, most),
            gap_mm_s=min(self.gap_mm_s, most),
            first_mm_s=most,
        )


@dataclass(frozen=True, kw_only=True)
class Machine:
    """What a machine's moves cost.

    Attributes:
        travel_mm_s: speed of moves that lay nothing.
        acceleration_mm_s2: of all moves.
        corner_mm_s: speed that is kept round a right angle.
        retract_s: one retraction with its hop, there and back.
        retract_over: moves up to this length go without, mm.
        layer_change_s: each new layer.
        least_layer_s: shortest time of a layer.
        heat_up_s: from the start of a bedful to its first line.
        filament: its diameter, mm.
    """

    travel_mm_s: float
    acceleration_mm_s2: float
    corner_mm_s: float
    retract_s: float
    retract_over: float
    layer_change_s: float
    least_layer_s: float
    heat_up_s: float
    filament: float


@dataclass(frozen=True, kw_only=True)
class PrintSettings:
    """What a piece is printed with.

    Attributes:
        line_width: width of a line, mm.
        layer: height of every layer, the first included, mm.
        walls: lines along each contour.
        skin_below, skin_above: solid layers below and above an infill.
        infill_share: density of the infill, 0 to 1.
        pattern: of the infill.
        seam: where outlines begin and end.
        brim: its width, mm.
        skirt_loops: lines round all pieces of a bedful; 0 for none.
        skirt: from pieces, or their brims, to the first of them, mm.
        speeds: by what is laid.
        machine: what its moves cost.
        material: id of the material; no figure depends on it but the mass.
    """

    line_width: float
    layer: float
    walls: int
    skin_below: int
    skin_above: int
    infill_share: float
    pattern: Pattern
    seam: Seam
    brim: float
    skirt_loops: int
    skirt: float
    speeds: Speeds
    machine: Machine = field(repr=True)
    material: str = ""

    @property
    def spacing(self) -> float:
        """Between the middles of two lines that touch, mm."""
        return spacing(self.line_width, self.layer)

    @property
    def bead_mm2(self) -> float:
        """Cross-section of a line, a rectangle with round ends: (w - h) h + pi h^2 / 4, or its spacing times h."""
        return self.spacing * self.layer

    @property
    def missing(self) -> float:
        """Width of the strip along an outer contour that its round edge leaves empty: h (1 - pi/4) / 2, mm."""
        return self.layer * (1 - math.pi / 4) / 2

    @property
    def key(self) -> str:
        """A hash of all that an estimate of a piece depends on: everything but the material, and what is round it."""
        return digest(repr(replace(self, material="", skirt_loops=0, skirt=0.0)))


def settings_of(printer: Printer, wall: float, material: str = "") -> PrintSettings:
    """The settings of a printer for the walls of a room.

    Args:
        printer: as surveyed, with its profile.
        wall: thickness of the room's walls, mm; the line width is solved from it.
        material: id of the material.
    """
    profile = printer.profile
    lines = lines_of(wall, printer.nozzle, printer.layer)
    width = profile.line_width or (lines.width if lines else round(USUAL_SHARE * printer.nozzle, 4))
    width = max(width, printer.layer)  # a line narrower than high is no rectangle with round ends
    return PrintSettings(
        line_width=width,
        layer=printer.layer,
        walls=profile.walls,
        skin_below=profile.skin_below,
        skin_above=profile.skin_above,
        infill_share=profile.infill_percent / 100,
        pattern=profile.infill,
        seam=profile.seam,
        brim=profile.brim,
        skirt_loops=profile.skirt.loops if profile.skirt else 0,
        skirt=profile.skirt.distance if profile.skirt else 0.0,
        speeds=_speeds(profile, profile.most_flow_mm3_s / (spacing(width, printer.layer) * printer.layer)),
        machine=_machine(profile),
        material=material,
    )


def _speeds(profile: PrinterProfile, most: float) -> Speeds:
    """Speeds within what the hot end melts."""
    return Speeds(
        outer_mm_s=min(profile.outer_mm_s, most),
        inner_mm_s=min(profile.inner_mm_s, most),
        skin_mm_s=min(profile.skin_mm_s, most),
        infill_mm_s=min(profile.infill_mm_s, most),
        gap_mm_s=min(profile.gap_mm_s, most),
        first_mm_s=min(profile.first_mm_s, most),
    )


def _machine(profile: PrinterProfile) -> Machine:
    return Machine(
        travel_mm_s=profile.travel_mm_s,
        acceleration_mm_s2=profile.acceleration_mm_s2,
        corner_mm_s=profile.corner_mm_s,
        retract_s=2 * profile.retract / profile.retract_mm_s + 2 * profile.hop / profile.hop_mm_s,
        retract_over=profile.retract_over,
        layer_change_s=profile.layer_change_s,
        least_layer_s=profile.least_layer_s,
        heat_up_s=profile.heat_up_s,
        filament=profile.filament,
    )
