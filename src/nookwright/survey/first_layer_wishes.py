"""What goes round a first layer, as a room file says it: a skirt round all pieces, pads at the corners of large ones.

Nothing is worked out here; which skirts a bed has room for says ``bed_rules``, which pieces get pads ``making.pads``.
"""

from __future__ import annotations

from enum import StrEnum

from pydantic import Field

from nookwright.ground.frozen import Model
from nookwright.ground.sources import Fact, Kind
from nookwright.survey.readings import LengthFromZero

SKIRT_LOOPS = Fact(2, unit="lines", kind=Kind.COMMON_PRACTICE, source="The nozzle has filled again after them.")
SKIRT_LINE = Fact(
    1.2, unit="nozzle", kind=Kind.COMMON_PRACTICE, source="The widest line that a nozzle lays reliably: room for it."
)
SKIRT_DISTANCE = Fact(2.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="Far enough not to stick to a piece.")


class Skirt(Model):
    """The table ``[printer.profile.skirt]``: lines round all that lies on the bed, before its first layer."""

    loops: int = Field(default=int(SKIRT_LOOPS), ge=1, le=20, description="How many lines beside each other.")
    distance: LengthFromZero = Field(
        default=float(SKIRT_DISTANCE), validate_default=False, description="From pieces, or their brims, to it."
    )


class Pads(StrEnum):
    """Whether pieces of a material are held down by thin discs at their corners, which are torn off after."""

    AUTO = "auto"  # those that are longer than pieces of this material may be
    ALWAYS = "always"  # all that are longer than a hand is wide
    NEVER = "never"
