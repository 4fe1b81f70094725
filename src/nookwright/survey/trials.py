"""What a person found in trials: in gauges, with the pilot of a space, with the bar of the seat."""

from __future__ import annotations

from enum import StrEnum

from pydantic import Field

from nookwright.ground.frozen import Model
from nookwright.survey.origins import Says
from nookwright.survey.readings import LengthFromZero, PositiveLength


class Axis(StrEnum):
    """A side of a space."""

    WIDTH = "width"
    DEPTH = "depth"
    HEIGHT = "height"


class Found(Model):
    """One ``[[found]]``: what one trial showed. It is of a gauge, of a space, or of the seat."""

    gauge: str | None = Field(default=None, description="Lot whose gauges were tried, by id; with all of its things.")
    sizes: tuple[PositiveLength, ...] = Field(
        default=(), validate_default=False, description="The gauges of one print, by the size that is marked on them."
    )
    says: tuple[Says, ...] = Field(default=(), description="What each of them was, in the same order.")
    space: str | None = Field(default=None, description="Space whose pilot was tried, by id.")
    axis: Axis | None = Field(default=None, description="Which side of the space.")
    pilot: PositiveLength | None = Field(
        default=None, validate_default=False, description="Length of that pilot as the kit says it."
    )
    tight: LengthFromZero | None = Field(
        default=None, validate_default=False, description="By how much the pilot is too long."
    )
    loose: LengthFromZero | None = Field(
        default=None, validate_default=False, description="The whole gap that is left when it is pushed to one side."
    )
    seat: Says | None = Field(default=None, description="How the bar of the seat lay on the liner.")
