"""The plan of a tray that is bent round a blocked corner or a notch in a side: its outline at any distance, its legs.

The missing cells are a rectangle that touches a corner or one side of the bounding box. The outline is a rectangle with
that bite taken out; drawn in by a distance, the rectangle shrinks and the bite grows by it. The legs are the rectangles
that cover what is left, each as long as it can be, so that they overlap.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import TYPE_CHECKING

from nookwright.layout.liner import Side
from nookwright.module.seat import Ring, outer_size, rings_of
from nookwright.parts.model import size_name
from nookwright.parts.refusals import refuse_part
from nookwright.shapes.arcs import QUARTER
from nookwright.shapes.regions import Path

if TYPE_CHECKING:
    from nookwright.module.module import Module

Point = tuple[float, float]
Box = tuple[float, float, float, float]


@dataclass(frozen=True)
class Missing:
    """The cells that a bent tray leaves out: the first column and row, and how many of each."""

    col: int
    row: int
    cols: int
    rows: int


@dataclass(frozen=True)
class BentPlan:
    """A bent footprint: the cells of its bounding box and those that are missing.

    Raises:
        RecipeError: they touch neither one corner nor one side, or nothing would be left of a side.
    """

    module: Module
    cols: int
    rows: int
    missing: Missing

    def __post_init__(self) -> None:
        gone, count = self.missing, len(self.touched)
        inside = gone.cols > 0 and gone.rows > 0 and gone.col >= 0 and gone.row >= 0
        inside &= gone.col + gone.cols <= self.cols and gone.row + gone.rows <= self.rows
        opposite = set(self.touched) in ({Side.LEFT, Side.RIGHT}, {Side.FRONT, Side.BACK})
        if not inside or count not in (1, 2) or opposite:
            refuse_part(
                "bent tray", "the missing cells take away one corner, or a notch from one side",
                found=f"{gone.cols} x {gone.rows} cells at ({gone.col}, {gone.row}) of {self.cols} x {self.rows}",
                allowed="a rectangle at a corner or in one side, not all along it",
                remedy="Make trays of the rectangles that are left.",
            )  # fmt: skip

    @cached_property
    def touched(self) -> tuple[Side, ...]:
        """The sides of the bounding box that the missing cells reach."""
        gone = self.missing
        reached = {
            Side.LEFT: gone.col <= 0,
            Side.RIGHT: gone.col + gone.cols >= self.cols,
            Side.FRONT: gone.row <= 0,
            Side.BACK: gone.row + gone.rows >= self.rows,
        }
        return tuple(side for side in Side if reached[side])

    @property
    def where(self) -> str:
        """Where the bite is, in words: back right, or front."""
        return " ".join(side for upright in (False, True) for side in self.touched if side.upright is upright)

    @property
    def size(self) -> Point:
        """Outer size, mm."""
        return outer_size(self.cols, self.module.pitch), outer_size(self.rows, self.module.pitch)

    @property
    def name(self) -> str:
        """Outer size and bite, for names."""
        x0, y0, x1, y1 = self.bite(0.0)
        return f"{size_name(x1 - x0, y1 - y0)} {self.where}"

    def bite(self, inset: float) -> Box:
        """What is missing, cut off at the bounding box, for an outline drawn in by ``inset``."""
        pitch, (width, depth) = self.module.pitch, self.size
        gap_x, gap_y = (self.cols * pitch - width) / 2, (self.rows * pitch - depth) / 2
        gone = self.missing
        x0, x1 = gone.col * pitch - 2 * gap_x - inset, (gone.col + gone.cols) * pitch + inset
        y0, y1 = gone.row * pitch - 2 * gap_y - inset, (gone.row + gone.rows) * pitch + inset
        low, high = (inset, inset), (width - inset, depth - inset)
        return max(low[0], x0), max(low[1], y0), min(high[0], x1), min(high[1], y1)

    def legs(self, inset: float) -> tuple[Box, ...]:
        """Rectangles that cover the outline drawn in by ``inset``, as corners low and high, mm."""
        (width, depth), (x0, y0, x1, y1) = self.size, self.bite(inset)
        low, right, back = inset, width - inset, depth - inset
        legs = {
            Side.LEFT: (low, low, x0, back),
            Side.RIGHT: (x1, low, right, back),
            Side.FRONT: (low, low, right, y0),
            Side.BACK: (low, y1, right, back),
        }
        return tuple(leg for side, leg in legs.items() if side not in self.touched)

    def outline(self, inset: float, radius: float) -> Path:
        """The outline drawn in by ``inset``, its outward corners rounded, the inward ones sharp.

        Args:
            inset: mm.
            radius: of the outward corners, mm.
        """
        return rounded(self._corners(inset), radius)

    def area_mm2(self, inset: float, radius: float) -> float:
        """Area of that outline."""
        (width, depth), (x0, y0, x1, y1) = self.size, self.bite(inset)
        full = (width - 2 * inset) * (depth - 2 * inset) - (x1 - x0) * (y1 - y0)
        return full - self.outward * (1 - math.pi / 4) * radius**2

    @property
    def outward(self) -> int:
        """Corners that point outwards: four, and one for each that points inwards."""
        return len(self._corners(0.0)) - len(self.touched_corners)

    @property
    def touched_corners(self) -> tuple[int, ...]:
        """Inward corners: one at a bite from a corner, two at a notch."""
        return tuple(range(1 if len(self.touched) > 1 else 2))

    def perimeter(self, inset: float) -> float:
        """Length of the outline with sharp corners, mm."""
        points = self._corners(inset)
        return sum(math.dist(a, b) for a, b in pairwise((*points, points[0])))

    def rings(self) -> tuple[Ring, ...]:
        """The sockets of the cells that are there, in rings; the datum is the middle of the bounding box."""
        found, seat = [], self.module.seat
        for ring in rings_of(self.cols, self.rows, self.module.pitch, seat.growth, seat.clearance):
            places = tuple(place for place in ring.places if not self._is_gone(place))
            found += [Ring(ring.clearance, places)] if places else []
        return tuple(found)

    @property
    def cells(self) -> int:
        """How many cells are there."""
        return self.cols * self.rows - self.missing.cols * self.missing.rows

    def _is_gone(self, place: Point) -> bool:
        x0, y0, x1, y1 = self.bite(0.0)
        return x0 <= place[0] <= x1 and y0 <= place[1] <= y1

    def _corners(self, inset: float) -> tuple[Point, ...]:
        """Corners of the sharp outline, counter-clockwise."""
        (width, depth), (x0, y0, x1, y1) = self.size, self.bite(inset)
        low, right, back = inset, width - inset, depth - inset
        box = [[(low, low)], [(right, low)], [(right, back)], [(low, back)]]
        corners = {
            (Side.LEFT, Side.FRONT): (0, [(low, y1), (x1, y1), (x1, low)]),
            (Side.RIGHT, Side.FRONT): (1, [(x0, low), (x0, y1), (right, y1)]),
            (Side.RIGHT, Side.BACK): (2, [(right, y0), (x0, y0), (x0, back)]),
            (Side.LEFT, Side.BACK): (3, [(x1, back), (x1, y0), (low, y0)]),
        }
        sides = {
            Side.FRONT: (0, [(x0, low), (x0, y1), (x1, y1), (x1, low)]),
            Side.RIGHT: (1, [(right, y0), (x0, y0), (x0, y1), (right, y1)]),
            Side.BACK: (2, [(x1, back), (x1, y0), (x0, y0), (x0, back)]),
            Side.LEFT: (3, [(low, y1), (x1, y1), (x1, y0), (low, y0)]),
        }
        if len(self.touched) > 1:
            at, bite = corners[self.touched[0], self.touched[1]]
            box[at] = bite
        else:
            at, bite = sides[self.touched[0]]
            box[at] += bite
        return tuple(point for points in box for point in points)


def rounded(points: tuple[Point, ...], radius: float) -> Path:
    """An outline of upright and level sides, counter-clockwise, its outward corners rounded.

    Args:
        points: its corners.
        radius: mm; 0 for sharp ones.
    """
    corners: list[tuple[float, float, float]] = []
    for before, at, after in zip((points[-1], *points[:-1]), points, (*points[1:], points[0]), strict=True):
        ahead, onward = _heading(before, at), _heading(at, after)
        outward = ahead[0] * onward[1] - ahead[1] * onward[0] > 0
        if outward and radius:
            corners.append((at[0] - radius * ahead[0], at[1] - radius * ahead[1], float(QUARTER)))
            corners.append((at[0] + radius * onward[0], at[1] + radius * onward[1], 0.0))
        else:
            corners.append((*at, 0.0))
    return Path(tuple(corners))


def _heading(start: Point, end: Point) -> Point:
    length = math.dist(start, end)
    return (end[0] - start[0]) / length, (end[1] - start[1]) / length
