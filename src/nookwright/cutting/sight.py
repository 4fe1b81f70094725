"""Which sides of a part are seen where its copies stand, and where their back is: seams go where they are seen least.

A side is seen that faces the front of its space, unless a neighbour that is as high stands right before it. Of a drawer
one sees the first row over its front, so the front of a space hides nothing. Copies may be turned: each counts alike.
What it does not know: what stands in front of a shelf.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nookwright.parts.design import Copy

BESIDE = Fact(4.0, unit="mm", kind=Kind.CHOICE, source="A wall closer behind another is looked at by nobody.")
HIDDEN_SHARE = Fact(0.8, unit="1", kind=Kind.CHOICE, source="Of its length: what stands before the rest hides a wall.")
_BACK = ((0.0, 1.0), (1.0, 0.0), (0.0, -1.0), (-1.0, 0.0))  # of the space, in the axes of a part turned by quarters


@dataclass(frozen=True)
class Sight:
    """How a part is seen, the mean of its copies.

    Attributes:
        seams: how much the seams of a cut across x, and of one across y, are seen, 0 to 1.
        back: where the back is, in the part's axes: between -1 and 1 along x and y.
    """

    seams: tuple[float, float]
    back: tuple[float, float]


IN_FRONT = Sight((1.0, 0.0), (0.0, 1.0))  # of a part that stands as it was drawn, with nothing before it


def sight_of(copies: Sequence[Copy], others: Sequence[Copy]) -> Sight:
    """How the copies of one part are seen.

    Args:
        copies: of the part; those without a place count as if they stood as drawn.
        others: everything in the room.
    """
    seams, back = [0.0, 0.0], [0.0, 0.0]
    for copy in copies:
        turns = copy.quarter_turns % 4 if copy.space else 0
        axis = 1 if turns % 2 else 0  # a cut across this axis shows in the side that faces the front
        seams[axis] += 0.0 if copy.space and _hidden(copy, others) else 1.0
        for one in (0, 1):
            back[one] += _BACK[turns][one]
    count = max(1, len(copies))
    return Sight((seams[0] / count, seams[1] / count), (back[0] / count, back[1] / count))


def _hidden(copy: Copy, others: Sequence[Copy]) -> bool:
    """Whether what is as high stands before most of a copy's front."""
    left, front, right, _ = _area(copy)
    before = 0.0
    for other in others:
        if other is copy or other.space != copy.space or other.z + other.size[2] < copy.z + copy.size[2]:
            continue
        x0, _, x1, y1 = _area(other)
        if 0 <= front - y1 <= BESIDE:
            before += max(0.0, min(right, x1) - max(left, x0))
    return before >= HIDDEN_SHARE * (right - left)


def _area(copy: Copy) -> tuple[float, float, float, float]:
    width, depth, _ = copy.size
    if copy.quarter_turns % 2:
        width, depth = depth, width
    return copy.x, copy.y, copy.x + width, copy.y + depth
