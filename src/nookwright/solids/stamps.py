"""Round bumps and pits put on flat faces directly, without a boolean in space.

The face is taken out, and put back with a hole for each of them; the walls and ends of all that are equal are one
array of points, shifted to their places. What is made is closed for the same reason as what was there before: each
edge that is taken away comes back, once in the new face or in the foot of a wall.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from manifold3d import triangulate

from nookwright.ground import tolerances
from nookwright.solids.contours import chained, filled

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from nookwright.solids.rounds import Round

    Array = NDArray[np.float64]
    Faces = NDArray[np.int64]
    Labels = NDArray[np.int64]
    Mask = NDArray[np.bool_]


@dataclass(frozen=True, eq=False)
class Triangles:
    """A closed surface.

    Attributes:
        vertices: (n, 3), mm.
        faces: (m, 3), counter-clockwise from outside.
        labels: (m,), 0 for no name; otherwise which name of the kernel's, counted from 1.
    """

    vertices: Array
    faces: Faces
    labels: Labels


@dataclass(frozen=True)
class Flat:
    """A horizontal face.

    Attributes:
        level: its height.
        way: 1 where it looks up, -1 where it looks down.
        label: of its triangles.
    """

    level: float
    way: int
    label: int


@dataclass(frozen=True, eq=False)
class Stamp:
    """Equal round bumps on, or pits in, one flat face.

    Attributes:
        wall: from the face to the end of the bump or pit, or the other way round, from the bottom up.
        places: (n, 2).
        face: on or in which they are.
        bump: whether plastic is inside the wall.
        label: of its triangles.
    """

    wall: Round
    places: Array
    face: Flat
    bump: bool
    label: int

    @property
    def rises(self) -> bool:
        """Whether its end is above the face."""
        return self.bump == (self.face.way > 0)

    @property
    def end(self) -> float:
        """The height of its end."""
        return float(self.wall.levels[-1 if self.rises else 0])


def stamped(core: Triangles, stamps: Sequence[Stamp]) -> Triangles:
    """A core with its stamps.

    Args:
        core: closed.
        stamps: each on a face that is there, apart from each other and from every other face.
    """
    by_face: dict[Flat, list[Stamp]] = defaultdict(list)
    for stamp in stamps:
        by_face[stamp.face].append(stamp)
    levels, ways = flats(core)
    kept = np.ones(len(core.faces), dtype=bool)
    points, faces, labels, count = [core.vertices], [], [], len(core.vertices)
    for face, group in by_face.items():
        taken = kept & on_face(levels, ways, core.labels, face)
        kept &= ~taken
        contours = _boundary(core.faces[taken], len(core.vertices))
        for stamp in group:
            here, walls, feet = _walls(stamp)
            points.append(here)
            faces.append(count + walls)
            labels.append(np.full(len(walls), stamp.label))
            # As seen from above, faces run counter-clockwise where they look up, and the other way round below.
            contours += list(count + (feet[:, ::-1] if face.way > 0 else feet))
            count += len(here)
        flat = np.concatenate(points)[:, :2]
        faces.append(filled(flat, [contour[:: face.way] for contour in contours])[:, :: face.way])
        labels.append(np.full(len(faces[-1]), face.label))
    return Triangles(
        np.concatenate(points), np.concatenate([core.faces[kept], *faces]), np.concatenate([core.labels[kept], *labels])
    )


def solid_of(shape: Round, label: int) -> Triangles:
    """A round body by itself."""
    rings = shape.points()
    side, last = _side(rings), _disc(rings)
    faces = np.concatenate([side, last[:, ::-1], last + (len(rings) - 1) * shape.count])
    return Triangles(rings.reshape(-1, 3), faces, np.full(len(faces), label))


def flats(core: Triangles) -> tuple[Array, NDArray[np.int64]]:
    """For each triangle the height at which it lies flat, or no number; and 1 where it looks up, -1 where down.

    Three points in a row look neither way, 0: such a triangle belongs to any face at its height.
    """
    a, b, c = (core.vertices[core.faces[:, n]] for n in range(3))
    (px, py), (qx, qy) = (b - a)[:, :2].T, (c - a)[:, :2].T
    turn = px * qy - py * qx
    level = (np.abs(b[:, 2] - a[:, 2]) < tolerances.KERNEL) & (np.abs(c[:, 2] - a[:, 2]) < tolerances.KERNEL)
    return np.where(level, a[:, 2], np.nan), np.where(np.abs(turn) > tolerances.KERNEL, np.sign(turn), 0).astype(
        np.int64
    )


def on_face(levels: Array, ways: NDArray[np.int64], labels: Labels, face: Flat) -> Mask:
    """Which triangles are of a flat face, told by what ``flats`` found and by their labels."""
    near = np.abs(levels - face.level) < 2 * tolerances.KERNEL
    mask: Mask = near & ((ways == face.way) | (ways == 0)) & (labels == face.label)
    return mask


def _walls(stamp: Stamp) -> tuple[Array, Faces, Faces]:
    """Points, triangles, and the rings at the foot (places, count), counter-clockwise, of all copies."""
    rings = stamp.wall.points()
    levels, count = rings.shape[:2]
    last = _disc(rings)
    end = last + (levels - 1) * count if stamp.rises else last[:, ::-1]
    one = np.concatenate([_side(rings), end])
    if not stamp.bump:
        one = one[:, ::-1]
    flat = rings.reshape(-1, 3)
    points = flat + np.pad(stamp.places, ((0, 0), (0, 1)))[:, None]
    firsts = len(flat) * np.arange(len(stamp.places))
    feet = firsts[:, None] + np.arange(count) + (0 if stamp.rises else (levels - 1) * count)
    return points.reshape(-1, 3), (firsts[:, None, None] + one).reshape(-1, 3), feet


def _side(rings: Array) -> Faces:
    """The triangles between rings, looking away from the axis."""
    levels, count = rings.shape[:2]
    here = np.arange((levels - 1) * count)
    onward = here + np.where(here % count == count - 1, 1 - count, 1)
    lower, upper = (here, onward, onward + count), (here, onward + count, here + count)
    return np.concatenate([np.stack(lower, axis=1), np.stack(upper, axis=1)])


def _disc(rings: Array) -> Faces:
    """The triangles of a disc of as many points, looking up."""
    return np.asarray(triangulate([np.ascontiguousarray(rings[0, :, :2])]), dtype=np.int64)


def _boundary(faces: Faces, count: int) -> list[Faces]:
    """The contours around some triangles of a closed surface, as numbers of vertices, of which there are so many."""
    starts, ends = faces.ravel(), np.roll(faces, -1, axis=1).ravel()
    lone = ~np.isin(starts * count + ends, ends * count + starts)
    return chained(starts[lone], ends[lone])
