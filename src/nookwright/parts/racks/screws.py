"""Screw holes in printed plates: clearance holes, and seats in which the head is sunk.

Holes lie level while the plate is printed, so they have a roof of 45 degrees instead of a round top. Head sizes come
from the table of published sizes.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from nookwright.ground.errors import RecipeError
from nookwright.ground.sources import Fact
from nookwright.ground.sources import Kind as SourceKind
from nookwright.ground.tolerances import OVERSHOOT
from nookwright.parts.refusals import refuse_part
from nookwright.shapes.regions import Polygon, Region
from nookwright.shapes.solids import Move, Prism, Revolution, Solid, Tip, Union
from nookwright.survey.fasteners import EXAMPLE_LENGTH, screw

_ISO_273 = "ISO 273, medium series; from memory."
HOLE = {
    3: Fact(3.4, unit="mm", kind=SourceKind.STANDARD, source=_ISO_273),
    4: Fact(4.5, unit="mm", kind=SourceKind.STANDARD, source=_ISO_273),
    5: Fact(5.5, unit="mm", kind=SourceKind.STANDARD, source=_ISO_273),
    6: Fact(6.6, unit="mm", kind=SourceKind.STANDARD, source=_ISO_273),
}
SUNK = Fact(
    0.5, unit="mm", kind=SourceKind.CHOICE, source="Heads lie this deep below the face, so that nothing scrapes."
)
AROUND_HEAD = Fact(
    0.3, unit="mm", kind=SourceKind.COMMON_PRACTICE, source="A side, around a head: printed holes come out narrow."
)
COUNTERSINK_DEG = Fact(90.0, unit="deg", kind=SourceKind.STANDARD, source="ISO 10642: included angle of the head.")


class Head(StrEnum):
    """Heads of screws."""

    PAN = "pan"
    COUNTERSUNK = "countersunk"
    WOOD = "wood, countersunk"


_STANDARD = {Head.PAN: "ISO 7045", Head.COUNTERSUNK: "ISO 10642", Head.WOOD: "DIN 7997"}
_DIN_7997 = "DIN 7997: the head of a wood screw is twice as wide as its nominal diameter; from memory."
WOOD_HEAD = {
    3: Fact(6.0, unit="mm", kind=SourceKind.MEMORY, source=_DIN_7997),
    4: Fact(8.0, unit="mm", kind=SourceKind.MEMORY, source=_DIN_7997),
    5: Fact(10.0, unit="mm", kind=SourceKind.MEMORY, source=_DIN_7997),
    6: Fact(12.0, unit="mm", kind=SourceKind.MEMORY, source=_DIN_7997),
}


@dataclass(frozen=True)
class Screw:
    """What a plate must know of its screws, mm.

    Attributes:
        thread: nominal diameter.
        head: its form.
        hole: diameter of the clearance hole.
        head_diameter: largest.
        depth: of the seat below the face.
    """

    thread: int
    head: Head
    hole: float
    head_diameter: float
    depth: float

    @property
    def name(self) -> str:
        """As one asks for it, without its length."""
        return f"{'' if self.head is Head.WOOD else 'M'}{self.thread} {_STANDARD[self.head]}"

    @property
    def seat_mm2(self) -> float:
        """Area on which the head presses, seen along the screw, mm2."""
        return math.pi / 4 * (self.head_diameter**2 - self.hole**2)

    @property
    def taken_mm3(self) -> float:
        """What its seat takes away beside the clearance hole, roof left out, mm3."""
        wide, narrow = self.head_diameter / 2 + AROUND_HEAD, self.hole / 2
        if self.head is Head.PAN:
            return math.pi * (wide**2 - narrow**2) * self.depth
        cone = math.pi / 3 * (wide - narrow) * (wide**2 + wide * narrow + narrow**2)
        return cone + math.pi * wide**2 * SUNK - math.pi * narrow**2 * self.depth


def screw_of(thread: int, head: Head) -> Screw:
    """The screw of a thread and a head.

    Args:
        thread: nominal diameter, mm.
        head: its form.

    Raises:
        RecipeError: a thread that is not in the table.

    >>> screw_of(4, Head.PAN).name, screw_of(4, Head.PAN).depth
    ('M4 ISO 7045', 3.6)
    >>> screw_of(4, Head.WOOD).name, screw_of(4, Head.WOOD).depth
    ('4 DIN 7997', 2.55)
    """
    if thread not in HOLE:
        refuse_part(
            "screw",
            "its thread is in the table",
            found=f"M{thread}",
            allowed=", ".join(f"M{known}" for known in HOLE),
            remedy="Take another thread.",
        )
    diameter, high = _head_of(thread, head)
    hole = float(HOLE[thread])
    deep = high if head is Head.PAN else diameter / 2 + AROUND_HEAD - hole / 2
    return Screw(thread, head, hole, diameter, round(deep + SUNK, 4))


def _head_of(thread: int, head: Head) -> tuple[float, float]:
    """Largest diameter and height of a head above its shank, mm; a countersunk one has none above."""
    if head is Head.WOOD:
        return float(WOOD_HEAD[thread]), 0.0
    size = screw(f"M{thread}x{EXAMPLE_LENGTH:g} {_STANDARD[head]}")
    if size is None:
        msg = f"no head of {_STANDARD[head]} M{thread} in the table of fasteners"
        raise RecipeError(msg)
    return float(size.dimensions["diameter"].largest), size.dimensions["height"].largest - EXAMPLE_LENGTH


def screw_cutter(one: Screw, plate: float) -> Solid:
    """A cutter for a hole along x through a plate from x = 0 to its face, where the head sits; its axis is y = z = 0.

    Args:
        one: the screw.
        plate: thickness of the plate, mm.
    """
    narrow, wide = one.hole / 2, one.head_diameter / 2 + AROUND_HEAD
    seat = plate - one.depth
    full = seat if one.head is Head.PAN else plate - SUNK
    below, above = -OVERSHOOT, plate + OVERSHOOT
    step = ((narrow, seat), (wide, full))
    turned = Revolution(((0.0, below), (narrow, below), *step, (wide, above), (0.0, above)))
    roofs = (Move(Prism(_roof(narrow), above - below), z=below), Move(Prism(_roof(wide), above - full), z=full))
    return Tip(Union((turned, *roofs)), "y")  # what pointed to -x points up


def _roof(radius: float) -> Region:
    """What a roof of 45 degrees towards -x adds to a disc, with its root inside the disc."""
    side = radius / math.sqrt(2)
    return Polygon(((-radius * math.sqrt(2), 0.0), (-side, -side), (-side, side)))
