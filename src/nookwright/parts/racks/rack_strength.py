"""How thick the walls of a rack must be, by plain bending and bearing, and how many screws hold it.

Racks are printed on their end, so bending acts along the layers, never across them. Loads are doubled for the bump with
which a can is set down; stresses stay under what plastic carries for years.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact
from nookwright.ground.sources import Kind as SourceKind
from nookwright.parts.refusals import refuse_part

if TYPE_CHECKING:
    from nookwright.parts.racks.screws import Screw

GRAVITY_M_S2 = Fact(9.81, unit="m/s2", kind=SourceKind.STANDARD, source="ISO 80000-3: 9.80665, rounded.")
G_PER_KG = Fact(1000.0, unit="g/kg", kind=SourceKind.STANDARD, source="SI.")
LOAD_FACTOR = Fact(
    2.0, unit="1", kind=SourceKind.CALCULATED, source="A load let go at rest on a spring presses with twice its weight."
)
STRENGTH_MPA = Fact(
    23.2, unit="MPa", kind=SourceKind.HANDBOOK, source="Printed filled PLA along the layers, a maker's data sheet."
)
SUSTAINED_SHARE = Fact(
    0.22, unit="1", kind=SourceKind.MEMORY, source="Rule of thumb: stress for years at most 20 to 25 % of the strength."
)
THINNEST = Fact(4.0, unit="mm", kind=SourceKind.CHOICE, source="Nothing that hangs over heads is thinner.")
THICKEST = Fact(
    12.0, unit="mm", kind=SourceKind.CHOICE, source="Beyond, a rack weighs more than what it is good for: take wood."
)
THICKNESS_STEP = Fact(0.4, unit="mm", kind=SourceKind.CHOICE, source="Thicknesses are rounded up to about a line.")
FEWEST_SCREWS = Fact(2, unit="screws", kind=SourceKind.CHOICE, source="In a row; one lets a rack turn.")
SCREWS_APART = Fact(90.0, unit="mm", kind=SourceKind.CHOICE, source="At most, so that a plate does not lift between.")


def allowed_mpa() -> float:
    """Stress that printed PLA may carry for years, MPa.

    >>> round(allowed_mpa(), 2)
    5.1
    """
    return STRENGTH_MPA * SUSTAINED_SHARE


def load_n(mass_g: float) -> float:
    """Force of a mass with the factor for bumps, N.

    >>> round(load_n(1000), 2)
    19.62
    """
    return mass_g / G_PER_KG * GRAVITY_M_S2 * LOAD_FACTOR


def bending_mpa(moment_n_mm: float, width: float, thickness: float) -> float:
    """Stress of a rectangular section in bending, MPa: 6 M / (b t^2).

    Args:
        moment_n_mm: N mm.
        width: of the section, mm.
        thickness: in the direction of bending, mm.

    >>> round(bending_mpa(1000, 20, 3), 2)
    33.33
    """
    return 6 * moment_n_mm / (width * thickness**2)


def thickness_for(subject: str, moment_n_mm: float, width: float) -> float:
    """The least thickness that carries a moment for years, mm, in steps, from 4 up.

    Args:
        subject: what it is for, in words.
        moment_n_mm: N mm.
        width: of the section, mm.

    Raises:
        RecipeError: more than 12 would be needed.

    >>> thickness_for("a wall", 1000, 100), thickness_for("a wall", 3000, 100)
    (4.0, 6.0)
    """
    need = math.sqrt(6 * moment_n_mm / (width * allowed_mpa()))
    thick = round(max(THINNEST, math.ceil(round(need / THICKNESS_STEP, 6)) * THICKNESS_STEP), 4)
    if thick > THICKEST:
        refuse_part(
            f"rack, {subject}",
            "plastic carries the load for years",
            found=f"{thick:g} mm needed",
            allowed=f"{THINNEST:g} to {THICKEST:g} mm",
            remedy="Keep fewer or lighter things in it, or build it of wood.",
        )
    return thick


@dataclass(frozen=True)
class ScrewRow:
    """A row of screws along a rack: how many, and the pressure under each head, MPa."""

    count: int
    bearing_mpa: float


def screw_row(screw: Screw, pull_n: float, length: float) -> ScrewRow:
    """As many screws in a row as its length and the pressure under their heads ask for.

    Args:
        screw: which.
        pull_n: that the row takes up along the screws, N.
        length: of the rack along the row, mm.
    """
    by_length = math.ceil(round(length / SCREWS_APART, 6))
    by_pressure = math.ceil(round(pull_n / (screw.seat_mm2 * allowed_mpa()), 6))
    count = max(int(FEWEST_SCREWS), by_length, by_pressure)
    return ScrewRow(count, pull_n / count / screw.seat_mm2)
