"""What a sliding lid and its tray have in common: the grooves, the clearances, the way out, the stop.

The tray's walls swell at 45 degrees to a ledge, stand up beside the lid, and lean over it at 45 degrees; the lid's
edge is bevelled alike. So all of it prints without support, and the lid cannot be lifted out. It slides to the front,
over a front wall that ends at the ledge, until a nose under the lid meets that wall from inside. Closed, it is kept by
a low catch behind that wall, over which the thumb lifts it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.module.dispensers import (
    EDGE,
    FLANGE,
    LEAST_INSIDE,
    LONGEST,
    SLOT_UNDER,
    groove_depth,
    side_clearance,
    sill_height,
)
from nookwright.module.floor import CORNER_RADIUS
from nookwright.module.seat import outer_size, whole_layers
from nookwright.parts.lids.lid_mechanics import jamming_length, snap_length
from nookwright.parts.refusals import refuse_part, require_whole_layers
from nookwright.parts.underside import inner_radius
from nookwright.sizing.ways import SHELL_FILLET, SMOOTH_FILLET

if TYPE_CHECKING:
    from nookwright.module.module import Module

BEVEL = Fact(1.2, unit="mm", kind=Kind.CHOICE, source="Height of the lid's bevel; with the edge the lid is 2 thick.")
NOSE = Fact(0.8, unit="mm", kind=Kind.CHOICE, source="How far the nose of the stop hangs below the lid.")
NOSE_LENGTH = Fact(2.0, unit="mm", kind=Kind.CALCULATED, source="A tip of 0.6 and a ramp of 30 degrees, 0.8 high.")
TONGUE_WIDTH = Fact(5.0, unit="mm", kind=Kind.CHOICE, source="Width of the tongue that carries the nose.")
TONGUE_GAP = Fact(1.2, unit="mm", kind=Kind.CHOICE, source="Round the tongue: prints open at any line width.")
CATCH = Fact(
    0.4,
    unit="mm",
    kind=Kind.CALCULATED,
    source="Two layers of 0.2: the lid is lifted by 0.44 and more before it meets.",
)
CATCH_PLAY = Fact(0.2, unit="mm", kind=Kind.CHOICE, source="From the front wall to the catch of a closed lid.")
REAR_LAND = Fact(3.0, unit="mm", kind=Kind.CHOICE, source="Plate left behind the tongue.")
GRIP_START = Fact(3.0, unit="mm", kind=Kind.CHOICE, source="From the front of the lid to its first thumb groove.")
GRIP_GROOVES = Fact(3, unit="1", kind=Kind.CHOICE, source="Grooves for the thumb.")
GRIP_PITCH = Fact(3.0, unit="mm", kind=Kind.CHOICE, source="From groove to groove.")
GRIP_WIDTH = Fact(1.6, unit="mm", kind=Kind.CHOICE, source="A groove is a bridge so short that it does not sag.")
GRIP_LENGTH = Fact(24.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="Width of a thumb and some.")
LEAST_OPENING = Fact(0.3, unit="1", kind=Kind.CHOICE, source="A lid that opens less of its tray is of no use.")
SLOT_COLLAR = Fact(1.2, unit="mm", kind=Kind.CHOICE, source="Wall of the lip round a dispensing slot: three lines.")
SLOT_PLAY = Fact(1.0, unit="mm", kind=Kind.CHOICE, source="From the lip to the gap in the front wall, on each side.")
SIDE_LAND = Fact(2.0, unit="mm", kind=Kind.CHOICE, source="Plate left between a bevel and what is cut into the lid.")


@dataclass(frozen=True)
class Slot:
    """A dispensing slot in the middle of a lid: size along x and y, and how far its lip keeps the stack down, mm."""

    across: float
    along: float
    lip: float = 4.0


@dataclass(frozen=True)
class SlidingSpec:
    """A tray with a sliding lid: footprint in cells, outer height in mm, floor, dispensing slot."""

    cols: int
    rows: int
    height: float
    smooth: bool = False
    slot: Slot | None = None


@dataclass(frozen=True)
class SlidingRim:
    """All dimensions of one sliding lid and its tray, in the tray's axes, mm."""

    module: Module
    spec: SlidingSpec

    def __post_init__(self) -> None:
        require_whole_layers("tray for a sliding lid", self.spec.height, self.module.seat.layer)
        self._check_room()
        self._check_way()
        if self.spec.slot:
            self._check_slot(self.spec.slot)

    @cached_property
    def width(self) -> float:
        """Outer size of the tray along x."""
        return outer_size(self.spec.cols, self.module.pitch)

    @cached_property
    def depth(self) -> float:
        """Outer size of the tray along y, the way the lid slides."""
        return outer_size(self.spec.rows, self.module.pitch)

    @cached_property
    def clearance(self) -> float:
        """Of the lid on each side and at the back."""
        return side_clearance(self.depth)

    @cached_property
    def groove(self) -> float:
        """Depth of the grooves; the walls swell by it."""
        return groove_depth(self.depth)

    @cached_property
    def inset(self) -> float:
        """From the outside of the tray to the lid."""
        return self.module.wall + self.clearance

    @cached_property
    def opening(self) -> float:
        """From the outside of the tray to the opening that the lid covers."""
        return self.module.wall + self.groove

    @cached_property
    def edge(self) -> float:
        """Height of the lid's upright edge, and of the groove's upright wall, where the leaning one begins.

        At 45 degrees the clearance upwards is the one sideways, so that the bevel does not meet the leaning wall before
        the edge meets the upright one.
        """
        return self.whole(EDGE)

    @cached_property
    def bevel(self) -> float:
        """Height and width of the lid's bevel."""
        return self.whole(BEVEL)

    @cached_property
    def thickness(self) -> float:
        """Of the lid."""
        return round(self.edge + self.bevel, 6)

    @cached_property
    def sill(self) -> float:
        """Height of the ledge that the lid slides on, and of the front wall."""
        return sill_height(self.module, self.spec.rows, self.spec.height)

    @cached_property
    def swell_start(self) -> float:
        """Height at which the walls begin to swell."""
        return round(self.sill - self.whole(FLANGE + self.groove), 6)

    @cached_property
    def lid_width(self) -> float:
        """Of the lid at its underside."""
        return round(self.width - 2 * self.inset, 4)

    @cached_property
    def lid_depth(self) -> float:
        """Of the lid at its underside; its front is flush with the tray's."""
        return round(self.depth - self.inset, 4)

    @cached_property
    def guided(self) -> float:
        """How much of a closed lid lies between the leaning walls, which begin behind the rounded front corners."""
        return self.lid_depth - CORNER_RADIUS

    @cached_property
    def way(self) -> float:
        """How far the lid slides out: until only the length is guided below which it would jam."""
        rear = self.lid_depth - self.bevel - REAR_LAND - TONGUE_GAP - NOSE_LENGTH - self.opening
        return round(min(self.guided - jamming_length(self.lid_width), rear), 4)

    @cached_property
    def nose(self) -> float:
        """From the front of the lid to the face of its nose, which meets the front wall at the end of the way."""
        return round(self.opening + self.way, 4)

    @cached_property
    def tongue(self) -> float:
        """Length of a tongue from its root to the face of its nose: it bears the bending over the front wall."""
        return math.ceil(100 * snap_length(self.thickness, NOSE)) / 100

    @cached_property
    def catch(self) -> float:
        """From the front of the lid to the face of its catch, which stands behind the front wall when it is closed."""
        return round(self.opening + CATCH_PLAY, 4)

    @cached_property
    def grip_end(self) -> float:
        """From the front of the lid to the end of its thumb grooves."""
        return GRIP_START + (GRIP_GROOVES - 1) * GRIP_PITCH + GRIP_WIDTH

    @cached_property
    def tongue_middles(self) -> tuple[float, ...]:
        """Middles of the tongues along x, from the lid's left edge: two far apart, or one in the middle."""
        from_edge = max(self.bevel + SIDE_LAND, self.groove - self.clearance + SIDE_LAND / 2)
        first = from_edge + TONGUE_GAP + TONGUE_WIDTH / 2
        if self.lid_width >= 2 * first + 2 * TONGUE_WIDTH:
            return round(first, 4), round(self.lid_width - first, 4)
        return (round(self.lid_width / 2, 4),)

    def whole(self, height: float) -> float:
        """A height rounded up to whole layers."""
        return whole_layers(height, self.module.seat.layer)

    def _check_room(self) -> None:
        spec, seat = self.spec, self.module.seat
        if self.groove > inner_radius(self.module):
            refuse_part(
                "tray for a sliding lid", "its grooves fit the inside corners", found=f"{self.depth:g} long",
                allowed=f"at most {LONGEST:g}", remedy="Make two shorter trays of it.",
            )  # fmt: skip
        fillet = SMOOTH_FILLET if spec.smooth else SHELL_FILLET
        least = (seat.dome if spec.smooth else seat.shell_floor) + fillet + LEAST_INSIDE
        if self.swell_start < least:
            refuse_part(
                "tray for a sliding lid", "its wall has room for fillet, ledge and grooves",
                found=f"height {spec.height:g}",
                allowed=f"at least {self.module.height(spec.height + least - self.swell_start):g}",
                remedy="Make the tray higher.",
            )  # fmt: skip

    def _check_way(self) -> None:
        room = self.nose - self.tongue - self.grip_end
        if self.way < LEAST_OPENING * self.depth:
            refuse_part(
                "sliding lid", "it opens a fair share of its tray before it would jam",
                found=f"{max(0.0, self.way):.1f} of {self.depth:g}",
                allowed=f"at least {LEAST_OPENING * self.depth:.1f}",
                remedy="Let the lid slide along the longer side, or take a press-on lid.",
            )  # fmt: skip
        if room < SIDE_LAND:
            refuse_part(
                "sliding lid", "its tongue fits behind the thumb grip", found=f"{self.depth:g} long",
                allowed=f"at least {self.depth + SIDE_LAND - room:.1f}", remedy="Make the tray longer.",
            )  # fmt: skip
        if self.lid_width < 2 * (self.groove - self.clearance + SIDE_LAND / 2) + TONGUE_WIDTH:
            refuse_part(
                "sliding lid", "its nose passes between the ledges", found=f"{self.width:g} wide",
                allowed=f"at least {2 * (self.opening + SIDE_LAND / 2) + TONGUE_WIDTH:.1f}", remedy="Make it wider.",
            )  # fmt: skip

    def _check_slot(self, slot: Slot) -> None:
        require_whole_layers("dispensing slot", slot.lip, self.module.seat.layer)
        collar = slot.across / 2 + SLOT_COLLAR + SLOT_PLAY
        widest = min(abs(x - self.lid_width / 2) for x in self.tongue_middles) - TONGUE_WIDTH / 2 - TONGUE_GAP
        most = 2 * (widest - SLOT_COLLAR - SLOT_PLAY)
        if len(self.tongue_middles) == 1 or collar > widest:
            refuse_part(
                "dispensing slot", "it lies between the two tongues of its lid", found=f"{slot.across:g} across",
                allowed=f"at most {max(0.0, most):.1f}", remedy="Make the slot narrower or the tray wider.",
            )  # fmt: skip
        half = slot.along / 2 + SLOT_COLLAR + SIDE_LAND
        room = min(self.depth / 2 - max(self.opening, self.grip_end), self.depth / 2 - self.opening)
        if half > room or slot.along <= 0 or slot.across <= 0:
            refuse_part(
                "dispensing slot", "it lies behind the thumb grip and before the rear ledge",
                found=f"{slot.along:g} along", allowed=f"more than 0, at most {2 * (room - half + slot.along / 2):.1f}",
                remedy="Make the slot shorter or the tray longer.",
            )  # fmt: skip
        lowest = self.module.seat.dome + SMOOTH_FILLET
        if self.sill - slot.lip - SLOT_UNDER < lowest or slot.lip <= 0:
            refuse_part(
                "dispensing slot", "its lip stays well above the floor", found=f"{slot.lip:g}",
                allowed=f"more than 0, at most {self.sill - SLOT_UNDER - lowest:.1f}", remedy="Make the tray higher.",
            )  # fmt: skip
