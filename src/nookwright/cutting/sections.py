"""A part cut by planes, looked at on a grid: how much it changes there, and whether something hangs together."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from nookwright.cutting.sampling import inside
from nookwright.ground.sources import Fact, Kind
from nookwright.ground.tolerances import GRID

if TYPE_CHECKING:
    from nookwright.cutting.sampling import Floats, Told
    from nookwright.shapes.solids import Solid

GRAIN = Fact(0.8, unit="mm", kind=Kind.CHOICE, source="Grid on a section: finer than the thinnest wall of 1.2.")
PLAN_GRAIN = Fact(1.0, unit="mm", kind=Kind.CHOICE, source="Grid on a plan: finer than the thinnest wall of 1.2.")
FINE_GRAIN = Fact(0.3, unit="mm", kind=Kind.CHOICE, source="Grid on a section that is weighed: a quarter of a wall.")
BESIDE = Fact(
    0.9, unit="mm", kind=Kind.CHOICE, source="A part should look the same so far on both sides of a cut: no thin rest."
)
EDGE = Fact(1.6, unit="mm", kind=Kind.CALCULATED, source="Of a section at each end: an outer wall, and two grid steps.")


@dataclass(frozen=True)
class Look:
    """What a cut at one place meets.

    Attributes:
        area_mm2: of the section.
        change: how much the sections beside it differ from it, as a share of it.
        runs: how often the busiest level goes in and out of material.
        edges: material in the two outer walls, mm2 each.
    """

    area_mm2: float
    change: float
    runs: int
    edges: tuple[float, float]


@dataclass(frozen=True)
class Sections:
    """A recipe, to be looked at where planes across x (axis 0) or y (axis 1) cut it."""

    recipe: Solid

    @cached_property
    def low(self) -> tuple[float, float, float]:
        """The low corner of its box."""
        return self.recipe.bounds[:3]

    @cached_property
    def high(self) -> tuple[float, float, float]:
        """The high corner of its box."""
        return self.recipe.bounds[3:]

    def at(self, axis: int, place: float) -> Told:
        """The section at a place, ``bool[across][up]``."""
        across = 1 - axis
        sides = [_grid(self.low[one], self.high[one], GRAIN) for one in (across, 2)]
        return self._told(axis, place, sides[0], sides[1])

    def look(self, axis: int, place: float) -> Look:
        """What a cut meets there.

        Args:
            axis: 0 for a cut across x, 1 across y.
            place: along that axis, mm.
        """
        before, here, after = (self.at(axis, place + step) for step in (-BESIDE, 0.0, BESIDE))
        area = int(here.sum())
        change = int((before ^ here).sum() + (after ^ here).sum()) / (2 * area) if area else np.inf
        ends = np.diff(here.astype(np.int8), axis=0, prepend=0, append=0)
        rim = max(1, round(EDGE / GRAIN))
        grain = float(GRAIN) ** 2
        return Look(
            area * grain,
            float(change),
            int((ends == 1).sum(axis=0).max(initial=0)),
            (float(here[:rim].any(axis=0).sum()) * GRAIN, float(here[-rim:].any(axis=0).sum()) * GRAIN),
        )

    def area_mm2(self, axis: int, place: float, span: tuple[float, float]) -> float:
        """Material in a section, within a span of the other axis.

        Args:
            axis: 0 for a cut across x, 1 across y.
            place: along that axis, mm.
            span: along the other one, mm.
        """
        sides = _grid(*span, FINE_GRAIN), _grid(self.low[2], self.high[2], FINE_GRAIN)
        told = self._told(axis, place, *sides)
        return round(float(told.mean()) * (span[1] - span[0]) * (self.high[2] - self.low[2]), 1)

    def plan(self, height: float, box: tuple[float, float, float, float]) -> Told:
        """What there is at a height, ``bool[x][y]``, within a box of the plan."""
        x0, y0, x1, y1 = box
        axes = _grid(x0, x1, PLAN_GRAIN), _grid(y0, y1, PLAN_GRAIN), np.array([height])
        return inside(self.recipe, axes)[:, :, 0]

    def meets(self, axis: int, place: float, box: tuple[tuple[float, float], ...]) -> bool:
        """Whether there is material in a plane, within a box given by its span along each axis.

        Args:
            axis: that the plane is square to, 0 to 2.
            place: of the plane along it, mm.
            box: spans along x, y and z, mm.
        """
        first, second = (one for one in range(3) if one != axis)
        sides = [_with_ends(*box[one], GRAIN) for one in (first, second)]
        return bool(self._told(axis, place, sides[0], sides[1]).any())

    def _told(self, axis: int, place: float, first: Floats, second: Floats) -> Told:
        axes = [first, second]
        axes.insert(axis, np.array([place]))
        return inside(self.recipe, tuple(axes)).squeeze(axis)


def _grid(low: float, high: float, grain: float) -> Floats:
    """The middles of a grid's fields."""
    count = max(1, round((high - low) / grain))
    return np.asarray(low + (np.arange(count) + 0.5) * (high - low) / count)


def _with_ends(low: float, high: float, grain: float) -> Floats:
    """The same, and a point just inside each end."""
    near = 2 * GRID
    return np.concatenate([[low + near], _grid(low, high, grain), [high - near]])
