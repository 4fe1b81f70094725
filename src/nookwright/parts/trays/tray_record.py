"""What a tray is called, and everything that it was made from."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.parts.trays.divider import loose_divider, middles_of, stand_of, thickness_of
from nookwright.parts.trays.drains import drain_places
from nookwright.parts.trays.grip import grip_of
from nookwright.parts.trays.tray_options import DividerKind, Front, Split, plain_options

if TYPE_CHECKING:
    from nookwright.parts.model import Value
    from nookwright.parts.trays.tray_frame import TrayFrame


def words_of(frame: TrayFrame) -> tuple[str, ...]:
    """What a name says of the options, in a fixed order."""
    options = frame.options
    words = []
    if options != plain_options(smooth=frame.smooth):
        words += ["smooth"] if frame.smooth else []
        words += [f"inlay {options.inlay:g}"] if options.inlay else []
        words += ["swept"] if options.front is Front.SWEPT else []
        words += [f"low {options.low_side.side}"] if options.low_side else []
        words += [_divided(frame, split) for split in Split if any(entry.split is split for entry in options.dividers)]
        words += ["strip"] if options.strip_height else []
        words += ["drained"] if options.drained and drain_places(frame) else []
        words += [str(grip_of(frame).kind)] if grip_of(frame).sides and not options.low_side else []
    return tuple(words)


def _divided(frame: TrayFrame, split: Split) -> str:
    entry = next(entry for entry in frame.options.dividers if entry.split is split)
    slotted = {DividerKind.FIXED: "", DividerKind.REMOVABLE: " slotted", DividerKind.CARD: " slotted for card"}
    return f"{len(middles_of(frame, entry)) + 1} {split}{slotted[entry.kind]}"


def parameters_of(frame: TrayFrame) -> tuple[tuple[str, Value], ...]:
    """All that the tray was made from; a plain one has few."""
    options = frame.options
    found: dict[str, Value] = {
        "cols": frame.cols,
        "floor": str(options.floor),
        "height": frame.height,
        "pitch": frame.module.pitch,
        "rows": frame.rows,
        "wall": frame.wall,
    }
    if options != plain_options(smooth=frame.smooth):
        choice, low = grip_of(frame), options.low_side
        found |= {
            "front": str(options.front),
            "grip": str(choice.kind),
            "grip_reason": choice.reason,
            "grip_sides": " ".join(choice.sides),
            "hole": (float(options.hole_width), float(options.hole_height)),
            "inlay": options.inlay,
            "low_share": low.share if low else 1.0,
            "low_side": str(low.side) if low else "none",
            "notch": (float(options.notch_width), float(options.notch_depth)),
            "picked_by_hand": options.picked_by_hand,
            "strip_height": options.strip_height,
            "strip_length": options.strip_length,
        }
        if options.drained:
            found["drains"] = drain_places(frame)
        for entry in options.dividers:
            found |= {
                f"{entry.split}_at": middles_of(frame, entry),
                f"{entry.split}_below_rim": entry.below_rim,
                f"{entry.split}_floor_clearance": 0.0
                if loose_divider(frame) is None
                else stand_of(frame) - frame.floor,
                f"{entry.split}_kind": str(entry.kind),
                f"{entry.split}_thickness": thickness_of(frame, entry),
            }
    return tuple(sorted(found.items()))
