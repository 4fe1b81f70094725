"""A lid that slides in the grooves of its tray, with a thumb grip, a catch, a stop, and if wanted a dispensing slot.

It is printed on its head, as its recipe lies: the bevel then grows outwards at 45 degrees, and noses and lip stand up.
``closed`` and ``place`` say how it lies on its tray. The noses sit on tongues that bend when it is first pushed in.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact
from nookwright.ground.sources import Kind as SourceKind
from nookwright.module.dispensers import LONGEST, lip_depth
from nookwright.module.estimates import Plastic
from nookwright.module.seat import draw_of
from nookwright.parts.lids.sliding_rim import (
    BEVEL,
    CATCH,
    GRIP_GROOVES,
    GRIP_LENGTH,
    GRIP_PITCH,
    GRIP_START,
    GRIP_WIDTH,
    NOSE,
    NOSE_LENGTH,
    SIDE_LAND,
    SLOT_COLLAR,
    TONGUE_GAP,
    TONGUE_WIDTH,
    SlidingRim,
    SlidingSpec,
    Slot,
)
from nookwright.parts.lids.sliding_tray import parameters_of, sliding_tray
from nookwright.parts.lying import along_x
from nookwright.parts.model import Example, Kind, Part, size_name
from nookwright.parts.swollen_rim import rounded_mm2, rounded_rect, tapered_mm3, turned_over
from nookwright.parts.underside import inner_radius
from nookwright.shapes.cutters import open_above, through
from nookwright.shapes.regions import Polygon, Rect, Region, RegionDifference, RegionMove
from nookwright.shapes.solids import Difference, Move, Prism, Solid, Taper, Union
from nookwright.survey.dispensed import Dispensed

if TYPE_CHECKING:
    from nookwright.module.module import Module

GRIP_DEPTH = Fact(0.8, unit="mm", kind=SourceKind.CHOICE, source="Depth of a thumb groove; 1.2 of the lid is left.")
NOSE_TIP = Fact(0.6, unit="mm", kind=SourceKind.CHOICE, source="Flat tip of the nose: a line and a half.")
SLOT_CHAMFER = Fact(0.6, unit="mm", kind=SourceKind.COMMON_PRACTICE, source="At the slot's edge: sheets do not tear.")
_ROOT = 0.4  # what stands on the lid starts so deep in it


_SHARES = {Dispensed.SHEETS: (0.5, 16.0), Dispensed.BAGS: (0.35, 26.0), Dispensed.GLOVES: (0.45, 40.0)}


def slot_for(module: Module, what: Dispensed, *, cols: int) -> Slot:
    """A slot that suits what is dispensed; all sizes are our choice.

    Args:
        module: the household's module.
        what: is dispensed.
        cols: width of the tray, cells.
    """
    share, along = _SHARES[what]
    return Slot(across=round(share * module.inner(cols), 1), along=along, lip=lip_depth(module))


@dataclass(frozen=True)
class SlidingOrder:
    """A tray with a sliding lid as a person asks for it.

    Attributes:
        height: of the tray, mm.
        dispensed: what is drawn through a slot that suits it.
        slot: a slot of one's own sizes instead.
    """

    cols: int
    rows: int
    height: float
    smooth: bool = False
    dispensed: Dispensed | None = None
    slot: Slot | None = None

    def spec(self, module: Module) -> SlidingSpec:
        """The tray and lid that it stands for."""
        slot = self.slot or (slot_for(module, self.dispensed, cols=self.cols) if self.dispensed else None)
        return SlidingSpec(self.cols, self.rows, self.height, self.smooth, slot)


def sliding_pair(module: Module, order: SlidingOrder) -> tuple[Part, Part]:
    """A tray and its sliding lid.

    Args:
        module: the household's module.
        order: what is asked for.

    Raises:
        RecipeError: too low, too long, too short for its width, or without room for its slot.
    """
    spec = order.spec(module)
    return sliding_tray(module, spec), sliding_lid(module, spec)


def sliding_lid(module: Module, spec: SlidingSpec) -> Part:
    """The lid of a tray with grooves, on its head.

    Args:
        module: the household's module.
        spec: of the tray and its lid.

    Raises:
        RecipeError: too low, too long, too short for its width, or without room for its slot.
    """
    rim = SlidingRim(module, spec)
    return Part(
        kind=Kind.LID,
        name=f"sliding lid {size_name(rim.lid_width, rim.lid_depth)}",
        parameters=parameters_of(module, spec),
        recipe=turned_over(_as_it_lies(rim)),
        plastic=_plastic(rim),
    )


def closed(module: Module, spec: SlidingSpec) -> Solid:
    """The lid as it lies on its tray when closed, in the tray's axes."""
    rim = SlidingRim(module, spec)
    return Move(_as_it_lies(rim), x=rim.inset, z=rim.sill)


def place(module: Module, spec: SlidingSpec) -> tuple[float, float, float]:
    """Where the front left lower corner of the closed lid's box lies, mm; noses and lip hang below the ledge."""
    x, y, z, *_ = closed(module, spec).bounds
    return x, y, z


def handles(rim: SlidingRim) -> int:
    """Handles of the lid's surface: one for the gap round each tongue, one for the slot."""
    return len(rim.tongue_middles) + (rim.spec.slot is not None)


def _as_it_lies(rim: SlidingRim) -> Solid:
    """The lid with its underside at z = 0, its front left corner at x = y = 0, noses and lip below."""
    radius = inner_radius(rim.module) - rim.clearance
    plan = Rect(rim.lid_width, rim.lid_depth, radius)
    plate = Union((Prism(plan, rim.edge), Move(Taper(plan, rim.bevel, rim.bevel), z=rim.edge)))
    noses = tuple(_nose(rim, middle) for middle in rim.tongue_middles)
    gaps = tuple(through(_tongue_gap(rim, middle), 0.0, rim.thickness) for middle in rim.tongue_middles)
    cut = Difference(plate, (*gaps, *_grip(rim)))
    catches = tuple(_catch(rim, middle) for middle in rim.tongue_middles)
    return _slotted(rim, Union((cut, *noses, *catches)))


def _nose(rim: SlidingRim, middle: float) -> Solid:
    """Upright towards the front, where it meets the wall; a ramp to the back, over which the lid is pushed in."""
    y = rim.nose
    outline = Polygon(((y, -NOSE), (y + NOSE_TIP, -NOSE), (y + NOSE_LENGTH, 0.0), (y + NOSE_LENGTH, _ROOT), (y, _ROOT)))
    return along_x(outline, middle - TONGUE_WIDTH / 2, middle + TONGUE_WIDTH / 2)


def _catch(rim: SlidingRim, middle: float) -> Solid:
    """As steep as a cone towards the front wall, so that no slam opens it; a ramp of 30 degrees to the back."""
    y, tip = rim.catch, rim.catch + draw_of(CATCH)
    ramp = tip + NOSE_TIP + CATCH * (NOSE_LENGTH - NOSE_TIP) / NOSE
    outline = Polygon(((tip, -CATCH), (tip + NOSE_TIP, -CATCH), (ramp, 0.0), (ramp, _ROOT), (y, _ROOT), (y, 0.0)))
    return along_x(outline, middle - TONGUE_WIDTH / 2, middle + TONGUE_WIDTH / 2)


def _tongue_gap(rim: SlidingRim, middle: float) -> Region:
    """The gap round a tongue, on three sides; its root is towards the front, so that the stop pulls at it."""
    start, long = rim.nose - rim.tongue, rim.tongue + NOSE_LENGTH
    outer = RegionMove(
        Rect(TONGUE_WIDTH + 2 * TONGUE_GAP, long + TONGUE_GAP), x=middle - TONGUE_WIDTH / 2 - TONGUE_GAP, y=start
    )
    kept = RegionMove(Rect(TONGUE_WIDTH, long + _ROOT), x=middle - TONGUE_WIDTH / 2, y=start - _ROOT)
    return RegionDifference(outer, (kept,))


def _grip(rim: SlidingRim) -> tuple[Solid, ...]:
    """Grooves for the thumb in the upper side: it lies on the bed, so each is a bridge over its width."""
    long = min(float(GRIP_LENGTH), rim.lid_width - 2 * (rim.bevel + SIDE_LAND))
    deep = rim.whole(GRIP_DEPTH)
    left = (rim.lid_width - long) / 2
    return tuple(
        open_above(
            RegionMove(Rect(long, GRIP_WIDTH), x=left, y=GRIP_START + number * GRIP_PITCH),
            rim.thickness - deep,
            rim.thickness,
        )
        for number in range(int(GRIP_GROOVES))
    )


def _slotted(rim: SlidingRim, lid: Solid) -> Solid:
    """The lid with a slot in its middle, chamfered above, and round it a lip below that keeps a soft stack down."""
    slot = rim.spec.slot
    if slot is None:
        return lid
    ring, hole, mouth = (_oval(rim, slot, by) for by in (float(SLOT_COLLAR), 0.0, float(SLOT_CHAMFER)))
    collar = Move(Prism(ring, slot.lip + _ROOT), z=-slot.lip)
    flare = Move(
        Taper(_oval_rect(slot, 0.0), SLOT_CHAMFER + _ROOT, -SLOT_CHAMFER - _ROOT),
        x=mouth.bounds[0] + SLOT_CHAMFER,
        y=mouth.bounds[1] + SLOT_CHAMFER,
        z=rim.thickness - SLOT_CHAMFER,
    )
    return Difference(Union((lid, collar)), (through(hole, -slot.lip, rim.thickness), flare))


def _oval_rect(slot: Slot, by: float) -> Rect:
    width, depth = slot.across + 2 * by, slot.along + 2 * by
    return rounded_rect(width, depth, max(width, depth))


def _oval(rim: SlidingRim, slot: Slot, by: float) -> Region:
    """The slot grown by so much, in the lid's axes, in the middle of the tray."""
    rect = _oval_rect(slot, by)
    return RegionMove(rect, x=(rim.lid_width - rect.width) / 2, y=(rim.depth - rect.depth) / 2)


def _plastic(rim: SlidingRim) -> Plastic:
    """Plate and bevel less gaps and grooves, noses, lip; chamfers left out."""
    radius = inner_radius(rim.module) - rim.clearance
    plan = (rim.lid_width, rim.lid_depth, radius)
    plate = rounded_mm2(*plan) * rim.edge + tapered_mm3(*plan, height=rim.bevel, draw=rim.bevel)
    gap = (2 * (rim.tongue + NOSE_LENGTH) + TONGUE_WIDTH + 2 * TONGUE_GAP) * TONGUE_GAP * rim.thickness
    nose = TONGUE_WIDTH * NOSE * (NOSE_TIP + NOSE_LENGTH) / 2
    nose += TONGUE_WIDTH * CATCH * (2 * NOSE_TIP + draw_of(CATCH) + CATCH * (NOSE_LENGTH - NOSE_TIP) / NOSE) / 2
    long = min(float(GRIP_LENGTH), rim.lid_width - 2 * (rim.bevel + SIDE_LAND))
    grip = GRIP_GROOVES * GRIP_WIDTH * long * rim.whole(GRIP_DEPTH)
    slot, lip, area = rim.spec.slot, 0.0, 0.0
    if slot:
        inner, outer = (_oval_rect(slot, by) for by in (0.0, float(SLOT_COLLAR)))
        area = rounded_mm2(inner.width, inner.depth, inner.radius)
        lip = (rounded_mm2(outer.width, outer.depth, outer.radius) - area) * slot.lip
    count = len(rim.tongue_middles)
    return Plastic(
        body_mm3=plate + count * (nose - gap) - grip + lip - area * rim.thickness,
        sparse_mm3=0.0,
        first_mm2=rounded_mm2(rim.lid_width - 2 * BEVEL, rim.lid_depth - 2 * BEVEL, radius - BEVEL) - area,
        height=rim.thickness + max(float(NOSE), slot.lip if slot else 0.0),
        hops=0.0,
    )


def examples(module: Module) -> tuple[Example, ...]:
    """Trays and lids; a lid has a handle for each tongue and for its slot, a tray none."""
    high, longest = module.height, int(LONGEST / module.pitch)
    specs = {
        "smallest": SlidingSpec(1, 3, high(18)),
        "middle": SlidingSpec(4, 8, high(36), smooth=True),
        "largest": SlidingSpec(9, longest, high(60)),
    }
    slotted = {
        "smallest": SlidingSpec(4, 6, high(30), slot=slot_for(module, Dispensed.SHEETS, cols=4)),
        "middle": SlidingSpec(6, 10, high(42), smooth=True, slot=slot_for(module, Dispensed.BAGS, cols=6)),
        "largest": SlidingSpec(8, min(14, longest), high(60), slot=slot_for(module, Dispensed.GLOVES, cols=8)),
    }
    return tuple(
        example
        for variant in (specs, slotted)
        for size, spec in variant.items()
        for example in (
            Example(size, sliding_tray(module, spec), 0),
            Example(size, sliding_lid(module, spec), handles(SlidingRim(module, spec))),
        )
    )
