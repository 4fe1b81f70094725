"""How much volume two bodies share.

Most pairs are told apart by their surfaces alone, in some milliseconds: if no triangle of one comes near one of the
other, and no body holds a point of the other, they share nothing. Only the rest is cut with the solid kernel.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.bodies import NOISE, Body, Shape, moved_by
from nookwright.checks.crossing import come_closer
from nookwright.ground.errors import SolidError
from nookwright.ground.tolerances import KERNEL

if TYPE_CHECKING:
    from manifold3d import Manifold

    from nookwright.checks.boxes import Floats, Indices
    from nookwright.checks.verdicts import Verdicts

_DECIMALS = 6  # of the place of one body beside another; a tenth of NOISE


class Overlaps:
    """Volumes that bodies share; each pair of shapes in the same place to each other is looked at once."""

    def __init__(self, verdicts: Verdicts) -> None:
        """Use and add to the verdicts reached before."""
        self._verdicts = verdicts
        self._known: dict[str, float] = {}
        self._solids: dict[str, Manifold] = {}

    def shared_mm3(self, some: Body, other: Body) -> float:
        """Volume that two bodies share, mm3; a touch counts as nothing.

        Args:
            some: one body.
            other: the other, in the same space.

        Raises:
            SolidError: the kernel refuses one of the shapes.
        """
        first, second = (some, other) if some.shape.key <= other.shape.key else (other, some)
        between = np.round(np.linalg.inv(first.matrix) @ second.matrix, _DECIMALS) + 0.0
        question = f"shared {first.shape.key} {second.shape.key} {between.tolist()}"
        if question not in self._known:
            verdict = self._verdicts.of(question, lambda: (self._look(first.shape, second.shape, between),))
            self._known[question] = verdict[0]
        return self._known[question]

    def _look(self, first: Shape, second: Shape, between: Floats) -> float:
        """The volume, in the first one's axes."""
        apart = _lifted(first, second, between)
        if not _near(first, second, apart):
            return 0.0
        moved = self._solid(second).transform(np.ascontiguousarray(apart[:3]))
        return max(0.0, float((self._solid(first) ^ moved).volume()))

    def _solid(self, shape: Shape) -> Manifold:
        """A shape for the kernel, made once."""
        import manifold3d

        if shape.key not in self._solids:
            mesh = manifold3d.Mesh64(shape.vertices, shape.triangles.astype(np.uint64))
            solid = manifold3d.Manifold(mesh)
            if solid.status() != manifold3d.Error.NoError:
                raise SolidError(f"the solid kernel refuses a mesh: {solid.status().name}")
            self._solids[shape.key] = solid
        return self._solids[shape.key]


def _lifted(first: Shape, second: Shape, between: Floats) -> Floats:
    """The matrix with the upper body lifted by the noise, so that one that rests on another is clear of it."""
    upper = moved_by(between, second.vertices)[:, 2].min() - first.box[0][2]
    lifted = between.copy()
    lifted[2, 3] += NOISE * float(np.sign(round(float(upper), _DECIMALS)))
    return lifted


def _near(first: Shape, second: Shape, between: Floats) -> bool:
    """Whether the two may share any volume; "no" is always true."""
    moved = moved_by(between, second.vertices)
    low, high = np.maximum(first.box[0], moved.min(axis=0)), np.minimum(first.box[1], moved.max(axis=0))
    if (high - low <= NOISE).any():
        return False
    back = np.asarray(np.linalg.inv(between), dtype=np.float64)
    ours = first.corners[_reaching_into(first, np.array([low, high]))]
    theirs = moved_by(between, second.corners[_reaching_into(second, moved_by(back, _box_corners(low, high)))])
    if come_closer(ours, theirs, KERNEL):
        return True
    points, probes = moved_by(between, second.probes), moved_by(back, first.probes)
    return bool(inside(points, first).any() or inside(probes, second).any())


def _box_corners(low: Floats, high: Floats) -> Floats:
    """The eight corners of a box."""
    corners: Floats = np.stack(np.meshgrid(*np.array([low, high]).T), axis=-1).reshape(-1, 3)
    return corners


def _reaching_into(shape: Shape, points: Floats) -> Indices:
    """Which triangles of a shape have boxes that meet the box round some points."""
    low, high = points.min(axis=0) - NOISE, points.max(axis=0) + NOISE
    meet = np.ones(len(shape.triangles), dtype=bool)
    for axis in range(3):
        meet &= (shape.boxes[1][:, axis] >= low[axis]) & (shape.boxes[0][:, axis] <= high[axis])
    return np.flatnonzero(meet)


def inside(points: Floats, shape: Shape) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
    """Which points lie inside a closed surface: those with an odd number of triangles straight above them.

    Args:
        points: (k, 3); none on the surface.
        shape: the closed surface.
    """
    found = np.zeros(len(points), dtype=bool)
    low, high = shape.boxes
    # Moved aside by a little that is no round number, so that no point stands below an edge of what we make.
    for number, (x, y, z) in enumerate(points + np.array([KERNEL * np.pi, KERNEL * np.e, 0.0])):
        near = (low[:, 0] <= x) & (x <= high[:, 0]) & (low[:, 1] <= y) & (y <= high[:, 1]) & (high[:, 2] >= z)
        found[number] = _crossings_above(shape.corners[near], np.array([x, y, z])) % 2
    return found


def _crossings_above(corners: Floats, point: Floats) -> int:
    """How many triangles a ray upwards passes."""
    near = corners - point
    after = np.roll(near, -1, axis=1)
    turn = near[:, :, 0] * after[:, :, 1] - near[:, :, 1] * after[:, :, 0]
    passes = (turn > 0).all(axis=1) | (turn < 0).all(axis=1)
    weights = np.roll(turn[passes], -1, axis=1)
    height = (weights * near[passes][:, :, 2]).sum(axis=1) / weights.sum(axis=1)
    return int((height > 0).sum())
