"""What calm is worth: prices of growing, and of everything that makes a drawer restless, in the layout's cost."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.layout.candidates import COST_PER_DM2, COST_PER_G
from nookwright.module.choice import TYPICAL_DENSITY_G_CM3
from nookwright.module.estimates import MM2_PER_DM2, MM3_PER_CM3, tray_plastic
from nookwright.module.seat import outer_size
from nookwright.sizing.ways import PartKind
from nookwright.survey.layout_wishes import Weights
from nookwright.survey.models import FloorStyle

if TYPE_CHECKING:
    from nookwright.layout.model import Candidate
    from nookwright.module.module import Module

WIDTH = Fact(2.0, unit="cost", kind=Kind.CHOICE, source="One more width in a space: as bad as 8 g of plastic.")
ROW = Fact(1.0, unit="cost", kind=Kind.CHOICE, source="One more row in a space.")
EDGE = Fact(1.5, unit="cost", kind=Kind.CHOICE, source="One more line along the rows at which parts begin or end.")
SPLIT_ROW = Fact(
    1.5, unit="cost", kind=Kind.CHOICE, source="A row that is parted over its depth beside trays that go through."
)
RIM = Fact(1.0, unit="cost", kind=Kind.CHOICE, source="One change of the rim's height within a row.")
LOW_RIM = Fact(1.5, unit="cost", kind=Kind.CHOICE, source="A tray that stays lower than the rims of its row.")
CRUMB = Fact(
    0.1, unit="cost/cell", kind=Kind.CHOICE, source="Free cells that are no part of the one piece that is kept free."
)
MOST_RISES = Fact(
    3, unit="rises", kind=Kind.CHOICE, source="A tray raised by more hides its things from the hand and the eye."
)
MOST_GROWTH = Fact(2.0, unit="1", kind=Kind.CHOICE, source="A side more than twice as long makes another tray of it.")
OWN_GROWTH = Fact(
    3, unit="cells", kind=Kind.CHOICE, source="A short side may grow by so much anyway: about two fingers."
)
USUAL = Weights()
SAMPLE = Fact(10, unit="cells", kind=Kind.CHOICE, source="A floor of 10 x 10 cells stands for what a cell weighs.")


@dataclass(frozen=True)
class Terms:
    """By what an arrangement is judged.

    Attributes:
        module: the household's module.
        weights: what counts how much.
        largest: cells that print in one piece, no tray grows beyond them; ``None`` for any.
    """

    module: Module
    weights: Weights = USUAL
    largest: tuple[int, int] | None = None

    @property
    def cell_cost(self) -> float:
        """Cost of a cell that is taken."""
        return float(COST_PER_DM2) * self.weights.area * self.module.pitch**2 / MM2_PER_DM2

    @property
    def gram_cost(self) -> float:
        """Cost of a gram."""
        return float(COST_PER_G) * self.weights.plastic

    def wall_g_mm2(self) -> float:
        """Grams of a wall for each mm of its length and height."""
        return self.module.wall / MM3_PER_CM3 * TYPICAL_DENSITY_G_CM3

    def floor_g(self, *, smooth: bool) -> float:
        """Grams of a cell of a tray's floor."""
        side, height = int(SAMPLE), self.module.rise
        whole = tray_plastic(self.module, side, side, height, smooth=smooth).mass_g(TYPICAL_DENSITY_G_CM3)
        walls = 4 * outer_size(side, self.module.pitch) * height * self.wall_g_mm2()
        return (whole - walls) / side**2

    def part_g(self, candidate: Candidate, cols: int, rows: int, height: float) -> float:
        """Grams of a plain part of this size, in closed form.

        Args:
            candidate: what it is; a cradle weighs what its candidate does.
            cols: its footprint along x, unturned, cells.
            rows: the same along y.
            height: outer height, mm.
        """
        smooth = candidate.way.floor is FloorStyle.SMOOTH
        return tray_plastic(self.module, cols, rows, height, smooth=smooth).mass_g(TYPICAL_DENSITY_G_CM3)


def may_grow(candidate: Candidate) -> bool:
    """Whether a part may be larger than its candidate: a tray may, what is made to its things may not."""
    return candidate.way.kind is PartKind.TRAY


def longest_side(side: int) -> int:
    """How far a side of so many cells may grow.

    Args:
        side: cells of the candidate.

    >>> longest_side(2), longest_side(6)
    (5, 12)
    """
    return max(int(MOST_GROWTH * side), side + int(OWN_GROWTH))
