"""How a printer prints, as a room file says it in ``[printer.profile]``: lines, skins, speeds, and what moving costs.

Every key has a default of common practice, so a room file needs none of them. They are what estimates rest on and what
a print card shows; nothing is worked out here.
"""

from __future__ import annotations

from enum import StrEnum

from pydantic import Field

from nookwright.ground.frozen import Model
from nookwright.ground.sources import Fact, Kind
from nookwright.survey.first_layer_wishes import Skirt
from nookwright.survey.readings import LengthFromZero, PositiveLength

_PRACTICE = Kind.COMMON_PRACTICE

WALLS = Fact(2, unit="lines", kind=_PRACTICE, source="Along each contour; a wall of three lines gets its third inside.")
SKIN_BELOW = Fact(3, unit="layers", kind=_PRACTICE, source="Solid layers below an infill.")
SKIN_ABOVE = Fact(5, unit="layers", kind=_PRACTICE, source="Solid layers above an infill, so that it does not sag.")
INFILL_PERCENT = Fact(15.0, unit="%", kind=_PRACTICE, source="Density inside what is thick; it carries the skin.")
OUTER_MM_S = Fact(50.0, unit="mm/s", kind=_PRACTICE, source="Slow enough that corners show no ringing.")
INNER_MM_S = Fact(70.0, unit="mm/s", kind=_PRACTICE, source="Nobody sees inner lines.")
SKIN_MM_S = Fact(70.0, unit="mm/s", kind=_PRACTICE, source="As inner lines.")
INFILL_MM_S = Fact(90.0, unit="mm/s", kind=_PRACTICE, source="The quickest of all that is laid.")
GAP_MM_S = Fact(40.0, unit="mm/s", kind=_PRACTICE, source="Short lines of changing width.")
FIRST_MM_S = Fact(25.0, unit="mm/s", kind=_PRACTICE, source="So that the first layer sticks.")
TRAVEL_MM_S = Fact(150.0, unit="mm/s", kind=_PRACTICE, source="Moves that lay nothing.")
ACCELERATION_MM_S2 = Fact(1500.0, unit="mm/s2", kind=_PRACTICE, source="Between 500 of old and 5000 of new machines.")
CORNER_MM_S = Fact(8.0, unit="mm/s", kind=_PRACTICE, source="Kept round a right angle; firmwares ship 5 to 10.")
MOST_FLOW_MM3_S = Fact(12.0, unit="mm3/s", kind=_PRACTICE, source="What a usual hot end melts of PLA or PETG.")
RETRACT = Fact(
    1.0, unit="mm", kind=_PRACTICE, source="Filament drawn back: 0.5 to 1 driven directly, 4 to 6 by a tube."
)
RETRACT_MM_S = Fact(35.0, unit="mm/s", kind=_PRACTICE, source="Out and back.")
RETRACT_OVER = Fact(2.0, unit="mm", kind=_PRACTICE, source="Shorter moves leave no string.")
HOP = Fact(0.2, unit="mm", kind=_PRACTICE, source="A layer, so that the nozzle clears what is printed.")
HOP_MM_S = Fact(10.0, unit="mm/s", kind=_PRACTICE, source="Of an axis driven by a screw.")
LAYER_CHANGE_S = Fact(1.0, unit="s", kind=_PRACTICE, source="Draw back, move up, go to the seam, prime.")
LEAST_LAYER_S = Fact(8.0, unit="s", kind=_PRACTICE, source="A layer must be firm before the next one lies on it.")
HEAT_UP_S = Fact(300.0, unit="s", kind=_PRACTICE, source="Heating, homing and the first line of a bedful.")
FILAMENT = Fact(1.75, unit="mm", kind=_PRACTICE, source="The commoner of the two diameters, 1.75 and 2.85.")


class Pattern(StrEnum):
    """How what is thick is filled."""

    LINES = "lines"  # one direction a layer, crossed from layer to layer
    GRID = "grid"  # two directions in each layer
    TRIANGLES = "triangles"  # three directions in each layer


class Seam(StrEnum):
    """Where the outlines of a layer begin and end."""

    BACK_CORNER = "back corner"  # one line up the back, right corner of each outline
    NEAREST = "nearest"  # wherever the nozzle comes from: quicker by a little, seen everywhere


class PrinterProfile(Model):
    """The table ``[printer.profile]``."""

    line_width: PositiveLength | None = Field(
        default=None, description="Width of a line; solved from the walls of the room if left out."
    )
    walls: int = Field(default=int(WALLS), ge=1, le=20, description="Lines along each contour.")
    skin_below: int = Field(default=int(SKIN_BELOW), ge=0, le=100, description="Solid layers below an infill.")
    skin_above: int = Field(default=int(SKIN_ABOVE), ge=0, le=100, description="Solid layers above an infill.")
    infill_percent: float = Field(
        default=float(INFILL_PERCENT), ge=0, le=100, description="Density inside what is thick; 100 is solid."
    )
    infill: Pattern = Field(default=Pattern.LINES, description="Pattern of the infill.")
    seam: Seam = Field(default=Seam.BACK_CORNER, description="Where outlines begin and end.")
    brim: LengthFromZero = Field(default=0.0, validate_default=False, description="Width of a brim round each piece.")
    skirt: Skirt | None = Field(default=None, description="Lines round all pieces of a bedful; none if left out.")
    outer_mm_s: float = Field(default=float(OUTER_MM_S), gt=0, le=2000, description="Speed of outer walls.")
    inner_mm_s: float = Field(default=float(INNER_MM_S), gt=0, le=2000, description="Speed of inner walls.")
    skin_mm_s: float = Field(default=float(SKIN_MM_S), gt=0, le=2000, description="Speed of solid fill.")
    infill_mm_s: float = Field(default=float(INFILL_MM_S), gt=0, le=2000, description="Speed of infill.")
    gap_mm_s: float = Field(default=float(GAP_MM_S), gt=0, le=2000, description="Speed of lines in narrow gaps.")
    first_mm_s: float = Field(default=float(FIRST_MM_S), gt=0, le=2000, description="Highest speed in the first layer.")
    travel_mm_s: float = Field(
        default=float(TRAVEL_MM_S), gt=0, le=2000, description="Speed of moves that lay nothing."
    )
    acceleration_mm_s2: float = Field(
        default=float(ACCELERATION_MM_S2), gt=0, le=100_000, description="Acceleration of all moves."
    )
    corner_mm_s: float = Field(
        default=float(CORNER_MM_S), ge=0, le=500, description="Speed that is kept round a right angle."
    )
    most_flow_mm3_s: float = Field(
        default=float(MOST_FLOW_MM3_S),
        gt=0,
        le=500,
        description="What the hot end melts at most; it limits all speeds.",
    )
    retract: LengthFromZero = Field(
        default=float(RETRACT), validate_default=False, description="Filament that is drawn back before a move."
    )
    retract_mm_s: float = Field(default=float(RETRACT_MM_S), gt=0, le=500, description="Speed of drawing back.")
    retract_over: LengthFromZero = Field(
        default=float(RETRACT_OVER), validate_default=False, description="Moves up to this need no drawing back."
    )
    hop: LengthFromZero = Field(
        default=float(HOP), validate_default=False, description="Lift of the nozzle for such a move."
    )
    hop_mm_s: float = Field(default=float(HOP_MM_S), gt=0, le=500, description="Speed of the lift.")
    layer_change_s: float = Field(default=float(LAYER_CHANGE_S), ge=0, le=600, description="Cost of each new layer.")
    least_layer_s: float = Field(default=float(LEAST_LAYER_S), ge=0, le=600, description="Shortest time of a layer.")
    heat_up_s: float = Field(
        default=float(HEAT_UP_S), ge=0, le=7200, description="From the start of a bedful to its first line."
    )
    filament: PositiveLength = Field(
        default=float(FILAMENT), validate_default=False, description="Diameter of the filament."
    )
