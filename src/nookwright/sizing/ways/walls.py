"""How high the wall of a part must be above its floor to keep its things in, mm.

What holds is the wall beside the uppermost thing: of things in layers, each is thrown off the one below when a drawer
is slammed, unless the wall reaches past where it stands. Nested things hold each other, and count as one.

What it does not know: how hard a space is slammed, and what a thing weighs. The checks look at that.
"""

from __future__ import annotations

from nookwright.ground.sources import Fact, Kind
from nookwright.sizing.ways.way import PartKind
from nookwright.survey.models import Stance

TALL = Fact(40.0, unit="mm", kind=Kind.CHOICE, source="Standing things above this need no wall as high as they are.")
HELD_SHARE = Fact(
    0.45, unit="1", kind=Kind.COMMON_PRACTICE, source="Share of a standing thing's height that a tray's wall holds."
)
POCKET_SHARE = Fact(0.4, unit="1", kind=Kind.COMMON_PRACTICE, source="The same for the pocket of a cradle.")
LEAST_WALL = Fact(12.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="Lower walls let things climb out in a slam.")
MOST_WALL = Fact(56.0, unit="mm", kind=Kind.CHOICE, source="Walls held higher than this are only plastic.")
RIM_OVER = Fact(2.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="A wall stands over what lies in the tray by this.")


def wall_height(stance: Stance, kind: PartKind, high: float, layers: int = 1) -> float:
    """Height of the wall above the floor that keeps things in, mm.

    Args:
        stance: how they stand.
        kind: of the part.
        high: of one thing, as it stands, or of a pile of nested ones, mm.
        layers: how many stand on each other.

    >>> [round(wall_height(Stance.UPRIGHT, PartKind.TRAY, 60.0, layers), 1) for layers in (1, 2, 3)]
    [27.0, 87.0, 147.0]
    >>> [round(wall_height(Stance.LYING, PartKind.TRAY, 30.0, layers), 1) for layers in (1, 2, 3)]
    [32.0, 56.0, 73.5]
    """
    stack = layers * high
    if kind is PartKind.CRADLE:
        return min(max(POCKET_SHARE * stack, LEAST_WALL), MOST_WALL)
    beside = (layers - 1) * high + held_wall(high)
    return beside if stance is not Stance.LYING and stack > TALL else max(lying_wall(stack), beside)


def held_wall(high: float) -> float:
    """The wall above what a thing stands on that holds it: a share of its height, all of a low one, mm.

    >>> [round(held_wall(high), 1) for high in (1.0, 20.0, 60.0, 200.0)]
    [3.0, 12.0, 27.0, 56.0]
    """
    return min(max(HELD_SHARE * high, min(high + RIM_OVER, float(LEAST_WALL))), float(MOST_WALL))


def lying_wall(stack: float) -> float:
    """The wall around what lies, or is poured: a little over it, mm."""
    return max(min(stack + RIM_OVER, MOST_WALL), LEAST_WALL)
