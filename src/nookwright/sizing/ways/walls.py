"""How high the wall of a part must be above its floor to keep its things in, mm."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.sizing.ways.way import PartKind
from nookwright.survey.models import Stance

if TYPE_CHECKING:
    from nookwright.sizing.things import Standing

TALL = Fact(40.0, unit="mm", kind=Kind.CHOICE, source="Standing things above this need no wall as high as they are.")
HELD_SHARE = Fact(
    0.45, unit="1", kind=Kind.COMMON_PRACTICE, source="Share of a standing thing's height that a tray's wall holds."
)
POCKET_SHARE = Fact(0.4, unit="1", kind=Kind.COMMON_PRACTICE, source="The same for the pocket of a cradle.")
LEAST_WALL = Fact(12.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="Lower walls let things climb out in a slam.")
MOST_WALL = Fact(56.0, unit="mm", kind=Kind.CHOICE, source="Walls held higher than this are only plastic.")
RIM_OVER = Fact(2.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="A wall stands over what lies in the tray by this.")


def wall_height(standing: Standing, kind: PartKind, stack: float) -> float:
    """Height of the wall above the floor that keeps things in.

    Args:
        standing: one thing, as it stands.
        kind: of the part.
        stack: height of what is in it, mm.
    """
    if kind is PartKind.CRADLE:
        return min(max(POCKET_SHARE * stack, LEAST_WALL), MOST_WALL)
    if standing.stance is not Stance.LYING and stack > TALL:
        return min(max(HELD_SHARE * stack, LEAST_WALL), MOST_WALL)
    return lying_wall(stack)


def lying_wall(stack: float) -> float:
    """The same for what lies: a little over it, mm."""
    return max(min(stack + RIM_OVER, MOST_WALL), LEAST_WALL)
