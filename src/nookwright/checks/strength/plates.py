"""Thin plates with any edges, under even, leaning and local loads: how far they bend and how large their moments are.

Deflections are sums of polynomials that keep the edges, found by the method of Ritz; tables of Timoshenko and Roark are
met by them (``tests/published/test_strength.py``). One method serves floors, walls with a free rim, lids and roofs.
It holds for thin plates that bend by no more than half their thickness. Beyond that a plate stiffens, so that sag and
bending stress found here are more than the real ones: a plate that passes passes for certain.

A plate spans x from 0 to its width and y from 0 to its depth. All results are shares: of q a^4 / D for a deflection and
of q a^2 for a moment on 1 mm of width under an even load q; of P a^2 / D and of P under a local load P; a is the width.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache
from typing import TYPE_CHECKING

from nookwright.checks.strength.plastics import POISSON
from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    import numpy as np

    Floats = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

THIN = Fact(0.5, unit="1", kind=Kind.HANDBOOK, source="Roark: formulas hold up to this deflection in thicknesses.")
WIDEST = Fact(
    5.0, unit="1", kind=Kind.CALCULATED, source="A plate longer than this is as a long one: shares within 1 %."
)
_TERMS = 9  # each way; moments at clamped edges settle to 1 %
_NODES = 26  # exact for products of two shapes
_GRID = 41  # places each way at which moments are looked for
_DECIMALS = 2  # of a ratio of sides; two plates that differ by less are one


class Edge(StrEnum):
    """How an edge of a plate is held."""

    FREE = "free"
    RESTING = "resting"  # it may turn
    CLAMPED = "clamped"


class Spread(StrEnum):
    """How a load lies on a plate."""

    EVEN = "even"
    LEANING = "leaning"  # full at the near edge, nothing at the far one, as loose things press on a wall


@dataclass(frozen=True)
class Patch:
    """A local load, spread over a rectangle: its middle and its sides, as shares of width and depth."""

    x: float
    y: float
    width: float
    depth: float


@dataclass(frozen=True)
class Edges:
    """How the four edges are held: left and right at x = 0 and x = width, near and far at y = 0 and y = depth."""

    left: Edge
    right: Edge
    near: Edge
    far: Edge


RESTING = Edges(Edge.RESTING, Edge.RESTING, Edge.RESTING, Edge.RESTING)
CLAMPED = Edges(Edge.CLAMPED, Edge.CLAMPED, Edge.CLAMPED, Edge.CLAMPED)
STANDING = Edges(Edge.RESTING, Edge.RESTING, Edge.CLAMPED, Edge.FREE)  # a wall on a floor, its rim free


@dataclass(frozen=True)
class Shares:
    """Largest deflection, and largest moments that bend the plate along x and along y, as shares."""

    sag: float
    along_x: float
    along_y: float


@dataclass(frozen=True)
class Bent:
    """A bent plate.

    Attributes:
        sag: largest deflection, mm.
        along_x, along_y: largest stress in each direction, MPa.
        thin: whether the sag is within half the thickness, so that the figures are the real ones, not upper bounds.
    """

    sag: float
    along_x: float
    along_y: float
    thin: bool


def rigidity(modulus_mpa: float, thickness: float, poisson: float = POISSON) -> float:
    """Bending stiffness of a plate, E t^3 / (12 (1 - nu^2)), N mm.

    >>> round(rigidity(2000.0, 2.0, 0.3), 1)
    1465.2
    """
    return modulus_mpa * thickness**3 / (12 * (1 - poisson**2))


@dataclass(frozen=True)
class Plate:
    """A plate: width, depth and thickness in mm, and how its edges are held."""

    width: float
    depth: float
    thickness: float
    edges: Edges

    def bent(self, load: Spread | Patch, amount: float, modulus_mpa: float) -> Bent:
        """The plate under a load.

        Args:
            load: how it lies.
            amount: pressure in MPa where it is full; of a patch, its force in N.
            modulus_mpa: of the plastic, for as long as the load stays.
        """
        width = min(self.width, WIDEST * self.depth)
        depth = min(self.depth, WIDEST * self.width)
        found = shares(self.edges, round(depth / width, _DECIMALS), load)
        patch = isinstance(load, Patch)
        moment = amount if patch else amount * width**2
        sag = found.sag * moment * width**2 / rigidity(modulus_mpa, self.thickness)
        stress = 6 * moment / self.thickness**2
        return Bent(sag, found.along_x * stress, found.along_y * stress, sag <= THIN * self.thickness)


@lru_cache(maxsize=4096)
def shares(edges: Edges, ratio: float, load: Spread | Patch, poisson: float = float(POISSON)) -> Shares:
    """Deflection and moments of a plate under a load, as shares.

    Args:
        edges: how they are held; a plate that could fall is none.
        ratio: depth divided by width.
        load: how it lies.
        poisson: Poisson's ratio.

    Returns:
        Of q a^4 / D and q a^2 for an even or leaning load, of P a^2 / D and P for a patch.
    """
    import numpy as np

    squared = 1 / ratio**2
    solved = np.linalg.solve(_stiffness(edges, squared, poisson), _forces(edges, load, ratio))
    across, along = _at_grid(edges.left, edges.right), _at_grid(edges.near, edges.far)
    amounts = solved.reshape(_TERMS, _TERMS)
    sag = across[0].T @ amounts @ along[0]
    x_bend = across[2].T @ amounts @ along[0]
    y_bend = across[0].T @ amounts @ along[2] * squared
    return Shares(
        float(np.abs(sag).max()),
        float(np.abs(x_bend + poisson * y_bend).max()),
        float(np.abs(y_bend + poisson * x_bend).max()),
    )


def buckling_factor(ratio: float) -> float:
    """Factor k of a resting plate that is pressed along its height: stress k pi^2 E / (12 (1 - nu^2)) (t / b)^2.

    Args:
        ratio: height along the pressure divided by width b.

    >>> round(buckling_factor(1.0), 2), round(buckling_factor(0.5), 2), round(buckling_factor(1.4), 2)
    (4.0, 6.25, 4.47)
    """
    return min((waves / ratio + ratio / waves) ** 2 for waves in range(1, max(2, math.ceil(ratio) + 1) + 1))


def buckling_mpa(height: float, width: float, thickness: float, modulus_mpa: float) -> float:
    """Stress at which an upright wall between two others buckles when it is pressed from above, MPa.

    Args:
        height: of the wall, mm.
        width: between the walls that hold its edges, mm.
        thickness: mm.
        modulus_mpa: of the plastic, for as long as the load stays.
    """
    factor = buckling_factor(min(height / width, WIDEST * 2))
    return factor * math.pi**2 * rigidity(modulus_mpa, thickness) / (thickness * width**2)


_POWER = {Edge.FREE: 0, Edge.RESTING: 1, Edge.CLAMPED: 2}


@lru_cache
def _basis(first: Edge, last: Edge) -> tuple[Floats, Floats, Floats]:
    """Shapes that keep two opposite edges, with first and second derivatives: coefficients, (powers, terms) each."""
    import numpy as np
    from numpy.polynomial import Polynomial
    from numpy.polynomial.legendre import Legendre

    keep = Polynomial([0, 1]) ** _POWER[first] * Polynomial([1, -1]) ** _POWER[last]
    basis = [keep * Legendre.basis(number, domain=[0, 1]).convert(kind=Polynomial) for number in range(_TERMS)]
    rows = np.zeros((3, _TERMS + 4, _TERMS))
    for order, number in np.ndindex(3, _TERMS):
        coefficients = basis[number].deriv(order).coef
        rows[order, : len(coefficients), number] = coefficients
    return rows[0], rows[1], rows[2]


def _values(coefficients: Floats, at: Floats) -> Floats:
    """Shapes at some places, (terms, places)."""
    import numpy as np
    from numpy.polynomial.polynomial import polyval

    return np.asarray(polyval(at, coefficients), dtype=np.float64)


@lru_cache
def _nodes() -> tuple[Floats, Floats]:
    """Places and weights that integrate from 0 to 1."""
    import numpy as np

    nodes, weights = np.polynomial.legendre.leggauss(_NODES)
    return (nodes + 1) / 2, weights / 2


@lru_cache
def _at_grid(first: Edge, last: Edge) -> tuple[Floats, Floats, Floats]:
    """Shapes and derivatives where moments are looked for: closer together at the edges, where they are large."""
    import numpy as np

    grid = (1 - np.cos(np.linspace(0, math.pi, _GRID))) / 2
    plain, slope, bend = (_values(rows, grid) for rows in _basis(first, last))
    return plain, slope, bend


@lru_cache
def _products(first: Edge, last: Edge) -> tuple[Floats, Floats, Floats, Floats]:
    """Integrals of pairs of shapes: plain, slopes, second derivatives, and second derivatives by plain ones."""
    nodes, weights = _nodes()
    plain, slope, bend = (_values(rows, nodes) for rows in _basis(first, last))
    pairs = ((plain, plain), (slope, slope), (bend, bend), (bend, plain))
    plains, slopes, bends, mixed = ((one * weights) @ other.T for one, other in pairs)
    return plains, slopes, bends, mixed


def _stiffness(edges: Edges, squared: float, poisson: float) -> Floats:
    """Energy of bending for each pair of shapes; ``squared`` is (width / depth)^2."""
    import numpy as np

    x00, x11, x22, x20 = _products(edges.left, edges.right)
    y00, y11, y22, y20 = _products(edges.near, edges.far)
    mixed = np.kron(x20, y20.T)
    energy = np.kron(x22, y00) + squared**2 * np.kron(x00, y22)
    energy += poisson * squared * (mixed + mixed.T) + 2 * (1 - poisson) * squared * np.kron(x11, y11)
    return np.asarray(energy, dtype=np.float64)


def _forces(edges: Edges, load: Spread | Patch, ratio: float) -> Floats:
    """Work of the load on each shape."""
    import numpy as np

    nodes, weights = _nodes()
    plain = _basis(edges.left, edges.right)[0], _basis(edges.near, edges.far)[0]
    if isinstance(load, Patch):
        x, y = load.x + (nodes - 0.5) * load.width, load.y + (nodes - 0.5) * load.depth
        local = np.kron(_values(plain[0], x) @ weights, _values(plain[1], y) @ weights)
        return np.asarray(local / ratio, dtype=np.float64)
    upright = weights * (1 - nodes) if load is Spread.LEANING else weights
    spread = np.kron(_values(plain[0], nodes) @ weights, _values(plain[1], nodes) @ upright)
    return np.asarray(spread, dtype=np.float64)
