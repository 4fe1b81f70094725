"""What a survey says of the furniture that drawers are in, of how fast they run, of how hard a hand pulls.

Nothing here must be given. What is left out is not guessed where somebody could get hurt: then the advice is given
plainly.
"""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated

from pydantic import Field

from nookwright.ground.frozen import Model
from nookwright.ground.sources import Fact, Kind
from nookwright.survey.readings import PositiveLength

SHUT_M_S = Fact(
    0.5, unit="m/s", kind=Kind.COMMON_PRACTICE, source="A drawer that is pushed shut without thinking, at its stop."
)
Id = Annotated[str, Field(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$")]


class Stands(StrEnum):
    """What keeps a piece of furniture from tipping over."""

    FREE = "free-standing"  # nothing but its own weight
    ANCHORED = "anchored"  # fixed to the wall
    BUILT_IN = "built in"  # between walls or under a worktop that is fixed


class Furniture(Model):
    """One ``[[furniture]]``: a chest, a cabinet, a bench that several spaces are in."""

    id: Id = Field(description="What its spaces call it in 'furniture'.")
    name: str = Field(default="", description="Name for people; the id when left out.")
    stands: Stands = Field(description="What keeps it from tipping over.")
    mass_kg: float | None = Field(
        default=None, gt=0, le=1000, description="Empty, with its drawers; without it nothing is worked out."
    )
    depth: PositiveLength | None = Field(
        default=None, description="From its front feet to its back; the depth of its deepest space if left out."
    )
    height: PositiveLength | None = Field(
        default=None, description="Of its top above the floor; that of its highest space if left out."
    )
    drawer_kg: float | None = Field(
        default=None, gt=0, le=100, description="One empty drawer with its front; from its size if left out."
    )


class Pull(Model):
    """The table ``[lot.pull]``: how a hand draws one thing from its dispenser."""

    force_n: float | None = Field(
        default=None, gt=0, le=100, description="Force in N; sheets 2, bags and gloves 4 if left out."
    )
    up_deg: float = Field(
        default=90.0, ge=0, le=90, description="How steeply it is drawn, in degrees: 90 straight up, 0 level."
    )
    ballast_g: float = Field(
        default=0.0, ge=0, le=20_000, description="What you lay under it or fix to it so that it stays down."
    )
