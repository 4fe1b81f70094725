"""Which layers of a solid differ: one section stands for all layers between which nothing changes but evenly.

A section only changes with height where a triangle leans or where vertices lie. Layers between two heights of vertices
share one section where no triangle leans there, which is exact. Where some lean, every corner of a section moves evenly
with height until the next vertex, so areas are quadratic in it: three layers there share the section of the middle one,
which is wrong by two thirds of what the area of a cone changes by in its second order in one layer, some 0.01 mm2. All
other layers have a section of their own. That makes a few dozen sections of some hundred layers.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nookwright.ground.tolerances import KERNEL

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from nookwright.solids.triangles import Mesh


@dataclass(frozen=True, eq=False)
class Layers:
    """The layers of a solid.

    Attributes:
        height: of a layer, mm.
        section: for each layer, from the bed up, the number of its section, from 0 up.
        middles: for each section the height at which it is taken, mm.
    """

    height: float
    section: NDArray[np.int64]
    middles: NDArray[np.float64]

    @property
    def count(self) -> int:
        """How many layers there are."""
        return len(self.section)

    @property
    def times(self) -> NDArray[np.int64]:
        """For each section how many layers it stands for."""
        return np.bincount(self.section, minlength=len(self.middles))


def layers_of(mesh: Mesh, height: float) -> Layers:
    """The layers of a mesh and their distinct sections.

    Args:
        mesh: closed, standing on its lowest point.
        height: of a layer, mm.
    """
    z = mesh.vertices[:, 2]
    bottom, top = float(z.min()), float(z.max())
    count = max(1, math.ceil(round((top - bottom) / height - 0.5, 6)))  # a rest that misses a middle is not printed
    middles = bottom + (np.arange(count, dtype=np.float64) + 0.5) * height
    band = np.searchsorted(np.unique(np.round(z, 9)), middles)
    leaning = _leaning(mesh, middles)
    new = np.concatenate([[True], (band[1:] != band[:-1]) | (leaning[1:] != leaning[:-1])])
    section = np.cumsum(_in_threes(new, leaning)) - 1
    first, last = np.searchsorted(section, np.arange(section[-1] + 1)), np.searchsorted(section, section, side="right")
    return Layers(height, section, middles[(first + last[first] - 1) // 2])


def _in_threes(new: NDArray[np.bool_], leaning: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """For each layer whether it needs another section than the one below it.

    Args:
        new: whether a band of like layers begins with it.
        leaning: whether something leans in it; such bands are parted into threes, and what is over into single layers.
    """
    start = np.flatnonzero(new)
    place = np.arange(len(new)) - np.repeat(start, np.diff(np.append(start, len(new))))
    size = np.repeat(np.diff(np.append(start, len(new))), np.diff(np.append(start, len(new))))
    single = place >= size - size % 3
    found: NDArray[np.bool_] = new | (leaning & (single | (place % 3 == 0)))
    return found


def _leaning(mesh: Mesh, middles: NDArray[np.float64]) -> NDArray[np.bool_]:
    """For each layer whether a triangle that is neither level nor upright passes its middle."""
    a, b, c = (mesh.vertices[mesh.triangles[:, n]] for n in range(3))
    u, v = b - a, c - a
    across = np.hypot(u[:, 1] * v[:, 2] - u[:, 2] * v[:, 1], u[:, 2] * v[:, 0] - u[:, 0] * v[:, 2])
    level = u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0]
    size = np.hypot(across, level)
    leans = (np.abs(level) > KERNEL * size) & (across > KERNEL * size)
    z = np.stack([a[leans, 2], b[leans, 2], c[leans, 2]])
    first = np.searchsorted(middles, z.min(axis=0), side="left")
    last = np.searchsorted(middles, z.max(axis=0), side="right")
    change = np.bincount(first, minlength=len(middles) + 1) - np.bincount(last, minlength=len(middles) + 1)
    found: NDArray[np.bool_] = np.cumsum(change[:-1]) > 0
    return found
