"""What nesting works with: boxes in whole units, and where they come to lie."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

Box = tuple[int, int]  # width and depth


@dataclass(frozen=True)
class Spot:
    """A box in its place: which box, the bin, its corner, whether it was turned."""

    box: int
    bin: int
    x: int
    y: int
    turned: bool


class Bin(NamedTuple):
    """The sides of a bin, and whether boxes may be turned in it by 90 degrees."""

    width: int
    depth: int
    may_turn: bool = True

    def ways(self, box: Box) -> list[tuple[bool, Box]]:
        """The ways in which a box fits an empty bin: whether it is turned, and its sides as it lies."""
        ways = [(False, box)]
        if self.may_turn and box[0] != box[1]:
            ways.append((True, box[::-1]))
        return [(turned, sides) for turned, sides in ways if sides[0] <= self.width and sides[1] <= self.depth]


@dataclass(frozen=True)
class Nested:
    """Boxes in bins.

    Attributes:
        spots: one for each box, in their order.
        bins: how many are used.
        bound: no nesting needs fewer.
        tries: nestings made to find it.
    """

    spots: tuple[Spot, ...]
    bins: int
    bound: int
    tries: int

    @property
    def proven(self) -> bool:
        """Whether no nesting needs fewer bins."""
        return self.bins <= self.bound


def bins_of(spots: tuple[Spot, ...]) -> int:
    """How many bins some spots use; they are numbered without gaps."""
    return max((spot.bin for spot in spots), default=-1) + 1
