"""Dividers: fixed ones are what is left between compartments; removable ones, printed or of card, stand in slots.

A slot is two upright ribs on each of the two walls; on a shell floor, and on an inlay, a stop between the ribs carries
the divider level with what things lie on, so it rests on the domes and not between them. How much play it has is in
``divider_play``.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact
from nookwright.ground.sources import Kind as SourceKind
from nookwright.ground.tolerances import GRID, OVERSHOOT
from nookwright.module.estimates import Plastic
from nookwright.module.seat import CLEARANCE_GROWTH, whole_layers
from nookwright.parts.model import Example, Kind, Part, size_name
from nookwright.parts.refusals import refuse_part, require_whole_layers
from nookwright.parts.trays.divider_play import play_at_end, reach_of_ribs
from nookwright.parts.trays.tray_frame import NOTHING, Addition, TrayFrame
from nookwright.parts.trays.tray_options import DividerKind, Dividers, Split, TrayOptions
from nookwright.shapes.regions import Rect
from nookwright.shapes.solids import Move, Prism, Solid
from nookwright.sizing.ways import HAND_WIDTH

if TYPE_CHECKING:
    from nookwright.module.module import Module

Span = tuple[float, float]

THICKNESS = Fact(
    1.2, unit="mm", kind=SourceKind.CHOICE, source="Of a removable divider, rounded up to whole layers: as a wall."
)
PLAY = Fact(
    0.4,
    unit="mm",
    kind=SourceKind.COMMON_PRACTICE,
    source="A printed divider in its slot, both sides together: it drops in.",
)
CARD_PLAY = Fact(
    0.3,
    unit="mm",
    kind=SourceKind.COMMON_PRACTICE,
    source="The same for card, whose thickness varies by a tenth or so.",
)
LEAST_COMPARTMENT = Fact(
    10.0, unit="mm", kind=SourceKind.CHOICE, source="Narrower compartments are all corner: twice 3.8 of inside radius."
)
MOST_CARD = Fact(6.0, unit="mm", kind=SourceKind.CHOICE, source="Thicker sheets are boards, not card.")
STANDING = Fact(5.0, unit="mm", kind=SourceKind.CHOICE, source="A lower divider parts nothing: it is a kerb.")


@dataclass(frozen=True)
class DividerSize:
    """A loose divider: length and height as it stands, thickness, radius of its corners, mm."""

    length: float
    height: float
    thickness: float
    radius: float


def divider(module: Module, size: DividerSize) -> Part:
    """A removable divider, printed lying; a plate without a hole: genus 0.

    Args:
        module: the household's module.
        size: its sizes; the thickness is a whole number of layers.

    Raises:
        RecipeError: it is too low, its corners do not fit, or its thickness is no whole number of layers.
    """
    if not (size.height >= STANDING and size.length >= LEAST_COMPARTMENT):
        refuse_part(
            "divider", "a divider parts something", found=size_name(size.length, size.height),
            allowed=f"{LEAST_COMPARTMENT:g} long and {STANDING:g} high or more", remedy="Leave it out.",
        )  # fmt: skip
    most = math.floor(min(size.length, size.height) / 2 / GRID) * GRID  # recipes lie on a grid
    if not 0 <= size.radius <= most:
        refuse_part(
            "divider", "its corners fit its shorter side", found=f"{size.radius:g}", allowed=f"0 to {most:g}",
            remedy="Make them sharper.",
        )  # fmt: skip
    if not size.thickness >= module.seat.layer:
        refuse_part(
            "divider", "it has a thickness", found=f"{size.thickness:g}", allowed=f"{module.seat.layer:g} or more",
            remedy="Give it six layers or so.",
        )  # fmt: skip
    require_whole_layers("divider", size.thickness, module.seat.layer)
    area = size.length * size.height - (4 - math.pi) * size.radius**2
    return Part(
        kind=Kind.DIVIDER,
        name=f"divider {size_name(size.length, size.height)}",
        parameters=(
            ("height", size.height),
            ("length", size.length),
            ("radius", size.radius),
            ("thickness", size.thickness),
        ),
        recipe=Prism(Rect(size.length, size.height, size.radius), size.thickness),
        plastic=Plastic(area * size.thickness, 0.0, area, size.thickness, 0.0),
    )


def thickness_of(frame: TrayFrame, dividers: Dividers) -> float:
    """Thickness of dividers, mm.

    Raises:
        RecipeError: the card is no card.
    """
    if dividers.kind is DividerKind.CARD:
        if not 0 < dividers.card <= MOST_CARD:
            frame.refuse(
                "the card of a divider has a thickness", found=dividers.card, allowed=f"up to {MOST_CARD:g}",
                remedy="Say how thick it is.",
            )  # fmt: skip
        return dividers.card
    return frame.wall if dividers.kind is DividerKind.FIXED else frame.whole(THICKNESS)


def middles_of(frame: TrayFrame, dividers: Dividers) -> tuple[float, ...]:
    """Middles of dividers along the way that they part, mm from the tray's corner.

    Raises:
        RecipeError: neither positions nor a number of compartments, or both, or positions out of order.
    """
    count = dividers.compartments
    if bool(dividers.at) == bool(count) or (count and count < len(("before", "behind"))):
        frame.refuse(
            "dividers stand at given positions, or make equal compartments", found=f"{count} and {dividers.at}",
            allowed="one of the two, two compartments or more", remedy="Give one of them.",
        )  # fmt: skip
    if dividers.at:
        if not all(before < after for before, after in pairwise(dividers.at)):
            frame.refuse(
                "positions of dividers ascend", found=dividers.at, allowed="each more than the one before",
                remedy="Put them in order.",
            )  # fmt: skip
        return dividers.at
    thick, inside = thickness_of(frame, dividers), _outer(frame, dividers.split) - 2 * frame.wall
    clear = (inside - (count - 1) * thick) / count
    return tuple(round(frame.wall + (clear + thick) * number - thick / 2, 4) for number in range(1, count))


def compartments(frame: TrayFrame) -> tuple[tuple[Span, ...], tuple[Span, ...]]:
    """Clear spans along x and along y, from the front left; one each where nothing parts the tray.

    Raises:
        RecipeError: dividers of one way twice, loose ones that cross, or a compartment too narrow.
    """
    entries = frame.options.dividers
    if len({entry.split for entry in entries}) < len(entries):
        frame.refuse(
            "each way has one entry of dividers", found=len(entries), allowed="one for columns, one for rows",
            remedy="Give all positions in one entry.",
        )  # fmt: skip
    if len(entries) > 1 and any(entry.kind is not DividerKind.FIXED for entry in entries):
        frame.refuse(
            "dividers that cross are fixed", found=[str(entry.kind) for entry in entries], allowed="fixed ones",
            remedy="Make both fixed, or leave one out.",
        )  # fmt: skip
    by_split = {entry.split: entry for entry in entries}
    return _spans(frame, Split.COLUMNS, by_split), _spans(frame, Split.ROWS, by_split)


def top_of(frame: TrayFrame, dividers: Dividers) -> float:
    """Height of the upper edge of dividers over the tray's underside, mm.

    Raises:
        RecipeError: nothing is left of them.
    """
    top = frame.height - frame.whole(dividers.below_rim)
    if not (dividers.below_rim >= 0 and top >= frame.rest_height + STANDING):
        frame.refuse(
            "dividers stand up from the floor and not over the rim", found=f"{dividers.below_rim:g} below the rim",
            allowed=f"0 to {frame.height - frame.rest_height - STANDING:g}", remedy="Make the tray or dividers higher.",
        )  # fmt: skip
    return top


def slots(frame: TrayFrame) -> Addition:
    """Ribs and stops of all dividers that stand in slots; nothing where there are none."""
    loose = _loose(frame.options)
    if loose is None:
        return NOTHING
    thick = thickness_of(frame, loose)
    play = CARD_PLAY if loose.kind is DividerKind.CARD else PLAY
    middles, length, reach = middles_of(frame, loose), _outer(frame, _across(loose.split)), rib_reach(frame)
    ends = (0.0, length - frame.wall - reach)
    solids = [_guide(frame, loose.split, middle, thick + play, end) for middle in middles for end in ends]
    ribs = 2 * frame.wall * (frame.height - frame.floor) + (thick + play) * (stand_of(frame) - frame.floor)
    return Addition(
        adds=tuple(frame.trimmed(solid) for guide in solids for solid in guide),
        body_mm3=len(middles) * len(ends) * reach * ribs,
    )


def stand_of(frame: TrayFrame) -> float:
    """Height at which loose dividers stand, mm over the tray's underside; floor clearance is this less the floor."""
    return frame.whole(frame.rest_height)


def loose_divider(frame: TrayFrame) -> DividerSize | None:
    """The removable or card divider that fits a tray's slots; ``None`` where it has none. All of a tray are alike."""
    loose = _loose(frame.options)
    if loose is None:
        return None
    on_floor = stand_of(frame) == frame.floor
    return DividerSize(
        length=round(_inside(frame, loose) - 2 * end_play(frame), 4),
        height=round(top_of(frame, loose) - stand_of(frame), 4),
        thickness=thickness_of(frame, loose),
        # Standing on the floor, its lower corners clear the fillet there; on stops they need not.
        radius=frame.fillet if on_floor else 1.0,
    )


def end_play(frame: TrayFrame) -> float:
    """From each end of a tray's loose dividers to the wall, mm; 0 where it has none."""
    loose = _loose(frame.options)
    return play_at_end(_inside(frame, loose), measured=_measured(frame.module)) if loose else 0.0


def rib_reach(frame: TrayFrame) -> float:
    """How far the ribs of a tray's loose dividers stand out from the wall, mm; 0 where it has none."""
    loose = _loose(frame.options)
    return reach_of_ribs(_inside(frame, loose), measured=_measured(frame.module)) if loose else 0.0


def _measured(module: Module) -> bool:
    """Whether the household's printers were measured: its sockets then grow by less."""
    return module.seat.growth < CLEARANCE_GROWTH


def guide_half(frame: TrayFrame, dividers: Dividers) -> float:
    """Half of what a divider, or its slot with the ribs, takes along a wall, mm."""
    half = thickness_of(frame, dividers) / 2
    return half if dividers.kind is DividerKind.FIXED else half + PLAY / 2 + frame.wall


def room_taken(kind: DividerKind, *, card: float, layer: float, wall: float) -> tuple[float, float]:
    """Thickness of a divider, and what it takes along a wall with its slot, before there is a tray, mm.

    Args:
        kind: what it is.
        card: thickness of the card, mm; for card alone.
        layer: the common layer, mm.
        wall: of the tray, mm.
    """
    if kind is DividerKind.FIXED:
        return wall, wall
    thick = card if kind is DividerKind.CARD else whole_layers(THICKNESS, layer)
    return thick, thick + PLAY + 2 * wall


def _loose(options: TrayOptions) -> Dividers | None:
    return next((entry for entry in options.dividers if entry.kind is not DividerKind.FIXED), None)


def _outer(frame: TrayFrame, split: Split) -> float:
    """Outer size along the way that is parted."""
    return frame.width if split is Split.COLUMNS else frame.depth


def _inside(frame: TrayFrame, dividers: Dividers) -> float:
    """Room from wall to wall along dividers."""
    return _outer(frame, _across(dividers.split)) - 2 * frame.wall


def _across(split: Split) -> Split:
    return Split.ROWS if split is Split.COLUMNS else Split.COLUMNS


def _spans(frame: TrayFrame, split: Split, entries: dict[Split, Dividers]) -> tuple[Span, ...]:
    """Clear spans one way."""
    start, end = frame.wall, round(_outer(frame, split) - frame.wall, 4)
    edges = [start]
    if split in entries:
        half = thickness_of(frame, entries[split]) / 2
        edges += [edge for at in middles_of(frame, entries[split]) for edge in (at - half, at + half)]
    edges.append(end)
    spans = tuple((round(a, 4), round(b, 4)) for a, b in zip(edges[::2], edges[1::2], strict=True))
    narrowest = min(b - a for a, b in spans)
    by_hand = frame.options.picked_by_hand
    least = float(HAND_WIDTH if by_hand else LEAST_COMPARTMENT)
    if not round(narrowest, 4) >= least:
        remedy = "Make it wider, or say that nothing is picked from it by hand." if by_hand else "Leave a divider out."
        frame.refuse(
            "a compartment is wide enough inside", found=round(narrowest, 2), allowed=f"at least {least:g}",
            remedy=remedy,
        )  # fmt: skip
    return spans


def _guide(frame: TrayFrame, split: Split, middle: float, slot: float, end: float) -> tuple[Solid, ...]:
    """Two ribs and their stop at one wall, before they are trimmed.

    Args:
        frame: the tray.
        split: which way the dividers part it.
        middle: of the slot along the wall, mm.
        slot: its width, mm.
        end: where the guide begins across the wall, mm.
    """
    reach, high = frame.wall + rib_reach(frame), frame.height + OVERSHOOT

    def block(low: float, width: float, top: float) -> Solid:
        lying = split is Split.ROWS
        plan = Rect(reach, width) if lying else Rect(width, reach)
        return Move(Prism(plan, top), x=end if lying else low, y=low if lying else end)

    ribs = tuple(block(low, frame.wall, high) for low in (middle - slot / 2 - frame.wall, middle + slot / 2))
    if stand_of(frame) == frame.floor:
        return ribs
    overlap = frame.wall / 2
    return (*ribs, block(middle - slot / 2 - overlap, slot + 2 * overlap, stand_of(frame)))


def examples(module: Module) -> tuple[Example, ...]:
    """Loose dividers, each a plate: genus 0."""
    thick = module.seat.layer * math.ceil(round(THICKNESS / module.seat.layer, 6))
    sizes = {"smallest": (14.2, 7.6, 1.0), "middle": (104.2, 43.6, 1.0), "largest": (500.0, 115.6, 3.0)}
    return tuple(
        Example(size, divider(module, DividerSize(length, height, thick, radius)), genus=0)
        for size, (length, height, radius) in sizes.items()
    )
