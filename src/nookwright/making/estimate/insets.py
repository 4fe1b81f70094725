"""The contours of a section moved inwards by several distances.

Most contours of a section repeat, and stand clear of one another: sockets, cones, domes. A hole by itself is moved
corner by corner in closed form; islands that are alike are moved once, by the kernel, and copied; only the rest, often
nothing but the walls, goes through the kernel as it is. What is found is the same as if all went through it together.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np

from nookwright.ground.sources import Fact, Kind
from nookwright.making.estimate.contours import Loops, chained, loops_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    Array = NDArray[np.float64]
    Indices = NDArray[np.int64]
    Flags = NDArray[np.bool_]

SMALL = Fact(1 / 3, unit="1", kind=Kind.CHOICE, source="Of the largest contour's radius; a larger one is no feature.")
MOST_SMALL = Fact(1200, unit="1", kind=Kind.CHOICE, source="Pairs of more of them cost more than the kernel does.")
_KEY_DECIMALS = 4  # of mm, to tell whether two islands are alike


@dataclass(eq=False)
class Insets:
    """Moves contours inwards, and remembers what it moved.

    Attributes:
        distances: by which every section is moved, rising, mm.
        moved: how many times the kernel moved contours.
    """

    distances: tuple[float, ...]
    moved: int = 0
    _known: dict[object, tuple[Loops, ...]] = field(default_factory=dict)

    def of(self, section: Loops) -> tuple[Loops, ...]:
        """For each distance the contours of what is left of a section.

        Args:
            section: tidied.
        """
        holes, islands = _apart(section, self.distances[-1])
        taken = holes.copy()
        for members in islands:
            taken[members] = True
        found: list[list[Loops]] = [[] for _ in self.distances]
        if not taken.all():
            self._add(found, self._by_kernel(section.only(~taken)))
        if holes.any():
            alone = section.only(holes)
            self._add(found, [alone.moved_in(distance) for distance in self.distances])
        for members, shifts in self._alike(section, islands).values():
            self._add(found, [_copied(one, shifts) for one in self._once(section, members)])
        return tuple(chained(parts) for parts in found)

    @staticmethod
    def _add(found: list[list[Loops]], more: Sequence[Loops]) -> None:
        for parts, one in zip(found, more, strict=True):
            parts.append(one)

    def _alike(
        self, section: Loops, islands: Sequence[Indices]
    ) -> dict[object, tuple[Indices, list[tuple[float, float]]]]:
        """Islands that are alike: the loops of the first of them, and how far each is away from it."""
        found: dict[object, tuple[Indices, list[tuple[float, float]]]] = {}
        shape = np.column_stack([section.sizes, section.lengths, section.areas, section.spans])
        places = section.middles
        for members in islands:
            place = places[members[0]]
            key = np.round(np.column_stack([shape[members], places[members] - place]), _KEY_DECIMALS).tobytes()
            first, shifts = found.setdefault(key, (members, []))
            shifts.append(tuple((place - places[first[0]]).tolist()))
        return found

    def _once(self, section: Loops, members: Indices) -> list[Loops]:
        chosen = np.zeros(section.count, dtype=bool)
        chosen[members] = True
        return self._by_kernel(section.only(chosen))

    def _by_kernel(self, loops: Loops) -> list[Loops]:
        """Moved by the kernel, which knows where lines meet."""
        from manifold3d import CrossSection, FillRule, JoinType

        region, found = CrossSection(loops.contours(), FillRule.Positive), []
        for distance in self.distances:
            left = region.offset(-distance, JoinType.Miter)
            found.append(loops_of(left.to_polygons()))
            self.moved += 1
        return found


def _copied(loops: Loops, shifts: Sequence[tuple[float, float]]) -> Loops:
    """The loops at several places."""
    points = (loops.points[None] + np.array(shifts)[:, None]).reshape(-1, 2)
    return Loops(points, (loops.loop[None] + loops.count * np.arange(len(shifts))[:, None]).ravel())


def _apart(section: Loops, reach: float) -> tuple[Flags, list[Indices]]:
    """Which loops are holes by themselves, and which ones make up islands by themselves, the outline of each first.

    By themselves means: no line of another one comes nearer than twice the reach.
    """
    nothing = np.zeros(section.count, dtype=bool)
    small = section.radii <= SMALL * section.radii.max(initial=0.0)
    if not small.any() or small.sum() > MOST_SMALL:
        return nothing, []
    number = np.flatnonzero(small)
    middles, radii, areas = section.middles[small], section.radii[small], section.areas[small]
    between = np.hypot(*(middles[:, None] - middles[None]).transpose(2, 0, 1))
    near = between - radii[:, None] - radii[None] <= 2 * reach
    free = _nearest(middles, section.only(~small)) - radii > 2 * reach
    valid = section.convex & section.moved_in(reach).as_before(section)
    holes, islands = nothing, []
    label = _joined(near)
    groups = defaultdict(list)
    for at, which in enumerate(label.tolist()):
        groups[which].append(at)
    for group in groups.values():
        if not free[group].all():
            continue
        outline = group[int(np.argmax(radii[group]))]
        if len(group) == 1 and areas[outline] < 0:
            holes[number[outline]] = valid[number[outline]]
        elif areas[outline] > 0 and (between[outline, group] <= radii[outline]).all():
            islands.append(number[[outline, *(one for one in group if one != outline)]])
    return holes, islands


def _joined(near: Flags) -> Indices:
    """For each of some things the lowest number among those that it hangs together with."""
    label = np.arange(len(near))
    while True:
        lower = np.where(near, label[None], len(near)).min(axis=1)
        if np.array_equal(lower, label):
            return label
        label = lower


def _nearest(points: Array, loops: Loops) -> Array:
    """For each point how near it comes to a line of the loops, mm."""
    if not loops.count:
        return np.full(len(points), np.inf)
    away = points[:, None] - loops.points[None]
    share = np.clip((away * loops.steps).sum(axis=2) / np.maximum(loops.step_lengths, 1e-12) ** 2, 0.0, 1.0)
    gap = away - share[:, :, None] * loops.steps
    found: Array = np.hypot(gap[..., 0], gap[..., 1]).min(axis=1)
    return found
