"""What the person wishes of cutting, as a room file says it: printers for some parts, parts kept whole, bars to saw.

Nothing is worked out here; which names must exist says ``cutting_rules``.
"""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated

from pydantic import Field

from nookwright.ground.frozen import Model
from nookwright.ground.sources import Fact, Kind
from nookwright.survey.readings import LengthFromZero, PositiveLength

Id = Annotated[str, Field(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$")]

BAR = Fact(1000.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="Thin strips are sold by the metre, or cut to one.")
KERF = Fact(
    1.5, unit="mm", kind=Kind.COMMON_PRACTICE, source="What a fine hand saw takes, 1 to 2, and a little sanding."
)


class PartWord(StrEnum):
    """Kinds of part that a printer may be named for."""

    TRAY = "tray"
    DIVIDER = "divider"
    NAME_STRIP = "name strip"
    CRADLE = "cradle"
    REST = "rest"
    LID = "lid"
    RISER = "riser"
    CAP = "cap"
    SHOE = "shoe"
    NEST = "nest"
    DRAWER = "drawer"
    PANEL = "panel"
    FILLER = "filler"
    KEY = "key"
    FENCE = "fence"
    RACK = "rack"


class PrintedOn(Model):
    """One ``[[making.printed_on]]``: parts that are printed on one printer, or kept whole.

    It is about parts that all of ``lot``, ``space``, ``part`` and ``kind`` fit, as far as they are given. Of several
    that name a printer for a part, the first counts.
    """

    lot: Id | None = Field(
        default=None, description="Parts that hold this lot, by id, with their lids, dividers and name strips."
    )
    space: Id | None = Field(default=None, description="Parts in this space, by id, its liner too.")
    part: Id | None = Field(default=None, description="The [[part]] made to order, by id.")
    kind: PartWord | None = Field(default=None, description="Parts of this kind only.")
    printer: Id | None = Field(
        default=None, description="The printer, by id; what is larger than its bed is cut to it. Any if left out."
    )
    whole: bool = Field(
        default=False, description="They are never cut: rather another printer takes them, or they are refused."
    )


class Sawing(Model):
    """The table ``[making.sawing]``: what strips of wood are sawn from, in place of long fillers and fences."""

    bar: PositiveLength = Field(
        default=float(BAR), validate_default=False, description="Length of the bars that you have or can buy."
    )
    kerf: LengthFromZero = Field(
        default=float(KERF), validate_default=False, description="What one cut of your saw takes."
    )
