"""What a tray may have besides walls and a floor, as data: front, low side, grip, dividers, name strip, inlay.

Nothing is drawn here. What cannot be had together, or does not fit, is refused where it is drawn, before any kernel
sees it.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.survey.models import FloorStyle

if TYPE_CHECKING:
    from nookwright.layout.liner import Side

NOTCH_WIDTH = Fact(22.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="A notch takes a finger: least width.")
NOTCH_DEPTH = Fact(12.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="The same, least depth below the rim.")
HOLE_WIDTH = Fact(
    44.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="A hand hole takes two fingers side by side: twice a notch."
)
HOLE_HEIGHT = Fact(
    16.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="Of a hand hole below its arch: a finger's thickness."
)
STRIP_HEIGHT = Fact(
    12.0,
    unit="mm",
    kind=Kind.CHOICE,
    source="A name strip holds lettering of 6 that is read at arm's length, twice over.",
)


class Front(StrEnum):
    """The inside of the front."""

    PLAIN = "plain"
    SWEPT = "swept"  # rises from the floor in a curve, so that a fingertip can roll things up


class Grip(StrEnum):
    """What a hand takes the tray by."""

    NOTCH = "notch"  # in two opposite rims
    HAND_HOLE = "hand hole"  # in two opposite walls
    LOW_SIDE = "low side"
    SPREAD = "spread"  # two fingers spread against two walls from inside: needs no shape
    NONE = "none"


class Split(StrEnum):
    """Which way dividers part a tray."""

    COLUMNS = "columns"  # side by side: the dividers run from front to back
    ROWS = "rows"  # one behind the other: the dividers run from left to right


class DividerKind(StrEnum):
    """What a divider is."""

    FIXED = "fixed"  # printed in one with the tray
    REMOVABLE = "removable"  # printed on its own, in slots
    CARD = "card"  # cut from card, in slots


@dataclass(frozen=True)
class LowSide:
    """A side that is lower than the others.

    Attributes:
        side: which one.
        share: its height as a share of the tray's.
    """

    side: Side
    share: float = 0.5


@dataclass(frozen=True)
class Dividers:
    """Dividers that run one way.

    Attributes:
        split: which way they part the tray.
        kind: fixed, removable or of card.
        compartments: how many equal ones; 0 where ``at`` is given.
        at: middles of the dividers from the tray's front left corner, mm, ascending.
        card: thickness of the card, mm; for card alone.
        below_rim: how far their upper edge lies below the rim, mm.
    """

    split: Split
    kind: DividerKind = DividerKind.FIXED
    compartments: int = 0
    at: tuple[float, ...] = ()
    card: float = 0.0
    below_rim: float = 0.0


@dataclass(frozen=True)
class TrayOptions:
    """All that a tray may have.

    Attributes:
        floor: shell with domes, or smooth.
        inlay: thickness of a loose sheet on the floor, mm; 0 for none. It counts in the height.
        front: plain or swept.
        low_side: a side that is lower, or none.
        grip: what is wished; what is given in its place where the tray is too small, ``grip.grip_of`` says.
        notch_width, notch_depth: of a notch, mm.
        hole_width, hole_height: of a hand hole, without its arch, mm.
        dividers: none, one entry, or one a direction where both are fixed.
        strip_height: of the name strip in the front, mm; 0 for none.
        strip_length: its length at most, mm; 0 for the whole front.
        drained: holes in its floor let water out.
        picked_by_hand: whether things are picked from it by hand, so that each compartment must take one.
    """

    floor: FloorStyle = FloorStyle.SHELL
    inlay: float = 0.0
    front: Front = Front.PLAIN
    low_side: LowSide | None = None
    grip: Grip = Grip.NOTCH
    notch_width: float = NOTCH_WIDTH
    notch_depth: float = NOTCH_DEPTH
    hole_width: float = HOLE_WIDTH
    hole_height: float = HOLE_HEIGHT
    dividers: tuple[Dividers, ...] = ()
    strip_height: float = 0.0
    strip_length: float = 0.0
    drained: bool = False
    picked_by_hand: bool = True


def plain_options(*, smooth: bool) -> TrayOptions:
    """Walls and a floor, nothing else."""
    floor = FloorStyle.SMOOTH if smooth else FloorStyle.SHELL
    return TrayOptions(floor=floor, grip=Grip.NONE, picked_by_hand=False)
