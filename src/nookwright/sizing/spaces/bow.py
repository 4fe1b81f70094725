"""The bow of a floor: read under a straight edge, or worked out from its board and what it carries.

The board is a plate under an even load. Its edges rest in a groove, or are clamped; both deflections are exact sums for
thin plates (Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, articles 30 and 44). They hold while the
deflection is at most half the thickness; beyond it the board stiffens and hangs less, so they are on the safe side.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.survey.inside import Board, BoardEdges

if TYPE_CHECKING:
    from nookwright.survey.inside import Bottom
    from nookwright.survey.models import Space

GRAVITY = Fact(9.80665, unit="m/s2", kind=Kind.STANDARD, source="Standard gravity, ISO 80000-3.")
POISSON = Fact(0.3, unit="1", kind=Kind.HANDBOOK, source="Poisson's ratio of tables of plates; boards have 0.2 to 0.4.")
CLAMPED_SHARE = Fact(
    0.00260, unit="1", kind=Kind.HANDBOOK, source="Deflection of a long clamped plate, w D / (q a^4): 1/384."
)
FELT = Fact(3.0, unit="1", kind=Kind.CALCULATED, source="A clamped plate longer than this is as a long one to 0.1 %.")
THIN = Fact(0.5, unit="1", kind=Kind.HANDBOOK, source="Roark: formulas hold up to this deflection in thicknesses.")
STRAIGHT_EDGE = Fact(
    0.3, unit="mm", kind=Kind.COMMON_PRACTICE, source="How far a gap under a straight edge may be misread."
)
_TERMS = 25  # odd ones; the sums agree to 1e-9 with half of them
_SHAPES = 6


@dataclass(frozen=True)
class _Stuff:
    """Bending modulus in MPa, and what creep adds to a deflection that stays, as a share of it."""

    modulus_mpa: Fact
    creep: Fact


def _stuff(modulus_mpa: float, creep: float, source: str, said: str) -> _Stuff:
    return _Stuff(
        Fact(modulus_mpa, unit="MPa", kind=Kind.MEMORY, source=source),
        Fact(creep, unit="1", kind=Kind.MEMORY, source=said),
    )


STUFFS = {
    Board.HARDBOARD: _stuff(3500, 2.25, "Hardboard 3 to 5 mm.", "EN 1995-1-1 table 3.2, service class 1: hardboard."),
    Board.MDF: _stuff(2700, 2.25, "EN 622-5: MDF, 6 to 9 mm.", "EN 1995-1-1 table 3.2, service class 1: MDF."),
    Board.CHIPBOARD: _stuff(1800, 2.25, "EN 312: type P2, 6 to 13 mm.", "EN 1995-1-1 table 3.2: particleboard."),
    Board.PLYWOOD: _stuff(4000, 0.8, "Birch, across the grain of its faces.", "EN 1995-1-1 table 3.2: plywood."),
    Board.STEEL: _stuff(210_000, 0.0, "Any handbook.", "Steel does not creep in a room."),
    Board.PLASTIC: _stuff(2000, 2.0, "ABS and polystyrene.", "Creep modulus a third of the short-term one."),
}


@dataclass(frozen=True)
class Bow:
    """How far a floor is bowed.

    Attributes:
        sag: in the middle against the edges, mm; negative where it bulges up.
        how: what the figure rests on, in words; empty where nothing is known.
        stiffens: the sag was worked out beyond the limit of thin plates: it will be less.
    """

    sag: float = 0.0
    how: str = ""
    stiffens: bool = False

    @property
    def height(self) -> float:
        """What it takes of the clear height, mm: nobody says whether that was read over a hollow or beside it.

        A sag that was worked out comes with the load, below the flat floor that the height was read from.
        """
        return abs(self.sag) + STRAIGHT_EDGE if self.how == READ and self.sag else 0.0


READ = "read under a straight edge"
WORKED_OUT = "worked out from board and load, creep included"


def bow_of(space: Space) -> Bow:
    """The bow of a space's floor; straight where nothing is said.

    Args:
        space: as surveyed.
    """
    if space.bow is not None:
        return Bow(space.bow, READ)
    if space.bottom is None:
        return Bow()
    width, depth = space.width.floor, space.depth.floor
    sag = sag_under_load(space.bottom, max(width), max(depth), space.load_kg)
    return Bow(sag, WORKED_OUT, stiffens=sag > THIN * space.bottom.thickness)


def sag_under_load(board: Bottom, width: float, depth: float, load_kg: float) -> float:
    """How far a board hangs under a load that lies on it evenly, in the long run, mm.

    Args:
        board: thickness, material, edges.
        width: of the floor, mm.
        depth: of it, mm.
        load_kg: on it.
    """
    stuff = STUFFS[board.material]
    modulus = board.stiffness_mpa or stuff.modulus_mpa
    rigidity = plate_rigidity(modulus, board.thickness)
    short, long = sorted((width, depth))
    load_mpa = load_kg * GRAVITY / (width * depth)
    ratio = long / short
    share = clamped_share(ratio) if board.edges is BoardEdges.CLAMPED else resting_share(ratio)
    return float(share * load_mpa * short**4 / rigidity * (1 + stuff.creep))


def plate_rigidity(modulus_mpa: float, thickness: float) -> float:
    """Bending stiffness of a plate, N mm.

    Args:
        modulus_mpa: Young's modulus.
        thickness: mm.
    """
    return float(modulus_mpa * thickness**3 / (12 * (1 - POISSON**2)))


def resting_share(ratio: float) -> float:
    """Deflection of the middle of a plate that rests on all edges, w D / (q a^4), by the series of Levy.

    Args:
        ratio: of the longer side to the shorter, 1 or more.
    """
    total = 0.0
    for number in range(_TERMS):
        m = 2 * number + 1
        reach = m * math.pi * ratio / 2
        edge = 0.0 if reach > 300 else (reach * math.tanh(reach) + 2) / (2 * math.cosh(reach))  # noqa: PLR2004 - cosh
        total += (-1) ** number / m**5 * (1 - edge)
    return 4 / math.pi**5 * total


def clamped_share(ratio: float) -> float:
    """Deflection of the middle of a plate that is clamped on all edges, w D / (q a^4), by the method of Ritz.

    The shapes are (1 - x^2)^2 (1 - y^2)^2 times even powers of both; six each way settle five figures to a ratio of 3,
    beyond which the short edges are not felt in the middle.

    Args:
        ratio: of the longer side to the shorter, 1 or more.
    """
    if ratio > FELT:
        return float(CLAMPED_SHARE)
    import numpy as np
    from numpy.polynomial import Polynomial

    nodes, weights = np.polynomial.legendre.leggauss(4 * _SHAPES)
    square = Polynomial([1, 0, -1]) ** 2
    shapes = [square * Polynomial([0, 0, 1]) ** number for number in range(_SHAPES)]
    values, slopes, bends = (np.array([shape.deriv(order)(nodes) for shape in shapes]) for order in (0, 1, 2))
    plain, sloped, bent = ((rows * weights) @ rows.T for rows in (values, slopes, bends))
    across = 1 / ratio**2
    stiffness = 16 * (np.kron(bent, plain) + 2 * across * np.kron(sloped, sloped) + across**2 * np.kron(plain, bent))
    load = np.kron(values @ weights, values @ weights)
    return float(np.linalg.solve(stiffness, load)[0])
