"""A saving: what it saves, what it gives up, and the lines of the room file that bring it about."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from nookwright.making.savings.keys import Key


class Leaves(StrEnum):
    """What a saving leaves out; of savings that leave out the same, one can be had."""

    LINER = "liner"
    FILLERS = "fillers"
    FENCES = "fences"
    REST = "rest"
    ODDS = "odds and ends"
    FLOORS = "floors"
    GROWTH = "room to grow"
    CRADLES = "cradles"
    STRIPS = "name strips"
    DIVIDERS = "dividers"
    RISE = "rise"


# How much it is missed, in cost units as in the layout: 1 is a small nuisance, noticed now and then.
MISSED_SPARE = Fact(1.0, unit="cost", kind=Kind.CHOICE, source="Empty trays; nothing lies in them yet.")
MISSED_GROWN = Fact(1.0, unit="cost", kind=Kind.CHOICE, source="Wider trays than anything needs; gaps stay between.")
MISSED_FENCE = Fact(2.0, unit="cost", kind=Kind.CHOICE, source="What stands free in a bay slides out of it.")
MISSED_ODDS = Fact(
    2.0, unit="cost", kind=Kind.CHOICE, source="What belongs nowhere comes to lie between the trays, space by space."
)
MISSED_SPARSE = Fact(2.0, unit="cost", kind=Kind.CHOICE, source="Trays narrower than two cells are not held.")
MISSED_PLAIN_FILLER = Fact(3.0, unit="cost", kind=Kind.CHOICE, source="Small things fall down beside the trays.")
MISSED_FILLER = Fact(4.0, unit="cost", kind=Kind.CHOICE, source="An hour with a saw, and no keys to the panels.")
MISSED_SAWN_FENCE = Fact(4.0, unit="cost", kind=Kind.CHOICE, source="An hour with a saw and a drill.")
MISSED_SWAPPING = Fact(6.0, unit="cost", kind=Kind.CHOICE, source="Moving one tray may need a new panel.")
MISSED_PANELS = Fact(
    8.0, unit="cost", kind=Kind.CHOICE, source="Trays off the panels hold by their neighbours and rest on dots."
)
MISSED_LINER = Fact(16.0, unit="cost", kind=Kind.CHOICE, source="Nothing is held: trays slide in every slam.")
MISSED_SMOOTH = Fact(1.0, unit="cost", kind=Kind.CHOICE, source="For each lot whose things would lie as well on domes.")
MISSED_ROLLING = Fact(
    2.0, unit="cost", kind=Kind.CHOICE, source="For each lot of small or flat things: they catch on the domes."
)
MISSED_GROWTH = Fact(1.0, unit="cost", kind=Kind.CHOICE, source="For each lot: the next ones bought have no place.")
MISSED_POCKET = Fact(3.0, unit="cost", kind=Kind.CHOICE, source="For each lot: tall things fall against each other.")
MISSED_STRIP = Fact(0.5, unit="cost", kind=Kind.CHOICE, source="For each tray: a label of paper does too.")
MISSED_DIVIDER = Fact(1.0, unit="cost", kind=Kind.CHOICE, source="For each tray: card is cut by hand, and wears.")
MISSED_RIMS = Fact(
    6.0, unit="cost", kind=Kind.CHOICE, source="More heights of rims: rows read less calmly, fewer trays are alike."
)
LEAST_G = Fact(5.0, unit="g", kind=Kind.CHOICE, source="Less than a small tray is not worth a decision.")


@dataclass(frozen=True)
class Weight:
    """Plastic and printing time of something."""

    mass_g: float = 0.0
    time_s: float = 0.0

    def __add__(self, other: Weight) -> Weight:
        return Weight(self.mass_g + other.mass_g, self.time_s + other.time_s)

    def __sub__(self, other: Weight) -> Weight:
        return Weight(self.mass_g - other.mass_g, self.time_s - other.time_s)


@dataclass(frozen=True)
class Saving:
    """One thing that could be left out.

    Attributes:
        leaves: what it leaves out.
        text: what to do, for people.
        mass_g, time_s: what that saves, in closed form.
        gives_up: what is lost by it, for people.
        missed: how much, in cost units.
        keys: lines of the room file to change; none where it is done by hand.
        relaid: whether the layout is found anew with them, so that trays may come to stand otherwise: the grams are
            then good to a tenth, to a fiftieth of the whole room's, and to one spare tray where such fill what is free.
    """

    leaves: Leaves
    text: str
    mass_g: float
    time_s: float
    gives_up: str
    missed: float
    keys: tuple[Key, ...] = ()
    relaid: bool = False

    @property
    def missed_per_g(self) -> float:
        """How much is given up for each gram: the less, the cheaper is the saving."""
        return self.missed / self.mass_g

    @property
    def toml(self) -> str:
        """The lines as they stand in a room file, each under the head of its table."""
        tables: dict[tuple[str, str], list[Key]] = {}
        for key in self.keys:  # a table stands in a file once, with all of its keys
            tables.setdefault((key.table, key.of), []).append(key)
        return "\n\n".join("\n".join((first.toml, *(key.line for key in more))) for first, *more in tables.values())

    def clashes(self, other: Saving) -> bool:
        """Whether only one of the two can be had: they leave out the same, or change the same key.

        Args:
            other: saving.
        """
        mine, theirs = ({key.place for key in one.keys} for one in (self, other))
        return self.leaves is other.leaves or bool(mine & theirs)
