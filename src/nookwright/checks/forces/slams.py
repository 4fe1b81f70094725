"""The stops that a space comes to, and what they throw its contents by.

A drawer that is shut is stopped at its back, so all in it goes on to the BACK; opened against its stop, to the FRONT.
Soft close brakes it before it is shut and not when it is pulled open. A shelf does not travel; it gets a knock, from
a hand or from the door beside it, either way. A door and a wall carry what is screwed to them, not what stands: they
are not looked at.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.survey.models import SpaceKind

if TYPE_CHECKING:
    from nookwright.survey.models import Space

SLAM_G = Fact(5.0, unit="g", kind=Kind.COMMON_PRACTICE, source="A drawer that is shut hard and hits its stop.")
SOFT_G = Fact(0.5, unit="g", kind=Kind.COMMON_PRACTICE, source="A drawer that a damper brakes over some centimetres.")
KNOCK_G = Fact(0.3, unit="g", kind=Kind.CHOICE, source="A hand that runs into a shelf; no standard says more.")
KNOCK_M_S = Fact(0.2, unit="m/s", kind=Kind.CHOICE, source="The speed that such a knock gives a cupboard's board.")


class Throw(StrEnum):
    """Where contents go on to."""

    BACK = "back"
    FRONT = "front"

    @property
    def sign(self) -> float:
        """Of that direction along y."""
        return 1.0 if self is Throw.BACK else -1.0


@dataclass(frozen=True)
class Slam:
    """One stop.

    Attributes:
        throw: where it throws things.
        accel_g: how hard.
        speed_m_s: from what speed.
        words: when it happens, for people.
    """

    throw: Throw
    accel_g: float
    speed_m_s: float
    words: str


def slams_of(space: Space) -> tuple[Slam, ...]:
    """Every stop that a space comes to; none where nothing stands.

    Args:
        space: as surveyed.
    """
    if space.kind is SpaceKind.DRAWER:
        shut = float(SOFT_G if space.soft_close else SLAM_G)
        speed = space.shut_m_s
        return (
            Slam(Throw.BACK, shut, speed, "when it is shut softly" if space.soft_close else "when it is slammed shut"),
            Slam(Throw.FRONT, float(SLAM_G), speed, "when it is pulled open against its stop"),
        )
    if space.kind is SpaceKind.SHELF:
        return tuple(Slam(throw, float(KNOCK_G), float(KNOCK_M_S), "when it is knocked against") for throw in Throw)
    return ()
