"""Which round bodies can be stamped on the flat faces of a body, decided so that a boolean would give the same.

A copy can, when it meets one flat face of the body and nothing else: then what of it is on one side of the face is
inside the body, and the rest outside. Every test errs to the safe side; a copy that does not pass is left to a boolean.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from nookwright.ground import tolerances
from nookwright.solids.stamps import Flat, Stamp, flats, on_face

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from numpy.typing import NDArray

    from nookwright.solids.rounds import Round
    from nookwright.solids.stamps import Triangles

    Array = NDArray[np.float64]
    Numbers = NDArray[np.int64]
    Mask = NDArray[np.bool_]


@dataclass(frozen=True, eq=False)
class Copies:
    """Equal round bodies that are to be joined to a body or cut out of it.

    Attributes:
        shape: at its height.
        places: (n, 2).
        label: of its triangles.
    """

    shape: Round
    places: Array
    label: int

    @property
    def reach(self) -> float:
        """The largest radius."""
        return float(self.shape.radii.max())


def standing(
    core: Triangles, stamps: Sequence[Stamp], copies: Sequence[Copies], *, bumps: bool
) -> tuple[tuple[Stamp, ...], tuple[Copies, ...]]:
    """The copies as stamps, and those that cannot be.

    Args:
        core: the body.
        stamps: what is on it already.
        copies: what is to come.
        bumps: whether it is joined; cut out otherwise.
    """
    free = _apart(copies)
    seen = _Seen(core)
    found: list[Stamp] = []
    rest: list[Copies] = []
    for group, mine in zip(copies, free, strict=True):
        faces = _Faces(seen, group)
        on: dict[Flat, list[int]] = {}
        for number, covered in _under(group, stamps):
            face = faces.of(number, covered) if mine[number] else None
            if face is None:
                mine[number] = False
            else:
                on.setdefault(face, []).append(number)
        found += [_stamp(group, numbers, face, bumps=bumps) for face, numbers in on.items()]
        if not mine.all():
            rest.append(replace(group, places=group.places[~mine]))
    return tuple(found), tuple(rest)


def _stamp(group: Copies, numbers: list[int], face: Flat, *, bumps: bool) -> Stamp:
    shape = group.shape
    wall = shape.above(face.level) if bumps == (face.way > 0) else shape.below(face.level)
    return Stamp(wall, group.places[numbers], face, bumps, group.label)


def _apart(copies: Sequence[Copies]) -> list[Mask]:
    """Which copies keep away from all other copies of the same operation."""
    places = np.concatenate([group.places for group in copies])
    reach = np.concatenate([np.full(len(group.places), group.reach) for group in copies])
    gaps = np.linalg.norm(places[:, None] - places[None], axis=2) - reach[:, None] - reach[None]
    np.fill_diagonal(gaps, np.inf)
    sizes = [len(group.places) for group in copies]
    return np.split(gaps.min(axis=1) > tolerances.TOUCHING, np.cumsum(sizes)[:-1])


def _under(group: Copies, stamps: Sequence[Stamp]) -> Iterator[tuple[int, tuple[Flat, ...] | None]]:
    """For each copy the faces that a wider stamp about its axis has taken away; nothing where it meets a stamp."""
    collides = np.zeros(len(group.places), dtype=bool)
    covered: list[list[Flat]] = [[] for _ in group.places]
    low, high = group.shape.levels[0] - tolerances.FLAT, group.shape.levels[-1] + tolerances.FLAT
    for stamp in stamps:
        if stamp.wall.levels[0] > high or stamp.wall.levels[-1] < low:
            continue
        distances = np.linalg.norm(group.places[:, None] - stamp.places[None], axis=2)
        same = distances < tolerances.KERNEL
        near = (distances < group.reach + stamp.wall.radii.max() + tolerances.TOUCHING) & ~same
        nested = stamp.wall.holds(group.shape) and not low < stamp.end < high
        collides |= near.any(axis=1) | (same.any(axis=1) & (not nested))
        for number in np.nonzero(same.any(axis=1))[0].tolist():
            covered[number].append(stamp.face)
    for number, faces in enumerate(covered):
        yield number, None if collides[number] else tuple(faces)


class _Seen:
    """A body, with what all groups ask of it: its flat faces, and the boxes of its triangles."""

    def __init__(self, core: Triangles) -> None:
        self.core = core
        self.levels, self.ways = flats(core)
        a, b, c = (core.vertices[core.faces[:, n]] for n in range(3))
        self.low, self.high = np.minimum(np.minimum(a, b), c), np.maximum(np.maximum(a, b), c)


class _Faces:
    """The flat face that each copy of a group meets, where it meets no other triangle."""

    def __init__(self, seen: _Seen, group: Copies) -> None:
        self._core, self._levels, self._ways = seen.core, seen.levels, seen.ways
        copy, triangle = _pairs(seen, group)
        corners = seen.core.vertices[seen.core.faces[triangle]]
        corners[:, :, :2] -= group.places[copy][:, None]
        met = ~_separate(corners, group.shape)
        self._copy, self._triangle = copy[met], triangle[met]
        self._axis = _around_axis(corners[met])
        self._axis &= self._ways[self._triangle] != 0
        order = np.argsort(self._copy, kind="stable")
        self._copy, self._triangle, self._axis = self._copy[order], self._triangle[order], self._axis[order]
        self._starts = np.searchsorted(self._copy, np.arange(len(group.places) + 1))
        self._shape = group.shape

    def of(self, number: int, covered: tuple[Flat, ...] | None) -> Flat | None:
        """The face that a copy meets, or nothing where it meets none, or more than one."""
        if covered is None:
            return None
        run = slice(self._starts[number], self._starts[number + 1])
        triangles, axis = self._triangle[run], self._axis[run]
        for face in covered:
            gone = self._on(triangles, face)
            triangles, axis = triangles[~gone], axis[~gone]
        if not axis.any():
            return None
        first = int(triangles[axis][0])
        face = Flat(float(self._levels[first]), int(self._ways[first]), int(self._core.labels[first]))
        inside = self._shape.levels[0] < face.level < self._shape.levels[-1]
        return face if inside and self._on(triangles, face).all() else None

    def _on(self, triangles: Numbers, face: Flat) -> Mask:
        return on_face(self._levels[triangles], self._ways[triangles], self._core.labels[triangles], face)


def _pairs(seen: _Seen, group: Copies) -> tuple[Numbers, Numbers]:
    """Copies and triangles whose boxes are near each other: the numbers of both, pair by pair."""
    shape, slack = group.shape, group.reach + tolerances.FLAT
    over = seen.high[:, 2] > shape.levels[0] - tolerances.FLAT
    level = np.nonzero(over & (seen.low[:, 2] < shape.levels[-1] + tolerances.FLAT))[0]
    low, high = seen.low[level], seen.high[level]
    (xs, columns), (ys, rows) = (np.unique(group.places[:, axis], return_inverse=True) for axis in (0, 1))
    first_column, first_row = (np.searchsorted(s, low[:, n] - slack) for n, s in enumerate((xs, ys)))
    wide = np.searchsorted(xs, high[:, 0] + slack, "right") - first_column
    deep = np.searchsorted(ys, high[:, 1] + slack, "right") - first_row
    counts = wide * deep
    owner = np.repeat(np.arange(len(level)), counts)
    step = np.arange(len(owner)) - np.repeat(np.cumsum(counts) - counts, counts)
    table = np.full((len(xs), len(ys)), -1)
    table[columns, rows] = np.arange(len(group.places))
    copy = table[first_column[owner] + step // deep[owner], first_row[owner] + step % deep[owner]]
    there = copy >= 0
    return copy[there], level[owner[there]]


def _separate(corners: Array, shape: Round) -> Mask:
    """Which triangles, seen from the axis, keep off a round body: off each of its stretches between two rings.

    A stretch lies on one side of each plane that touches it along a line of its wall. The plane asked is the one
    towards the point of the triangle that is nearest to the axis, as seen from above.
    """
    across = np.einsum("knj,kj->kn", corners[:, :, :2], _towards(corners[:, :, :2]))
    heights = corners[:, :, 2]
    clear = np.ones(len(corners), dtype=bool)
    for n in range(len(shape.levels) - 1):
        (r0, r1), (z0, z1) = shape.radii[n : n + 2], shape.levels[n : n + 2]
        rise, draw = z1 - z0, r1 - r0
        off = ((across - r0) * rise - (heights - z0) * draw).min(axis=1) > tolerances.FLAT * np.hypot(rise, draw)
        over, under = heights.min(axis=1) > z1 + tolerances.FLAT, heights.max(axis=1) < z0 - tolerances.FLAT
        clear &= off | over | under
    return clear


def _towards(flat: Array) -> Array:
    """Unit vectors from the axis to the nearest points of the edges of triangles (n, 3, 2)."""
    along = flat[:, [1, 2, 0]] - flat
    lengths = np.maximum((along**2).sum(axis=2), tolerances.KERNEL**2)
    share = np.clip(-(flat * along).sum(axis=2) / lengths, 0, 1)
    nearest = flat + share[:, :, None] * along
    distances = np.linalg.norm(nearest, axis=2)
    best = np.argmin(distances, axis=1)[:, None]
    found: Array = np.take_along_axis(nearest, best[:, :, None], axis=1)[:, 0]
    found /= np.maximum(np.take_along_axis(distances, best, axis=1), tolerances.KERNEL)
    return found


def _around_axis(corners: Array) -> Mask:
    """Which of the triangles lie flat and have the axis inside or on their edge."""
    x, y = corners[:, :, 0], corners[:, :, 1]
    turns = x * y[:, [1, 2, 0]] - y * x[:, [1, 2, 0]]
    level = np.ptp(corners[:, :, 2], axis=1) < tolerances.KERNEL
    inside: Mask = level & ((turns >= -tolerances.KERNEL).all(axis=1) | (turns <= tolerances.KERNEL).all(axis=1))
    return inside
