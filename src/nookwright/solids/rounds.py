"""Round bodies with flat ends, as outlines: what pegs, cones, domes, pockets and sockets are.

An outline is a row of rings from the bottom up. A body that stands upright in many places is one outline and its
places; most questions about it are answered by the outline, without a triangle.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nookwright.ground import tolerances
from nookwright.shapes.boxes import turned_point
from nookwright.shapes.regions import Circle
from nookwright.shapes.solids import Move, Named, Prism, Repeat, Revolution, Solid, Taper
from nookwright.solids.outlines import chords, circle_points, on_grid

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[np.float64]
    Faces = NDArray[np.int64]


@dataclass(frozen=True, eq=False)
class Round:
    """The outline of a round body about the z axis.

    Attributes:
        radii: of its rings from the bottom up, all more than 0.
        levels: heights of its rings, each above the one before.
        count: chords of each ring.
    """

    radii: Array
    levels: Array
    count: int

    def at(self, level: float) -> float:
        """Its radius at a height between its ends."""
        return float(np.interp(level, self.levels, self.radii))

    def raised(self, by: float) -> Round:
        """The same body higher up."""
        return Round(self.radii, self.levels + by, self.count)

    def above(self, level: float) -> Round:
        """What of it is above a height between its ends."""
        higher = self.levels > level + tolerances.GRID / 2
        return Round(
            np.array([self.at(level), *self.radii[higher]]), np.array([level, *self.levels[higher]]), self.count
        )

    def below(self, level: float) -> Round:
        """What of it is below a height between its ends."""
        lower = self.levels < level - tolerances.GRID / 2
        return Round(np.array([*self.radii[lower], self.at(level)]), np.array([*self.levels[lower], level]), self.count)

    def holds(self, other: Round) -> bool:
        """Whether this wall stays outside another round body about the same axis, wherever both are."""
        low, high = max(self.levels[0], other.levels[0]), min(self.levels[-1], other.levels[-1])
        levels = np.clip(np.concatenate([self.levels, other.levels]), low, high)
        apart = np.interp(levels, self.levels, self.radii) - np.interp(levels, other.levels, other.radii)
        return bool(low > high or apart.min() > tolerances.FLAT)

    def points(self) -> Array:
        """Its rings, (rings, count, 3)."""
        flat = on_grid(self.radii[:, None, None] * circle_points(1.0, self.count))
        return np.concatenate([flat, np.broadcast_to(self.levels[:, None, None], (*flat.shape[:2], 1))], axis=2)


def outline_of(solid: Solid, tolerance: float) -> Round | None:
    """The outline of a primitive, or nothing where it is not round or has no flat ends.

    Args:
        solid: the primitive.
        tolerance: largest distance of a chord from its ring, mm.
    """
    match solid:
        case Prism(Circle(radius), height):
            rings: tuple[tuple[float, float], ...] = ((radius, 0.0), (radius, height))
        case Taper(Circle(radius), height, draw):
            rings = ((radius, 0.0), (radius - draw, height))
        case Revolution(profile):
            rings = _rings(profile)
        case _:
            return None
    radii, levels = np.array(rings).reshape(-1, 2).T
    if len(rings) < 2 or radii.min() <= 0 or np.diff(levels).min() < tolerances.GRID:  # noqa: PLR2004 - two ends
        return None
    return Round(radii, levels, chords(float(radii.max()), tolerance))


def _rings(profile: tuple[tuple[float, float], ...]) -> tuple[tuple[float, float], ...]:
    """A profile without its two points on the axis, where these are level with their neighbours; otherwise nothing."""
    count = len(profile)
    start = next((n for n in range(count) if profile[n - 1][0] == 0 and profile[n][0] > 0), 0)
    turned = (*profile[start:], *profile[:start])
    rings, ends = turned[:-2], turned[-2:]
    flat = [r for r, _ in ends] == [0, 0] and [z for _, z in ends] == [rings[-1][1], rings[0][1]]
    return rings if flat else ()


def placed(solid: Solid) -> tuple[Solid, Array, str | None]:
    """A solid taken out of moves, repeats and names: what is inside, its places (n, 3), and the outermost name.

    A quarter turn of what is inside is lost, which makes no difference to a round body.
    """
    match solid:
        case Move(inner, x, y, z, turns):
            node, places, name = placed(inner)
            axes = np.array([turned_point((1.0, 0.0), turns), turned_point((0.0, 1.0), turns)])
            return node, np.column_stack([places[:, :2] @ axes, places[:, 2]]) + np.array([x, y, z]), name
        case Repeat(inner, copies):
            node, places, name = placed(inner)
            shifts = np.column_stack([np.array(copies), np.zeros(len(copies))])
            return node, (places[None] + shifts[:, None]).reshape(-1, 3), name
        case Named(inner, name):
            node, places, _ = placed(inner)
            return node, places, name
    return solid, np.zeros((1, 3)), None
