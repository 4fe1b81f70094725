"""Ballast of a hollow riser: what it can take, and how high to fill it for a wanted mass."""

from __future__ import annotations

from enum import StrEnum
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.ground.tolerances import GRID
from nookwright.module.estimates import MM3_PER_CM3
from nookwright.parts.refusals import refuse_part
from nookwright.parts.risers.hollow_riser import Chamber, HollowSpec, chamber_mm3

if TYPE_CHECKING:
    from nookwright.module.module import Module

DRY_SAND_G_CM3 = Fact(
    1.6, unit="g/cm3", kind=Kind.STANDARD, source="EN 1991-1-1 table A.6: dry sand 15 to 16 kN/m3, by 9.81 m/s2."
)
LOOSE_GRAVEL_G_CM3 = Fact(
    1.5, unit="g/cm3", kind=Kind.STANDARD, source="EN 1991-1-1 table A.6: loose gravel 15 to 16 kN/m3, the lower end."
)
STEEL_SHOT_G_CM3 = Fact(
    4.7,
    unit="g/cm3",
    kind=Kind.CALCULATED,
    source="Steel 77 kN/m3 (EN 1991-1-1 table A.4) is 7.85 g/cm3; balls poured loosely fill 0.60 of their room.",
)


class Filling(StrEnum):
    """What a riser is filled with."""

    DRY_SAND = "dry sand"
    LOOSE_GRAVEL = "loose gravel"
    STEEL_SHOT = "steel shot"

    @property
    def density_g_cm3(self) -> float:
        """Mass of a cubic centimetre as poured, g."""
        return float(_DENSITIES[self])


_DENSITIES = {
    Filling.DRY_SAND: DRY_SAND_G_CM3,
    Filling.LOOSE_GRAVEL: LOOSE_GRAVEL_G_CM3,
    Filling.STEEL_SHOT: STEEL_SHOT_G_CM3,
}


def capacity_mm3(module: Module, spec: HollowSpec) -> float:
    """Room inside a hollow riser up to its roof, mm3."""
    room = Chamber(module, spec)
    return chamber_mm3(room, room.ceiling)


def ballast_g(module: Module, spec: HollowSpec, filling: Filling) -> float:
    """Mass that a riser takes when it is full, g."""
    return capacity_mm3(module, spec) / MM3_PER_CM3 * filling.density_g_cm3


def level_for(module: Module, spec: HollowSpec, filling: Filling, mass_g: float) -> float:
    """How high to fill a riser for a mass: level above its underside when the filling lies flat, mm.

    Args:
        module: the household's module.
        spec: of the riser.
        filling: what it is filled with.
        mass_g: that is wanted, g.

    Raises:
        RecipeError: the riser does not take so much.
    """
    most = ballast_g(module, spec, filling)
    if not 0 <= mass_g <= most:
        refuse_part(
            "ballast", f"the riser takes it in {filling}", found=f"{mass_g:g} g", allowed=f"0 to {most:.0f} g",
            remedy="Take a larger riser or a heavier filling.",
        )  # fmt: skip
    room, wanted = Chamber(module, spec), mass_g / filling.density_g_cm3 * MM3_PER_CM3
    low, high = room.floor, room.ceiling
    while high - low > GRID:  # the volume grows with the level, so halving finds it
        middle = (low + high) / 2
        low, high = (middle, high) if chamber_mm3(room, middle) < wanted else (low, middle)
    return round(high, 2)
