"""What a printer's bed asks for, as a room file says it: places that must stay free, room between pieces, one by one.

Nothing is worked out here; which places there are says ``bed_rules``.
"""

from __future__ import annotations

from pydantic import Field

from nookwright.ground.frozen import Model
from nookwright.ground.sources import Fact, Kind
from nookwright.survey.readings import LengthFromZero, PositiveLength

SPACING = Fact(3.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="Between two pieces on a bed: brims and a scraper.")


class KeepOut(Model):
    """One ``[[printer.keep_out]]``: a place on the bed that no piece may lie on."""

    x: LengthFromZero = Field(description="From the left edge of the printable area to its left edge.")
    y: LengthFromZero = Field(description="From the front edge of the printable area to its front edge.")
    width: PositiveLength = Field(description="Along x.")
    depth: PositiveLength = Field(description="Along y.")
    why: str = Field(default="", max_length=80, description="What is there: a clip, a worn patch, where it wipes.")


class OneByOne(Model):
    """The table ``[printer.one_by_one]``: each piece is finished before the next is begun."""

    radius: PositiveLength = Field(description="Of the head about the nozzle: finished pieces are further away.")
    height: PositiveLength = Field(
        description="From the nozzle's tip to what passes over the whole bed: only the last piece may be higher."
    )
