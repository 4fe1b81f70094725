"""A space as a stack of outlines by height, each in by so much from the outline at the floor.

The outline at the floor is a rectangle from the front left corner. Above it a wall may stand in by its lean, by lumps,
or because less was read there; that a space grows wider is not used. Where only readings tell that it gets narrower,
either wall may be the one that leans, so both count as if they were: a square on the floor tells which one it is.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from nookwright.survey.inside import Lean, Lump

LEAN_ERROR = Fact(
    0.5, unit="mm", kind=Kind.COMMON_PRACTICE, source="How far a lean or a lump may be misread with square and rule."
)
FOOT = Fact(3.0, unit="mm", kind=Kind.CALCULATED, source="What lies along the walls, the lip of a filler, is 2.6 high.")
STEP = Fact(0.01, unit="mm", kind=Kind.CHOICE, source="Over this height a lump begins and ends; no part tells it.")


@dataclass(frozen=True)
class Insets:
    """How far each wall stands in, mm."""

    left: float = 0.0
    right: float = 0.0
    front: float = 0.0
    back: float = 0.0

    def widest(self, other: Insets) -> Insets:
        """The larger one at each wall."""
        return Insets(*(max(getattr(self, wall.name), getattr(other, wall.name)) for wall in fields(Insets)))

    @property
    def any(self) -> bool:
        """Whether a wall stands in at all."""
        return max(self.left, self.right, self.front, self.back) > 0


@dataclass(frozen=True)
class Outline:
    """The outline at one height.

    Attributes:
        z: above the floor, or above the mat on it, mm.
        insets: from the outline at the floor.
    """

    z: float
    insets: Insets


def inset_at(levels: Sequence[Outline], z: float) -> Insets:
    """The insets at one height, taken to change evenly between those that are known.

    Args:
        levels: ascending; upright walls where there is none.
        z: height, mm.
    """
    if not levels:
        return Insets()
    below = [level for level in levels if level.z <= z]
    above = [level for level in levels if level.z > z]
    if not below or not above:
        return (below[-1] if below else above[0]).insets
    low, high = below[-1], above[0]
    share = (z - low.z) / (high.z - low.z)
    pairs = ((getattr(low.insets, wall.name), getattr(high.insets, wall.name)) for wall in fields(Insets))
    return Insets(*(a + share * (b - a) for a, b in pairs))


def most_up_to(levels: Sequence[Outline], top: float) -> Insets:
    """The largest inset of each wall from the floor up to a height.

    Args:
        levels: ascending.
        top: height, mm.
    """
    found = inset_at(levels, top)
    for level in levels:
        if level.z <= top:
            found = found.widest(level.insets)
    return found


def leaning(lean: Lean, z: float, rim: float) -> Insets:
    """The insets of walls that lean, at one height.

    Args:
        lean: at the rim.
        z: height, mm.
        rim: height of the rim, mm.
    """
    share = z / rim if rim else 0.0
    walls = (lean.left, lean.right, lean.front, lean.back)
    return Insets(*((wall + LEAN_ERROR) * share if wall > 0 else 0.0 for wall in walls))


def lump_inset(lump: Lump) -> Insets:
    """The inset of a wall by something that stands out all along it."""
    return Insets(**{lump.wall.value: lump.out + LEAN_ERROR})


def lump_levels(levels: Sequence[Outline], lump: Lump, *, top: float) -> tuple[Outline, ...]:
    """The stack with what stands out from a wall, all along it, over the heights where it is.

    Args:
        levels: the stack without it, from 0 to the top.
        lump: what stands out; its heights are counted as those of the levels.
        top: height of the uppermost outline, mm.
    """
    low = max(0.0, lump.z - LEAN_ERROR)
    high = top if lump.height is None else min(top, lump.z + lump.height + LEAN_ERROR)
    if high <= low:
        return tuple(levels)
    inset = lump_inset(lump)
    marks = {level.z for level in levels} | {low, high, max(0.0, low - STEP), min(top, high + STEP)}
    found = []
    for z in sorted(marks):
        own = inset_at(levels, z)
        found.append(Outline(z, own.widest(inset) if low <= z <= high else own))
    return tuple(found)


def merged(levels: Iterable[Outline], top: float) -> tuple[Outline, ...]:
    """A stack that ends at a height: what is above it counts there, as it is passed on the way in.

    Args:
        levels: in any order, none of them double.
        top: height of the uppermost outline, mm.
    """
    ordered = sorted(levels, key=lambda level: level.z)
    kept = [level for level in ordered if level.z < top]
    last = inset_at(ordered, top)
    for level in ordered:
        if level.z >= top:
            last = last.widest(level.insets)
    return (*kept, Outline(top, last))
