"""Which cones of a liner stand in sockets of a part, and which of them bear first: looked for in the written meshes.

Cones are what reaches highest of a panel or a deck lid; a socket is a hole in a part's underside above a cone.
Sockets are the wider the further they lie from the part's middle, so when a part shifts, those that are tightest bear
alone.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.bodies import matrix_of, moved_by
from nookwright.ground.sources import Fact, Kind
from nookwright.ground.tolerances import GRID
from nookwright.module.seat import RING_STEP

if TYPE_CHECKING:
    from nookwright.checks.bodies import Shape
    from nookwright.checks.boxes import Floats, Indices
    from nookwright.checks.forces.stands import Loads, Stand

LAND = Fact(
    1.2, unit="mm", kind=Kind.CALCULATED, source="From the border of a cell: mouths lie within, outlines beyond."
)
SAME = Fact(10.0, unit="1", kind=Kind.CHOICE, source="Steps of the grid within which heights of a mesh are the same.")


@dataclass(frozen=True, eq=False)
class Cones:
    """The cones on one shape, in its own axes.

    Attributes:
        middles: (n, 2), mm.
        top: their height, mm.
        foot: height of the face that they stand on, mm.
        top_radius, base_radius: mm.
    """

    middles: Floats
    top: float
    foot: float
    top_radius: float
    base_radius: float

    @property
    def height(self) -> float:
        """Above their foot, mm."""
        return self.top - self.foot

    @property
    def slope_deg(self) -> float:
        """Of their sides, from the level, degrees."""
        return math.degrees(math.atan2(self.height, self.base_radius - self.top_radius))


@dataclass(frozen=True, eq=False)
class Seated:
    """The cones that a stand has in its sockets.

    Attributes:
        places: their middles in the space, (n, 2).
        bearing: how many of them are the tightest.
        cones: what they are like; of the first carrier that has any.
    """

    places: Floats
    bearing: int
    cones: Cones | None


def cones_of(shape: Shape, pitch: float) -> Cones | None:
    """The cones of a panel or a deck lid; ``None`` where it has none.

    Args:
        shape: its mesh.
        pitch: of the household, mm.
    """
    points = shape.vertices
    top = float(points[:, 2].max())
    rim = points[points[:, 2] > top - SAME * GRID][:, :2]
    cells = _in_cells(rim, _phase(rim, pitch), pitch)
    middles = np.column_stack([np.bincount(cells, along) for along in rim.T]) / np.bincount(cells)[:, None]
    radius = float(np.linalg.norm(rim - middles[cells], axis=1).max())
    if radius > pitch / 4:
        return None
    near = np.linalg.norm(points[:, :2] - middles[0], axis=1)
    below = (near < pitch / 2) & (points[:, 2] < top - SAME * GRID)
    foot = float(points[below, 2].max(initial=0.0))
    ring = near[below & (points[:, 2] > foot - SAME * GRID) & (near > radius)]
    return Cones(middles, top, foot, radius, float(ring.min(initial=pitch / 2))) if len(ring) else None


def _phase(points: Floats, pitch: float) -> Floats:
    """Where cells have their middles, along x and y: rings lie evenly round them."""
    turn = np.exp(2j * math.pi * points / pitch).mean(axis=0)
    phase: Floats = np.angle(turn) / (2 * math.pi) * pitch
    return phase


def _in_cells(points: Floats, phase: Floats, pitch: float) -> Indices:
    """For each point the number of its cell, counted from 0."""
    cells = np.round((points - phase) / pitch).astype(np.int64)
    cells -= cells.min(axis=0)
    _, number = np.unique(cells[:, 0] * (int(cells[:, 1].max()) + 1) + cells[:, 1], return_inverse=True)
    return np.asarray(number, dtype=np.int64).reshape(-1)


def mouths_at(shape: Shape, middles: Floats, pitch: float) -> Floats:
    """Radius of the socket above each of some points of a part's underside, (n,); 0 where there is none.

    Args:
        shape: of the part.
        middles: (n, 2), in its axes, all of one grid.
        pitch: of that grid, mm.
    """
    radii = np.zeros(len(middles))
    if not len(middles):
        return radii
    under = shape.vertices[shape.vertices[:, 2] < SAME * GRID][:, :2]
    origin = middles[0]
    wanted = {(int(a), int(b)): n for n, (a, b) in enumerate(np.round((middles - origin) / pitch).tolist())}
    cells = np.round((under - origin) / pitch)
    away = np.abs(under - origin - cells * pitch)
    far = np.linalg.norm(away, axis=1)
    inner = far < pitch / 2 - LAND
    for (a, b), distance in zip(cells[inner].astype(np.int64).tolist(), far[inner].tolist(), strict=True):
        number = wanted.get((a, b))
        if number is not None:
            radii[number] = max(radii[number], distance)
    return radii


class Seats:
    """Finds what stands of a kit have in their sockets; each mesh is searched once."""

    def __init__(self, loads: Loads, pitch: float) -> None:
        """Begin.

        Args:
            loads: of the kit.
            pitch: of the household, mm.
        """
        self._loads, self._pitch = loads, pitch
        self._known: dict[str, Cones | None] = {}

    def on(self, placement: str) -> Cones | None:
        """The cones of what is placed, in its own axes."""
        shape = self._loads.shape_of(placement)
        if shape is None:
            return None
        if shape.key not in self._known:
            self._known[shape.key] = cones_of(shape, self._pitch)
        return self._known[shape.key]

    def of(self, stand: Stand) -> Seated:
        """The cones in the sockets of a stand."""
        places, radii, kind = [], [], None
        for carrier in sorted(stand.on):
            cones = self.on(carrier)
            if cones is None:
                continue
            kind = kind or cones
            at = matrix_of(self._loads.placements[carrier].space_from_part)
            middles = moved_by(at, np.column_stack([cones.middles, np.zeros(len(cones.middles))]))
            for part in stand.parts:
                met, mouths = self._met(part, middles)
                places.append(met)
                radii.append(mouths)
        if not places:
            return Seated(np.zeros((0, 2)), 0, kind)
        mouths = np.concatenate(radii)
        bearing = int((mouths < mouths.min() + RING_STEP / 2).sum()) if len(mouths) else 0
        return Seated(np.concatenate(places), bearing, kind)

    def _met(self, part: str, middles: Floats) -> tuple[Floats, Floats]:
        """Middles of the cones in sockets of one part, in the space, and the radii of these sockets."""
        shape = self._loads.shape_of(part)
        if shape is None:
            return np.zeros((0, 2)), np.zeros(0)
        low, high = self._loads.box_of(part)
        under = middles[((middles[:, :2] > low[:2]) & (middles[:, :2] < high[:2])).all(axis=1)]
        back = np.asarray(np.linalg.inv(matrix_of(self._loads.placements[part].space_from_part)), dtype=np.float64)
        radii = mouths_at(shape, moved_by(back, under)[:, :2], self._pitch)
        return under[radii > 0][:, :2], radii[radii > 0]
