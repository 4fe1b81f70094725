"""Strips of felt or rubber that line a pocket: shallow slots in its wall, sizes counted with the pressed thickness."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.parts.cradles.plan_outlines import Slab, bar
from nookwright.parts.refusals import refuse_part

if TYPE_CHECKING:
    from nookwright.parts.cradles.plan_outlines import RoundedBox

FELT_PRESSED = Fact(
    0.7, unit="1", kind=Kind.MEMORY, source="Share of its thickness that felt keeps under a light grip; measure yours."
)
RUBBER_PRESSED = Fact(
    0.9, unit="1", kind=Kind.MEMORY, source="The same for a solid rubber strip; foam is softer: measure yours."
)
SLOT = Fact(0.6, unit="mm", kind=Kind.CHOICE, source="Deep enough to find the place of a strip and to hide its edges.")
SLOT_CLEARANCE = Fact(0.4, unit="mm", kind=Kind.COMMON_PRACTICE, source="A slot is wider than its strip by this.")
STANDS_PROUD = Fact(
    0.3,
    unit="mm",
    kind=Kind.CHOICE,
    source="Pressed, a strip still stands out of its slot by this, or the wall scratches.",
)
NARROWEST = Fact(2.0, unit="mm", kind=Kind.CHOICE, source="A narrower strip is a thread: it does not stay stuck.")


@dataclass(frozen=True)
class Strip:
    """A strip as bought, cut to the pocket's height.

    Attributes:
        width: across, mm.
        thickness: loose, mm.
        pressed_share: of the thickness that is left when a thing is in.
    """

    width: float
    thickness: float
    pressed_share: float = FELT_PRESSED

    def __post_init__(self) -> None:
        if not self.width >= NARROWEST:
            refuse_part(
                "a strip",
                "it can be cut and stuck",
                found=f"{self.width:g}",
                allowed=f"at least {NARROWEST:g} wide",
                remedy="Take a wider strip, or none.",
            )
        if not 0 < self.pressed_share <= 1:
            refuse_part(
                "a strip",
                "pressed, it keeps a share of its thickness",
                found=f"{self.pressed_share:g}",
                allowed="more than 0, at most 1",
                remedy="Measure a scrap of it loose and pressed.",
            )
        if not self.pressed >= SLOT + STANDS_PROUD:
            refuse_part(
                "a strip",
                "pressed, it stands out of its slot",
                found=f"{self.pressed:g}",
                allowed=f"at least {SLOT + STANDS_PROUD:g}",
                remedy="Take a thicker strip.",
            )

    @property
    def pressed(self) -> float:
        """Thickness when a thing is in, mm."""
        return round(self.thickness * self.pressed_share, 4)

    @property
    def words(self) -> str:
        """For the parameters of a part."""
        return f"{self.width:g}x{self.thickness:g} pressed {self.pressed:g}"


def lined_size(size: float, strip: Strip) -> float:
    """Size of a pocket between two strips, or in three of them, that grips a thing of a size, mm.

    >>> lined_size(30.0, Strip(10, 2.0, 0.75))
    31.8
    """
    return round(size + 2 * (strip.pressed - SLOT), 4)


def slots(outline: RoundedBox, strip: Strip) -> tuple[Slab, ...]:
    """Where strips go in the wall of a pocket: three around a round one, one on each side of a box.

    Args:
        outline: of the pocket.
        strip: that lines it.

    Raises:
        RecipeError: the strips are too wide for the pocket.
    """
    wide = strip.width + SLOT_CLEARANCE
    (a, b), is_round = outline.core, outline.radius == outline.half_width == outline.half_depth
    flats = (outline.radius, outline.radius) if is_round else (2 * a, 2 * b)
    most = min(flats) - SLOT_CLEARANCE
    if strip.width > most:
        refuse_part(
            "a lined pocket",
            "its strips fit its flats, or lie like flats in its round",
            found=f"{strip.width:g}",
            allowed=f"at most {most:g}" if most >= NARROWEST else "no strips",
            remedy="Take narrower strips, or none.",
        )
    count = 3 if is_round else 4
    made = []
    for number in range(count):
        angle = math.pi / 2 + number * 2 * math.pi / count
        dx, dy = math.cos(angle), math.sin(angle)
        reach = abs(dx) * outline.half_width + abs(dy) * outline.half_depth if not is_round else outline.radius
        near, far = reach / 2, reach + SLOT
        start, end = (outline.x + near * dx, outline.y + near * dy), (outline.x + far * dx, outline.y + far * dy)
        made.append(bar(start, end, wide))
    return tuple(made)


def slot_reach(outline: RoundedBox, strip: Strip) -> float:
    """How far the corners of a slot reach into the wall around a pocket, mm."""
    if outline.radius == outline.half_width == outline.half_depth:
        return math.hypot(outline.radius + SLOT, (strip.width + SLOT_CLEARANCE) / 2) - outline.radius
    return float(SLOT)


def slot_mm2(strip: Strip) -> float:
    """Area of one slot in plan, without what the round of a pocket adds, mm2."""
    return (strip.width + SLOT_CLEARANCE) * SLOT
