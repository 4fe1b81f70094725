"""Mass, centre and spread of bodies, and of several taken together: what weight and inertia follow from.

The spread of a body is the sum of ``m (x - c)(x - c)^T`` over its matter, c its centre: a 3 x 3 matrix in g mm2.
Moments of inertia follow from it, and under a turn it goes along as a matrix does. Meshes are integrated exactly, as
sums over the tetrahedra between a point and their triangles. What this does not know: where infill is thin and walls
are dense.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Iterable

    from nookwright.checks.boxes import Floats
    from nookwright.exchange.kit import Size

_AXES = "xyz"


@dataclass(frozen=True, eq=False)
class Mass:
    """Some matter.

    Attributes:
        mass_g: how much.
        centre: of it, (3,), mm.
        spread: about that centre, (3, 3), g mm2.
    """

    mass_g: float
    centre: Floats
    spread: Floats

    def moved(self, matrix: Floats) -> Mass:
        """The same, moved by a 4 x 4 matrix."""
        turn = matrix[:3, :3]
        return Mass(self.mass_g, turn @ self.centre + matrix[:3, 3], turn @ self.spread @ turn.T)

    def scaled(self, share: float) -> Mass:
        """A share of it, in the same place."""
        return Mass(self.mass_g * share, self.centre, self.spread * share)

    @cached_property
    def about_x(self) -> float:
        """Moment of inertia about a line along x through its centre, g mm2."""
        return float(self.spread[1, 1] + self.spread[2, 2])


NOTHING = Mass(0.0, np.zeros(3), np.zeros((3, 3)))


def together(masses: Iterable[Mass]) -> Mass:
    """Several bodies as one.

    Args:
        masses: none or more, in the same axes.
    """
    listed = [one for one in masses if one.mass_g > 0]
    if not listed:
        return NOTHING
    grams = np.array([one.mass_g for one in listed])
    centres = np.array([one.centre for one in listed])
    total = float(grams.sum())
    centre = grams @ centres / total
    away = centres - centre
    spread = sum((one.spread for one in listed), np.zeros((3, 3))) + np.einsum("n,ni,nj->ij", grams, away, away)
    return Mass(total, centre, spread)


def mesh_mass(corners: Floats, mass_g: float) -> Mass:
    """A body with an even density inside a closed surface.

    Args:
        corners: of its triangles, (m, 3, 3), the outside seen counter-clockwise, mm.
        mass_g: of the whole.
    """
    origin = corners.reshape(-1, 3).mean(axis=0)
    near = corners - origin
    volumes = (near[:, 0] * np.cross(near[:, 1], near[:, 2])).sum(axis=1) / 6
    volume = float(volumes.sum())
    sums = near.sum(axis=1)
    centre = volumes @ sums / 4 / volume
    square = (sums * volumes[:, None]).T @ sums + sum((near[:, k] * volumes[:, None]).T @ near[:, k] for k in range(3))
    spread = (square / 20 / volume - np.outer(centre, centre)) * mass_g
    return Mass(mass_g, origin + centre, spread)


def box_mass(middle: Floats, size: Size, mass_g: float) -> Mass:
    """A full box with sides along the axes.

    Args:
        middle: of it, (3,), mm.
        size: along x, y, z, mm.
        mass_g: of the whole.
    """
    return Mass(mass_g, middle, np.diag(np.square(size)) * mass_g / 12)


def round_mass(middle: Floats, size: Size, axis: str, mass_g: float) -> Mass:
    """A full cylinder along an axis.

    Args:
        middle: of it, (3,), mm.
        size: of the box round it, mm.
        axis: "x", "y" or "z".
        mass_g: of the whole.
    """
    parts = [size[k] ** 2 / (12 if _AXES[k] == axis else 16) for k in range(3)]
    return Mass(mass_g, middle, np.diag(parts) * mass_g)
