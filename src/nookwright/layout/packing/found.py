"""What is packed, and what a search finds: plain values, shared by all that pack."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple, TypeAlias

Order: TypeAlias = "tuple[tuple[int, bool], ...]"  # number of a footprint, and whether it is tried turned first


class Footprint(NamedTuple):
    """A rectangle of cells, and whether it may be turned by 90 degrees."""

    cols: int
    rows: int
    may_turn: bool


class Spot(NamedTuple):
    """Where a footprint lies: its front left cell, and whether it is turned by 90 degrees."""

    col: int
    row: int
    turned: bool


@dataclass(frozen=True)
class Packing:
    """What the search found.

    Attributes:
        spots: one for each footprint, in the order asked; ``None`` for one that stayed out.
        order: the order and turns that give this packing, to start the next search from.
        tries: packings made.
    """

    spots: tuple[Spot | None, ...]
    order: Order
    tries: int

    @property
    def complete(self) -> bool:
        """Whether everything is in."""
        return None not in self.spots


@dataclass(frozen=True)
class Walk:
    """Where a search that began with one order came to.

    Attributes:
        packing: the last, which leaves no more area out than any before it.
        left: area that stays out, in cells.
        state: of the generator, to draw on from.
    """

    packing: Packing
    left: int
    state: int
