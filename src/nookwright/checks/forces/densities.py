"""What things weigh where nobody weighed them: by their shape and by how they were made.

A thing that is measured as a box or a cylinder does not fill it. A vessel with what is in it comes near to water;
sheets of paper fill their stack; of metal tools a third is metal. Densities are those of EN 1991-1-1; how full, is
our choice and said as assumed.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.survey.models import Shape
from nookwright.survey.origins import Process

if TYPE_CHECKING:
    from nookwright.survey.models import Lot

KN_M3 = Fact(
    0.10197, unit="g/cm3", kind=Kind.CALCULATED, source="A density of 1 kN/m3, by 9.80665 m/s2: 1 / 9.80665 g/cm3."
)
STEEL_KN_M3 = Fact(77.0, unit="kN/m3", kind=Kind.STANDARD, source="EN 1991-1-1 table A.4: steel 77 to 78.5.")
GLASS_KN_M3 = Fact(25.0, unit="kN/m3", kind=Kind.STANDARD, source="EN 1991-1-1 table A.5: glass in sheets 25.")
PLASTIC_KN_M3 = Fact(12.0, unit="kN/m3", kind=Kind.STANDARD, source="EN 1991-1-1 table A.5: acrylic sheet 12.")
WATER_KN_M3 = Fact(10.0, unit="kN/m3", kind=Kind.STANDARD, source="EN 1991-1-1 table A.7: fresh water 10.")
GRAVEL_KN_M3 = Fact(15.0, unit="kN/m3", kind=Kind.STANDARD, source="EN 1991-1-1 table A.6: loose gravel 15 to 16.")
PAPER_KN_M3 = Fact(9.0, unit="kN/m3", kind=Kind.MEMORY, source="Copy paper, 80 g/m2 and 0.09 to 0.1 thick; in sheets.")
WOOD_KN_M3 = Fact(7.0, unit="kN/m3", kind=Kind.MEMORY, source="Beech and oak, dry: 650 to 750 kg/m3.")
CLAY_KN_M3 = Fact(20.0, unit="kN/m3", kind=Kind.MEMORY, source="Stoneware, fired: 2.0 to 2.4 g/cm3.")
CLOTH_KN_M3 = Fact(4.0, unit="kN/m3", kind=Kind.MEMORY, source="Folded cotton, as it lies.")
TOOL_SHARE = Fact(0.35, unit="1", kind=Kind.CHOICE, source="Of the box round a metal tool that is metal.")
SHEET_SHARE = Fact(0.25, unit="1", kind=Kind.CHOICE, source="The same of a tin or of what is pressed from sheet.")
VESSEL_SHARE = Fact(
    1.1, unit="1", kind=Kind.CHOICE, source="Full jars and bottles by water of their size: glass is heavy."
)
SHELL_SHARE = Fact(0.4, unit="1", kind=Kind.CHOICE, source="Of cups and bowls and of the box round them that is clay.")
MOULDED_SHARE = Fact(0.8, unit="1", kind=Kind.CHOICE, source="Of moulded plastic, or of what is in it.")
FULL = Fact(1.0, unit="1", kind=Kind.CHOICE, source="Wood, paper and cloth fill the box round them.")
MM3_PER_ML = Fact(1000.0, unit="mm3/ml", kind=Kind.STANDARD, source="A millilitre is a cubic centimetre.")

_MADE = {
    Process.MOULDED_GLASS: (WATER_KN_M3, VESSEL_SHARE),
    Process.BLOWN_GLASS: (GLASS_KN_M3, SHEET_SHARE),
    Process.MOULDED_PLASTIC: (PLASTIC_KN_M3, MOULDED_SHARE),
    Process.FORMED_SHEET: (STEEL_KN_M3, SHEET_SHARE),
    Process.MACHINED_METAL: (STEEL_KN_M3, TOOL_SHARE),
    Process.WOOD: (WOOD_KN_M3, FULL),
    Process.CERAMICS: (CLAY_KN_M3, SHELL_SHARE),
    Process.PAPER: (PAPER_KN_M3, FULL),
    Process.SOFT: (CLOTH_KN_M3, FULL),
}
_SHAPED = {
    Shape.BOX: (WATER_KN_M3, FULL),
    Shape.ROUND: (WATER_KN_M3, FULL),
    Shape.FLAT: (PAPER_KN_M3, FULL),
    Shape.LOOSE: (GRAVEL_KN_M3, FULL),
}


def one_g(lot: Lot) -> float:
    """Mass of one thing of a lot, g: as it was weighed or published, else assumed."""
    return lot.mass_g if lot.mass_g is not None else assumed_g(lot)


def assumed_g(lot: Lot) -> float:
    """What one thing of a lot is taken to weigh where that is not known, g."""
    shape = lot.shape or Shape.BOX
    made = Process(lot.made) if lot.made in list(Process) else Process.UNKNOWN
    density, share = _MADE.get(made, _SHAPED[shape])
    if shape is Shape.LOOSE:
        density, share = _SHAPED[shape]
    return float(_volume_mm3(lot, shape) / MM3_PER_ML * density * KN_M3 * share)


def _volume_mm3(lot: Lot, shape: Shape) -> float:
    """Of the box, cylinder or sheet that a thing was measured as; of bulk as it lies."""
    if shape is Shape.LOOSE:
        return (lot.volume_ml or 0.0) * MM3_PER_ML
    sides = [one.largest for one in (lot.width, lot.depth, lot.diameter, lot.height, lot.thickness) if one]
    if shape is Shape.ROUND and lot.diameter and lot.height:
        return math.pi / 4 * lot.diameter.largest**2 * lot.height.largest
    return math.prod(sides)
