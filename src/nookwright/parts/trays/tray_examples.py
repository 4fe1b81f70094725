"""Sizes and options of the trays that stand for the family in tests, pictures and the docs."""

from __future__ import annotations

from nookwright.layout.liner import Side
from nookwright.parts.trays.tray_options import (
    DividerKind,
    Dividers,
    Front,
    Grip,
    LowSide,
    Split,
    TrayOptions,
    plain_options,
)
from nookwright.survey.models import FloorStyle

_SMOOTH = FloorStyle.SMOOTH
_CROSSED = (Dividers(Split.COLUMNS, compartments=3), Dividers(Split.ROWS, compartments=2, below_rim=6.0))
_SLOTTED = (Dividers(Split.ROWS, DividerKind.REMOVABLE, compartments=3),)
_CARDS = (Dividers(Split.COLUMNS, DividerKind.CARD, at=(40.0, 72.0), card=0.8),)
_FULL = TrayOptions(
    front=Front.SWEPT,
    strip_height=12.0,
    low_side=LowSide(Side.BACK, 0.6),
    dividers=(Dividers(Split.COLUMNS, compartments=3),),
)

# size, columns, rows, height in mm, options
SIZES = (
    ("smallest", 1, 1, 12.0, plain_options(smooth=False)),
    ("smallest", 1, 2, 12.0, plain_options(smooth=True)),
    ("middle", 6, 8, 48.0, plain_options(smooth=False)),
    ("middle", 8, 6, 48.0, plain_options(smooth=True)),
    ("largest", 28, 25, 120.0, plain_options(smooth=False)),
    ("smallest", 2, 2, 24.0, TrayOptions()),
    ("middle", 6, 8, 48.0, TrayOptions()),
    ("largest", 14, 10, 96.0, TrayOptions()),
    ("smallest", 4, 1, 66.0, TrayOptions(grip=Grip.HAND_HOLE, picked_by_hand=False)),
    ("middle", 6, 8, 66.0, TrayOptions(grip=Grip.HAND_HOLE)),
    ("largest", 14, 10, 120.0, TrayOptions(grip=Grip.HAND_HOLE, floor=_SMOOTH)),
    ("smallest", 2, 1, 18.0, TrayOptions(front=Front.SWEPT, picked_by_hand=False)),
    ("middle", 6, 4, 42.0, TrayOptions(front=Front.SWEPT, floor=_SMOOTH)),
    ("largest", 10, 12, 96.0, TrayOptions(front=Front.SWEPT)),
    ("smallest", 2, 2, 18.0, TrayOptions(low_side=LowSide(Side.RIGHT))),
    ("middle", 6, 8, 48.0, TrayOptions(low_side=LowSide(Side.FRONT, 0.4), floor=_SMOOTH)),
    ("largest", 12, 8, 120.0, TrayOptions(low_side=LowSide(Side.BACK, 0.3))),
    ("smallest", 2, 1, 18.0, TrayOptions(dividers=(Dividers(Split.COLUMNS, compartments=2),), picked_by_hand=False)),
    ("middle", 6, 8, 48.0, TrayOptions(dividers=_CROSSED, floor=_SMOOTH)),
    ("largest", 14, 10, 72.0, TrayOptions(dividers=_CROSSED)),
    ("smallest", 2, 4, 24.0, TrayOptions(dividers=_SLOTTED, picked_by_hand=False)),
    ("middle", 6, 8, 48.0, TrayOptions(dividers=_SLOTTED, floor=_SMOOTH)),
    ("largest", 8, 14, 90.0, TrayOptions(dividers=_SLOTTED, inlay=3.0)),
    ("middle", 6, 5, 42.0, TrayOptions(dividers=_CARDS, inlay=1.5)),
    ("smallest", 2, 1, 18.0, TrayOptions(strip_height=8.0, picked_by_hand=False)),
    ("middle", 6, 8, 48.0, TrayOptions(strip_height=12.0)),
    ("largest", 12, 8, 96.0, TrayOptions(strip_height=20.0, floor=_SMOOTH)),
    ("middle", 8, 6, 54.0, _FULL),
    ("smallest", 1, 2, 18.0, TrayOptions(drained=True, picked_by_hand=False)),
    ("middle", 6, 8, 48.0, TrayOptions(drained=True, dividers=_CROSSED)),
    ("largest", 14, 10, 72.0, TrayOptions(drained=True, floor=_SMOOTH)),
)
