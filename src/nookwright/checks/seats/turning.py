"""How far a part that one cone holds can turn about it before something beside it stops it.

Looked at is one level section a little above the undersides: of the part, of all that stands beside it, with the cones
of the liner, and the walls. The part is turned both ways in small steps until its outline crosses another. What it does
not know: how hard things are pushed; a part between others may turn a little and harm nothing.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.bodies import matrix_of, moved_by
from nookwright.checks.seats.level import level_at
from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from nookwright.checks.bodies import Shape
    from nookwright.checks.boxes import Floats
    from nookwright.exchange.kit import Kit, KitSpace

    Made = tuple[tuple[Shape, Floats], ...]  # pieces of a part, each with where it lies in it

LOOKED_AT = Fact(
    1.5, unit="mm", kind=Kind.CHOICE, source="Above the underside: past the drawn-in edge, below the lips of a filler."
)
STEP_DEG = Fact(0.5, unit="deg", kind=Kind.CHOICE, source="A tenth of what a single cell turns between neighbours.")
MOST_DEG = Fact(
    45.0, unit="deg", kind=Kind.CALCULATED, source="Turned farther, a part that nothing met before meets nothing."
)
Edges = tuple["Floats", "Floats"]


class Surroundings:
    """All that stands in the spaces of a kit, by the box about it; sections are made once a height."""

    def __init__(self, kit: Kit, made: Mapping[str, Made]) -> None:
        """Put every part where it stands.

        Args:
            kit: the kit, its references sound.
            made: what each part is put together from, by its id.
        """
        self._spaces = {space.id: space for space in kit.spaces}
        self._placed = [one for one in kit.placements if made[one.part]]
        self._pieces = [
            [(shape, matrix_of(one.space_from_part) @ at) for shape, at in made[one.part]] for one in self._placed
        ]
        self._boxes = np.array([_box(pieces) for pieces in self._pieces]).reshape(-1, 2, 3)
        self._sections: dict[tuple[int, float], Edges] = {}

    def near(self, own: str, space: str, *, about: Floats, reach: float, height: float) -> Iterator[Edges]:
        """The outlines at a height of all that comes within a distance of a point of a space, the walls among it.

        Args:
            own: the placement that turns; it is left out.
            space: id of the space.
            about: (2,), mm.
            reach: mm.
            height: above the floor of the space, mm.
        """
        low, high = self._boxes[:, 0], self._boxes[:, 1]
        close = ((low[:, :2] < about + reach) & (high[:, :2] > about - reach)).all(axis=1)
        close &= (low[:, 2] < height) & (high[:, 2] > height)
        for number in np.flatnonzero(close).tolist():
            one = self._placed[number]
            if one.space == space and one.id != own:
                key = number, round(height, 3)
                if key not in self._sections:
                    self._sections[key] = edges_at(self._pieces[number], height)
                yield self._sections[key]
        yield walls_at(self._spaces[space], height)


def _box(pieces: Sequence[tuple[Shape, Floats]]) -> Floats:
    """Least and greatest corner of some placed shapes, (2, 3), mm."""
    corners = []
    for shape, matrix in pieces:
        low, high = shape.box
        grid = np.stack(np.meshgrid(*np.array([low, high]).T), axis=-1).reshape(-1, 3)
        corners.append(moved_by(matrix, grid))
    points = np.concatenate(corners)
    return np.array([points.min(axis=0), points.max(axis=0)])


def turning_deg(own: Edges, others: Sequence[Edges], about: Floats) -> float:
    """How far an outline turns about a point before it crosses another, degrees; ``MOST_DEG`` where it does not.

    Args:
        own: starts and ends of its edges, (m, 2) each, mm.
        others: the same of all that is beside it.
        about: (2,), the point.
    """
    near = float(max(np.hypot(*(own[0] - about).T).max(), np.hypot(*(own[1] - about).T).max()))
    starts, ends = (np.concatenate([edges[side] for edges in others] or [np.empty((0, 2))]) for side in (0, 1))
    low, high = np.minimum(starts, ends), np.maximum(starts, ends)
    beside = ((low < about + near) & (high > about - near)).all(axis=1)
    starts, ends = starts[beside], ends[beside]
    if not len(starts):
        return float(MOST_DEG)
    return max(_until(own, (starts, ends), about, way) for way in (1, -1))


def edges_at(made: Sequence[tuple[Shape, Floats]], height: float) -> Edges:
    """Outlines of the section of some placed shapes at a height of their space, as edges.

    Args:
        made: shapes, each with where it stands, 4 x 4.
        height: above the floor of the space, mm.
    """
    starts, ends = [np.empty((0, 2))], [np.empty((0, 2))]
    for shape, matrix in made:
        if abs(matrix[2, 2] - 1) > _UPRIGHT:
            continue  # a lid on its head lies on its tray, nothing stands beside it
        level = level_at(shape, height - float(matrix[2, 3])).outlines
        for points, found in ((level.starts, starts), (level.ends, ends)):
            found.append(moved_by(matrix, np.column_stack([points, np.zeros(len(points))]))[:, :2])
    return np.concatenate(starts), np.concatenate(ends)


def walls_at(space: KitSpace, height: float) -> Edges:
    """The four walls of a space at a height, as edges."""
    heights = [level.z for level in space.usable]
    x, y, width, depth = (
        float(np.interp(height, heights, [getattr(level, name) for level in space.usable]))
        for name in ("x", "y", "width", "depth")
    )
    corners = np.array([(x, y), (x + width, y), (x + width, y + depth), (x, y + depth)])
    return corners, np.roll(corners, -1, axis=0)


_UPRIGHT = 1e-6


def _until(own: Edges, others: Edges, about: Floats, way: int) -> float:
    """How far it turns one way, degrees."""
    for number in range(1, round(MOST_DEG / STEP_DEG) + 1):
        angle = math.radians(way * number * STEP_DEG)
        turn = np.array([[math.cos(angle), -math.sin(angle)], [math.sin(angle), math.cos(angle)]])
        moved = tuple((side - about) @ turn.T + about for side in own)
        if _cross((moved[0], moved[1]), others):
            return float((number - 1) * STEP_DEG)
    return float(MOST_DEG)


def _cross(some: Edges, others: Edges) -> bool:
    """Whether an edge of one crosses an edge of the other."""
    low, high = some[0].min(axis=0), some[0].max(axis=0)
    near = ((np.minimum(*others) < high) & (np.maximum(*others) > low)).all(axis=1)
    (a, b), (c, d) = ((side[:, None] for side in some), (side[None, near] for side in others))
    across = _side(a, b, c) * _side(a, b, d) < 0
    return bool((across & (_side(c, d, a) * _side(c, d, b) < 0)).any())


def _side(start: Floats, end: Floats, point: Floats) -> Floats:
    """On which side of lines points lie, by sign."""
    along, beyond = end - start, point - start
    side: Floats = along[..., 0] * beyond[..., 1] - along[..., 1] * beyond[..., 0]
    return side
