"""Bodies in their place: a shape in its own axes, and the matrix that takes it to where it stands."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.crossing import boxes_of
from nookwright.ground.digest import digest
from nookwright.ground.sources import Fact, Kind
from nookwright.ground.tolerances import MESH

if TYPE_CHECKING:
    from nookwright.checks.boxes import Floats
    from nookwright.exchange.kit import Matrix, Size
    from nookwright.exchange.stl import Triangles, Vertices

NOISE = Fact(
    1e-5,
    unit="mm",
    kind=Kind.CALCULATED,
    source="Step of a 32-bit float at 100 mm is 0.8e-5: what overlaps by less in a file is a touch.",
)


class Sort(StrEnum):
    """What a body is."""

    PART = "part"
    THINGS = "things"
    BLOCKED = "blocked"


@dataclass(frozen=True, eq=False)
class Shape:
    """A closed surface in its own axes.

    Attributes:
        key: hash of its content.
        vertices: (n, 3), mm.
        triangles: (m, 3).
        probes: (k, 3), a point on each of its bodies.
    """

    key: str
    vertices: Vertices
    triangles: Triangles
    probes: Floats

    @cached_property
    def corners(self) -> Floats:
        """Corners of the triangles, (m, 3, 3)."""
        return self.vertices[self.triangles]

    @cached_property
    def boxes(self) -> tuple[Floats, Floats]:
        """Least and greatest corner of each triangle's box, (m, 3) each."""
        return boxes_of(self.corners)

    @cached_property
    def box(self) -> tuple[Floats, Floats]:
        """Least and greatest corner of the whole."""
        return self.vertices.min(axis=0), self.vertices.max(axis=0)


@dataclass(frozen=True, eq=False)
class Body:
    """A shape in its place.

    Attributes:
        owner: id of the placement, lot or blocked box, for messages.
        sort: part, things or blocked.
        shape: its shape.
        matrix: 4 x 4, takes it to the space.
        pressed: (n, 3), its vertices in the space where the wall presses its springs in; ``None`` if it has none.
    """

    owner: str
    sort: Sort
    shape: Shape
    matrix: Floats
    pressed: Floats | None = None

    @cached_property
    def box(self) -> tuple[Floats, Floats]:
        """Least and greatest corner in the space."""
        moved = moved_by(self.matrix, self.shape.vertices)
        return moved.min(axis=0), moved.max(axis=0)


def shape_of(key: str, vertices: Vertices, triangles: Triangles) -> Shape:
    """The shape of a mesh in one piece."""
    return Shape(key, vertices, triangles, vertices[triangles[:1, 0]])


def moved_by(matrix: Floats, points: Floats) -> Floats:
    """Points (..., 3) moved by a 4 x 4 matrix."""
    moved: Floats = points @ matrix[:3, :3].T + matrix[:3, 3]
    return moved


def matrix_of(rows: Matrix) -> Floats:
    """A matrix of the kit as an array."""
    return np.array(rows, dtype=np.float64)


def box_shape(low: Size, high: Size) -> Shape:
    """A box with sides along the axes."""
    return boxes_shape(np.array([low], dtype=np.float64), np.array([high], dtype=np.float64))


def boxes_shape(low: Floats, high: Floats) -> Shape:
    """Boxes that do not meet, as one shape.

    Args:
        low: (k, 3), least corners.
        high: (k, 3), greatest corners.
    """
    square = np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]])
    return _prisms(square, low, high - low, (0, 1, 2))


def rounds_shape(low: Floats, high: Floats, axis: str) -> Shape:
    """Cylinders that do not meet, as one shape.

    Args:
        low: (k, 3), least corners of the boxes round them.
        high: (k, 3), greatest corners.
        axis: "x", "y" or "z".
    """
    order = {"z": (0, 1, 2), "x": (1, 2, 0), "y": (2, 0, 1)}[axis]
    radius = float((high - low)[:, order[0]].max()) / 2
    sides = max(8, 4 * math.ceil(math.pi / math.acos(max(0.0, 1 - MESH / radius)) / 4))
    turn = np.arange(sides) * (2 * math.pi / sides)
    circle = np.column_stack([np.cos(turn), np.sin(turn)]) / 2 + 0.5
    return _prisms(circle, low, high - low, order)


def rounded_shape(low: Floats, high: Floats, radius: float) -> Shape:
    """Boxes with round upright corners that do not meet, as one shape.

    Args:
        low: (k, 3), least corners.
        high: (k, 3), greatest corners.
        radius: of the corners, mm; all boxes are of one size.
    """
    width, depth, _ = (high - low).max(axis=0)
    radius = min(radius, width / 2, depth / 2)
    quarter = max(2, math.ceil(math.pi / 2 / (2 * math.acos(max(0.0, 1 - MESH / radius)))))
    outline = []
    for number, (x, y) in enumerate(((1, 1), (0, 1), (0, 0), (1, 0))):
        turn = (number + np.arange(quarter + 1) / quarter) * math.pi / 2
        middle = np.array([abs(x * width - radius), abs(y * depth - radius)])
        outline.append((middle + radius * np.column_stack([np.cos(turn), np.sin(turn)])) / np.array([width, depth]))
    return _prisms(np.vstack(outline), low, high - low, (0, 1, 2))


def _prisms(outline: Floats, low: Floats, size: Floats, order: tuple[int, int, int]) -> Shape:
    """A prism over an outline (n, 2) of the unit square in each box; the last axis of ``order`` is the prism's own."""
    count = len(outline)
    unit = np.vstack([np.column_stack([outline, np.full(count, height)]) for height in (0.0, 1.0)])
    turned = unit[:, np.argsort(order)]
    here, after = np.arange(count), np.roll(np.arange(count), -1)
    fan = np.column_stack([np.zeros(count - 2, dtype=np.int64), here[1:-1], here[2:]])
    one = np.vstack(
        [
            np.column_stack([here, after, after + count]),
            np.column_stack([here, after + count, here + count]),
            fan[:, ::-1],
            fan + count,
        ]
    )
    vertices = (low[:, None] + turned * size[:, None]).reshape(-1, 3)
    triangles = (np.arange(len(low))[:, None, None] * len(unit) + one).reshape(-1, 3)
    key = digest(vertices.tobytes() + triangles.tobytes())
    return Shape(key, vertices, triangles, vertices[:: len(unit)])
