"""What an estimate says of a piece: seconds, plastic and filament, by what they go into."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from nookwright.making.estimate.kinds import Laid, Spent
from nookwright.module.estimates import MM3_PER_CM3

if TYPE_CHECKING:
    from collections.abc import Mapping


@dataclass(frozen=True, kw_only=True)
class PieceEstimate:
    """One copy of a piece, printed alone, heating apart.

    Attributes:
        laid_mm3: plastic by what is laid.
        spent_s: seconds by what they go into; ``WAITING`` is what it waits for its layers when nothing else is beside.
        layer_s: for each layer what is spent in it, changes and waiting apart.
        first_mm2: area on the bed, brim apart.
        retractions: how often filament is drawn back.
        missing_mm3: what the round edges along outer contours leave empty.
        sections_mm3: areas of all sections times the layer height: the body as it is printed.
        sections, offsets: how many sections were cut and contours moved to find this.
    """

    laid_mm3: Mapping[Laid, float]
    spent_s: Mapping[Spent, float]
    layer_s: tuple[float, ...]
    first_mm2: float
    retractions: int
    missing_mm3: float
    sections_mm3: float
    sections: int
    offsets: int

    @property
    def layers(self) -> int:
        """How many layers it has."""
        return len(self.layer_s)

    @cached_property
    def plastic_mm3(self) -> float:
        """All plastic, mm3."""
        return sum(self.laid_mm3.values())

    @cached_property
    def time_s(self) -> float:
        """All of it, printed alone."""
        return sum(self.spent_s.values())

    @property
    def time_in_company_s(self) -> float:
        """The same with enough beside it on the bed that no layer waits, s."""
        return self.time_s - self.spent_s[Spent.WAITING]

    @property
    def moving_s(self) -> float:
        """All that grows with a printer's slowness: neither waiting nor layer changes, s."""
        return sum(self.layer_s)

    def mass_g(self, density_g_cm3: float) -> float:
        """Its mass, g."""
        return self.plastic_mm3 / MM3_PER_CM3 * density_g_cm3

    def masses_g(self, density_g_cm3: float) -> dict[Laid, float]:
        """Its mass by what is laid, g."""
        return {kind: volume / MM3_PER_CM3 * density_g_cm3 for kind, volume in self.laid_mm3.items()}

    def filament_mm(self, diameter: float) -> float:
        """Filament that it takes, mm.

        Args:
            diameter: of the filament, mm.
        """
        return self.plastic_mm3 / (math.pi * diameter**2 / 4)
