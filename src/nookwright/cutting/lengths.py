"""How long a flat part may be in one piece, by what it is printed in: what shrinks as it cools lifts its corners.

Only flat parts are meant: panels, lids, strips, low trays. A high wall holds a floor down.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.ground.findings import Against, Finding, Severity
from nookwright.ground.sources import Fact, Kind
from nookwright.survey.plastic_sheet import PlasticKind

if TYPE_CHECKING:
    from nookwright.parts.model import Part
    from nookwright.survey.models import Material, Room

FLAT_SHARE = Fact(
    0.1, unit="1", kind=Kind.CHOICE, source="Height by the longer side: a floor with lower walls than that bends up."
)
LONGEST = Fact(
    400.0,
    unit="mm",
    kind=Kind.COMMON_PRACTICE,
    source="PLA and PETG shrink by 0.2 to 0.4 %; flat parts as long as hobby beds lie down, with their edges drawn in.",
)
LONGEST_SHRINKING = Fact(
    180.0,
    unit="mm",
    kind=Kind.COMMON_PRACTICE,
    source="ABS and ASA shrink by 0.5 to 0.8 %; in a printer without a warm chamber longer flat parts lift.",
)
SHRINKS_G_CM3 = Fact(
    1.16,
    unit="g/cm3",
    kind=Kind.COMMON_PRACTICE,
    source="Lighter ones shrink: ABS 1.04, ASA 1.07; PLA 1.24, PETG 1.27.",
)
_SHRINKING = (PlasticKind.ABS, PlasticKind.ASA)


def longest_of(material: Material) -> float:
    """The longest flat part of a material in one piece, mm: as said, or by what it is made of.

    Args:
        material: as surveyed.
    """
    if material.longest is not None:
        return material.longest
    light = material.plastic is None and material.density_g_cm3 < SHRINKS_G_CM3
    return float(LONGEST_SHRINKING if light or material.plastic in _SHRINKING else LONGEST)


def longest_in(room: Room) -> dict[str, float]:
    """The same of every material of a room, by its id."""
    return {material.id: longest_of(material) for material in room.material}


def is_flat(part: Part) -> bool:
    """Whether a part is so low that it lifts its corners if it is long."""
    width, depth, height = part.size
    return height <= FLAT_SHARE * max(width, depth)


def kept_long(part: Part, material: str, longest: float) -> Finding:
    """What is said of a long flat part that is to stay whole.

    Args:
        part: as it is printed.
        material: id of its material.
        longest: flat part of it in one piece, mm.
    """
    side = max(part.size[:2])
    text = (
        f"{part.name} is flat and {side:.0f} mm long; in {material} flat parts of more than {longest:.0f} mm lift "
        "their corners as they cool. It is to stay whole."
    )
    remedy = (
        "Delete its `whole = true`, so that it is cut; or print it with a brim or pads on a warm bed with the door of "
        "the printer shut, or say `longest` of the material if yours is known to stay down."
    )
    return Finding("long-flat-part", Severity.WARN, part.name, text, remedy, Against(side, longest, "mm"))
