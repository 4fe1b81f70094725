"""What kinds of plastic carry, for how long and how warm: a table with its sources, below a filament's own data sheet.

Promise: every figure is the cautious end of what was found for printed parts, and is named with its source. What it
does not know: the filament in hand, moisture, sunlight, and how well the layers of one printer stick.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from nookwright.ground.sources import Fact, Kind
from nookwright.survey.plastic_sheet import PlasticKind

if TYPE_CHECKING:
    from nookwright.survey.models import Material

YEARS_SHARE = Fact(
    0.22, unit="1", kind=Kind.MEMORY, source="Common design practice: stress for years at most 20 to 25 % of strength."
)
CREEP_SHARE = Fact(
    1 / 3, unit="1", kind=Kind.MEMORY, source="Common design practice: the modulus for years is a third to a half."
)
REPEATED_SHARE = Fact(
    4 / 7, unit="1", kind=Kind.HANDBOOK, source="Snap-fit guides: 40 % of the permissible strain often, 70 % once."
)
POISSON = Fact(0.35, unit="1", kind=Kind.MEMORY, source="PLA, PETG and ABS: 0.33 to 0.40.")
PER_CENT = Fact(0.01, unit="1", kind=Kind.STANDARD, source="A per cent.")
MICRO = Fact(1e-6, unit="1", kind=Kind.STANDARD, source="A micrometre in a metre.")


@dataclass(frozen=True)
class Plastic:
    """What a kind of plastic carries.

    Attributes:
        name: for people.
        modulus_mpa: in bending, along the layers, of a print, at once.
        strength_mpa: in tension, along the layers, of a print.
        across: share of the strength that is left across the layers.
        years: share of the strength that it may be loaded with for years.
        creep: share of the modulus that is left under a load that stays.
        strain: how far it may be stretched once.
        expansion_per_k: growth of a length for each kelvin.
        softens_c: where it gives way under a small load.
        most_c: the warmest place that it may stay in.
        density_g_cm3: of the solid.
    """

    name: str
    modulus_mpa: float
    strength_mpa: float
    across: float
    years: float
    creep: float
    strain: float
    expansion_per_k: float
    softens_c: float
    most_c: float
    density_g_cm3: float

    @property
    def across_mpa(self) -> float:
        """Strength across the layers, MPa."""
        return self.strength_mpa * self.across

    @property
    def years_mpa(self) -> float:
        """Stress along the layers that may stay for years, MPa."""
        return self.strength_mpa * self.years

    @property
    def years_across_mpa(self) -> float:
        """Stress across the layers that may stay for years, MPa."""
        return self.across_mpa * self.years

    @property
    def creep_modulus_mpa(self) -> float:
        """Modulus that a load of years meets, MPa."""
        return self.modulus_mpa * self.creep

    @property
    def often(self) -> float:
        """How far it may be stretched again and again."""
        return self.strain * REPEATED_SHARE


def _mpa(value: float, kind: Kind, source: str) -> Fact:
    return Fact(value, unit="MPa", kind=kind, source=source)


def _share(value: float, kind: Kind, source: str) -> Fact:
    return Fact(value, unit="1", kind=kind, source=source)


def _per_k(value: float, kind: Kind, source: str) -> Fact:
    return Fact(value, unit="1/K", kind=kind, source=source)


def _c(value: float, kind: Kind, source: str) -> Fact:
    return Fact(value, unit="degC", kind=kind, source=source)


def _density(value: float, source: str) -> Fact:
    return Fact(value, unit="g/cm3", kind=Kind.HANDBOOK, source=source)


_SERVICE = "Glass transition or HDT less 10 to 20 degrees: our judgement."
_ACROSS = "Printed strength across layers is 0.5 to 0.7 of that along them in data sheets; the low end."
TABLE = {
    PlasticKind.PLA: Plastic(
        "PLA",
        _mpa(1997, Kind.HANDBOOK, "A maker's data sheet, printed filled PLA, flat; unfilled gives 2000 to 2600."),
        _mpa(23.2, Kind.HANDBOOK, "The same sheet, along the layers; the weakest that was found."),
        _share(0.53, Kind.HANDBOOK, "The same sheet: 12.2 MPa across, 23.2 along."),
        YEARS_SHARE,
        CREEP_SHARE,
        _share(0.0075, Kind.CALCULATED, "Half of the yield strain of 1.5 % of a maker's sheet by ASTM D638."),
        _per_k(101e-6, Kind.HANDBOOK, "A maker's sheet of a print, 101e-6 to 102e-6; textbooks have 68e-6 to 80e-6."),
        _c(53, Kind.HANDBOOK, "HDT at 0.45 MPa: 53 in one sheet, 57.8 to 58.8 in others; Vicat B/50 54."),
        _c(45, Kind.CHOICE, f"{_SERVICE} A warning sheet says below 49."),
        _density(1.24, "ISO 1183 figure of several data sheets."),
    ),
    PlasticKind.PETG: Plastic(
        "PETG",
        _mpa(1500, Kind.MEMORY, "Printed PETG, 1400 to 2000."),
        _mpa(44, Kind.HANDBOOK, "Printed, along the layers: 44 to 56 in a table of filaments."),
        _share(0.56, Kind.HANDBOOK, "25 to 38 MPa across, 44 to 56 along."),
        YEARS_SHARE,
        CREEP_SHARE,
        _share(0.015, Kind.MEMORY, "Yields at about 4 %; no snap-fit figure was found, so well below half of it."),
        _per_k(68e-6, Kind.MEMORY, "PETG, 60e-6 to 68e-6."),
        _c(65, Kind.MEMORY, "HDT at 1.8 MPa 65 to 70; 76 at 0.45 MPa in a data sheet."),
        _c(60, Kind.CHOICE, _SERVICE),
        _density(1.27, "Data sheets: 1.25 to 1.29."),
    ),
    PlasticKind.ABS: Plastic(
        "ABS",
        _mpa(1800, Kind.MEMORY, "Printed ABS, 1700 to 2200."),
        _mpa(28, Kind.MEMORY, "Printed ABS, along the layers, 28 to 35."),
        _share(0.5, Kind.HANDBOOK, _ACROSS),
        YEARS_SHARE,
        CREEP_SHARE,
        _share(0.0125, Kind.MEMORY, "Half of 2.5 %, the low figure of snap-fit tables for moulded ABS."),
        _per_k(100e-6, Kind.MEMORY, "ABS, 80e-6 to 100e-6."),
        _c(80, Kind.MEMORY, "HDT at 1.8 MPa of moulding grades 80 to 95."),
        _c(75, Kind.CHOICE, f"{_SERVICE} A sheet of extruded ABS says 71 in continuous service."),
        _density(1.04, "ASTM D792 figure of a data sheet."),
    ),
    PlasticKind.ASA: Plastic(
        "ASA",
        _mpa(1800, Kind.MEMORY, "Printed ASA, 1700 to 2100."),
        _mpa(30, Kind.MEMORY, "Printed ASA, along the layers, 30 to 40."),
        _share(0.5, Kind.HANDBOOK, _ACROSS),
        YEARS_SHARE,
        CREEP_SHARE,
        _share(0.0125, Kind.MEMORY, "As ABS."),
        _per_k(100e-6, Kind.MEMORY, "As ABS."),
        _c(78, Kind.HANDBOOK, "HDT at 1.8 MPa 78 to 83 in a maker's guide."),
        _c(75, Kind.CHOICE, _SERVICE),
        _density(1.06, "ISO 1183 figure of a maker's guide."),
    ),
    PlasticKind.TPU: Plastic(
        "TPU",
        _mpa(50, Kind.MEMORY, "Class 95A, 26 to 100: soft, it bends rather than breaks."),
        _mpa(25, Kind.MEMORY, "Class 95A, printed, 25 to 40."),
        _share(0.7, Kind.MEMORY, "Layers of TPU stick well."),
        YEARS_SHARE,
        CREEP_SHARE,
        _share(0.15, Kind.MEMORY, "It is rubber: far above any strain of a snap."),
        _per_k(150e-6, Kind.MEMORY, "TPU, 100e-6 to 200e-6."),
        _c(90, Kind.HANDBOOK, "The upper end of 70 to 90 in a table of filaments; Vicat 115 at rate A."),
        _c(70, Kind.HANDBOOK, "The lower end of the same."),
        _density(1.22, "Data sheets: 1.20 to 1.25."),
    ),
}


def kind_of(material: Material) -> PlasticKind:
    """The kind of a filament: as said, else as its id or name has it, else PLA, which softens first.

    Args:
        material: of the room file.
    """
    if material.plastic is not None:
        return material.plastic
    words = re.split(r"[^a-z]+", f"{material.id} {material.name}".lower())
    said = [kind for kind in PlasticKind if kind.value in words]
    return said[0] if said else PlasticKind.PLA


def plastic_of(material: Material) -> Plastic:
    """What a filament carries: the figures of its own data sheet, and the table's for its kind.

    Args:
        material: of the room file.
    """
    sheet, plastic = material.sheet, TABLE[kind_of(material)]
    own = {
        "modulus_mpa": sheet.modulus_mpa,
        "strength_mpa": sheet.strength_mpa,
        "across": _of(sheet.across_percent, PER_CENT),
        "years": _of(sheet.years_percent, PER_CENT),
        "creep": _of(sheet.creep_percent, PER_CENT),
        "strain": _of(sheet.strain_percent, PER_CENT),
        "expansion_per_k": _of(sheet.expansion_um_m_k, MICRO),
        "softens_c": sheet.softens_c,
        "most_c": sheet.most_c if sheet.most_c is not None else _most_c(sheet.softens_c, plastic),
        "density_g_cm3": material.density_g_cm3,
    }
    said: dict[str, Any] = {key: value for key, value in own.items() if value is not None}
    return replace(plastic, **said)


def _of(value: float | None, unit: float) -> float | None:
    """A figure in its unit; nothing where there is none."""
    return None if value is None else value * unit


def _most_c(softens_c: float | None, plastic: Plastic) -> float | None:
    """The warmest place of a filament that says only where it softens: as far below it as its kind."""
    return None if softens_c is None else softens_c - (plastic.softens_c - plastic.most_c)
