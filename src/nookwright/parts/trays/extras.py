"""What belongs to a tray and is made on its own: loose dividers, a name strip, sheets to cut; and where each goes."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from nookwright.parts.trays.bent_plan import rounded
from nookwright.parts.trays.divider import divider, end_play, loose_divider, middles_of, stand_of
from nookwright.parts.trays.inlay import inlay_outlines
from nookwright.parts.trays.name_strip import BEHIND, Lettering, name_strip, slot_of, strip_of
from nookwright.parts.trays.name_strip import end_play as strip_end_play
from nookwright.parts.trays.tray_options import DividerKind, Dividers, Split

if TYPE_CHECKING:
    from nookwright.parts.model import Part
    from nookwright.parts.trays.divider import DividerSize
    from nookwright.parts.trays.tray_frame import TrayFrame
    from nookwright.shapes.regions import Path


class SheetUse(StrEnum):
    """What a sheet is for."""

    INLAY = "inlay"
    DIVIDER = "divider"


@dataclass(frozen=True)
class Sheet:
    """A sheet of felt, cork or card to cut for one tray.

    Attributes:
        use: what it is for.
        outline: to be cut, its front left corner at the origin.
        thickness: mm.
    """

    use: SheetUse
    outline: Path
    thickness: float


@dataclass(frozen=True)
class Extra:
    """A loose part in its tray: it was printed lying and stands there on the edge that was its front.

    Attributes:
        part: what it is.
        x, y, z: low corner of its box in the tray, as it stands, mm.
        quarter_turns: about z once it stands, counter-clockwise.
    """

    part: Part
    x: float
    y: float
    z: float
    quarter_turns: int = 0


def extras_of(frame: TrayFrame, text: str, lettering: Lettering) -> tuple[Extra, ...]:
    """The printed extras of a tray, in their places.

    Args:
        frame: the tray.
        text: of its name strip; empty for a blank one.
        lettering: how the text stands.

    Raises:
        RecipeError: the text does not fit, or a divider parts nothing.
    """
    return (*_dividers(frame), *_strip(frame, text, lettering))


def sheets_of(frame: TrayFrame) -> tuple[Sheet, ...]:
    """The sheets that are cut for a tray: one for each inlay, one for each divider of card.

    Raises:
        RecipeError: nothing worth cutting is left.
    """
    inlay = frame.options.inlay
    inlays = [Sheet(SheetUse.INLAY, path, inlay) for path in inlay_outlines(frame)] if inlay else []
    entry, size = _loose(frame, DividerKind.CARD), loose_divider(frame)
    if entry is None or size is None:
        return tuple(inlays)
    card = Sheet(SheetUse.DIVIDER, card_outline(size), size.thickness)
    return (*inlays, *(card for _ in middles_of(frame, entry)))


def card_outline(size: DividerSize) -> Path:
    """The outline of a divider as it is cut from card."""
    corners = ((0.0, 0.0), (size.length, 0.0), (size.length, size.height), (0.0, size.height))
    return rounded(corners, size.radius)


def _loose(frame: TrayFrame, kind: DividerKind) -> Dividers | None:
    return next((entry for entry in frame.options.dividers if entry.kind is kind), None)


def _dividers(frame: TrayFrame) -> tuple[Extra, ...]:
    """Removable dividers, in the middle of their slots and between the walls."""
    entry, size = _loose(frame, DividerKind.REMOVABLE), loose_divider(frame)
    if entry is None or size is None:
        return ()
    part, end, z = divider(frame.module, size), frame.wall + end_play(frame), stand_of(frame)
    lows = [middle - size.thickness / 2 for middle in middles_of(frame, entry)]
    if entry.split is Split.COLUMNS:
        return tuple(Extra(part, low, end, z, quarter_turns=1) for low in lows)
    return tuple(Extra(part, end, low, z) for low in lows)


def _strip(frame: TrayFrame, text: str, lettering: Lettering) -> tuple[Extra, ...]:
    """The name strip, its face to the front, in the middle of its slot's depth."""
    if not frame.options.strip_height:
        return ()
    strip = strip_of(frame, text, lettering)
    part = name_strip(frame.module, strip)
    raised = part.size[2] - dict(part.parameters)["thickness"]  # type: ignore[operator] # a number
    x0, x1 = slot_of(frame)
    x, y = x0 + strip_end_play(x1 - x0), frame.wall + BEHIND / 2 - raised
    return (Extra(part, x, y, frame.height - frame.options.strip_height),)
