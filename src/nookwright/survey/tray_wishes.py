"""What a tray should have besides walls and a floor, as a room file says it: ``[lot.tray]`` and ``[choices.tray]``.

A lot's own keys go before those of the room. Nothing is worked out here; which keys exclude each other says
``tray_rules``.
"""

from __future__ import annotations

from enum import StrEnum

from pydantic import Field

from nookwright.ground.frozen import Model
from nookwright.survey.readings import LengthFromZero, PositiveLength


class FrontWish(StrEnum):
    """The front of a tray."""

    PLAIN = "plain"
    SWEPT = "swept"  # its inside rises from the floor in a curve, to roll small things up
    LOW = "low"  # lower than the other sides


class StripWish(StrEnum):
    """A name strip that slides into the front."""

    NONE = "none"
    PLAIN = "plain"  # blank, to write on
    PRINTED = "printed"  # raised letters
    INLAID = "inlaid"  # flush letters in a second colour


class DividerWish(StrEnum):
    """What dividers are."""

    FIXED = "fixed"  # printed in one with the tray
    REMOVABLE = "removable"  # printed, in slots
    CARD = "card"  # cut from card, in slots


class TrayGrip(StrEnum):
    """What a hand takes the tray of one lot by."""

    NOTCH = "notch"  # in two opposite rims
    HAND_HOLE = "hand hole"  # in two opposite walls
    NONE = "none"


class TrayDefaults(Model):
    """The table ``[choices.tray]``: what the trays of all lots have unless their lot says otherwise."""

    front: FrontWish | None = Field(default=None, description="Front of the tray; plain if left out.")
    low_share: float | None = Field(
        default=None, ge=0.2, le=0.9, description="Height of a low front as a share of the tray's; half if left out."
    )
    strip: StripWish | None = Field(default=None, description="Name strip in the front; none if left out.")
    strip_height: PositiveLength | None = Field(default=None, description="Height of the strip; 12 mm if left out.")
    inlay: LengthFromZero | None = Field(
        default=None, le=12, description="Thickness of a loose sheet on the floor, cut by you; 0 for none."
    )
    drained: bool | None = Field(
        default=None, description="Holes of 4 mm in its floor let water out; where its space may get wet if left out."
    )


class TrayWishes(TrayDefaults):
    """The table ``[lot.tray]``: what the tray of one lot has."""

    text: str | None = Field(default=None, min_length=1, description="Text on the strip; the lot's name if left out.")
    grip: TrayGrip | None = Field(default=None, description="What a hand takes it by; the room's choice if left out.")
    columns: int | None = Field(default=None, ge=2, le=40, description="Equal compartments side by side.")
    rows: int | None = Field(default=None, ge=2, le=40, description="Equal compartments one behind the other.")
    columns_at: tuple[PositiveLength, ...] = Field(
        default=(), description="Middles of dividers between columns, from the tray's outer left side, ascending."
    )
    rows_at: tuple[PositiveLength, ...] = Field(
        default=(), description="Middles of dividers between rows, from the tray's outer front, ascending."
    )
    dividers: DividerWish | None = Field(default=None, description="What the dividers are; fixed if left out.")
    card: PositiveLength | None = Field(default=None, description="Thickness of the card, for dividers of card.")
    below_rim: LengthFromZero | None = Field(default=None, description="How far the dividers end below the rim.")

    @property
    def divided(self) -> bool:
        """Whether it has dividers."""
        return bool(self.columns or self.rows or self.columns_at or self.rows_at)


def settled(own: TrayWishes, room: TrayDefaults) -> TrayWishes:
    """The wishes of a lot, with those of the room where it says nothing.

    Args:
        own: of the lot.
        room: of all lots.

    >>> settled(TrayWishes(inlay=0), TrayDefaults(inlay=2, front="swept")).inlay
    0.0
    """
    said = {name: getattr(room, name) for name in TrayDefaults.model_fields if getattr(own, name) is None}
    return own.model_copy(update=said)
